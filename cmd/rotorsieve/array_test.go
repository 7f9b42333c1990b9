//go:build unix

package main

import (
	"context"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
	"testing"
	"time"
)

// The task of a Slurm array keeps the status of its share; it is queued again where its time is
// over alone, not where it was cancelled, has ended, or cannot be run.
func TestArrayScript(t *testing.T) {
	bash, err := exec.LookPath("bash")
	if err != nil {
		t.Skip("no bash:", err)
	}
	script, err := filepath.Abs("../../configs/sweep-array.sbatch")
	if err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(script)
	if err != nil {
		t.Fatal(err)
	}
	if !regexp.MustCompile(`(?m)^#SBATCH --array=1-16$`).Match(text) ||
		!regexp.MustCompile(`(?m)^#SBATCH --signal=B:USR1@\d+$`).Match(text) {
		t.Error("the array is of other tasks than SHARDS says, or nothing tells a task that its time is over")
	}
	writeFiles(t, map[string]string{
		// A share that goes on until it is ended or its folder is gone, or ends by itself.
		"share": "#!/bin/sh\ntrap 'exit 3' TERM\necho \"$@\" >args\n[ -z \"$ENDS\" ] || exit $ENDS\n: >began\n" +
			"while [ -e began ]; do sleep 0.05; done\n",
		"bin/scontrol": "#!/bin/sh\necho \"$@\" >>queued\n",
	})
	for _, name := range []string{"share", "bin/scontrol"} {
		if err := os.Chmod(name, 0o755); err != nil {
			t.Fatal(err)
		}
	}
	here, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name   string
		ends   string
		signal syscall.Signal
		status int
		queued string
	}{
		{"done", "0", 0, 0, ""},
		{"unusable", "2", 0, exitUnusable, ""},
		{"ended by --max-time", "3", 0, exitEarly, ""},
		{"time is over", "", syscall.SIGUSR1, exitEarly, "requeue 71_4\n"},
		{"cancelled", "", syscall.SIGTERM, exitEarly, ""},
	} {
		for _, old := range []string{"args", "began", "queued"} {
			_ = os.Remove(old)
		}
		ctx, cancel := context.WithTimeout(t.Context(), 3*time.Minute)
		x := exec.CommandContext(ctx, bash, script)
		x.WaitDelay = time.Second
		x.Env = append(os.Environ(), "PATH="+filepath.Join(here, "bin")+":"+os.Getenv("PATH"), "ROTORSIEVE=./share",
			"ENDS="+c.ends, "STUDY=own.flags", "SLURM_CPUS_PER_TASK=3", "SLURM_ARRAY_JOB_ID=71", "SLURM_ARRAY_TASK_ID=4")
		if err := x.Start(); err != nil {
			t.Fatal(err)
		}
		if c.signal != 0 {
			for from := time.Now(); time.Since(from) < time.Minute; time.Sleep(10 * time.Millisecond) {
				if _, err := os.Stat("began"); err == nil {
					break
				}
			}
			if err := x.Process.Signal(c.signal); err != nil {
				t.Error(err)
			}
		}
		status := 0
		err := x.Wait()
		cancel()
		if err != nil {
			e, ok := errors.AsType[*exec.ExitError](err)
			if !ok {
				t.Fatal(err)
			}
			status = e.ExitCode()
		}
		queued, _ := os.ReadFile("queued")
		if status != c.status || string(queued) != c.queued {
			t.Errorf("%s: status %d, queued %q; want %d, %q", c.name, status, queued, c.status, c.queued)
		}
	}
	// It asks for a share as the program takes it.
	args, err := os.ReadFile("args")
	if err != nil {
		t.Fatal(err)
	}
	words := strings.Fields(string(args))
	if len(words) < 2 || words[0] != "sweep" || words[1] != "@own.flags" {
		t.Fatalf("%q", words)
	}
	t.Setenv("SLURM_ARRAY_TASK_ID", "4")
	s := newStudyFlags("sweep", sweepDefaults)
	var o sweepOptions
	o.declare(s.group("Output"), s.group("Run"))
	if err := errors.Join(s.take(words[2:]), o.check()); err != nil {
		t.Fatal(err)
	}
	if o.place.K != 4 || o.place.Of != 16 || o.workers != 3 || !o.resume {
		t.Errorf("%q: share %v, %d workers", words, o.place, o.workers)
	}
}
