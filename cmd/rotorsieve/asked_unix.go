//go:build unix && !(darwin || dragonfly || freebsd || netbsd || openbsd)

package main

import (
	"os"
	"syscall"
)

// asking are the signals that ask how far a command is.
var asking = []os.Signal{syscall.SIGUSR1}
