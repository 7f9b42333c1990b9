//go:build !unix

package main

import "os"

// asking are the signals that ask how far a command is: none here.
var asking []os.Signal
