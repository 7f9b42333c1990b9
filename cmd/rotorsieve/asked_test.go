//go:build unix

package main

import (
	"bytes"
	"os/exec"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"
)

// lines is what a command says, to be read while it goes on.
type lines struct {
	mu   sync.Mutex
	said bytes.Buffer
}

func (l *lines) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.said.Write(p)
}

func (l *lines) text() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.said.String()
}

// A signal that asks has a run say how far it is, also with --quiet, and go on.
func TestAsked(t *testing.T) {
	t.Parallel()
	bin, dir := binary(t), t.TempDir()
	c := exec.Command(bin, "sweep", "--kv", "1000:5000:1", "--capacity", "300:2000:1mAh", "--diameter", "3:9:0.5in",
		"--class", "250g,600g", "--merit", "top-speed:1:10m/s:60m/s", "--cache", "none", "--quiet", "--max-time", "60s",
		"--name", "asked", "--figures", "none")
	c.Dir = dir
	var said lines
	c.Stderr = &said
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	defer func() { _ = c.Process.Kill() }()
	time.Sleep(time.Second) // it takes the signals by then
	for end := time.Now().Add(40 * time.Second); !strings.Contains(said.text(), "asked: sweep "); {
		if time.Now().After(end) {
			t.Fatalf("asked for 40 s it says %q, want how far it is", said.text())
		}
		if err := c.Process.Signal(syscall.SIGUSR1); err != nil {
			t.Fatalf("it has ended at a signal that asks: %v, %q", err, said.text())
		}
		time.Sleep(300 * time.Millisecond)
	}
	if err := c.Process.Signal(syscall.SIGTERM); err != nil {
		t.Fatal(err)
	}
	_ = c.Wait()
	if status := c.ProcessState.ExitCode(); status != exitEarly {
		t.Errorf("status %d, want %d: %q", status, exitEarly, said.text())
	}
	for line := range strings.Lines(said.text()) {
		if !strings.HasPrefix(line, "asked: ") && !strings.HasPrefix(line, "rotorsieve: ") {
			t.Errorf("it says %q, want one line for each signal", line)
		}
	}
}
