package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The effective flags of a run name files so that the study runs again from where it ran,
// from the run's folder, from elsewhere, through a link, and where all of it was moved to.
func TestEffectivePaths(t *testing.T) {
	const head = "kind,key,quantity,value,unit,sigma\n"
	writeFiles(t, map[string]string{
		"data/b,ad.txt":     "",
		"data/records.csv":  head + "motor,2207 1750KV,KV,1700,KV,20\n",
		"data/motors.csv":   head + "motor,2207 1750KV,mass,30,g,1\n",
		"bench.csv":         "diameter_in,pitch_in,blades,rpm,thrust_N,power_W\n5,4.3,3,12000,3.6,58\n",
		"configs/old.flags": "--measured=data/records.csv\n", // from where it is run
		"configs/own.flags": "--measured=../data/records.csv\n",
		"elsewhere/x":       "",
	})
	args := func(more ...string) []string {
		return append(append([]string{"sweep", "--quiet", "--figures=none"}, small[:len(small):len(small)]...), more...)
	}
	said(t, args("--rotor-points", "bench.csv", "--measured", "data/records.csv,data/motors.csv", "--out",
		"out/first")...)
	text, err := os.ReadFile("out/first/effective.flags")
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range []string{"--rotor-points=../../bench.csv\n", "--measured=../../data/records.csv\n",
		"--measured=../../data/motors.csv\n"} {
		if !strings.Contains(string(text), "\n"+line) {
			t.Errorf("no %q in\n%s", line, text)
		}
	}
	top, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	want, err := os.ReadFile("out/first/ranking.csv")
	if err != nil {
		t.Fatal(err)
	}
	again := func(where, flags string) {
		t.Helper()
		t.Chdir(where)
		out := t.TempDir()
		said(t, "sweep", "--quiet", "@"+flags, "--out", out)
		got, err := os.ReadFile(filepath.Join(out, "ranking.csv"))
		if err != nil || string(got) != string(want) {
			t.Errorf("from %s another ranking: %v", where, err)
		}
		effective, err := os.ReadFile(filepath.Join(out, "effective.flags"))
		if err != nil || strings.Count(string(effective), ".csv\n") != 3 {
			t.Errorf("from %s: %v\n%s", where, err, effective)
		}
		t.Chdir(top)
	}
	again(".", "out/first/effective.flags")
	again("out/first", "effective.flags")
	again("elsewhere", "../out/first/effective.flags")
	if err := os.Symlink(filepath.Join(top, "out"), "elsewhere/linked"); err == nil {
		again("elsewhere", "linked/first/effective.flags")
	}
	for _, name := range []string{"bench.csv", "data", "out"} {
		if err := os.Rename(name, filepath.Join("elsewhere", name)); err != nil {
			t.Fatal(err)
		}
	}
	again(".", "elsewhere/out/first/effective.flags")

	// A path from where it is run is still taken, and one from the file as well.
	if err := os.Rename("elsewhere/data", "data"); err != nil {
		t.Fatal(err)
	}
	for _, file := range []string{"old", "own"} {
		said(t, args("@configs/"+file+".flags", "--out", "out/"+file)...)
	}
	fails(t, args("--measured=../data/records.csv"), "--measured ../data/records.csv: no such file or directory, "+
		"want a CSV of records")
}

// A lock can be taken by whoever shares the folder, as far as the umask lets them.
func TestSharedLock(t *testing.T) {
	t.Chdir(t.TempDir())
	home, err := claim("shared", false, false, "")
	if err != nil {
		t.Fatal(err)
	}
	home.release()
	about, err := os.Stat("shared/.lock")
	if err != nil {
		t.Fatal(err)
	}
	beside, err := os.Create("beside") // 0666 less the umask
	if err != nil {
		t.Fatal(err)
	}
	defer beside.Close()
	if usual, err := beside.Stat(); err != nil || about.Mode().Perm() != usual.Mode().Perm() {
		t.Errorf("the lock has permissions %v, a new file %v", about.Mode(), usual.Mode())
	}
	if err := os.MkdirAll("blocked/.lock/x", 0o777); err != nil {
		t.Fatal(err)
	}
	_, err = claim("blocked", false, false, "")
	const want = "--out blocked: .lock is a folder, want it moved away, or another --out"
	if err == nil || err.Error() != want {
		t.Errorf("a folder in the place of the lock: %v", err)
	}
}
