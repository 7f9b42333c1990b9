package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"sync"
	"syscall"

	"golang.org/x/term"

	"rotorsieve/sweep/abandon"
)

// output is a standard stream of the program. It keeps its first error, after which it
// takes nothing more, and leaves a write that nobody takes when the context ends, as one
// into a pipe that is full.
type output struct {
	to  io.Writer
	ctx context.Context
	mu  sync.Mutex
	err error
}

func (o *output) Write(p []byte) (int, error) {
	o.mu.Lock()
	defer o.mu.Unlock()
	if o.err != nil {
		return 0, o.err
	}
	if o.ctx.Done() != nil {
		p = bytes.Clone(p) // it may be read after this has returned
	}
	o.err = abandon.Run(o.ctx, func() error { _, err := o.to.Write(p); return err })
	if o.err != nil {
		return 0, o.err
	}
	return len(p), nil
}

// failed is the first error of the stream.
func (o *output) failed() error {
	o.mu.Lock()
	defer o.mu.Unlock()
	return o.err
}

// unwritable ends a command whose answer could not be written. Where its reader has gone,
// as head does, nothing is said.
func unwritable(err error) error {
	if errors.Is(err, syscall.EPIPE) {
		return &exitError{status: exitUnusable}
	}
	return fmt.Errorf("standard output cannot be written: %w, want a file or a pipe that takes it", cause(err))
}

// terminal is the terminal that a stream leads to, nil for none.
func terminal(w io.Writer) *os.File {
	if o, ok := w.(*output); ok {
		w = o.to
	}
	if f, ok := w.(*os.File); ok && term.IsTerminal(int(f.Fd())) {
		return f
	}
	return nil
}

// columns is the width of a terminal, or 100 where the output is none.
func columns(w io.Writer) int {
	if f := terminal(w); f != nil {
		if n, _, err := term.GetSize(int(f.Fd())); err == nil && n > 0 {
			return n
		}
	}
	return 100
}
