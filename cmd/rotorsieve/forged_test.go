package main

import (
	"bytes"
	"context"
	"crypto/sha256"
	codec "encoding/binary"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"rotorsieve/model"
	"rotorsieve/report/finding"
)

// header is what a checkpoint says before what was found; see DEVELOPERS.md.
type header struct {
	format         uint64
	version, print string
	k, of          int64
	flags          []string
	rest           []byte
}

const stateMagic = "rotorsieve state\n"

func readHeader(t *testing.T, path string) *header {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	r := bytes.NewBuffer(b[len(stateMagic) : len(b)-sha256.Size])
	uint := func() uint64 {
		v, err := codec.ReadUvarint(r)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	int := func() int64 {
		v, err := codec.ReadVarint(r)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	text := func() string {
		b := make([]byte, uint())
		_, _ = r.Read(b)
		return string(b)
	}
	h := &header{format: uint(), version: text(), print: text(), k: int(), of: int()}
	for range uint() {
		h.flags = append(h.flags, text())
	}
	h.rest = slices.Clone(r.Bytes())
	return h
}

// write puts the parts together with a checksum that fits.
func (h *header) write(t *testing.T, path string) {
	t.Helper()
	b := codec.AppendUvarint([]byte(stateMagic), h.format)
	text := func(s string) { b = append(codec.AppendUvarint(b, uint64(len(s))), s...) }
	text(h.version)
	text(h.print)
	b = codec.AppendVarint(codec.AppendVarint(b, h.k), h.of)
	b = codec.AppendUvarint(b, uint64(len(h.flags)))
	for _, f := range h.flags {
		text(f)
	}
	b = append(b, h.rest...)
	sum := sha256.Sum256(b)
	if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, append(b, sum[:]...), 0o666); err != nil {
		t.Fatal(err)
	}
}

// flag sets the flag of a name.
func (h *header) flag(text string) {
	name, _, _ := strings.Cut(text, "=")
	i := slices.IndexFunc(h.flags, func(f string) bool { return strings.HasPrefix(f, name+"=") })
	h.flags[i] = text
}

// A shard whose checksum fits and whose header was altered is refused in one line that
// names it; nothing is written, and nothing outside.
func TestForgedShards(t *testing.T) {
	writeFiles(t, map[string]string{"inside/secret.flags": "--top=3\n"})
	t.Chdir("inside")
	for _, k := range []string{"1/2", "2/2"} {
		said(t, append(append([]string{"sweep", "--out", "k" + k[:1]}, small...), "--shard", k)...)
	}
	const name = ", want up to 64 letters, digits, dots, dashes and underscores, beginning with a letter or digit"
	const altered = ", want --force to start afresh; a shard is run again"
	const cut = "the checkpoint is not whole: "
	const notShard = "the checkpoint was altered: shard "
	notFlag := func(text string) string {
		return fmt.Sprintf("holds the flag %q, want flags of a study as --name=value", text)
	}
	for _, c := range []struct {
		alter func(h *header)
		want  string
	}{
		{func(h *header) { h.flag("--name=../../..") }, `--name: "../../.."` + name},
		{func(h *header) { h.flag("--name=/tmp/elsewhere") }, `--name: "/tmp/elsewhere"` + name},
		{func(h *header) { h.flag("--name=" + strings.Repeat("x", 1<<20)) },
			`--name: "` + strings.Repeat("x", 80) + `"` + name},
		{func(h *header) { h.flags[0] = "@secret.flags" }, notFlag("@secret.flags")},
		{func(h *header) { h.flags[0] = "--help" }, notFlag("--help")},
		{func(h *header) { h.flags[0] = "--help=1" }, notFlag("--help=1")},
		{func(h *header) { h.flags[0] = "-h" }, notFlag("-h")},
		{func(h *header) { h.flags = append(h.flags, "--out=x") }, "its flags cannot be read by this version, " +
			"want the one that wrote it: no flag --out, want one that rotorsieve help sweep lists"},
		{func(h *header) { h.flag("--class=250g=a\nb") },
			`the checkpoint was altered: a flag of "--class=250g=a\nb", which is no line of text` + altered},
		{func(h *header) { h.flag("--payload=9g") },
			"its flags are not those of its study, or a file that they name has changed" + altered},
		{func(h *header) { h.flag("--capacity=50:50000:0.05mAh"); h.flag("--cells=1:14:1") },
			"--capacity: 13986014 packs with the cells in series, want up to 1048576: fewer values on an axis"},
		{func(h *header) { h.of = -5 }, notShard + "1/-5, which does not exist" + altered},
		{func(h *header) { h.of = 1e9 }, notShard + "1/1000000000, which does not exist" + altered},
		{func(h *header) { h.of = 1 << 62 }, notShard + "1/4611686018427387904, which does not exist" + altered},
		{func(h *header) { h.k = 3 }, notShard + "3/2, which does not exist" + altered},
		{func(h *header) { h.version = "5" },
			"a checkpoint of model 5, older than " + model.Version + " of this program" + altered},
		{func(h *header) { h.rest = h.rest[:len(h.rest)-1] }, cut + "unexpected EOF" + altered},
		{func(h *header) { h.rest = h.rest[:9] }, cut + "9 bytes where its study has 295 at least" + altered},
	} {
		h := readHeader(t, "k1/checkpoint")
		c.alter(h)
		h.write(t, "forged/checkpoint")
		fails(t, []string{"merge", "forged", "k2"}, "forged/checkpoint: "+c.want)
	}
	h := readHeader(t, "k1/checkpoint")
	h.of = 100000
	h.write(t, "forged/checkpoint")
	fails(t, []string{"merge", "forged", "k2"},
		"k2/checkpoint: shard 2/2, but forged/checkpoint is one of 100000, want shards of one division")
	// At random: whatever bytes are behind the header, in one line.
	rng := rand.New(rand.NewPCG(25, 26))
	for range 40 {
		h := readHeader(t, "k1/checkpoint")
		for range 1 + rng.IntN(4) {
			h.rest[rng.IntN(len(h.rest))] = byte(rng.Uint32())
		}
		if bytes.Equal(h.rest, readHeader(t, "k1/checkpoint").rest) {
			continue
		}
		h.write(t, "forged/checkpoint")
		var stdout, stderr bytes.Buffer
		args := []string{"merge", "forged", "k2", "--out", "../merged", "--force"}
		status := run(context.Background(), args, &stdout, &stderr)
		line := stderr.String()
		named := strings.HasPrefix(line, "rotorsieve: forged/checkpoint: ")
		if !named || strings.Count(line, "\n") != 1 || status != exitUnusable {
			t.Errorf("status %d: %s", status, line)
		}
	}
	if err := os.RemoveAll("../merged"); err != nil {
		t.Fatal(err)
	}
	// A run does not go on from it either.
	h.of = 1 << 62
	h.write(t, "forged/checkpoint")
	fails(t, append([]string{"sweep", "--out", "forged", "--resume", "--shard", "1/2"}, small...),
		"forged/checkpoint: "+notShard+"1/4611686018427387904, which does not exist"+altered)
	t.Chdir("..")
	if n := files(t); n != 4 {
		t.Errorf("%d files, want the three checkpoints and the flag file", n)
	}
}

// Shards that were given other names or other figures have the same numbers: they are
// merged as the first says, and it is said.
func TestShardsOtherwise(t *testing.T) {
	t.Chdir(t.TempDir())
	for k, more := range map[string]string{"1/3": "--dpi=200", "2/3": "--dpi=300", "3/3": "--class=250g=scout"} {
		said(t, append(append([]string{"sweep", "--out", "k" + k[:1]}, small...), "--shard", k, more)...)
	}
	var stdout, stderr bytes.Buffer
	if status := run(context.Background(), []string{"merge", "k1", "k2", "k3"}, &stdout, &stderr); status != 0 {
		t.Fatalf("status %d: %s", status, &stderr)
	}
	const first = ": the report is that of k1/checkpoint\n"
	want := "rotorsieve: k2/checkpoint has --dpi=300, where k1/checkpoint has --dpi=200" + first +
		"rotorsieve: k3/checkpoint has --class=250g=scout, where k1/checkpoint has --class=250g" + first
	if got := stderr.String(); got != want {
		t.Errorf("got %swant %s", got, want)
	}
	if b, err := os.ReadFile("out/study/effective.flags"); err != nil || !strings.Contains(string(b), "--dpi=200\n") {
		t.Errorf("the report is of other flags: %v, %s", err, b)
	}
}

// A merge that is interrupted ends in one line and writes nothing.
func TestMergeInterrupted(t *testing.T) {
	t.Chdir(t.TempDir())
	said(t, append(append([]string{"sweep", "--out", "k1"}, small...), "--shard", "1/1")...)
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	var stdout, stderr bytes.Buffer
	if status := run(ctx, []string{"merge", "k1"}, &stdout, &stderr); status != exitEarly {
		t.Errorf("status %d, want %d", status, exitEarly)
	}
	if got := stderr.String(); got != "rotorsieve: interrupted, nothing is written: merge begins anew\n" {
		t.Errorf("got %s", got)
	}
	if n := files(t); n != 1 {
		t.Errorf("%d files, want the checkpoint", n)
	}
}

// --force removes what a run has written and no more, whatever its record lists.
func TestForgedRecord(t *testing.T) {
	writeFiles(t, map[string]string{"x/mine.csv": "1", "x/notes.txt": "2", "x/ranking.csv": "old", "y.csv": "3",
		"elsewhere/size.png": "4"})
	if err := os.Symlink("../elsewhere", "x/linked"); err != nil {
		t.Fatal(err)
	}
	record := finding.RunRecord{Format: finding.RecordFormat}
	for _, name := range []string{"ranking.csv", "mine.csv", "notes.txt", "../y.csv", "linked/size.png",
		"figures/../notes.txt", ".lock"} {
		record.Files = append(record.Files, finding.FileRecord{Name: name})
	}
	b, err := json.Marshal(record)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile("x/run.json", b, 0o666); err != nil {
		t.Fatal(err)
	}
	home, err := claim("x", true, false, "")
	if err != nil {
		t.Fatal(err)
	}
	home.release()
	for name, stays := range map[string]bool{"x/mine.csv": true, "x/notes.txt": true, "y.csv": true,
		"elsewhere/size.png": true, "x/.lock": true, "x/ranking.csv": false, "x/run.json": false} {
		if _, err := os.Stat(name); (err == nil) != stays {
			t.Errorf("%s: %v, want it to stay: %v", name, err, stays)
		}
	}
}
