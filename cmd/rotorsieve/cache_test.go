package main

import (
	"bytes"
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"testing"
)

// kept is a study whose propellers are kept in a folder.
func kept(out string, more ...string) []string {
	return append([]string{"sweep", "--class", "250g", "--diameter", "3in,4in", "--pitch-ratio", "0.6,0.7",
		"--stator", "1404",
		"--kv", "2000:4000:100", "--cells", "4", "--capacity", "500:900:50mAh", "--payload", "0", "--figures", "none",
		"--name", "kept", "--draws", "0", "--quiet", "--workers", "1", "--merit", "range:1:0km:20km", "--out", out}, more...)
}

// solvedIn are the files in a folder of kept ones.
func solvedIn(t *testing.T, dir string) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(dir, "*"))
	if err != nil {
		t.Fatal(err)
	}
	return files
}

// The results of a study are the same files whatever is kept of its propellers, and where that is
// is no part of what reproduces them.
func TestCacheFlag(t *testing.T) {
	t.Chdir(t.TempDir())
	said(t, kept("without", "--cache", "none")...)
	said(t, kept("cold", "--cache", "solved")...)
	files := solvedIn(t, "solved")
	if len(files) < 4 {
		t.Fatalf("%d files are kept", len(files))
	}
	said(t, kept("warm", "--cache", "solved")...)
	if err := os.WriteFile(files[0], []byte("rotorsieve solved 1\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	said(t, kept("damaged", "--cache", "solved")...)
	for _, dir := range []string{"cold", "warm", "damaged"} {
		for _, name := range []string{"review.xlsx", "ranking.csv", "size.csv", "effective.flags", checkpointName} {
			same(t, filepath.Join("without", name), filepath.Join(dir, name))
		}
	}
	b, err := os.ReadFile("warm/effective.flags")
	if err != nil || bytes.Contains(b, []byte("cache")) {
		t.Errorf("the flags that reproduce the study say where propellers are kept: %s, error %v", b, err)
	}
	if now := solvedIn(t, "solved"); len(now) != len(files) {
		t.Errorf("%d files are kept in the end, %d at first", len(now), len(files))
	}
}

// A dry run reads what is kept and keeps nothing.
func TestCacheDryRun(t *testing.T) {
	t.Chdir(t.TempDir())
	said(t, kept("out", "--cache", "solved", "--dry-run")...)
	if got := solvedIn(t, "."); len(got) > 0 {
		t.Errorf("a dry run leaves %q", got)
	}
	t.Setenv(cacheVariable, "")
	t.Setenv("XDG_CACHE_HOME", filepath.Join(t.TempDir(), "caches"))
	var stdout, stderr bytes.Buffer
	args := kept("out", "--dry-run", "--quiet=false")
	if status := run(context.Background(), args, &stdout, &stderr); status != 0 || stderr.Len() > 0 {
		t.Errorf("status %d, %s", status, &stderr)
	}
	if runtime.GOOS == "linux" && len(solvedIn(t, os.Getenv("XDG_CACHE_HOME"))) > 0 {
		t.Error("a dry run makes the user's cache folder")
	}
}

// Without a flag it is the variable's folder, and without that the user's; merge and explain read
// what sweep has kept.
func TestCachePlaces(t *testing.T) {
	if runtime.GOOS != "linux" {
		t.Skip("sets the user's cache folder as Linux has it")
	}
	t.Chdir(t.TempDir())
	home := filepath.Join(t.TempDir(), "a", "home")
	t.Setenv("XDG_CACHE_HOME", home)
	t.Setenv(cacheVariable, "")
	said(t, kept("one", "--shard", "1/2")...)
	said(t, kept("two", "--shard", "2/2")...)
	user := filepath.Join(home, "rotorsieve")
	files := solvedIn(t, user)
	if about, err := os.Stat(user); err != nil || about.Mode().Perm() != 0o700 || len(files) < 4 {
		t.Fatalf("%d files are kept for the user, error %v", len(files), err)
	}
	said(t, "merge", "one", "two", "--out", "merged")
	files = solvedIn(t, user) // with the ceilings of designs that are told of
	said(t, "merge", "one", "two", "--out", "again")
	if now := solvedIn(t, user); len(now) != len(files) {
		t.Errorf("a second merge solves %d again", len(now)-len(files))
	}
	one := []string{"explain", "--diameter", "3in", "--pitch-ratio", "0.6", "--stator", "1404", "--kv", "3000",
		"--cells", "4",
		"--capacity", "600mAh", "--require", "hover-time>=0s"}
	if text := said(t, one...); len(text) == 0 || len(solvedIn(t, user)) <= len(files) { // the air of its ceiling is new
		t.Error("explain keeps nothing")
	}
	t.Setenv(cacheVariable, "elsewhere")
	first := said(t, one...)
	if len(solvedIn(t, "elsewhere")) == 0 {
		t.Error("the variable's folder is not used")
	}
	if said(t, append(one, "--cache", "none")...) != first || said(t, one...) != first {
		t.Error("explain says other things with what was kept than without")
	}
	t.Setenv(cacheVariable, "none")
	said(t, kept("three")...)
	t.Setenv(cacheVariable, "no/folder")
	fails(t, kept("four"), "ROTORSIEVE_CACHE=no/folder: no such file or directory, want a folder to write in, or none")
}

// Where the user has no cache folder nothing is kept: that is said once, and not where the run is
// to be quiet.
func TestNoUsersCache(t *testing.T) {
	if runtime.GOOS != "linux" {
		t.Skip("takes the user's cache folder away as Linux has it")
	}
	t.Chdir(t.TempDir())
	t.Setenv(cacheVariable, "")
	const want = "rotorsieve: what is solved of propellers is not kept for later runs, since the user's cache " +
		"folder cannot " +
		"be used: "
	for i, place := range []string{"", "/proc/self", "/proc/none"} {
		t.Setenv("HOME", "")
		t.Setenv("XDG_CACHE_HOME", place)
		for _, quiet := range []bool{true, false} {
			var stdout, stderr bytes.Buffer
			args := kept("out", "--force")
			if !quiet {
				args = append(args, "--quiet=false")
			}
			if status := run(context.Background(), args, &stdout, &stderr); status != 0 {
				t.Errorf("%q: status %d, %s", place, status, &stderr)
			}
			if n := strings.Count(stderr.String(), want); n == 1 == quiet || n > 1 || quiet && stderr.Len() > 0 {
				t.Errorf("%d, quiet %v: said %d times: %s", i, quiet, n, &stderr)
			}
		}
	}
}

// Several processes at once share a folder, one of which has no room for more: all leave the same
// files.
func TestCacheOfManyProcesses(t *testing.T) {
	if testing.Short() || runtime.GOOS != "linux" {
		t.Skip("builds the command, and limits files as Linux does")
	}
	t.Parallel()
	bin := binary(t)
	dir := t.TempDir()
	finish := func(c *exec.Cmd) string {
		c.Dir = dir
		text, err := c.CombinedOutput()
		if err != nil {
			t.Errorf("%v: %v: %s", c.Args, err, text)
		}
		return string(text)
	}
	finish(exec.Command(bin, kept("without", "--cache", "none")...))
	if err := os.Mkdir(filepath.Join(dir, "solved"), 0o700); err != nil {
		t.Fatal(err)
	}
	var group sync.WaitGroup
	outs := []string{"p0", "p1", "p2", "p3", "p4", "p5", "p6", "p7"}
	for _, out := range outs {
		group.Go(func() { finish(exec.Command(bin, kept(out, "--cache", "solved")...)) })
	}
	group.Wait()
	// A limit on the size of files that the table of a propeller does not keep, and what a shard leaves does.
	args := kept("limited", "--cache", "few", "--quiet=false", "--shard", "1/1", "--map", "diameter,kv", "--top", "1",
		"--kv", "2000,4000")
	text := finish(exec.Command("sh", append([]string{"-c", `ulimit -f 24; exec "$@"`, "sh", bin}, args...)...))
	if !strings.Contains(text, "rotorsieve: not all that was solved of propellers is kept for later runs: file "+
		"too large\n") {
		t.Errorf("without room it says %s", text)
	}
	for _, out := range outs {
		for _, name := range []string{"review.xlsx", "ranking.csv", "effective.flags", checkpointName} {
			same(t, filepath.Join(dir, "without", name), filepath.Join(dir, out, name))
		}
	}
	if left := solvedIn(t, filepath.Join(dir, "few")); len(left) > 4 {
		t.Errorf("without room %d files are kept", len(left))
	}
}
