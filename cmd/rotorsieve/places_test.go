package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"
)

// What no name, label or path may hold is refused before anything runs.
func TestPlainTexts(t *testing.T) {
	t.Chdir(t.TempDir())
	const want = ", want plain text on one line"
	long := strings.Repeat("x", 65)
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"sweep", "--class", "250g=a\nb"}, `--class: "250g=a\nb": holds U+000A, a control character` + want},
		{[]string{"sweep", "--class=250g=a\x1b[31mb"},
			`--class: "250g=a\x1b[31mb": holds U+001B, a control character` + want},
		{[]string{"sweep", "--class", "250g=a\u009bb"},
			`--class: "250g=a\u009bb": holds U+009B, a control character` + want},
		{[]string{"sweep", "--class", "250g=a\tb"}, `--class: "250g=a\tb": holds U+0009, a control character` + want},
		{[]string{"sweep", "--class", "250g=a\xffb"}, `--class: "250g=a\xffb": is not UTF-8` + want},
		{[]string{"sweep", "--class", "250g=a\u2028b"}, `--class: "250g=a\u2028b": holds U+2028, a line break` + want},
		{[]string{"sweep", "--class", "250g=a\u202eb"},
			`--class: "250g=a\u202eb": holds U+202E, which turns the direction of text` + want},
		{[]string{"sweep", "--class", "250g=a\uffffb"},
			`--class: "250g=a\uffffb": holds U+FFFF, which is no character` + want},
		{[]string{"sweep", "--class", "250g=" + long},
			`--class: "250g=` + long + `": a name of 65 characters, want up to 64`},
		{[]string{"explain", "--class", "250g=a\nb"}, `--class: "250g=a\nb": holds U+000A, a control character` + want},
		{[]string{"sweep", "--rotor-points", "a\nb.csv"},
			`--rotor-points: "a\nb.csv": holds U+000A, a control character` + want},
		{[]string{"sweep", "--measured", "a\nb.csv"},
			`--measured: "a\nb.csv": holds U+000A, a control character` + want},
		{[]string{"rotor", "--blade", "a\x1bb.csv"}, `--blade: "a\x1bb.csv": holds U+001B, a control character` + want},
		{[]string{"stand", "--compare", "a\x1bb.csv"},
			`--compare: "a\x1bb.csv": holds U+001B, a control character` + want},
		{[]string{"sweep", "@a\x1bb.flags"}, `flag file "a\x1bb.flags": holds U+001B, a control character` + want},
		{[]string{"merge", "a\x1bb"}, `"a\x1bb": holds U+001B, a control character` + want},
		{[]string{"compare", "a", "--", "b\xff"}, `"b\xff": is not UTF-8` + want},

		// places to write in
		{[]string{"sweep", "--out", "a\nb"}, `--out: "a\nb": holds U+000A, a control character` + want},
		{[]string{"sweep", "--out", "a\xff"}, `--out: "a\xff": is not UTF-8` + want},
		{[]string{"merge", "k1", "--out", "a\x1b"}, `--out: "a\x1b": holds U+001B, a control character` + want},
		{[]string{"compare", "a", "b", "--out", "a\x1b"}, `--out: "a\x1b": holds U+001B, a control character` + want},
		{[]string{"rotor", "--draw", "a\x1b"}, `--draw: "a\x1b": holds U+001B, a control character` + want},
		{[]string{"explain", "--draw", "a\x1b"}, `--draw: "a\x1b": holds U+001B, a control character` + want},
		{[]string{"stand", "--draw", "a\x1b"}, `--draw: "a\x1b": holds U+001B, a control character` + want},
		{[]string{"stand", "--compare", "x", "--fit", "a\x1b"},
			`--fit: "a\x1b": holds U+001B, a control character` + want},

		// names that are not names everywhere
		{[]string{"sweep", "--name", "NUL"}, `--name: "NUL" is the name of a device on Windows, want another`},
		{[]string{"sweep", "--name", "con.study"},
			`--name: "con.study" is the name of a device on Windows, want another`},
		{[]string{"sweep", "--name", "Lpt1"}, `--name: "Lpt1" is the name of a device on Windows, want another`},
		{[]string{"sweep", "--name", "study."},
			`--name: "study." ends in what Windows drops, want no dot or space there`},
		{[]string{"sweep", "--out", "runs/aux.d/x"},
			`--out runs/aux.d/x: "aux.d" is the name of a device on Windows, want another`},
		{[]string{"sweep", "--out", "runs."},
			`--out runs.: "runs." ends in what Windows drops, want no dot or space there`},
		{[]string{"sweep", "--out", "x "}, `--out x : "x " ends in what Windows drops, want no dot or space there`},
		{[]string{"compare", "a", "b", "--out", "prn"},
			`--out prn: "prn" is the name of a device on Windows, want another`},
		{[]string{"rotor", "--draw", "com1"}, `--draw com1: "com1" is the name of a device on Windows, want another`},
		{[]string{"explain", "--draw", "com1/x"},
			`--draw com1/x: "com1" is the name of a device on Windows, want another`},
		{[]string{"stand", "--draw", "nul"}, `--draw nul: "nul" is the name of a device on Windows, want another`},
		{[]string{"stand", "--compare", "x", "--fit", "nul.csv"},
			`--fit nul.csv: "nul.csv" is the name of a device on Windows, want another`},
	} {
		fails(t, c.args, c.want)
	}
	if n := files(t); n > 0 {
		t.Errorf("%d files were written", n)
	}
	// What is said in many scripts, in symbols and in joined signs stays.
	said(t, slices.Concat([]string{"sweep", "--dry-run"}, small,
		[]string{"--class", "250g=Förster ⌀ 250 – 軽い 👩‍🔧"})...)
	// Nor are folders refused that exist: they are the user's.
	if err := os.MkdirAll("con/home", 0o755); err != nil {
		t.Fatal(err)
	}
	said(t, append([]string{"sweep", "--out", "con/home/run"}, small...)...)
}

// place of a file that a command would write, and what stands there.
type occupied struct {
	made string // folder, file or link, by what it begins with: "dir ", "file " or "link "
	args string // of the command; small is added to those of sweep
	want string
}

// What is not the program's own is not replaced, and what cannot be written is said, before
// anything is computed.
func TestOccupied(t *testing.T) {
	t.Chdir(t.TempDir())
	shards := func() {
		for _, k := range []string{"1/2", "2/2"} {
			said(t, append(append([]string{"sweep", "--out", "k" + k[:1]}, small...), "--shard", k)...)
		}
	}
	shards()
	for _, name := range []string{"a", "b"} {
		said(t, append([]string{"sweep", "--out", name}, small...)...)
	}
	const foreign = " there is not the program's own, want another folder, or --force to replace it"
	for _, c := range []occupied{
		{"file to/review.xlsx", "sweep --out to", "--out to: review.xlsx" + foreign},
		{"file to/ranking.csv", "sweep --out to --resume", "--out to: ranking.csv" + foreign},
		{"file to/effective.flags", "merge k1 k2 --out to", "--out to: effective.flags" + foreign},
		{"file to/figures/size.png", "sweep --out to --figures size", "--out to: figures/size.png" + foreign},
		{"link to/size.csv", "sweep --out to", "--out to: size.csv" + foreign},
		{"dir to/review.xlsx", "sweep --out to",
			"--out to: review.xlsx is a folder, want it moved away, or another --out"},
		{"dir to/review.xlsx", "sweep --out to --force",
			"--out to: review.xlsx is a folder, want it moved away, or another --out"},
		{"dir to/run.json", "sweep --out to --force",
			"--out to: run.json is a folder, want it moved away, or another --out"},
		{"dir to/checkpoint", "sweep --out to --resume",
			"--out to: checkpoint is a folder, want it moved away, or another --out"},
		{"dir to/front.csv", "merge k1 k2 --out to",
			"--out to: front.csv is a folder, want it moved away, or another --out"},
		{"dir to/.lock", "sweep --out to", "--out to: .lock is a folder, want it moved away, or another --out"},
		{"link to/.lock", "sweep --out to",
			"--out to: .lock there is a link or a device, want it removed, or another folder"},
		{"link to/checkpoint", "sweep --out to --resume",
			"--out to: checkpoint there is a link or a device, want it removed, or another folder"},
		{"link to/run.json", "sweep --out to --force",
			"--out to: run.json there is a link or a device, want it removed, or another folder"},
		{"link to/figures", "sweep --out to --figures size",
			"--out to: figures is a link, want a folder there, or another --out"},
		{"link to/figures", "sweep --out to --figures size --force",
			"--out to: figures is a link, want a folder there, or another --out"},
		{"file to/figures", "sweep --out to --figures size",
			"--out to: figures is a file, want a folder there, or another --out"},
		{"file to", "merge k1 k2 --out to", "--out to: not a directory, want a folder to write in"},
		{"link to", "sweep --out to/x", "--out to/x: a link to nothing, want a folder to write in"},

		{"file to/comparison.xlsx", "compare a b --out to",
			"--out to: holds a comparison, want another folder or --force to replace it"},
		{"file to/figures/size-overlay.png", "compare a b --out to", "--out to: figures/size-overlay.png" + foreign},
		{"link to/.lock", "compare a b --out to --force",
			"--out to: .lock there is a link or a device, want it removed, or another folder"},
		{"dir to/comparison.xlsx", "compare a b --out to --force",
			"--out to: comparison.xlsx is a folder, want it moved away, or another --out"},
		{"link to/figures", "compare a b --out to --force",
			"--out to: figures is a link, want a folder there, or another --out"},
		{"", "compare a b --out a", "--out a: holds a run, want another folder, or --force to write beside it"},
		{"", "compare a b --out k1", "--out k1: holds a run, want another folder, or --force to write beside it"},

		{"file to/rotor.png", "rotor --draw to", "--draw to: rotor.png" + foreign},
		{"link to/rotor.png", "rotor --draw to", "--draw to: rotor.png" + foreign},
		{"dir to/rotor.png", "rotor --draw to --force",
			"--draw to: rotor.png is a folder, want it moved away, or another --draw"},
		{"file to/envelope.png", "explain --draw to", "--draw to: envelope.png" + foreign},
		{"file to/rotor.png", "explain --draw to", "--draw to: rotor.png" + foreign},
		{"file to/stand.png", "stand --draw to", "--draw to: stand.png" + foreign},
		{"dir to/stand.png", "stand --draw to",
			"--draw to: stand.png is a folder, want it moved away, or another --draw"},
		{"file to", "stand --draw to", "--draw to: not a directory, want a folder to write in"},
		{"file to", "stand --compare x --fit to",
			"--fit to: is there already, want a new file, or --force to replace it"},
		{"link to", "stand --compare x --fit to",
			"--fit to: is there already, want a new file, or --force to replace it"},
	} {
		kind, name, _ := strings.Cut(c.made, " ")
		if kind != "" {
			if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
				t.Fatal(err)
			}
		}
		switch kind {
		case "file":
			if err := os.WriteFile(name, []byte("mine"), 0o644); err != nil {
				t.Fatal(err)
			}
		case "dir":
			if err := os.MkdirAll(name, 0o755); err != nil {
				t.Fatal(err)
			}
		case "link":
			if err := os.Symlink("elsewhere", name); err != nil {
				t.Skip("no links here:", err)
			}
		}
		before := files(t)
		args := strings.Fields(c.args)
		if args[0] == "sweep" {
			args = slices.Concat(args[:1], small, args[1:])
		}
		t.Run(c.made+" "+c.args, func(t *testing.T) {
			fails(t, args, c.want)
			if after := files(t); after != before {
				t.Errorf("%d files, %d were there before", after, before)
			}
			if b, err := os.ReadFile(name); kind == "file" && (err != nil || string(b) != "mine") {
				t.Errorf("%s was replaced: %q, %v", name, b, err)
			}
			if _, err := os.Lstat("elsewhere"); err == nil {
				t.Error("something was written through the link")
			}
		})
		if err := os.RemoveAll("to"); err != nil {
			t.Fatal(err)
		}
	}
	// --force does replace a file, and a link itself, and nothing behind it.
	writeAt(t, "theirs", "theirs")
	writeAt(t, "to/review.xlsx", "mine")
	if err := os.Symlink("../theirs", "to/size.csv"); err != nil {
		t.Skip("no links here:", err)
	}
	said(t, append([]string{"sweep", "--out", "to", "--force"}, small...)...)
	if b, _ := os.ReadFile("theirs"); string(b) != "theirs" {
		t.Errorf("what a link led to is now %.40q", b)
	}
	for _, name := range []string{"review.xlsx", "size.csv"} {
		same(t, filepath.Join("to", name), filepath.Join("a", name))
	}
	said(t, "rotor", "--draw", "to", "--rpm", "10000", "--advance", "0")
	said(t, "rotor", "--draw", "to", "--rpm", "10000", "--advance", "0", "--force")
	said(t, "compare", "a", "b", "--out", "a", "--force")
}

func writeAt(t *testing.T, name, text string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// heard runs a command that must be done, and returns what it printed on standard error.
func heard(t *testing.T, args ...string) string {
	t.Helper()
	var stdout, stderr bytes.Buffer
	if status := run(context.Background(), args, &stdout, &stderr); status != 0 {
		t.Fatalf("rotorsieve %s: status %d, %s", strings.Join(args, " "), status, stderr.String())
	}
	return stderr.String()
}

// same checks that two files hold the same bytes.
func same(t *testing.T, a, b string) {
	t.Helper()
	x, err := os.ReadFile(a)
	if err != nil {
		t.Fatal(err)
	}
	y, err := os.ReadFile(b)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(x, y) {
		t.Errorf("%s and %s differ", a, b)
	}
}

// fewRows are what a stand has measured of the motor and propeller that are compared unasked.
const fewRows = "rpm,voltage_V,current_A,thrust_g\n8000,16,0.469,62\n12000,16,1.583,140\n16000,16,3.75,249\n" +
	"18000,16,5.34,315\n"

// What a command without a folder of its own has left where it was killed, the next removes that
// writes the same file.
func TestKilledPicturesAreCleared(t *testing.T) {
	t.Chdir(t.TempDir())
	if err := os.WriteFile("bench.csv", []byte(fewRows), 0o644); err != nil {
		t.Fatal(err)
	}
	old := time.Now().Add(-2 * time.Hour)
	for _, c := range []struct{ args, left string }{
		{"rotor --rpm 10000 --advance 0 --draw drawn", "drawn/.rotor.png18"},
		{"explain --draw drawn2", "drawn2/.envelope.png18"},
		{"explain --draw drawn3", "drawn3/.rotor.png18"},
		{"stand --throttle 50% --draw drawn4", "drawn4/.stand.png18"},
		{"stand --compare bench.csv --fit fitted.csv", ".fitted.csv18"},
	} {
		if err := os.MkdirAll(filepath.Dir(c.left), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(c.left, []byte("half of it"), 0o644); err != nil {
			t.Fatal(err)
		}
		if err := os.Chtimes(c.left, old, old); err != nil {
			t.Fatal(err)
		}
		var stdout, stderr bytes.Buffer
		if status := run(context.Background(), strings.Fields(c.args), &stdout, &stderr); status > exitUnkept {
			t.Fatalf("%s: status %d: %s", c.args, status, &stderr)
		}
		if _, err := os.Lstat(c.left); !errors.Is(err, fs.ErrNotExist) {
			t.Errorf("%s: %s is still there: %v", c.args, c.left, err)
		}
	}
}

// Where nothing may be written, none says so; results of a run go to a folder of that name
// where it is written as a path.
func TestNoneIsNoPlace(t *testing.T) {
	writeFiles(t, nil)
	said(t, append([]string{"sweep", "--out", "./none", "--dump", "none", "--log", "none"}, small...)...)
	if _, err := os.Stat("none/run.json"); err != nil {
		t.Error(err)
	}
	if err := os.RemoveAll("none"); err != nil {
		t.Fatal(err)
	}
	said(t, "explain", "--draw", "none")
	said(t, "stand", "--draw", "none", "--fit", "none")
	if left := files(t); left != 0 {
		t.Errorf("%d files are left", left)
	}
	if _, err := os.Stat("none"); err == nil {
		t.Error("there is a folder named none")
	}
}

// A path that a variable of the shell should have filled, and has not, is refused, not passed by.
func TestEmptyPaths(t *testing.T) {
	writeFiles(t, nil)
	for flag, of := range map[string]string{"out": "sweep", "dump": "sweep", "rotor-points": "sweep", "log": "sweep",
		"draw": "explain", "blade": "rotor", "fit": "stand", "compare": "stand", "like": "parts"} {
		want := "--" + flag + ": no path, want that of a file"
		if flag == "out" || flag == "dump" || flag == "draw" || flag == "like" {
			want = "--" + flag + ": no path, want that of a folder"
		}
		for _, empty := range []string{"", " "} {
			fails(t, []string{of, "--" + flag, empty}, want)
		}
	}
	if left := files(t); left != 0 {
		t.Errorf("%d files are left", left)
	}
}

// A folder of the dump that cannot be written is refused before the sweep, which may take hours,
// and an error of the disk says what would be right.
func TestUnwritable(t *testing.T) {
	writeFiles(t, nil)
	if _, err := os.Stat("/proc/self/status"); err == nil {
		fails(t, append([]string{"sweep", "--dump", "/proc/dump"}, small...),
			"--dump /proc/dump: no such file or directory, want a folder to write in")
	}
	if left := files(t); left != 0 {
		t.Errorf("%d files are left", left)
	}
	full := fmt.Errorf("review.xlsx: %w", syscall.ENOSPC)
	want := full.Error() + ", want room and leave to write there: go on"
	if got := wantRoom(full, "go on").Error(); got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if other := errors.New("other"); wantRoom(other, "go on") != other {
		t.Error("an error that is not of the disk is changed")
	}
}

// A folder that another run holds is refused, whatever it is forced to.
func TestFolderInUse(t *testing.T) {
	writeFiles(t, map[string]string{"a/.keep": ""})
	home, err := hold("a")
	if err != nil {
		t.Fatal(err)
	}
	const want = "--out a: another run is writing there, want another folder, or wait for it to end"
	for _, more := range [][]string{nil, {"--force"}, {"--resume"}, {"--shard", "1/2"}} {
		fails(t, append(append([]string{"sweep", "--out", "a"}, small...), more...), want)
	}
	home.release()
	said(t, append([]string{"sweep", "--out", "a"}, small...)...)
}
