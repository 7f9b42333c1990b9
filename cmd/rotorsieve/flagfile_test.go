package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// writeFiles makes files, name and text in turn, in a new folder and moves there.
func writeFiles(t *testing.T, files map[string]string) {
	t.Helper()
	t.Chdir(t.TempDir())
	for name, text := range files {
		if err := os.MkdirAll(filepath.Dir(name), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
}

func TestExpandFlagFiles(t *testing.T) {
	writeFiles(t, map[string]string{
		"configs/scout.flags": "\ufeff# a comment\r\n\r\n  --diameter 3:6:0.25in  \r\n--name=Ridge scout, " +
			"2\n@parts/pack.flags\n--require hover-time>=6min\n--require=auw <= 240g\n--kv = 1750\n--quiet",
		"configs/parts/pack.flags": "--cells\t3,4\n@../more.flags\n",
		"configs/more.flags":       "--payload==x\n--note\n",
	})
	got, err := expandFlagFiles([]string{"--top", "5", "@configs/scout.flags", "--name=@x", "--", "@not.flags"})
	if err != nil {
		t.Fatal(err)
	}
	var texts [][2]string
	for _, a := range got {
		texts = append(texts, [2]string{a.origin(), a.text})
	}
	want := [][2]string{
		{"command line", "--top"},
		{"command line", "5"},
		{"configs/scout.flags:3", "--diameter=3:6:0.25in"},
		{"configs/scout.flags:4", "--name=Ridge scout, 2"},
		{"configs/parts/pack.flags:1", "--cells=3,4"},
		{"configs/more.flags:1", "--payload==x"},
		{"configs/more.flags:2", "--note"},
		{"configs/scout.flags:6", "--require=hover-time>=6min"},
		{"configs/scout.flags:7", "--require=auw <= 240g"},
		{"configs/scout.flags:8", "--kv=1750"},
		{"configs/scout.flags:9", "--quiet"},
		{"command line", "--name=@x"},
		{"command line", "--"},
		{"command line", "@not.flags"},
	}
	if diff := cmp.Diff(want, texts); diff != "" {
		t.Errorf("arguments (-want +got):\n%s", diff)
	}
}

func TestFlagFileErrors(t *testing.T) {
	deep := map[string]string{
		"positional.flags": "\n--a=1\ndiameter=5in\n",
		"dashes.flags":     "--\n",
		"short.flags":      "-q\n",
		"missing.flags":    "--a=1\n@no/such.flags\n",
		"empty.flags":      "@ \n",
		"self.flags":       "# one\n@self.flags\n",
		"a.flags":          "@b.flags",
		"b.flags":          "@./a.flags",
		"zero.flags":       "--a=\x00",
		"binary.flags":     "\xff\xfe",
		"large.flags":      strings.Repeat("#\n", maxFlagFile/2+1),
		"dir/x.flags":      "",
	}
	for i := range 10 {
		deep["deep"+string(rune('0'+i))] = "@deep" + string(rune('1'+i))
	}
	writeFiles(t, deep)
	for _, c := range []struct{ arg, want string }{
		{"@", "@ without a file name, want @file"},
		{"@absent.flags", "flag file absent.flags: no such file, want the path of a file of flags"},
		{"@dir", "flag file dir: is a folder, want a file of flags"},
		{"@positional.flags", `positional.flags:3: "diameter=5in" is not a flag, want a line such as --diameter=5in, ` +
			`@file or # a comment`},
		{"@dashes.flags", `dashes.flags:1: "--" is not a flag, want a line such as --diameter=5in, @file or # a ` +
			`comment`},
		{"@short.flags", `short.flags:1: "-q" is not a flag, want a line such as --diameter=5in, @file or # a comment`},
		{"@missing.flags", "missing.flags:2: flag file no/such.flags: no such file, want the path of a file of flags"},
		{"@empty.flags", "empty.flags:1: @ without a file name, want @file"},
		{"@self.flags", "self.flags:2: flag file self.flags takes itself in, want files that do not"},
		{"@a.flags", "b.flags:1: flag file a.flags takes itself in, want files that do not"},
		{"@deep0", "deep7:1: flag file deep8 is more than 8 files deep, want fewer that take each other in"},
		{"@zero.flags", "flag file zero.flags: not a text file, want a file of flags"},
		{"@binary.flags", "flag file binary.flags: not a text file, want a file of flags"},
		{"@large.flags", "flag file large.flags: more than 8388608 bytes, want a file of flags"},
	} {
		_, err := expandFlagFiles([]string{"--x", c.arg})
		if err == nil {
			t.Errorf("%s: no error, want %s", c.arg, c.want)
		} else if err.Error() != c.want {
			t.Errorf("%s:\n got %s\nwant %s", c.arg, err, c.want)
		}
	}
}

// One file taken in twice is no cycle.
func TestFlagFileTwice(t *testing.T) {
	writeFiles(t, map[string]string{"a": "@c\n@c\n", "c": "--x=1\n"})
	got, err := expandFlagFiles([]string{"@a"})
	if err != nil {
		t.Fatal(err)
	}
	if len(got) != 2 || got[0].origin() != "c:1" || got[1].origin() != "c:1" {
		t.Fatalf("got %v, want --x=1 from c:1 twice", got)
	}
	if got[0].from == got[1].from {
		t.Error("two readings of a file count as one source")
	}
}
