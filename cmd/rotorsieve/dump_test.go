package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"rotorsieve/report/finding"
)

// dumpedAs is what the record of a run says of its dump.
func dumpedAs(t *testing.T, dir string) *finding.DumpRecord {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(dir, finding.RecordName))
	if err != nil {
		t.Fatal(err)
	}
	var r finding.RunRecord
	if err := json.Unmarshal(b, &r); err != nil {
		t.Fatal(err)
	}
	return r.Dump
}

// A dump is listed in run.json, is begun or filled up by a finished run that is asked for
// it, and changes nothing else of the results.
func TestDumpOfARun(t *testing.T) {
	t.Chdir(t.TempDir())
	study := func(more ...string) []string { return slices.Concat([]string{"sweep"}, small, more) }
	said(t, study("--out", "plain")...)
	said(t, study("--out", "run", "--dump", "all")...)
	x := dumpedAs(t, "run")
	files, err := os.ReadDir("all")
	if err != nil || x == nil || uint64(len(files)) != x.Files || x.Files != x.Of || x.Rows == 0 ||
		x.Folder != "../all" ||
		len(x.SHA256) != 64 {
		t.Fatalf("%d files, recorded as %+v: %v", len(files), x, err)
	}
	if dumpedAs(t, "plain") != nil {
		t.Error("a run without a dump has one in its record")
	}
	for _, name := range below(t, "plain") {
		if name == finding.RecordName || name == checkpointName { // with its own times
			continue
		}
		a, errA := os.ReadFile(filepath.Join("plain", name))
		b, errB := os.ReadFile(filepath.Join("run", name))
		if errA != nil || errB != nil || !bytes.Equal(a, b) {
			t.Errorf("%s differs from that of a run without a dump", name)
		}
	}
	aged(t, "all")
	for _, c := range []struct {
		name   string
		change func() error
		more   []string
		want   string // said of what is written again
		files  []string
	}{
		{"nothing to do", func() error { return nil }, nil, "nothing is left to do", nil},
		{"a file is missing", func() error { return os.Remove(filepath.Join("all", files[0].Name())) }, nil,
			"--dump all is asked for: that alone is written again", []string{files[0].Name()}},
	} {
		if err := c.change(); err != nil {
			t.Fatal(err)
		}
		args := slices.DeleteFunc(study("--out", "run", "--dump", "all", "--resume"),
			func(f string) bool { return f == "--quiet" })
		if got := heard(t, append(args, c.more...)...); !strings.Contains(got, c.want) {
			t.Errorf("%s: it says\n%s", c.name, got)
		}
		if got := renewed(t, "all"); !slices.Equal(got, c.files) {
			t.Errorf("%s: written were %v, want %v", c.name, got, c.files)
		}
		if got := dumpedAs(t, "run"); *got != *x {
			t.Errorf("%s: the record has %+v, had %+v", c.name, got, x)
		}
		aged(t, "all")
	}
	said(t, study("--out", "plain", "--dump", "all", "--resume")...)
	if got := dumpedAs(t, "plain"); got == nil || *got != *x || len(renewed(t, "all")) > 0 {
		t.Errorf("asked for afterwards it is recorded as %+v, with %v written", got, renewed(t, "all"))
	}
	said(t, study("--out", "plain", "--resume", "--map", "none")...)
	if got := dumpedAs(t, "plain"); got == nil || *got != *x {
		t.Errorf("a report that is written again forgets the dump: %+v", got)
	}
}

// Where the time is up before the dump is whole the report is written all the same, the
// record says how much of the dump there is, and --resume adds the rest.
func TestDumpOutOfTime(t *testing.T) {
	t.Chdir(t.TempDir())
	study := func(more ...string) []string {
		return slices.Concat([]string{"sweep", "--out", "run"}, small, more)
	}
	said(t, study()...)
	var out, told bytes.Buffer
	status := run(t.Context(), study("--resume", "--dump", "all", "--max-time", "0.000001s"), &out, &told)
	const want = "rotorsieve: --dump all: 1 file is missing: --resume goes on\n"
	if status != exitEarly || !strings.HasSuffix(told.String(), want) {
		t.Errorf("status %d, it says %s", status, told.String())
	}
	if x := dumpedAs(t, "run"); x == nil || x.Files != 0 || x.Of != 1 || x.SHA256 != "" {
		t.Errorf("recorded as %+v", x)
	}
	said(t, study("--resume", "--dump", "all")...)
	if x := dumpedAs(t, "run"); x.Files != 1 || x.SHA256 == "" || len(below(t, "all")) != 1 {
		t.Errorf("then recorded as %+v, with %v", x, below(t, "all"))
	}
}

// Shards fill one folder side by side with the files of a whole run.
func TestDumpOfShards(t *testing.T) {
	t.Chdir(t.TempDir())
	shard := func(k string) []string {
		return slices.Concat([]string{"sweep"}, small, []string{"--shard", k, "--out", "k" + k[:1], "--dump", "all"})
	}
	said(t, shard("1/2")...)
	said(t, shard("2/2")...)
	said(t, slices.Concat([]string{"sweep"}, small, []string{"--out", "run", "--dump", "whole"})...)
	if a, b := below(t, "all"), below(t, "whole"); !slices.Equal(a, b) {
		t.Fatalf("shards leave %v, a run %v", a, b)
	}
	for _, name := range below(t, "all") {
		a, errA := os.ReadFile(filepath.Join("all", name))
		b, errB := os.ReadFile(filepath.Join("whole", name))
		if errA != nil || errB != nil || !bytes.Equal(a, b) {
			t.Errorf("%s differs", name)
		}
	}
	merged := said(t, "merge", "k1", "k2", "--out", "joined", "--dump", "all")
	want, got := dumpedAs(t, "run"), dumpedAs(t, "joined")
	if got == nil || got.SHA256 != want.SHA256 || got.Rows != want.Rows || got.Folder != "../all" || got.Rows == 0 {
		t.Errorf("the shards' dump is recorded as %+v, that of a run as %+v", got, want)
	}
	told := fmt.Sprintf("; all: %d file of %d designs", want.Files, want.Rows)
	if text := strings.Join(strings.Fields(merged), " "); !strings.Contains(text, told) {
		t.Errorf("merge does not name %q:\n%s", told, merged)
	}
	if err := os.Remove(filepath.Join("all", below(t, "all")[0])); err != nil {
		t.Fatal(err)
	}
	fails(t, []string{"merge", "k1", "k2", "--out", "other", "--dump", "all"},
		"--dump all: 1 of its 1 file is missing, "+
			"want every shard run to its end with --dump all")
	fails(t, []string{"merge", "k1", "k2", "--out", "other", "--dump", "k1"}, `--dump k1: holds ".lock", which is no `+
		"file of this dump, want an empty folder or a new one")
	if _, err := os.Stat("other"); err == nil {
		t.Error("something is written")
	}
}

// The dry run says how much a dump is and what it costs; where there is no room for it, it
// is refused in a line and nothing is written.
func TestDumpIsForetold(t *testing.T) {
	t.Chdir(t.TempDir())
	study := func(more ...string) []string {
		return slices.Concat([]string{"sweep", "--out", "run", "--dump", "all"}, small, more)
	}
	was := freeBytes
	defer func() { freeBytes = was }()
	freeBytes = func(string) (uint64, error) { return 1e9, nil }
	text := strings.Join(strings.Fields(said(t, study("--dry-run", "--dump-merit", "0.1")...)), " ")
	for _, want := range []string{"dump all: about ", " MB for about ", " designs, in 1 of 1 file, and about ",
		"each is flown and read in full, where a sweep passes most by; with a merit of 0.1 or more"} {
		if !strings.Contains(text, want) {
			t.Errorf("the dry run does not say %q:\n%s", want, text)
		}
	}
	freeBytes = func(string) (uint64, error) { return 2048, nil }
	for _, more := range [][]string{nil, {"--dry-run"}} {
		var out, told bytes.Buffer
		status := run(t.Context(), study(more...), &out, &told)
		line := told.String()
		if status != exitUnusable || strings.Count(line, "\n") != 1 || !strings.Contains(line,
			"rotorsieve: --dump all: about ") ||
			!strings.Contains(line, " MB are free there: want another disk, fewer designs, or a higher --dump-merit") {
			t.Errorf("status %d, it says %s", status, line)
		}
	}
	freeBytes = func(string) (uint64, error) { return 0, errors.ErrUnsupported }
	said(t, study("--dry-run")...)
	if got := below(t, "."); len(got) > 0 {
		t.Errorf("%v were written", got)
	}
}
