package main

import (
	"os"
	"os/exec"
	"regexp"
	"runtime"
	"strconv"
	"strings"
	"testing"
)

// The memory that a dry run tells is what the run takes at its peak, as the system has
// counted it, to 30 %. How busy the machine is does not matter: nothing here is timed.
func TestDryRunTellsTheMemory(t *testing.T) {
	if testing.Short() {
		t.Skip("the race detector, under which short tests are run, takes memory of its own")
	}
	if runtime.GOOS != "linux" {
		t.Skip("the peak is read from /proc")
	}
	if os.Getenv("ROTORSIEVE_PEAK") != "" { // the child
		args := strings.Split(os.Getenv("ROTORSIEVE_PEAK"), "\n")
		text := said(t, args...)
		b, err := os.ReadFile("/proc/self/status")
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%s\n%s", text, b)
		return
	}
	number := func(pattern string, args ...string) float64 {
		t.Helper()
		c := exec.Command(os.Args[0], "-test.run=^TestDryRunTellsTheMemory$", "-test.v")
		c.Env = append(os.Environ(), "ROTORSIEVE_PEAK="+strings.Join(args, "\n"), "GOMAXPROCS=2")
		out, err := c.CombinedOutput()
		if err != nil {
			t.Fatalf("%q: %v\n%s", args, err, out)
		}
		m := regexp.MustCompile(pattern).FindSubmatch(out)
		if m == nil {
			t.Fatalf("%q: no %s in\n%s", args, pattern, out)
		}
		v, err := strconv.ParseFloat(string(m[1]), 64)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	for _, workers := range []string{"2", "256"} {
		args := append(append([]string{"sweep"}, small...), "--quiet", "--dpi", "400", "--workers", workers,
			"--cache", "none")
		foreseen := number(`memory\s+about (\d+) MB`, append(args, "--dry-run", "--out", t.TempDir())...)
		peak := number(`VmHWM:\s+(\d+) kB`, append(args, "--out", t.TempDir()+"/run")...) * 1024 / 1e6
		if ratio := foreseen / peak; ratio < 1/1.3 || ratio > 1.3 {
			t.Errorf("%s workers: %.0f MB told, %.0f taken", workers, foreseen, peak)
		} else {
			t.Logf("%s workers: %.0f MB told, %.0f taken", workers, foreseen, peak)
		}
	}
}
