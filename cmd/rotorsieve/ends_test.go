//go:build unix

package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"rotorsieve/report"
	"rotorsieve/report/finding"
)

// soon is how long a command may take to end once a signal has come. It is to be within a
// second where nothing else runs; machines that test are ten times as busy.
const soon = 10 * time.Second

// ends starts a command, sends it a signal when ready returns, and says how it ended and
// with what on standard error. A signal that comes before the program takes signals is sent
// again later.
func ends(t *testing.T, bin, dir string, sig os.Signal, ready func(after time.Duration), args ...string) (int, string) {
	t.Helper()
	for after := 300 * time.Millisecond; ; after *= 2 {
		c := exec.Command(bin, args...)
		c.Dir = dir
		var said bytes.Buffer
		c.Stderr = &said
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		ready(after)
		at := time.Now()
		if err := c.Process.Signal(sig); err != nil {
			t.Fatalf("%v: has ended before %v: %v: %s", args, sig, err, &said)
		}
		late := time.AfterFunc(12*soon, func() { _ = c.Process.Kill() })
		err := c.Wait()
		late.Stop()
		took := time.Since(at)
		state, _ := c.ProcessState.Sys().(syscall.WaitStatus)
		if state.Signaled() && state.Signal() == sig && after < 5*time.Second {
			continue // it had hardly begun
		}
		t.Logf("%s: %v: ended after %v", args[0], sig, took.Round(time.Millisecond))
		if took > soon {
			t.Errorf("%v: ended %v after %v, want within %v: %v", args, took, sig, soon, err)
		}
		return c.ProcessState.ExitCode(), said.String()
	}
}

// propellers writes measurements of propellers that take the model some seconds.
func propellers(t *testing.T, path string) {
	t.Helper()
	var b strings.Builder
	b.WriteString("diameter_in,pitch_in,blades,rpm,thrust_g,power_W\n")
	for d := 4.0; d < 9; d += 0.1 {
		for rpm := 5000.0; rpm < 15000; rpm += 180 {
			n, D := rpm/60, d*0.0254
			fmt.Fprintf(&b, "%.1f,%.2f,2,%g,%.4f,%.5f\n", d, d/2, rpm, 1e3*0.1*1.2*n*n*D*D*D*D/9.81,
				0.04*1.2*n*n*n*D*D*D*D*D)
		}
	}
	if err := os.WriteFile(path, []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
}

// standRows writes what a stand may have measured, in rows that take the fit half a minute.
func standRows(t *testing.T, path string) {
	t.Helper()
	var b strings.Builder
	b.WriteString("rpm,voltage_V,current_A,thrust_g\n")
	const D = 5 * 0.0254
	for rpm := 8000.0; rpm < 18000; rpm += 0.5 {
		n := rpm / 60
		fmt.Fprintf(&b, "%g,16,%.4f,%.3f\n", rpm, 0.06*1.2*n*n*n*D*D*D*D*D/0.75/16, 1e3*0.11*1.2*n*n*D*D*D*D/9.81)
	}
	if err := os.WriteFile(path, []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
}

// A signal ends every command soon, wherever its time goes.
func TestEndsSoon(t *testing.T) {
	t.Parallel()
	bin, dir := binary(t), t.TempDir()
	propellers(t, filepath.Join(dir, "points.csv"))
	standRows(t, filepath.Join(dir, "stand.csv"))
	for _, c := range []struct {
		long bool // not with -short
		sig  os.Signal
		args string
	}{
		{false, syscall.SIGTERM, "rotor --rpm 1000:25000:0.1 --advance 0:1:0.001"},
		{true, syscall.SIGHUP, "rotor --rpm 1000:25000:0.1 --draw drawn"},
		{false, syscall.SIGHUP, "stand --compare stand.csv --fit fitted.csv"},
		{true, os.Interrupt, "explain --rotor-points points.csv --why"},
		{true, syscall.SIGTERM, "sweep --rotor-points points.csv --out bare"},
		{false, syscall.SIGTERM, "sweep --dry-run --kv 1000:5000:0.1 --capacity 100:5000:0.1mAh " +
			"--diameter 3:9:0.001in --workers 4096"},
	} {
		if c.long && testing.Short() {
			continue
		}
		t.Run(c.args, func(t *testing.T) {
			status, said := ends(t, bin, dir, c.sig, time.Sleep, strings.Fields(c.args)...)
			if status != exitEarly || !strings.HasSuffix(said, "rotorsieve: interrupted\n") {
				t.Errorf("status %d, %q", status, said)
			}
		})
	}
	// A picture may have been drawn before the signal came.
	if left, _ := filepath.Glob(filepath.Join(dir, "drawn", "*")); len(left) > 1 ||
		len(left) == 1 && filepath.Base(left[0]) != report.RotorName {
		t.Errorf("left among the pictures: %v", left)
	}
	left, err := os.ReadDir(dir)
	left = slices.DeleteFunc(left, func(e os.DirEntry) bool { return e.Name() == "drawn" })
	if err != nil || len(left) != 2 {
		t.Errorf("left behind: %v, %v", left, err)
	}
}

// ranked is a study whose report takes some seconds.
var ranked = []string{"--quiet", "--class", "900g,1500g", "--top", "5000", "--kv", "1000:3000:20",
	"--capacity", "900:2500:50mAh", "--diameter", "4in,5in,6in", "--stator", "2207,2306", "--payload", "0",
	"--front", "hover-time,top-speed", "--draws", "0"}

// A report that is interrupted leaves the files that are whole, and its state; what goes
// on writes what one that was left alone would have.
func TestReportInterrupted(t *testing.T) {
	if testing.Short() {
		t.Skip("takes a while")
	}
	t.Parallel()
	bin, dir := binary(t), t.TempDir()
	c, out := start(t, bin, dir, append([]string{"sweep", "--out", "whole"}, ranked...)...)
	c.Env = append(os.Environ(), "TMPDIR="+filepath.Join(dir, "none")) // all that it spools lies in its own folder
	finishes(t, c, out)
	c, out = start(t, bin, dir, append([]string{"sweep", "--out", "shard", "--shard", "1/1"}, ranked...)...)
	finishes(t, c, out)
	sweep := append([]string{"sweep", "--out", "swept", "--resume"}, ranked...)
	merge := []string{"merge", "--out", "merged", "shard"}
	for _, args := range [][]string{sweep, merge} {
		into := args[2]
		onwards := "merge begins anew"
		if args[0] == "sweep" {
			onwards = "--resume goes on from swept/checkpoint"
		}
		for _, at := range []string{"figures/size.png", ".spool-*/parts-*", ".ranking.csv*"} {
			begun := func(time.Duration) { awaitAny(t, filepath.Join(dir, into, at)) }
			status, said := ends(t, bin, dir, syscall.SIGTERM, begun, args...)
			if status != exitEarly || !strings.Contains(said, "interrupted as the report was written") ||
				!strings.Contains(said, onwards) {
				t.Fatalf("%s at %s: status %d: %s", args[0], at, status, said)
			}
			if args[0] == "sweep" {
				if _, err := os.Stat(filepath.Join(dir, into, checkpointName)); err != nil {
					t.Errorf("at %s no state is kept: %v", at, err)
				}
			}
			for _, pattern := range []string{".spool*", ".[a-z]*.[a-z]*", "figures/.*", finding.RecordName} {
				if left, _ := filepath.Glob(filepath.Join(dir, into, pattern)); len(left) > 0 {
					t.Errorf("at %s are left: %v", at, left)
				}
			}
			files, _ := filepath.Glob(filepath.Join(dir, into, "*.*"))
			figures, _ := filepath.Glob(filepath.Join(dir, into, "figures", "*"))
			for _, path := range append(files, figures...) {
				if name, _ := filepath.Rel(filepath.Join(dir, into), path); name != lockName {
					same(t, filepath.Join(dir, "whole", name), path)
				}
			}
		}
		c, out := start(t, bin, dir, args...)
		finishes(t, c, out)
		for _, name := range []string{"review.xlsx", "ranking.csv", "front.csv", "size.csv", "figures/size.png"} {
			same(t, filepath.Join(dir, "whole", name), filepath.Join(dir, into, name))
		}
	}
	for _, name := range []string{"whole", "swept", "merged"} {
		if left, _ := filepath.Glob(filepath.Join(dir, name, ".spool*")); len(left) > 0 {
			t.Errorf("left behind: %v", left)
		}
	}
}

// A choice that is interrupted leaves the state of its sweep, and what goes on chooses as
// one that was left alone.
func TestChoiceInterrupted(t *testing.T) {
	if testing.Short() {
		t.Skip("takes a while")
	}
	t.Parallel()
	bin, dir := binary(t), t.TempDir()
	weighed := append(slices.Clone(ranked), "--draws", "512", "--figures", "none", "--top", "100")
	c, out := start(t, bin, dir, append([]string{"sweep", "--out", "whole"}, weighed...)...)
	finishes(t, c, out)
	c, out = start(t, bin, dir, append([]string{"sweep", "--out", "shard", "--shard", "1/1"}, weighed...)...)
	finishes(t, c, out)
	sweep := append([]string{"sweep", "--out", "swept", "--resume"}, weighed...)
	merge := []string{"merge", "--out", "merged", "--force", "shard"}
	for _, args := range [][]string{sweep, merge} {
		state := filepath.Join(dir, args[2], checkpointName)
		begun := func(time.Duration) { awaitAny(t, state) }
		status, said := ends(t, bin, dir, syscall.SIGTERM, begun, args...)
		// The sweep may not yet have said that it is done.
		if status != exitEarly || !strings.Contains(said, "interrupted while choosing a build, with all designs judged") &&
			!strings.Contains(said, "interrupted with 1,399,860 of 1,399,860 designs judged") {
			t.Fatalf("%s: status %d: %s", args[0], status, said)
		}
		if left, _ := filepath.Glob(filepath.Join(dir, args[2], "[a-z]*.*")); len(left) > 0 {
			t.Errorf("%s leaves %v", args[0], left)
		}
		c, out := start(t, bin, dir, args...)
		finishes(t, c, out)
		for _, name := range []string{"robust.csv", "confidence.csv", "review.xlsx", "ranking.csv"} {
			same(t, filepath.Join(dir, "whole", name), filepath.Join(dir, args[2], name))
		}
	}
}

// A comparison that is interrupted, whatever it is at, ends soon and leaves nothing but the
// lock: no figure without its workbook.
func TestCompareInterrupted(t *testing.T) {
	if testing.Short() {
		t.Skip("takes a while")
	}
	t.Parallel()
	k := &torture{bin: binary(t), dir: t.TempDir()}
	for _, name := range []string{"a", "b"} {
		k.alone(t, append([]string{"sweep", "--out", name}, small...)...)
	}
	took := k.alone(t, "compare", "a", "b", "--out", "whole")
	v := &victim{name: "compare", whole: "whole", done: finding.ComparisonName}
	cut := false // as the workbook was written
	for n := 0; n < 6 || n < 40 && !cut; n++ {
		into := fmt.Sprint("cut-", n)
		c, said := start(t, k.bin, k.dir, "compare", "a", "b", "--out", into)
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		spool := filepath.Join(k.dir, into, ".spool-*")
		if n%2 == 0 {
			awaitAny(t, spool, filepath.Join(k.dir, into, finding.ComparisonName))
		} else {
			time.Sleep(took * time.Duration(n%6) / 6)
		}
		found, _ := filepath.Glob(spool)
		at := time.Now()
		_ = c.Process.Signal(syscall.SIGTERM)
		err := c.Wait()
		if late := time.Since(at); late > soon {
			t.Errorf("ended %v after the signal", late)
		}
		state, _ := c.ProcessState.Sys().(syscall.WaitStatus)
		code := c.ProcessState.ExitCode()
		left, _ := filepath.Glob(filepath.Join(k.dir, into, "[a-z]*"))
		switch {
		case code == exitDone:
			k.compare(t, v, filepath.Join(k.dir, into))
		case code != exitEarly && !state.Signaled(), code == exitEarly && said.String() != "rotorsieve: interrupted\n":
			t.Errorf("%v, %q", err, said)
		case len(left)+len(unfinished(filepath.Join(k.dir, into))) > 0:
			t.Errorf("left behind: %v, %v", left, unfinished(filepath.Join(k.dir, into)))
		default:
			cut = cut || code == exitEarly && len(found) > 0
		}
	}
	if !cut {
		t.Error("none was interrupted as its workbook was written")
	}
}

// awaitAny waits for a file by one of some patterns.
func awaitAny(t *testing.T, patterns ...string) {
	t.Helper()
	for range 60000 { // two minutes
		for _, pattern := range patterns {
			if found, _ := filepath.Glob(pattern); len(found) > 0 {
				return
			}
		}
		time.Sleep(2 * time.Millisecond)
	}
	t.Fatalf("the run leaves none of %v", patterns)
}

// What signals do beside ending a command, and what other ends of streams do not.
func TestSignals(t *testing.T) {
	t.Parallel()
	bin := binary(t)
	t.Run("second", func(t *testing.T) { endsAtOnce(t, bin) })
	t.Run("nohup", func(t *testing.T) { outlivesTerminal(t, bin) })
	t.Run("nobody reads", func(t *testing.T) { endsUnread(t, bin) })
	t.Run("nobody reads the progress", func(t *testing.T) { goesOnUnread(t, bin) })
}

// A second signal ends a command at once, though the first is still being seen to.
func endsAtOnce(t *testing.T, bin string) {
	t.Helper()
	for range 20 {
		c := exec.Command(bin, "rotor", "--rpm", "1000:25000:0.1")
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(300 * time.Millisecond)
		_ = c.Process.Signal(syscall.SIGHUP)
		time.Sleep(30 * time.Millisecond) // of the grace that the command has
		_ = c.Process.Signal(syscall.SIGTERM)
		_ = c.Wait()
		state, _ := c.ProcessState.Sys().(syscall.WaitStatus)
		if state.Signaled() && state.Signal() == syscall.SIGTERM {
			return
		}
		if code := c.ProcessState.ExitCode(); code != exitEarly && !state.Signaled() {
			t.Fatalf("status %d, want %d or the signal", code, exitEarly)
		}
	}
	t.Error("a second signal never ended it at once")
}

// What nohup starts outlives its terminal, and still ends by what is meant for it.
func outlivesTerminal(t *testing.T, bin string) {
	t.Helper()
	c := exec.Command("sh", "-c", `trap "" HUP; exec "$@"`, "sh", bin, "rotor", "--rpm", "1000:25000:0.1")
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	ended := make(chan error, 1)
	go func() { ended <- c.Wait() }()
	time.Sleep(300 * time.Millisecond)
	_ = c.Process.Signal(syscall.SIGHUP)
	select {
	case err := <-ended:
		t.Fatalf("ended with the terminal: %v", err)
	case <-time.After(time.Second):
	}
	_ = c.Process.Signal(syscall.SIGTERM)
	if <-ended; c.ProcessState.ExitCode() != exitEarly {
		t.Errorf("%v, want status %d", c.ProcessState, exitEarly)
	}
}

// A command whose answer nobody takes is ended by a signal all the same.
func endsUnread(t *testing.T, bin string) {
	t.Helper()
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	c := exec.Command(bin, "man")
	c.Stdout = w
	fd := int(w.Fd())
	if err := syscall.SetNonblock(fd, true); err != nil {
		t.Fatal(err)
	}
	for err == nil { // until it is full
		_, err = syscall.Write(fd, make([]byte, 512))
	}
	if err := syscall.SetNonblock(fd, false); err != nil {
		t.Fatal(err)
	}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	w.Close()
	time.Sleep(time.Second)
	_ = c.Process.Signal(syscall.SIGTERM)
	late := time.AfterFunc(12*soon, func() { _ = c.Process.Kill() })
	defer late.Stop()
	if err := c.Wait(); c.ProcessState.ExitCode() != exitEarly {
		t.Errorf("%v, want status %d", err, exitEarly)
	}
}

// Standard output that cannot be written is status 2 and one line, wherever it is; where
// its reader has gone, it is status 2 alone.
func TestUnwritableOutput(t *testing.T) {
	t.Chdir(t.TempDir())
	said(t, append([]string{"sweep", "--out", "a"}, small...)...)
	said(t, append([]string{"sweep", "--out", "b", "--payload", "30g"}, small...)...)
	full := &refusing{&os.PathError{Op: "write", Path: "/dev/stdout", Err: syscall.ENOSPC}}
	gone := &refusing{&os.PathError{Op: "write", Path: "/dev/stdout", Err: syscall.EPIPE}}
	const line = "rotorsieve: standard output cannot be written: no space left on device, " +
		"want a file or a pipe that takes it\n"
	for n, args := range [][]string{
		{"help"}, {"--help"}, {"help", "units"}, {"help", "sweep"}, {"stand", "--help"}, {"version"}, {"--version"},
		{"metrics"}, {"metrics", "--sources"}, {"classes"}, {"man"}, {"completion", "bash"}, {"completion", "zsh"},
		{"completion", "fish"}, {"completion", "powershell"}, {"rotor"}, {"rotor", "--table", "--advance", "0:0.5:0.1"},
		{"explain"}, {"explain", "--why"}, {"explain", "--format", "json"}, {"explain", "--class", "100g"},
		{"stand"}, {"stand", "--format", "text"}, {"stand", "--format", "json"},
		append([]string{"sweep", "--dry-run"}, small...),
		append([]string{"sweep", "--out", "c", "--force"}, small...),
		append([]string{"sweep", "--out", "c", "--force", "--format", "json"}, small...),
		append([]string{"sweep", "--out", "a", "--resume", "--format", "json"}, small...),
		append([]string{"sweep", "--out", "s", "--shard", "1/1", "--force"}, small...),
		{"merge", "s", "--out", "m", "--force"}, {"merge", "s", "--out", "m", "--force", "--format", "json"},
		{"compare", "a", "b", "--out", "d", "--force"},
		{"compare", "a", "b", "--out", "d", "--force", "--format", "json"},
	} {
		for _, to := range []struct {
			w    io.Writer
			want string
		}{{full, line}, {gone, ""}} {
			var stderr bytes.Buffer
			status := run(t.Context(), args, to.w, &stderr)
			if status != exitUnusable || stderr.String() != to.want {
				t.Errorf("%d %v: status %d, %q, want 2, %q", n, args, status, &stderr, to.want)
			}
		}
	}
	if _, err := os.Stat(filepath.Join("m", finding.RecordName)); err != nil {
		t.Errorf("the files of a run whose answer was not printed are gone: %v", err)
	}
}

// refusing is a stream that cannot be written.
type refusing struct{ err error }

func (r *refusing) Write([]byte) (int, error) { return 0, r.err }

// What says more than that standard output cannot be written keeps its status; so does a
// mistake that was made before there was anything to print.
func TestEnding(t *testing.T) {
	full := &os.PathError{Op: "write", Path: "/dev/stdout", Err: syscall.ENOSPC}
	alive, gone := context.Background(), interrupted()
	bad := errors.New("--class: no")
	audit := &exitError{exitAudit, "self-audit failed"}
	for n, c := range []struct {
		ctx            context.Context
		err, unwritten error
		status         int
		line           string
	}{
		{alive, nil, nil, exitDone, ""},
		{alive, bad, nil, exitUnusable, "--class: no"},
		{alive, bad, full, exitUnusable, "--class: no"},
		{alive, nil, full, exitUnusable, "standard output"},
		{alive, fmt.Errorf("x: %w", full), full, exitUnusable, "standard output"},
		{alive, errUnkept, full, exitUnusable, "standard output"},
		{alive, errEarly, full, exitEarly, "standard output"},
		{alive, audit, full, exitAudit, "self-audit failed"},
		{gone, context.Canceled, nil, exitEarly, "interrupted"},
		{gone, nil, context.Canceled, exitEarly, "interrupted"},
		{gone, errEarly, context.Canceled, exitEarly, ""},
		{gone, nil, nil, exitDone, ""},
		{gone, bad, nil, exitUnusable, "--class: no"},
	} {
		err := ending(c.ctx, c.err, c.unwritten)
		status, line := exitDone, ""
		if err != nil {
			status, line = exitUnusable, err.Error()
		}
		if e, ok := errors.AsType[*exitError](err); ok {
			status = e.status
		}
		if status != c.status || !strings.HasPrefix(line, c.line) || c.line == "" && line != "" {
			t.Errorf("%d: status %d, %q, want %d, %q", n, status, line, c.status, c.line)
		}
	}
}

func interrupted() context.Context {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	return ctx
}

// A run goes on where nobody reads its progress any more.
func goesOnUnread(t *testing.T, bin string) {
	t.Helper()
	dir := t.TempDir()
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	r.Close()
	var args []string
	for _, a := range tortured {
		if a != "--quiet" {
			args = append(args, a)
		}
	}
	args = append(args, "--kv", "2000,3000", "--diameter", "3in,4in", "--draws", "32", "--out", "unread")
	c := exec.Command(bin, args...)
	c.Dir, c.Stderr = dir, w
	err = c.Run()
	w.Close()
	if _, e := os.Stat(filepath.Join(dir, "unread", finding.RecordName)); err != nil || e != nil {
		t.Errorf("%v, %v", err, e)
	}
}
