//go:build darwin || dragonfly || freebsd || netbsd || openbsd

package main

import (
	"os"
	"syscall"
)

// asking are the signals that ask how far a command is; SIGINFO is what Ctrl-T sends.
var asking = []os.Signal{syscall.SIGUSR1, syscall.SIGINFO}
