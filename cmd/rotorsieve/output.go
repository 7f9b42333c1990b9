package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"sync"
	"syscall"

	"golang.org/x/term"

	"rotorsieve/report/finding"
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

	log  *journal         // that keeps what is said, nil for none
	json bool             // each line is an object
	part []byte           // of a line that is to be one
	last func(status int) // says how a command has ended; may be nil
}

// speak sets in what form things are said and kept, and what is said last.
func (o *output) speak(json, logged bool, last func(status int)) {
	o.mu.Lock()
	defer o.mu.Unlock()
	o.json, o.last = json, last
	if logged && o.log == nil {
		o.log = &journal{}
	}
}

func (o *output) Write(p []byte) (int, error) {
	o.mu.Lock()
	defer o.mu.Unlock()
	if !o.json {
		if o.log != nil {
			o.log.take(p)
		}
		return o.put(p)
	}
	o.part = append(o.part, p...)
	for {
		line, rest, ok := bytes.Cut(o.part, []byte("\n"))
		if !ok {
			return len(p), o.err
		}
		o.part = rest
		o.object("note", string(line), []finding.Member{{Name: "text", Value: string(line)}})
	}
}

// fail says with what a command ends, and in which status.
func (o *output) fail(line string, status int) {
	if !o.json {
		fmt.Fprintln(o, "rotorsieve:", line)
		return
	}
	event(o, "error", "rotorsieve: "+line, finding.Member{Name: "text", Value: line},
		finding.Member{Name: "exit_status", Value: status})
}

// end ends what is said of a command.
func (o *output) end(status int) {
	if o.json && o.last != nil {
		o.last(status)
	}
	o.mu.Lock()
	defer o.mu.Unlock()
	if o.log == nil {
		return
	}
	o.log.close()
	if err := o.log.failed; err != nil {
		o.log = nil
		said := fmt.Sprintf("rotorsieve: --log could not be written to its end: %v\n", cause(err))
		if o.json {
			o.object("note", "", []finding.Member{{Name: "text", Value: strings.TrimSpace(said)}})
			return
		}
		_, _ = o.put([]byte(said))
	}
}

// logLine writes a line to the log of a stream alone.
func logLine(w io.Writer, text string) {
	o, ok := w.(*output)
	if !ok {
		return
	}
	o.mu.Lock()
	defer o.mu.Unlock()
	if o.log != nil {
		o.log.line(text)
	}
}

// bare is a stream without its log, for what moves about on a terminal.
func bare(w io.Writer) io.Writer {
	if o, ok := w.(*output); ok {
		return bareOutput{o}
	}
	return w
}

type bareOutput struct{ o *output }

func (b bareOutput) Write(p []byte) (int, error) {
	b.o.mu.Lock()
	defer b.o.mu.Unlock()
	return b.o.put(p)
}

// put writes to the stream, under the lock.
func (o *output) put(p []byte) (int, error) {
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
