package main

import (
	"bytes"
	"encoding/json"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"rotorsieve/report/finding"
)

// long ago is a time at which no file of a test is written.
var longAgo = time.Date(2001, 2, 3, 4, 5, 6, 0, time.UTC)

// aged makes the files below a folder old.
func aged(t *testing.T, dir string) {
	t.Helper()
	for _, name := range below(t, dir) {
		if err := os.Chtimes(filepath.Join(dir, name), longAgo, longAgo); err != nil {
			t.Fatal(err)
		}
	}
}

// below lists the files in a folder, but for the lock.
func below(t *testing.T, dir string) (names []string) {
	t.Helper()
	err := fs.WalkDir(os.DirFS(dir), ".", func(name string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() && name != lockName {
			names = append(names, name)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return names
}

// renewed lists the files below a folder that were written since they were aged.
func renewed(t *testing.T, dir string) (names []string) {
	t.Helper()
	for _, name := range below(t, dir) {
		if about, err := os.Stat(filepath.Join(dir, name)); err != nil {
			t.Fatal(err)
		} else if !about.ModTime().Equal(longAgo) {
			names = append(names, name)
		}
	}
	return names
}

// Of a finished run that is to go on, what is missing, was changed, or is asked for with
// other figures or names is written again, and nothing else.
func TestFinishedAgain(t *testing.T) {
	t.Chdir(t.TempDir())
	study := func(out string, more ...string) []string {
		flags := slices.DeleteFunc(slices.Clone(small), func(f string) bool {
			return f == "--quiet" || f == "--figures" || f == "none"
		})
		return slices.Concat([]string{"sweep", "--out", out, "--dpi", "72", "--figures", "size,mass"}, flags, more)
	}
	said(t, study("fresh")...)
	said(t, study("run")...)
	read := func(name string) string {
		b, err := os.ReadFile(filepath.Join("run", name))
		if err != nil {
			t.Fatal(err)
		}
		return string(b)
	}
	change := func(name string) { writeAt(t, filepath.Join("run", name), read(name)+"mine") }
	drop := func(name string) {
		if err := os.Remove(filepath.Join("run", name)); err != nil {
			t.Fatal(err)
		}
	}
	const begins, ends = "rotorsieve: run holds this study, finished", ": that alone is written again\n"
	for _, c := range []struct {
		name    string
		done    func()
		more    []string // flags
		says    string
		renewed []string
	}{
		{"nothing", func() {}, nil,
			begins + ": nothing is left to do, and its report stays; --force would replace it\n", nil},
		{"missing", func() { drop("figures/size.png"); drop("ranking.csv") }, nil,
			begins + ", but figures/size.png is missing, ranking.csv is missing" + ends,
			[]string{"figures/size.png", "ranking.csv"}},
		{"cut", func() { writeAt(t, "run/size.csv", read("size.csv")[:100]) }, nil,
			begins + ", but size.csv was changed" + ends + aside("size-kept-1.csv"),
			[]string{"size-kept-1.csv", "size.csv"}},
		{"changed", func() { change("review.xlsx"); change("effective.flags") }, nil,
			begins + ", but review.xlsx was changed, effective.flags was changed" + ends +
				aside("review-kept-1.xlsx") + aside("effective-kept-1.flags"),
			[]string{"effective-kept-1.flags", "effective.flags", "review-kept-1.xlsx", "review.xlsx"}},
		{"record", func() { drop("run.json") }, nil, "", []string{"run.json"}},
		{"broken record", func() { writeAt(t, "run/run.json", "{") }, nil,
			aside("run-kept-1.json"), []string{"run-kept-1.json", "run.json"}},
		{"figures", func() {}, []string{"--figures", "stator-kv"},
			begins + `, but "--figures=stator-kv" is asked for` + ends,
			[]string{"effective.flags", "figures/stator-kv.png", "review.xlsx", "run.json"}},
		{"resolution", func() {}, []string{"--dpi", "80"},
			begins + `, but "--dpi=80" is asked for, "--dpi=72" was before` + ends,
			[]string{"effective.flags", "figures/mass.png", "figures/size.png", "review.xlsx", "run.json"}},
		{"name", func() {}, []string{"--name", "other"},
			begins + `, but "--name=other" is asked for, "--name=study" was before` + ends,
			[]string{"effective.flags", "figures/mass.png", "figures/size.png", "review.xlsx", "run.json"}},
		{"fewer maps", func() {}, []string{"--map", "cells,kv"},
			begins + `, but "--map=cells,kv" is asked for, "--map=all" was before` + ends,
			[]string{"effective.flags", "review.xlsx", "run.json"}},
		{"fewer maps, and missing", func() { drop("size.csv") }, []string{"--map", "none"},
			begins + `, but size.csv is missing, "--map=none" is asked for, "--map=all" was before` + ends,
			[]string{"effective.flags", "review.xlsx", "run.json", "size.csv"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			if err := os.RemoveAll("run"); err != nil {
				t.Fatal(err)
			}
			if err := os.CopyFS("run", os.DirFS("fresh")); err != nil {
				t.Fatal(err)
			}
			c.done()
			aged(t, "run")
			before := map[string]string{}
			for _, name := range below(t, "run") {
				before[name] = read(name)
			}
			again := study("run", append(slices.Clone(c.more), "--resume")...)
			told := heard(t, again...)
			for line := range strings.Lines(c.says) {
				if !strings.Contains(told, line) {
					t.Errorf("told %q\nwant in it %q", told, line)
				}
			}
			got := renewed(t, "run")
			// What was moved aside is as old as it was.
			for _, name := range below(t, "run") {
				if _, ok := before[name]; !ok && !slices.Contains(got, name) {
					got = append(got, name)
				}
			}
			slices.Sort(got)
			if d := cmp.Diff(c.renewed, got); d != "" {
				t.Errorf("written again (-want +got):\n%s", d)
			}
			for _, name := range below(t, "run") {
				if strings.Contains(name, "-kept-") {
					was := strings.Replace(name, "-kept-1", "", 1)
					if read(name) != before[was] {
						t.Errorf("%s is not what %s was", name, was)
					}
				}
			}
			// It is what a run of its own would have left, but for when that was.
			said(t, study("whole", append(slices.Clone(c.more), "--force", "--quiet")...)...)
			for _, name := range below(t, "whole") {
				if name == finding.RecordName || name == checkpointName {
					continue
				}
				same(t, filepath.Join("whole", name), filepath.Join("run", name))
			}
			if d := cmp.Diff(lasting(t, "whole"), lasting(t, "run")); d != "" {
				t.Errorf("records of a run of its own, and of what was written again:\n%s", d)
			}
			// A second time there is nothing to do.
			aged(t, "run")
			if said := heard(t, again...); !strings.Contains(said, "nothing is left to do") ||
				len(renewed(t, "run")) > 0 {
				t.Errorf("said %q, written %v", said, renewed(t, "run"))
			}
		})
	}
}

func aside(name string) string {
	return "rotorsieve: what stood there and was not the program's own is now " + filepath.Join("run", name) + "\n"
}

// lasting is run.json without what differs between two runs of a study.
func lasting(t *testing.T, dir string) map[string]any {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(dir, finding.RecordName))
	if err != nil {
		t.Fatal(err)
	}
	var all map[string]any
	if err := json.Unmarshal(b, &all); err != nil {
		t.Fatal(err)
	}
	maps.DeleteFunc(all, func(name string, _ any) bool { return name == "run" })
	return all
}

// What was written again with fewer maps is made good as well, and gets its maps back; one
// that the state does not have is refused.
func TestOtherMaps(t *testing.T) {
	t.Chdir(t.TempDir())
	run := append([]string{"sweep", "--out", "run", "--resume"}, small...)
	said(t, run...)
	if err := os.Rename("run/review.xlsx", "review.xlsx"); err != nil {
		t.Fatal(err)
	}
	said(t, append(run, "--map", "none")...)
	if err := os.Remove("run/review.xlsx"); err != nil {
		t.Fatal(err)
	}
	said(t, append(run, "--map", "none")...)
	said(t, append(run, "--map", "cells,kv")...)
	said(t, run...)
	same(t, "review.xlsx", "run/review.xlsx")
	fails(t, append(run, "--map", "cells,kv:hover-time"),
		"--out run: the run there has gathered no map cells-kv-hover-time, want another folder, or --force to run "+
			"the study again")
}

// A run that has chosen can be written without its choice, and has it back; one that was to choose nothing has
// kept no candidates to choose among.
func TestOtherDraws(t *testing.T) {
	t.Chdir(t.TempDir())
	under := func(draws, out string) []string {
		return slices.Concat([]string{"sweep", "--resume"}, small, []string{"--draws", draws, "--out", out})
	}
	said(t, under("8", "run")...)
	if err := os.Rename("run/robust.csv", "robust.csv"); err != nil {
		t.Fatal(err)
	}
	said(t, under("0", "run")...)
	if _, err := os.Stat("run/robust.csv"); err == nil {
		t.Error("without draws there are builds over draws")
	}
	said(t, under("8", "run")...)
	same(t, "robust.csv", "run/robust.csv")
	said(t, under("0", "other")...)
	same(t, "run/ranking.csv", "other/ranking.csv")
	fails(t, under("8", "other"), "--out other: the run there has kept no candidates to choose among (--draws=0), "+
		"want another folder, or --force to run the study again")
}

// Runs of before kept candidates where nothing was chosen, too: they are known by their fingerprints.
func TestWithCandidates(t *testing.T) {
	s := newStudyFlags("sweep", sweepDefaults)
	s.output(s.group("Output"))
	if err := s.take([]string{"--diameter", "4in,5in", "--draws", "0"}); err != nil {
		t.Fatal(err)
	}
	none, err := s.study()
	if err != nil {
		t.Fatal(err)
	}
	with := *none
	with.Nominal = false
	if got := withCandidates(none, with.Fingerprint()); !none.Nominal || got.Nominal ||
		got.Fingerprint() != with.Fingerprint() {
		t.Errorf("of %t the study of a run that kept candidates has none: %t", none.Nominal, got.Nominal)
	}
	for _, fingerprint := range []string{none.Fingerprint(), "another"} {
		if got := withCandidates(none, fingerprint); got != none {
			t.Errorf("a study for the fingerprint %s is another", fingerprint)
		}
	}
	if got := gatheredAs(none, []string{"--map=all", noDraws}, with.Fingerprint()); got.Nominal {
		t.Error("what a run of before has gathered has no candidates")
	}
}

// A file of a report that was ended early is the program's own as long as it is as it was.
func TestEarlyReport(t *testing.T) {
	t.Chdir(t.TempDir())
	early := func() []string {
		return append([]string{"sweep", "--out", "run"}, small...)
	}
	begin := func() {
		var out bytes.Buffer
		if err := os.RemoveAll("run"); err != nil {
			t.Fatal(err)
		}
		if status := run(t.Context(), append(early(), "--max-time", "0.000001s"), &out, &out); status != exitEarly {
			t.Fatalf("status %d: %s", status, &out)
		}
	}
	begin()
	writeAt(t, "run/ranking.csv", "mine")
	if got, want := heard(t, append(early(), "--resume")...), aside("ranking-kept-1.csv"); got != want {
		t.Errorf("said %q, want %q", got, want)
	}
	if b, _ := os.ReadFile("run/ranking-kept-1.csv"); string(b) != "mine" {
		t.Errorf("moved aside was %.40q", b)
	}
	begin()
	if err := os.Remove("run/checkpoint"); err != nil {
		t.Fatal(err)
	}
	whole := filepath.Join("run", "ranking.csv")
	b, err := os.ReadFile(whole)
	if err != nil {
		t.Fatal(err)
	}
	writeAt(t, whole, "mine")
	fails(t, early(), "--out run: ranking.csv there is not the program's own, "+
		"want another folder, or --force to replace it")
	writeAt(t, whole, string(b))
	said(t, early()...)
}

// Where no state was kept, what is missing cannot be written again, and that is said.
func TestFinishedWithoutState(t *testing.T) {
	t.Chdir(t.TempDir())
	run := append([]string{"sweep", "--out", "run"}, small...)
	said(t, run...)
	for _, name := range []string{checkpointName, "ranking.csv"} {
		if err := os.Remove(filepath.Join("run", name)); err != nil {
			t.Fatal(err)
		}
	}
	fails(t, append(run, "--resume"), "--out run: ranking.csv is missing, and no checkpoint is there to write it "+
		"from, "+
		"want it restored, or --force to run the study again")
}

// A record is not believed about what it lists.
func TestForgedFiles(t *testing.T) {
	t.Chdir(t.TempDir())
	run := append([]string{"sweep", "--out", "run"}, small...)
	said(t, run...)
	b, err := os.ReadFile("run/run.json")
	if err != nil {
		t.Fatal(err)
	}
	writeAt(t, "theirs", "theirs")
	text := strings.Replace(string(b), `"name": "ranking.csv"`, `"name": "../theirs"`, 1)
	if text == string(b) {
		t.Fatal("no ranking.csv is listed")
	}
	writeAt(t, "run/run.json", text)
	if got := heard(t, append(run, "--resume")...); !strings.Contains(got, "ranking.csv is not listed: that alone") {
		t.Errorf("said %q", got)
	}
	if b, _ := os.ReadFile("theirs"); string(b) != "theirs" {
		t.Errorf("theirs holds %.40q", b)
	}
	if got, err := os.ReadFile("run/run.json"); err != nil || string(got) != string(b) {
		t.Errorf("the record is not what it was, %v", err)
	}
}

// What shards were merged into is made good as the run of one process is.
func TestMergedAgain(t *testing.T) {
	t.Chdir(t.TempDir())
	for _, k := range []string{"1/2", "2/2"} {
		said(t, append(append([]string{"sweep", "--out", "k" + k[:1]}, small...), "--shard", k)...)
	}
	said(t, "merge", "k1", "k2", "--out", "run")
	before := below(t, "run")
	b, err := os.ReadFile("run/run.json")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Rename("run/ranking.csv", "ranking.csv"); err != nil {
		t.Fatal(err)
	}
	aged(t, "run")
	again := append([]string{"sweep", "--out", "run", "--resume"}, small...)
	want := "rotorsieve: run holds this study, finished, but ranking.csv is missing: that alone is written again\n"
	if got := heard(t, again...); got != want {
		t.Errorf("said %q, want %q", got, want)
	}
	same(t, "ranking.csv", "run/ranking.csv")
	if d := cmp.Diff([]string{"ranking.csv"}, renewed(t, "run")); d != "" {
		t.Errorf("written again (-want +got):\n%s", d)
	}
	if d := cmp.Diff(before, below(t, "run")); d != "" {
		t.Errorf("files (-before +after):\n%s", d)
	}
	if now, err := os.ReadFile("run/run.json"); err != nil || string(now) != string(b) {
		t.Errorf("the record was written again, %v", err)
	}
}
