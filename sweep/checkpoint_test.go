package sweep

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"rotorsieve/model"
)

// medium is a study of some hundred blocks that takes a good part of a second.
func medium(t testing.TB) *Study {
	t.Helper()
	s := study(t, small(t, map[*AxisDef]string{
		Diameter: "3,5", Stator: "1404,1507,2207", KV: "1500:4000:250", Cells: "3,4,6", Capacity: "450:1450:50mAh",
		Payload: "0,30g",
	}))
	s.Maps = []MapSpec{{X: Diameter, Y: KV}, {X: Cells, Y: Capacity, Metric: metric(t, "hover-time")},
		{X: Payload, Y: KV}}
	s.Front = []*model.Metric{metric(t, "hover-time"), metric(t, "thrust-to-weight")}
	// What is spared of flight depends on what has been found.
	s.Merit = append(s.Merit, Term{Metric: metric(t, "range"), Weight: 1, Worst: 0, Best: 30e3})
	return s
}

// cutBlocks makes blocks small enough to be interrupted between.
func cutBlocks(t testing.TB, size uint64) {
	old := smallBlock
	smallBlock = size
	t.Cleanup(func() { smallBlock = old })
}

func run(t testing.TB, s *Study, o Options) *Result {
	t.Helper()
	r, err := Run(context.Background(), s, o)
	if err != nil {
		t.Fatal(err)
	}
	if !r.Complete {
		t.Fatalf("run is not complete: %d of %d", r.Done, r.Share)
	}
	return r
}

// A run that is interrupted again and again, each time when it has come some way, ends with what an undisturbed one
// finds.
func TestResume(t *testing.T) {
	cutBlocks(t, 64)
	s := medium(t)
	want := run(t, s, Options{})
	few(t, 3) // in another order: what is found does not depend on it
	rng := rand.New(rand.NewPCG(11, 12))
	breaks := 0
	for round := 0; round < 4 || breaks < 8; round++ { // some are done before they are stopped
		path := filepath.Join(t.TempDir(), "checkpoint")
		o := Options{Checkpoint: path, Resume: true, Interval: time.Millisecond, Workers: 1 + round%3,
			Every: 50 * time.Microsecond}
		var got *Result
		for {
			ctx, cancel := context.WithCancel(context.Background())
			enough := 1 + rng.Uint64N(s.Grid.Size()/32)
			o.Progress = func(p Progress) {
				if p.Fresh >= enough {
					cancel()
				}
			}
			r, err := Run(ctx, s, o)
			cancel()
			if err != nil {
				t.Fatal(err)
			}
			if r.Complete {
				got = r
				break
			}
			breaks++
		}
		equalResults(t, "resumed run", got, want)
		if got.Done != want.Done {
			t.Errorf("%d designs judged, want %d", got.Done, want.Done)
		}
	}
}

// Shards, each interrupted or not, merge into what one process finds.
func TestShards(t *testing.T) {
	cutBlocks(t, 64)
	s := medium(t)
	want := run(t, s, Options{})
	few(t, 5)
	for _, n := range []int{1, 2, 7} {
		dir := t.TempDir()
		var paths []string
		var states []*State
		for k := n; k >= 1; k-- {
			path := filepath.Join(dir, Shard{k, n}.String()[:1]+"-"+string(rune('a'+k)))
			run(t, s, Options{Shard: Shard{k, n}, Checkpoint: path})
			st, err := ReadState(path)
			if err != nil {
				t.Fatal(err)
			}
			paths, states = append(paths, path), append(states, st)
		}
		got, err := Merge(t.Context(), s, paths, states)
		if err != nil {
			t.Fatal(err)
		}
		if !got.Complete {
			t.Errorf("merged run is not complete: %d of %d", got.Done, got.Share)
		}
		equalResults(t, "merged run", got, want)
	}
}

func TestMergeRefusals(t *testing.T) {
	cutBlocks(t, 64)
	s := medium(t)
	other := medium(t)
	other.Top = 7
	dir := t.TempDir()
	state := func(name string, s *Study, shard Shard, o Options) *State {
		o.Shard, o.Checkpoint = shard, filepath.Join(dir, name)
		if _, err := Run(context.Background(), s, o); err != nil {
			t.Fatal(err)
		}
		st, err := ReadState(o.Checkpoint)
		if err != nil {
			t.Fatal(err)
		}
		return st
	}
	a := state("a", s, Shard{1, 2}, Options{Flags: []string{"--top=20"}})
	b := state("b", s, Shard{2, 2}, Options{})
	third := state("third", s, Shard{1, 3}, Options{})
	foreign := state("foreign", other, Shard{2, 2}, Options{Flags: []string{"--top=7"}})
	begun := state("begun", s, Shard{2, 2}, Options{MaxTime: time.Nanosecond})
	for _, c := range []struct {
		names  []string
		states []*State
		want   string
	}{
		{nil, nil, "no shards"},
		{[]string{"a"}, []*State{a}, "shard 2/2 is missing"},
		{[]string{"a", "again"}, []*State{a, a}, "again: shard 1/2 again, after a"},
		{[]string{"a", "third"}, []*State{a, third}, "third: shard 1/3, but a is one of 2"},
		{[]string{"a", "foreign"}, []*State{a, foreign}, "foreign: a shard of another study than a, want shards of " +
			"one study: it has --top=7, this run has --top=20"},
		{[]string{"a", "begun"}, []*State{a, begun}, "begun: shard 2/2 is not finished: 0 of "},
		{[]string{"a", "b"}, []*State{a, b}, ""},
	} {
		_, err := Merge(t.Context(), s, c.names, c.states)
		if c.want == "" && err != nil || c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)) {
			t.Errorf("merge of %v: error %v, want one with %q", c.names, err, c.want)
		}
	}
}

// A checkpoint that is torn or altered anywhere is refused by name; so is that
// of another study, with the flags that differ.
func TestCheckpointRefusals(t *testing.T) {
	cutBlocks(t, 64)
	s := medium(t)
	path := filepath.Join(t.TempDir(), "checkpoint")
	run(t, s, Options{Checkpoint: path, Flags: []string{"--a=1", "--b=2"}})
	whole, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	refused := func(what string, b []byte, want string) {
		t.Helper()
		if err := os.WriteFile(path, b, 0o644); err != nil {
			t.Fatal(err)
		}
		_, err := Run(context.Background(), s, Options{Checkpoint: path, Resume: true})
		if err == nil || !strings.Contains(err.Error(), path) || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: error %v, want one with %q and the path", what, err, want)
		}
	}
	rng := rand.New(rand.NewPCG(13, 14))
	for range 200 {
		b := slices.Clone(whole)
		b[rng.IntN(len(b))] ^= byte(1 + rng.IntN(255))
		refused("altered", b, "checkpoint")
		refused("torn", whole[:rng.IntN(len(whole))], "checkpoint")
	}
	refused("empty", nil, "not a checkpoint")
	refused("longer", append(slices.Clone(whole), 0), "damaged")

	if err := os.WriteFile(path, whole, 0o644); err != nil {
		t.Fatal(err)
	}
	other := medium(t)
	other.Top = 5
	_, err = Run(context.Background(), other, Options{Checkpoint: path, Resume: true,
		Flags: []string{"--a=1", "--b=3"}})
	if err == nil || !strings.Contains(err.Error(), "another study: it has --b=2, this run has --b=3") {
		t.Errorf("another study: error %v", err)
	}
	_, err = Run(context.Background(), s, Options{Checkpoint: path, Resume: true, Shard: Shard{1, 2}})
	if err == nil || !strings.Contains(err.Error(), "shard 1/1 where 1/2 is to run") {
		t.Errorf("another shard: error %v", err)
	}
}

// A place that cannot be written ends the run with the path, and what was kept
// before stays.
func TestCheckpointNowhere(t *testing.T) {
	s := medium(t)
	path := filepath.Join(t.TempDir(), "gone", "checkpoint")
	_, err := Run(context.Background(), s, Options{Checkpoint: path})
	if err == nil || !strings.Contains(err.Error(), path) {
		t.Errorf("error %v, want one with %s", err, path)
	}
}

// A run that is interrupted before it has seen that its checkpoint holds leaves it as it is.
func TestResumeInterrupted(t *testing.T) {
	cutBlocks(t, 64)
	s := medium(t)
	path := filepath.Join(t.TempDir(), "checkpoint")
	run(t, s, Options{Checkpoint: path})
	before, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	r, err := Run(ctx, s, Options{Checkpoint: path, Resume: true})
	if err != nil || r.Done > 0 || r.Complete || r.Share != s.Grid.Size() {
		t.Errorf("%+v, %v; want nothing done", r, err)
	}
	if after, err := os.ReadFile(path); err != nil || !bytes.Equal(before, after) {
		t.Errorf("the checkpoint is not as it was: %v", err)
	}
	if _, err := Merge(ctx, s, []string{path}, []*State{must(ReadState(path))}); !errors.Is(err, context.Canceled) {
		t.Errorf("merged: %v, want it interrupted", err)
	}
	equalResults(t, "resumed", run(t, s, Options{Checkpoint: path, Resume: true}), run(t, s, Options{}))
}

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

// What is no file, or does not begin as a checkpoint does, is not read to its end.
func TestReadStateOfOthers(t *testing.T) {
	dir := t.TempDir()
	if err := os.Symlink("/dev/zero", filepath.Join(dir, "endless")); err != nil {
		t.Skip(err)
	}
	large := filepath.Join(dir, "large")
	if err := os.WriteFile(large, []byte("another file"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Truncate(large, 1<<40); err != nil {
		t.Skip(err) // no such files here
	}
	long := filepath.Join(dir, "long")
	if err := os.WriteFile(long, []byte(checkpointMagic), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Truncate(long, 1<<40); err != nil {
		t.Fatal(err)
	}
	for path, want := range map[string]string{dir: "not a checkpoint",
		filepath.Join(dir, "endless"): "not a checkpoint", large: "not a checkpoint",
		long: "a checkpoint of more than"} {
		took := allocated(func() {
			if _, err := ReadState(path); err == nil || !strings.Contains(err.Error(), path+": "+want) {
				t.Errorf("%s: %v, want %q", path, err, want)
			}
		})
		if took > 1<<20 {
			t.Errorf("%s: %d bytes allocated", path, took)
		}
	}
}

func FuzzState(f *testing.F) {
	s := medium(f)
	path := filepath.Join(f.TempDir(), "checkpoint")
	run(f, s, Options{Checkpoint: path})
	whole, err := os.ReadFile(path)
	if err != nil {
		f.Fatal(err)
	}
	first, err := parseState(whole)
	if err != nil {
		f.Fatal(err)
	}
	p, err := newPlan(s)
	if err != nil {
		f.Fatal(err)
	}
	f.Add(first.body)
	f.Add(whole[len(checkpointMagic) : len(whole)-sha256.Size])
	w := &writer{}
	found := p.newTotal(wholeStudy)
	found.audit = Audit{Checked: 9, Breaches: 1, First: &Breach{Metric: metric(f, "range"), Bound: 1, Value: 2}}
	w.total(found)
	f.Add(w.b)
	f.Fuzz(func(t *testing.T, body []byte) {
		// The checksum is made to fit: what lies behind it must hold by itself.
		st := &State{Shard: Shard{1, 1}, body: body}
		if _, err := st.total(p); err == nil && len(body) == 0 {
			t.Error("an empty state was taken")
		}
		_, _ = parseState(sealed(body))
	})
}

// sealed is a checkpoint of what follows its first line, with a checksum that fits.
func sealed(body []byte) []byte {
	b := append([]byte(checkpointMagic), body...)
	sum := sha256.Sum256(b)
	return append(b, sum[:]...)
}

// A checkpoint of another version of the model, or of the format, is refused as such,
// whatever its study: neither gone on with nor merged.
func TestOtherVersions(t *testing.T) {
	cutBlocks(t, 64)
	s := medium(t)
	path := filepath.Join(t.TempDir(), "checkpoint")
	run(t, s, Options{Checkpoint: path})
	whole, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	head := append(binary.AppendUvarint(nil, checkpointVersion), append([]byte{byte(len(model.Version))},
		model.Version...)...)
	rest, ok := bytes.CutPrefix(whole[len(checkpointMagic):len(whole)-sha256.Size], head)
	if !ok {
		t.Fatalf("the checkpoint begins with %q, want %q", whole[:40], head)
	}
	of := func(format uint64, version string) []byte {
		b := binary.AppendUvarint(nil, format)
		b = binary.AppendUvarint(b, uint64(len(version)))
		return sealed(append(append(b, version...), rest...))
	}
	if got := of(checkpointVersion, model.Version); !bytes.Equal(got, whole) {
		t.Fatal("the checkpoint is not put together again")
	}
	for _, c := range []struct {
		format        uint64
		version, want string
	}{
		{checkpointVersion, "5", "a checkpoint of model 5, older than " + model.Version + " of this program"},
		{checkpointVersion, "1000", "a checkpoint of model 1000, newer than " + model.Version + " of this program"},
		{checkpointVersion, "mine", `a checkpoint of model "mine", not ` + model.Version + " of this program"},
		{1, model.Version, fmt.Sprintf("a checkpoint of version 1 where this program writes version %d",
			checkpointVersion)},
	} {
		if err := os.WriteFile(path, of(c.format, c.version), 0o644); err != nil {
			t.Fatal(err)
		}
		_, resumed := Run(context.Background(), s, Options{Checkpoint: path, Resume: true})
		_, read := ReadState(path)
		for how, err := range map[string]error{"resumed": resumed, "read": read} {
			e, ok := errors.AsType[*StateError](err)
			if !ok || e.Want != Afresh || err.Error() != path+": "+c.want {
				t.Errorf("%s: error %v, want %s", how, err, c.want)
			}
		}
	}
}

// What was audited outlives interrupts and is joined from shards.
func TestAuditIsKept(t *testing.T) {
	cutBlocks(t, 64)
	s := medium(t)
	dir := t.TempDir()
	m := metric(t, "range")
	var paths []string
	var states []*State
	early := &Breach{Metric: m, Least: true, Bound: math.Inf(1), Value: 0.1}
	late := &Breach{Metric: m, Bound: 2, Value: 3}
	for k, a := range []Audit{{Checked: 10, Breaches: 1, First: late}, {Checked: 7, Breaches: 3, First: early},
		{Checked: 2}} {
		o := Options{Checkpoint: filepath.Join(dir, fmt.Sprint(k)), Shard: Shard{[]int{2, 1, 3}[k], 3}}
		p, err := newPlan(s)
		if err != nil {
			t.Fatal(err)
		}
		p.audits, p.runAudits = 0, 0
		r := &runner{plan: p, options: o, total: p.newTotal(o.Shard), start: time.Now()}
		r.first, r.last = o.Shard.blocks(p.blocks)
		r.next, r.last = r.first, r.first+9 // the rest is left to be gone on with
		if a.First != nil {
			var blocks []uint64
			for position := r.first; position < r.last; position++ {
				blocks = append(blocks, r.total.visits.at(position))
			}
			at := slices.Max(blocks)
			if a.First == early {
				at = slices.Min(blocks)
			}
			a.First.Index = at*p.blockSize + 5
		}
		if err := r.run(context.Background()); err != nil {
			t.Fatal(err)
		}
		r.total.audit = a
		if err := r.checkpoint(); err != nil {
			t.Fatal(err)
		}
		o.Resume = true
		got, err := p.run(context.Background(), o)
		if err != nil {
			t.Fatal(err)
		}
		if got.Share <= 9*p.blockSize || !got.Complete {
			t.Fatalf("%d of %d designs judged, want all of more than %d", got.Done, got.Share, 9*p.blockSize)
		}
		if d := cmp.Diff(a, got.Audit, cmp.Comparer(func(a, b *model.Metric) bool { return a == b })); d != "" {
			t.Errorf("shard %v resumed (-want +got):\n%s", o.Shard, d)
		}
		st, err := ReadState(o.Checkpoint)
		if err != nil {
			t.Fatal(err)
		}
		paths, states = append(paths, o.Checkpoint), append(states, st)
	}
	got, err := Merge(t.Context(), s, paths, states)
	if err != nil {
		t.Fatal(err)
	}
	if early.Index >= late.Index {
		t.Fatalf("designs %d and %d, want the first before the second", early.Index, late.Index)
	}
	if a := got.Audit; a.Checked != 19 || a.Breaches != 4 || a.First == nil || *a.First != *early {
		t.Errorf("merged: %+v, first %+v", a, a.First)
	}
}

// The shares of a study cover its blocks once, whatever their number.
func TestShardBlocks(t *testing.T) {
	for _, n := range []uint64{0, 1, 5, 1000, 1<<62 + 12345} {
		for _, of := range []int{1, 2, 3, 7, 1000, MaxShards} {
			var last uint64
			for k := 1; k <= of; k++ {
				a, b := Shard{k, of}.blocks(n)
				if a != last || b < a || b-a > n/uint64(of)+1 {
					t.Fatalf("shard %d/%d of %d blocks is %d to %d, after %d", k, of, n, a, b, last)
				}
				last = b
			}
			if last != n {
				t.Fatalf("%d shards end at %d of %d blocks", of, last, n)
			}
		}
	}
}

func TestBlockSet(t *testing.T) {
	rng := rand.New(rand.NewPCG(15, 16))
	for range 200 {
		var s blockSet
		want := map[uint64]bool{}
		for range rng.IntN(60) {
			b := rng.Uint64N(40)
			if rng.IntN(4) == 0 {
				to := b + 1 + rng.Uint64N(6)
				s.addRange(blockRange{b, to})
				for ; b < to; b++ {
					want[b] = true
				}
				continue
			}
			s.add(b)
			want[b] = true
		}
		for b := range uint64(50) {
			if s.contains(b) != want[b] {
				t.Fatalf("contains(%d) = %v of %v", b, s.contains(b), s.ranges)
			}
		}
		if s.size() != uint64(len(want)) {
			t.Fatalf("size %d, want %d", s.size(), len(want))
		}
		for i, r := range s.ranges {
			if r.from >= r.to || i > 0 && s.ranges[i-1].to >= r.from {
				t.Fatalf("ranges %v", s.ranges)
			}
		}
	}
}
