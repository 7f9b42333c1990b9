package sweep

import (
	"context"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"rotorsieve/model"
)

// medium is a study of some hundred blocks that takes a good part of a second.
func medium(t testing.TB) *Study {
	t.Helper()
	s := study(t, small(t, map[*AxisDef]string{
		Diameter: "3,5", Stator: "1404,1507,2207", KV: "1500:4000:250", Cells: "3,4,6", Capacity: "450:1450:50mAh", Payload: "0,30g",
	}))
	s.Maps = []MapSpec{{X: Diameter, Y: KV}, {X: Cells, Y: Capacity, Metric: metric(t, "hover-time")}, {X: Payload, Y: KV}}
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
	rng := rand.New(rand.NewPCG(11, 12))
	breaks := 0
	for round := 0; round < 4 || breaks < 8; round++ { // some are done before they are stopped
		path := filepath.Join(t.TempDir(), "checkpoint")
		o := Options{Checkpoint: path, Resume: true, Interval: time.Millisecond, Workers: 1 + round%3, Every: 50 * time.Microsecond}
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
		got, err := Merge(s, paths, states)
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
		{[]string{"a", "foreign"}, []*State{a, foreign}, "foreign: a shard of another study than a, want shards of one study: it has --top=7, this run has --top=20"},
		{[]string{"a", "begun"}, []*State{a, begun}, "begun: shard 2/2 is not finished"},
		{[]string{"a", "b"}, []*State{a, b}, ""},
	} {
		_, err := Merge(s, c.names, c.states)
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
	_, err = Run(context.Background(), other, Options{Checkpoint: path, Resume: true, Flags: []string{"--a=1", "--b=3"}})
	if err == nil || !strings.Contains(err.Error(), "another study, want the same flags, or --force to start afresh: it has --b=2, this run has --b=3") {
		t.Errorf("another study: error %v", err)
	}
	_, err = Run(context.Background(), s, Options{Checkpoint: path, Resume: true, Shard: Shard{1, 2}})
	if err == nil || !strings.Contains(err.Error(), "shard 1/1 where 1/2 is to run, want --shard 1/1 here") {
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

func FuzzState(f *testing.F) {
	s := medium(f)
	path := filepath.Join(f.TempDir(), "checkpoint")
	run(f, s, Options{Checkpoint: path})
	whole, err := os.ReadFile(path)
	if err != nil {
		f.Fatal(err)
	}
	f.Add(whole[len(checkpointMagic):])
	p, err := newPlan(s)
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, body []byte) {
		// The checksum is passed over: what lies behind it must hold by itself.
		st := &State{Shard: Shard{1, 1}, body: body}
		if _, err := st.total(p); err == nil && len(body) == 0 {
			t.Error("an empty state was taken")
		}
		_, _ = parseState(body)
	})
}

func TestParseShard(t *testing.T) {
	slurm := map[string]string{"SLURM_ARRAY_TASK_ID": "5", "SLURM_ARRAY_TASK_MIN": "2", "SLURM_ARRAY_TASK_COUNT": "8"}
	kube := map[string]string{"JOB_COMPLETION_INDEX": "0"}
	for _, c := range []struct {
		text string
		env  map[string]string
		want Shard
		err  string
	}{
		{"3/16", nil, Shard{3, 16}, ""},
		{"1/1", nil, Shard{1, 1}, ""},
		{"0/4", nil, Shard{}, "K from 1 to N"},
		{"5/4", nil, Shard{}, "K from 1 to N"},
		{"3", nil, Shard{}, "want K/N"},
		{"a/b", nil, Shard{}, "want K/N"},
		{"1/0", nil, Shard{}, "N from 1"},
		{"auto", nil, Shard{}, "neither"},
		{"auto", slurm, Shard{4, 8}, ""},
		{"auto/16", slurm, Shard{5, 16}, ""},
		{"auto/4", slurm, Shard{}, "want an array 1-4"},
		{"auto", kube, Shard{}, "auto/N"},
		{"auto/3", kube, Shard{1, 3}, ""},
		{"auto/3", map[string]string{"JOB_COMPLETION_INDEX": "3"}, Shard{}, "not below 3"},
		{"auto/3", map[string]string{"JOB_COMPLETION_INDEX": "x"}, Shard{}, "want a number"},
	} {
		got, err := ParseShard(c.text, func(name string) string { return c.env[name] })
		if c.err == "" && (err != nil || got != c.want) || c.err != "" && (err == nil || !strings.Contains(err.Error(), c.err)) {
			t.Errorf("ParseShard(%q) in %v = %v, %v; want %v, %q", c.text, c.env, got, err, c.want, c.err)
		}
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
			if s.has(b) != want[b] {
				t.Fatalf("has(%d) = %v of %v", b, s.has(b), s.ranges)
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
