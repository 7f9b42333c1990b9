//go:build unix

package main

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
	"time"
)

// kills is how often commands are killed; `make torture` takes 200.
var kills = flag.Int("kills", 5, "SIGKILLs to survive in TestKilled")

// tortured is a study of some seconds with small blocks.
var tortured = []string{"sweep", "--quiet", "--name", "tortured", "--class", "250g,400g", "--diameter", "3:5:0.25in",
	"--pitch-ratio", "0.6,0.7,0.8", "--stator", "1303,1404,1507", "--kv", "1400:4200:100", "--cells", "3,4,6",
	"--capacity", "450:1050:25mAh", "--payload", "0,20g", "--checkpoint-every", "20ms", "--map", "diameter,kv",
	"--figures", "size,diameter-kv", "--merit", "hover-time:0.5:3min:20min,range:0.5:0km:15km"}

// await waits for a file of a run that has been started. How long that takes is no
// matter: the limit is for a run that never writes it.
func await(t *testing.T, path string) {
	t.Helper()
	for range 12000 { // two minutes
		if _, err := os.Stat(path); err == nil {
			return
		}
		time.Sleep(10 * time.Millisecond)
	}
	t.Fatalf("the run leaves no %s", path)
}

// An interrupt ends a run that is far from its end, with its state kept.
func TestInterrupted(t *testing.T) {
	t.Parallel()
	bin := binary(t)
	dir := t.TempDir()
	for _, sig := range []os.Signal{os.Interrupt, syscall.SIGTERM} {
		args := append(append([]string{}, tortured...), "--capacity", "450:1450:1mAh", "--out", fmt.Sprint("at-", sig),
			"--checkpoint-every", "1h")
		c, out := start(t, bin, dir, args...)
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		await(t, filepath.Join(dir, fmt.Sprint("at-", sig))) // made when the run begins
		at := time.Now()
		if err := c.Process.Signal(sig); err != nil {
			t.Fatal(err)
		}
		err := c.Wait()
		took := time.Since(at)
		if code := c.ProcessState.ExitCode(); code != exitEarly || !strings.Contains(out.String(), "--resume goes on") {
			t.Errorf("%v: status %d, %v: %s", sig, code, err, out)
		}
		t.Logf("%v: ended after %v", sig, took)
		if _, err := os.Stat(filepath.Join(dir, fmt.Sprint("at-", sig), checkpointName)); err != nil {
			t.Errorf("%v: no state kept: %v", sig, err)
		}
	}
}

// What can go wrong with the place of the results is said in one line, and the
// state that was there is not lost.
func TestBadPlaces(t *testing.T) {
	if runtime.GOOS != "linux" {
		t.Skip("uses Linux's limits and credentials")
	}
	bin := binary(t)
	dir := t.TempDir()
	long := append(append([]string{}, tortured...), "--capacity", "450:1450:1mAh")

	t.Run("second runner", func(t *testing.T) {
		c, out := start(t, bin, dir, append(long, "--out", "held")...)
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		defer func() { _ = c.Process.Kill(); _ = c.Wait() }()
		await(t, filepath.Join(dir, "held", checkpointName))
		for _, how := range []string{"--resume", "--force"} {
			second, text := start(t, bin, dir, append(long, "--out", "held", how)...)
			err := second.Run()
			if code := second.ProcessState.ExitCode(); code != 2 || !strings.Contains(text.String(),
				"another run is writing there") {
				t.Errorf("%s: status %d, %v: %s", how, code, err, text)
			}
		}
		_ = c.Process.Kill()
		_ = c.Wait() // until then its output is being read
		if out.Len() > 0 {
			t.Errorf("the first run was disturbed: %s", out)
		}
	})

	t.Run("full disk", func(t *testing.T) {
		// The limit on a file's size stands in for a disk that fills: what is
		// kept in the first part of the run no longer fits.
		c, out := start(t, bin, dir, append(long, "--out", "full", "--max-time", "300ms")...)
		_ = c.Run()
		state, err := os.ReadFile(filepath.Join(dir, "full", checkpointName))
		if err != nil {
			t.Fatalf("%v: %s", err, out)
		}
		// prlimit is not everywhere, but a shell is.
		limited := exec.Command("sh", append([]string{"-c", `ulimit -f 8; exec "$@"`, "sh", bin},
			append(long, "--out", "full", "--resume")...)...)
		limited.Dir = dir
		text, err := limited.CombinedOutput()
		if code := limited.ProcessState.ExitCode(); code != 2 || !strings.Contains(string(text), "cannot be written") ||
			strings.Count(string(text), "\n") != 1 {
			t.Errorf("status %d, %v: %s", code, err, text)
		}
		after, err := os.ReadFile(filepath.Join(dir, "full", checkpointName))
		if err != nil || !bytes.Equal(state, after) {
			t.Errorf("the state that was kept is gone: %v", err)
		}
		left, _ := filepath.Glob(filepath.Join(dir, "full", ".checkpoint*"))
		if len(left) > 0 {
			t.Errorf("left behind: %v", left)
		}
	})

	t.Run("vanished folder", func(t *testing.T) {
		c, out := start(t, bin, dir, append(long, "--out", "vanished")...)
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		await(t, filepath.Join(dir, "vanished", checkpointName))
		for os.RemoveAll(filepath.Join(dir, "vanished")) != nil { // the run may be writing just then
			runtime.Gosched()
		}
		err := c.Wait()
		if code := c.ProcessState.ExitCode(); code != 2 || !strings.Contains(out.String(),
			"vanished/checkpoint cannot be written") {
			t.Errorf("status %d, %v: %s", code, err, out)
		}
	})

	t.Run("read-only folder", func(t *testing.T) {
		place := filepath.Join(dir, "read-only")
		if err := os.Mkdir(place, 0o555); err != nil {
			t.Fatal(err)
		}
		c, out := start(t, bin, dir, append(long, "--out", place, "--cache", "none")...)
		if os.Getuid() == 0 {
			// Permissions do not bind root: run as nobody, who must be able to
			// reach the binary.
			for d := filepath.Dir(bin); d != "/" && d != os.TempDir(); d = filepath.Dir(d) {
				_ = os.Chmod(d, 0o755)
			}
			for d := dir; d != "/" && d != os.TempDir(); d = filepath.Dir(d) {
				_ = os.Chmod(d, 0o755)
			}
			c.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534}}
		}
		err := c.Run()
		if code := c.ProcessState.ExitCode(); code != 2 || !strings.Contains(out.String(),
			"cannot be written: permission denied") {
			t.Errorf("status %d, %v: %s", code, err, out)
		}
	})
}
