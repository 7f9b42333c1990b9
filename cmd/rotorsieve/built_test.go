package main

import (
	"bytes"
	"fmt"
	"os/exec"
	"path/filepath"
	"runtime"
	"sync"
	"testing"
)

// binary builds the command, once for all tests.
func binary(t *testing.T) string {
	t.Helper()
	built.Do(func() {
		built.path = filepath.Join(builds, "rotorsieve")
		if runtime.GOOS == "windows" {
			built.path += ".exe"
		}
		if out, err := exec.Command("go", "build", "-o", built.path, ".").CombinedOutput(); err != nil {
			built.err = fmt.Errorf("%v\n%s", err, out)
		}
	})
	if built.err != nil {
		t.Fatal(built.err)
	}
	return built.path
}

var built struct {
	sync.Once
	path string
	err  error
}

func start(t *testing.T, bin, dir string, args ...string) (*exec.Cmd, *bytes.Buffer) {
	t.Helper()
	c := exec.Command(bin, args...)
	c.Dir = dir
	var b bytes.Buffer
	c.Stdout, c.Stderr = &b, &b
	return c, &b
}

func finishes(t *testing.T, c *exec.Cmd, out *bytes.Buffer) {
	t.Helper()
	if err := c.Run(); err != nil {
		t.Fatalf("%v: %v\n%s", c.Args, err, out)
	}
}
