package sweep

import (
	"context"
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"rotorsieve/model"
)

// A checksum is no signature: whoever can write a checkpoint can make it fit.

// forgery is a true checkpoint of a study in parts, to be altered and sealed again.
type forgery struct {
	shard Shard
	flags []string
	*total
}

// sealed puts the parts together with a checksum that fits.
func (f *forgery) sealed() []byte {
	w := &writer{}
	w.uint(checkpointVersion)
	w.text(model.Version)
	w.text(f.plan.study.Fingerprint())
	w.int(f.shard.K)
	w.int(f.shard.Of)
	w.uint(uint64(len(f.flags)))
	each(f.flags, w.text)
	w.total(f.total)
	return sealed(w.b)
}

// judgeAgain sets how many designs are judged again for a test.
func judgeAgain(t testing.TB, designs uint64) {
	old := rejudgeDesigns
	rejudgeDesigns = designs
	t.Cleanup(func() { rejudgeDesigns = old })
}

// forged is a study of some hundred designs, and the checkpoint of each of its shards.
type forged struct {
	*plan
	truth  *Result
	shards []*State
}

func newForged(t testing.TB, shards int) *forged {
	t.Helper()
	cutBlocks(t, 16)
	s := medium(t)
	s.Grid = small(t, map[*AxisDef]string{Diameter: "3,5", Stator: "1404,2207", KV: "1500:3500:500", Cells: "3,4,6",
		Capacity: "450:1050:200mAh", Payload: "0,30g"})
	s.Top = 12
	s.Require = append(slices.Clone(s.Require), Requirement{Metric: metric(t, "hover-time"), AtLeast: true, Bound: 240})
	p, err := newPlan(s)
	if err != nil {
		t.Fatal(err)
	}
	f := &forged{plan: p, truth: run(t, s, Options{})}
	for k := range shards {
		path := filepath.Join(t.TempDir(), "checkpoint")
		run(t, s, Options{Shard: Shard{k + 1, shards}, Checkpoint: path, Flags: []string{"--name=true"}})
		st, err := ReadState(path)
		if err != nil {
			t.Fatal(err)
		}
		f.shards = append(f.shards, st)
	}
	return f
}

// of is a forgery of a shard, counted from 0, that is still true.
func (f *forged) of(t testing.TB, shard int) *forgery {
	t.Helper()
	st := f.shards[shard]
	x, err := st.total(f.plan)
	if err != nil {
		t.Fatal(err)
	}
	return &forgery{st.Shard, slices.Clone(st.Flags), x}
}

// merged joins the shards with the given one forged.
func (f *forged) merged(ctx context.Context, shard int, b []byte) (*Result, error) {
	st, err := parseState(b)
	if err != nil {
		return nil, at("forged", err)
	}
	states := slices.Clone(f.shards)
	states[shard] = st
	paths := make([]string, len(states))
	for i := range paths {
		paths[i] = "true"
	}
	paths[shard] = "forged"
	if err := division(f.study, paths, states); err != nil {
		return nil, err
	}
	all, err := f.join(ctx, paths, states)
	if err != nil {
		return nil, err
	}
	return all.result(), nil
}

// refusal says what is wrong with an error that is to refuse a forged file in one line.
func refusal(err error, path string) string {
	e, ok := errors.AsType[*StateError](err)
	switch text := err.Error(); {
	case !ok && !errors.Is(err, errNoCheckpoint) && !strings.Contains(text, "want "):
		return "is neither of a checkpoint nor says what would be right"
	case ok && e.Path != path:
		return "is of " + e.Path
	case !printable(text) || len(text) > 1000:
		return fmt.Sprintf("is not one line: %d bytes", len(text))
	}
	return ""
}

// infeasible is a design that is not kept anywhere and passes no more than the gates of
// every study.
func (f *forged) infeasible(t testing.TB) uint64 {
	t.Helper()
	a := f.plan.newAgain()
	for i := range f.study.Grid.size {
		if err := a.compute(i); err != nil {
			t.Fatal(err)
		}
		if gate, _ := a.verdict(f.study.Classes[0].Limit); gate < len(f.gates) {
			return i
		}
	}
	t.Fatal("every design is feasible")
	return 0
}

// A shard keeps designs of its own blocks alone: one of another shard, true as it is, is refused
// before anything is computed.
func TestForgedElsewhere(t *testing.T) {
	judgeAgain(t, 0)
	f := newForged(t, 2)
	theirs := f.of(t, 0).classes[1].rank.sorted()[0].Index
	for name, alter := range map[string]func(k *classTotal){
		"ranked":       func(k *classTotal) { k.rank.heap[0].Index = theirs },
		"on the front": func(k *classTotal) { k.front.points[0].Index = theirs },
		"nearest miss": func(k *classTotal) { k.Nearest.Index = theirs },
	} {
		x := f.of(t, 1)
		alter(&x.classes[1])
		_, err := f.merged(t.Context(), 1, x.sealed())
		if err == nil || !strings.Contains(err.Error(), "is not among those judged") || refusal(err, "forged") != "" {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Each way in which a checkpoint with a checksum that fits has been altered is refused,
// by merge and by resume, with what is wrong; or what is forged comes to nothing. None of
// it takes judging blocks again.
func TestForged(t *testing.T) {
	judgeAgain(t, 0)
	f := newForged(t, 2)
	whole := newForged(t, 1)
	none := f.infeasible(t)
	beyond := f.study.Grid.size + 7
	worst := func(k *classTotal) *Ranked { return &k.rank.heap[0] }
	// The candidates of the first diameter, number of blades and payload at a level.
	group := func(k *classTotal) *candidates {
		sizes := k.listed[f.groups.shared:]
		return sizes[slices.IndexFunc(sizes, func(c *candidates) bool { return c != nil })]
	}
	list := func(k *classTotal, level int) []Build { return group(k).lists[level] }
	// A place of a map that has a design, by merit and by a metric.
	cell := func(k *classTotal, m int) *Cell {
		i := slices.IndexFunc(k.Maps[m].Cells, func(c Cell) bool { return c.Any })
		return &k.Maps[m].Cells[i]
	}
	for _, c := range []struct {
		name  string
		alter func(x *forgery, k *classTotal)
		want  string
	}{
		{"shards below none", func(x *forgery, _ *classTotal) { x.shard.Of = -5 }, "which does not exist"},
		{"no shards", func(x *forgery, _ *classTotal) { x.shard = Shard{} }, "shard 0/0, which does not exist"},
		{"a thousand million shards", func(x *forgery, _ *classTotal) {
			x.shard.Of = 1e9
		}, "/1000000000, which does not exist"},
		{"2^62 shards", func(x *forgery, _ *classTotal) {
			x.shard.Of = 1 << 62
		}, "/4611686018427387904, which does not exist"},
		{"a shard beyond the last", func(x *forgery, _ *classTotal) {
			x.shard.K = x.shard.Of + 1
		}, "which does not exist"},
		{"a flag of two lines", func(x *forgery, _ *classTotal) { x.flags[0] = "--name=a\nb" }, "no line of text"},
		{"a flag that moves the cursor", func(x *forgery, _ *classTotal) {
			x.flags[0] = "--name=\x1b[2J"
		}, "no line of text"},

		{"blocks of another shard", func(x *forgery, _ *classTotal) { x.done.ranges[0].to++ }, "checkpoint"},
		{"blocks twice", func(x *forgery, _ *classTotal) {
			x.done.ranges = append(x.done.ranges, x.done.ranges[0])
		}, "rising order"},
		{"blocks backwards", func(x *forgery, _ *classTotal) { x.done.ranges[0] = blockRange{3, 3} }, "rising order"},
		{"designs not judged", func(x *forgery, _ *classTotal) { x.judged++ }, "does not fit its blocks"},
		{"a failure of no propeller", func(x *forgery, _ *classTotal) {
			x.failed["propeller 3 in x 2.1 in: made up"] = true
		}, "no propeller has"},

		{"a tally that is short", func(_ *forgery, k *classTotal) { k.Rejected[2]-- }, "tallied nowhere"},
		{"a tally that is long", func(_ *forgery, k *classTotal) { k.Rejected[3] += 5 }, "more designs are tallied"},
		{"a tally that overflows", func(_ *forgery, k *classTotal) {
			k.Rejected[2] += math.MaxUint64 - 3
		}, "tallied nowhere"},
		{"designs made feasible", func(_ *forgery, k *classTotal) { k.Feasible += 9; k.Rejected[0] -= 9 }, ""},

		{"rank 1 beyond the grid", func(_ *forgery, k *classTotal) { *worst(k) = Ranked{beyond, 1} }, "of a grid of"},
		{"rank 1 at 2^64", func(_ *forgery, k *classTotal) { *worst(k) = Ranked{math.MaxUint64, 1} }, "of a grid of"},
		{"a merit without end", func(_ *forgery, k *classTotal) { worst(k).Score = math.Inf(1) }, "a merit of +Inf"},
		{"a merit that is no number", func(_ *forgery, k *classTotal) {
			worst(k).Score = math.NaN()
		}, "a merit of NaN"},
		{"a merit above 1", func(_ *forgery, k *classTotal) { worst(k).Score = 1.5 }, "a merit of 1.5"},
		{"a merit made up", func(_ *forgery, k *classTotal) { worst(k).Score = 0.999 }, "is missing"},
		{"a merit a little better", func(_ *forgery, k *classTotal) { worst(k).Score += 1e-15 }, ""},
		{"an infeasible design ranked", func(_ *forgery, k *classTotal) { *worst(k) = Ranked{none, 0.9} }, ""},
		{"a design ranked twice", func(_ *forgery, k *classTotal) {
			k.rank.heap[0] = Ranked{k.rank.heap[1].Index, worst(k).Score}
		}, ""},
		{"a rank twice", func(_ *forgery, k *classTotal) { k.rank.heap[0] = k.rank.heap[1] }, "out of order"},
		{"a ranking cut short", func(_ *forgery, k *classTotal) { k.rank.heap = k.rank.heap[1:] }, "are ranked of"},
		{"a ranking longer than asked for", func(_ *forgery, k *classTotal) {
			k.rank.heap = append(k.rank.heap, Ranked{1, 0.5})
		}, ""},
		{"the best left out", func(_ *forgery, k *classTotal) {
			best := slices.MinFunc(k.rank.heap, Ranked.compare)
			k.rank.heap[slices.Index(k.rank.heap, best)] = Ranked{none, 0}
		}, ""},

		{"a front beyond the grid", func(_ *forgery, k *classTotal) {
			k.front.points[0].Index = beyond
		}, "of a grid of"},
		{"a front beyond all values", func(_ *forgery, k *classTotal) {
			k.front.points[0].box[0] = math.MaxInt32
		}, "beyond all values"},
		{"a front of a metric that is not there", func(_ *forgery, k *classTotal) {
			k.front.points[0].box[2] = 4
		}, "beyond all values"},
		{"a front that dominates itself", func(_ *forgery, k *classTotal) {
			x := k.front.points[0]
			x.box[0]--
			k.front.points = append(k.front.points, x)
		}, "are not on it"},
		{"a front of other metrics", func(_ *forgery, k *classTotal) {
			k.front.points[0].box[0] += 500
			k.front.points[0].box[1] += 500
		}, ""},
		{"a front cut short", func(_ *forgery, k *classTotal) {
			k.front.points = k.front.points[1:]
		}, "missing on the Pareto front"},
		{"no front", func(_ *forgery, k *classTotal) { k.front.points = nil }, "missing on the Pareto front"},
		{"a design on the front twice", func(_ *forgery, k *classTotal) {
			k.front.points[0].Ranked = k.front.points[1].Ranked
		}, ""},

		{"a leader of another diameter", func(_ *forgery, k *classTotal) {
			k.Leaders[0], k.Leaders[1] = k.Leaders[1], k.Leaders[0]
		}, "by diameter"},
		{"a leader that is not ranked", func(_ *forgery, k *classTotal) {
			b := slices.MinFunc(k.Leaders, func(a, b Best) int { return a.compare(b.Ranked) })
			k.Leaders[slices.Index(k.Leaders, b)].Score = 1
		}, "missing in the ranking"},
		{"no leaders", func(_ *forgery, k *classTotal) { clear(k.Leaders) }, "best by diameter"},
		{"no best by cells", func(_ *forgery, k *classTotal) { clear(k.ByCells) }, "best by diameter and cells"},
		{"no best by payload", func(_ *forgery, k *classTotal) { clear(k.Payloads) }, "best by payload"},
		{"a map that is empty", func(_ *forgery, k *classTotal) { clear(k.Maps[0].Cells) }, ""},
		{"a cell of a map emptied", func(_ *forgery, k *classTotal) { cell(k, 0).Any = false }, "map diameter-kv"},
		{"a score without end in a map", func(_ *forgery, k *classTotal) {
			cell(k, 1).Score = math.Inf(1)
		}, "a score of +Inf"},
		{"a score made up in a map", func(_ *forgery, k *classTotal) {
			cell(k, 1).Score *= 1.001
		}, "map cells-capacity-hover-time"},
		{"another design in a map", func(_ *forgery, k *classTotal) { cell(k, 1).Index ^= 1 }, ""},
		{"a design in another cell of a map", func(_ *forgery, k *classTotal) {
			m := k.Maps[2].Cells
			m[0], m[len(m)-1] = m[len(m)-1], m[0]
		}, "map payload-kv"},
		{"gate 99", func(_ *forgery, k *classTotal) { k.Maps[0].Cells[0].Gate = 99 }, "requirement 99 of"},
		{"gate 99 of the size map", func(_ *forgery, k *classTotal) {
			k.Size.Cells[0].Gate, k.Size.Seen[0] = 99, true
		}, "requirement 99 of"},
		{"a gate that rejected nothing", func(_ *forgery, k *classTotal) {
			k.Maps[0].Cells[0].Gate = uint8(slices.Index(k.Rejected[2:], 0) + 2)
		}, "which rejected nothing"},
		{"gates of one map alone", func(_ *forgery, k *classTotal) {
			for i := range k.Maps[0].Cells {
				k.Maps[0].Cells[i].Gate = 0
			}
		}, "not those of other maps"},
		{"a size map on another diameter", func(_ *forgery, k *classTotal) {
			half := k.Size.Bins
			k.Size.Cells = slices.Concat(k.Size.Cells[half:], k.Size.Cells[:half])
			k.Size.Seen = slices.Concat(k.Size.Seen[half:], k.Size.Seen[:half])
		}, "size map"},
		{"a size map of other weights", func(_ *forgery, k *classTotal) {
			for d := range k.Size.Diameters {
				slices.Reverse(k.Size.Cells[d*k.Size.Bins:][:k.Size.Bins])
				slices.Reverse(k.Size.Seen[d*k.Size.Bins:][:k.Size.Bins])
			}
		}, "size map"},
		{"a size map that has seen nothing", func(_ *forgery, k *classTotal) { clear(k.Size.Seen) }, "was not seen"},

		{"a nearest miss at gate 99", func(_ *forgery, k *classTotal) {
			k.Nearest.Gate = 99
		}, "nearest miss: requirement 99 of"},
		{"a nearest miss below all gates", func(_ *forgery, k *classTotal) {
			k.Nearest.Gate = -1
		}, "nearest miss: requirement -1 of"},
		{"a nearest miss at an earlier gate", func(_ *forgery, k *classTotal) { k.Nearest.Gate-- }, "but the furthest"},
		{"a nearest miss beyond the grid", func(_ *forgery, k *classTotal) {
			k.Nearest.Index = beyond
		}, "of a grid of"},
		{"a nearest miss that is nearer", func(_ *forgery, k *classTotal) {
			k.Nearest.Shortfall /= 2
		}, "computed again"},
		{"no nearest miss", func(_ *forgery, k *classTotal) { k.Nearest = Miss{} }, "nearest miss: none"},

		{"a candidate beyond the grid", func(_ *forgery, k *classTotal) {
			list(k, 0)[0].Index = beyond
		}, "of a grid of"},
		{"a candidate at 2^64", func(_ *forgery, k *classTotal) { list(k, 0)[0].Index = math.MaxUint64 }, "of a grid of"},
		{"candidates of another diameter", func(_ *forgery, k *classTotal) {
			slices.Reverse(k.listed[f.groups.shared:])
		}, "is not of what the list is of"},
		{"candidates of another value", func(_ *forgery, k *classTotal) {
			slices.Reverse(k.listed[:f.groups.values[0].count])
		}, "is not of what the list is of"},
		{"a candidate of a made-up merit", func(_ *forgery, k *classTotal) {
			list(k, 0)[0].Score = 0.999
		}, "is missing in the ranking"},
		{"a candidate of a merit without end", func(_ *forgery, k *classTotal) {
			list(k, 0)[0].Score = math.Inf(1)
		}, "a merit of +Inf"},
		{"a candidate a little better", func(_ *forgery, k *classTotal) {
			for i := range list(k, 0) {
				list(k, 0)[i].Score += 1e-15
			}
		}, ""},
		{"an infeasible candidate", func(_ *forgery, k *classTotal) {
			last := list(k, 2)
			last[len(last)-1].Ranked = Ranked{none, 0}
		}, ""},
		{"candidates out of order", func(_ *forgery, k *classTotal) { slices.Reverse(list(k, 1)) }, "out of order"},
		{"two candidates of one build", func(_ *forgery, k *classTotal) {
			l := list(k, 0)
			l[1].Index = l[0].Parts + (l[0].Index-l[0].Parts+f.study.Grid.stride[axCapacity])%
				(4*f.study.Grid.stride[axCapacity])
		}, "two candidates of one build"},
		{"more candidates than a list has", func(_ *forgery, k *classTotal) {
			l := list(k, 0)
			x := l[len(l)-1]
			for i := range uint64(maxListed) {
				x.Index, x.Score = i, x.Score/2
				l = append(l, x)
			}
			group(k).lists[0] = l
		}, "builds in a list of 30"},
		{"no candidates", func(_ *forgery, k *classTotal) { clear(k.listed) }, "candidates at level 0"},
		{"candidates at no level", func(_ *forgery, k *classTotal) { k.listed[0] = new(candidates) }, "at no level"},
		{"no candidates of a value", func(_ *forgery, k *classTotal) { k.listed[1] = nil }, "candidates at level 0: design"},
		{"no candidates at one level", func(_ *forgery, k *classTotal) {
			group(k).lists[1] = nil
		}, "candidates at level 1: design"},
		{"a candidate at a level that it does not reach", func(x *forgery, k *classTotal) {
			best := Build{Ranked: slices.MinFunc(k.rank.heap, Ranked.compare)}
			best.Parts = f.study.Grid.parts(best.Index)
			for _, group := range f.groups.of(best.Index, nil) {
				for level := range Levels {
					l := &k.listed[group].lists[level]
					others := slices.DeleteFunc(*l, func(x Build) bool { return x.Parts == best.Parts })
					*l = append([]Build{best}, others[:min(len(others), f.groups.most(group)[level]-1)]...)
				}
			}
		}, "and computed again reaches"},
		{"the best candidate left out", func(_ *forgery, k *classTotal) {
			group(k).lists[0] = list(k, 0)[1:]
		}, "is missing"},

		{"an audit of more than was judged", func(x *forgery, _ *classTotal) { x.audit.Checked = 1e9 }, "checked of"},
		{"breaches of nothing checked", func(x *forgery, _ *classTotal) {
			x.audit = Audit{Breaches: 1}
		}, "did not hold"},
		{"a breach of a bound that is kept", func(x *forgery, _ *classTotal) {
			x.audit = Audit{Checked: 1, Breaches: 1, First: &Breach{
				Index: x.visits.at(x.done.ranges[0].from) * x.plan.blockSize, Metric: metric(t, "range"), Bound: 2, Value: 1}}
		}, "keeps"},
		{"a breach in a scenario that there is none of", func(x *forgery, _ *classTotal) {
			x.audit = Audit{Checked: 1, Breaches: 1, First: &Breach{Scenario: 1,
				Index: x.visits.at(x.done.ranges[0].from) * x.plan.blockSize, Metric: metric(t, "range"), Bound: 1, Value: 2}}
		}, "in scenario 2 of 1"},
		{"a breach beyond the grid", func(x *forgery, _ *classTotal) {
			x.audit = Audit{Checked: 1, Breaches: 1,
				First: &Breach{Index: beyond, Metric: metric(t, "range"), Bound: 1, Value: 2}}
		}, "of a grid of"},
	} {
		t.Run(c.name, func(t *testing.T) {
			x := f.of(t, 1)
			c.alter(x, &x.classes[1])
			merged, err := f.merged(t.Context(), 1, x.sealed())
			if err == nil && reflect.DeepEqual(merged.Classes, f.truth.Classes) {
				t.Log("what is forged is not in the result")
			} else if err == nil || !strings.Contains(err.Error(), c.want) || refusal(err, "forged") != "" {
				t.Errorf("merged: %v, want a line of the file with %q", err, c.want)
			}
			x = whole.of(t, 0)
			c.alter(x, &x.classes[1])
			path := filepath.Join(t.TempDir(), "checkpoint")
			if err := os.WriteFile(path, x.sealed(), 0o644); err != nil {
				t.Fatal(err)
			}
			r, err := Run(t.Context(), whole.study, Options{Checkpoint: path, Resume: true})
			if err == nil || r != nil || !strings.Contains(err.Error(), c.want) || refusal(err, path) != "" {
				t.Errorf("resumed: %v, want a line of the file with %q", err, c.want)
			}
			if b, err := os.ReadFile(path); err != nil || !slices.Equal(b, x.sealed()) {
				t.Errorf("the checkpoint is not as it was: %v", err)
			}
		})
	}
	// The true ones are taken.
	r, err := f.merged(t.Context(), 1, f.of(t, 1).sealed())
	if err != nil {
		t.Fatal(err)
	}
	equalResults(t, "merged", r, f.truth)
}

// What a checkpoint that is forged makes of its reader is bounded: in memory by its size,
// in time by n log n.
func TestForgedSizes(t *testing.T) {
	f := newForged(t, 1)
	st := f.shards[0]
	long := func(ranges, ranked, points uint64) []byte {
		w := &writer{}
		x := f.of(t, 0)
		w.uint(checkpointVersion)
		w.text(model.Version)
		w.text(st.Fingerprint)
		w.int(1)
		w.int(1)
		w.uint(0)
		w.uint(x.judged)
		w.uint(ranges)
		w.uint(0)
		w.uint(f.blocks)
		w.uint(0)
		w.counts(x.classes[0].Rejected)
		w.uint(x.classes[0].Feasible)
		w.uint(ranked)
		each(x.classes[0].rank.sorted(), w.ranked)
		w.uint(points)
		return sealed(append(w.b, make([]byte, 1<<12)...))
	}
	n := uint64(len(f.of(t, 0).classes[0].rank.heap))
	for name, b := range map[string][]byte{
		"ranges": long(1<<60, n, 0), "ranked": long(1, 1<<60, 0), "points": long(1, n, 1<<60),
		"points as bytes": long(1, n, 1<<12),
	} {
		took := allocated(func() {
			if _, err := f.merged(t.Context(), 0, b); err == nil || refusal(err, "forged") != "" {
				t.Errorf("%s: %v, want it refused", name, err)
			}
		})
		if took > 4<<20 {
			t.Errorf("%s: %d bytes allocated for %d", name, took, len(b))
		}
	}
	// A small file of a huge study: what the study would hold is not made.
	huge := medium(t)
	huge.Grid = small(t, map[*AxisDef]string{KV: "1000:3000:1", Capacity: "450:2450:1mAh"})
	huge.Maps = nil
	for _, m := range model.Metrics[:20] {
		huge.Maps = append(huge.Maps, MapSpec{X: KV, Y: Capacity, Metric: m})
	}
	tiny := *st
	tiny.Fingerprint = huge.Fingerprint()
	took := allocated(func() {
		_, err := Merge(t.Context(), huge, []string{"forged"}, []*State{&tiny})
		if err == nil || refusal(err, "forged") != "" || !strings.Contains(err.Error(), "where its study has") {
			t.Errorf("huge study: %v, want it refused", err)
		}
	})
	if took > 4<<20 {
		t.Errorf("huge study: %d bytes allocated", took)
	}
	// A front of 60 000 points, none of which dominates another.
	x := f.of(t, 0)
	k := &x.classes[1]
	k.front.points = nil
	for i := range int32(60000) {
		x := FrontPoint{Ranked: Ranked{Index: uint64(i) % f.study.Grid.size}, box: [3]int32{i, -i}}
		k.front.points = append(k.front.points, x)
	}
	began := time.Now()
	if _, err := f.merged(t.Context(), 0, x.sealed()); err == nil || refusal(err, "forged") != "" {
		t.Errorf("a long front: %v, want it refused", err)
	}
	if took := time.Since(began); took > 5*time.Second {
		t.Errorf("a long front takes %v", took)
	}
}

// allocated is how many bytes a function asks for in all.
func allocated(do func()) uint64 {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	do()
	runtime.ReadMemStats(&after)
	return after.TotalAlloc - before.TotalAlloc
}

// forge alters something of a forgery, and says what.
func forge(rng *rand.Rand, x *forgery) string {
	k := &x.classes[rng.IntN(len(x.classes))]
	size := x.plan.study.Grid.size
	index := func() uint64 {
		return []uint64{rng.Uint64N(size), size + rng.Uint64N(3), rng.Uint64(), rng.Uint64N(size)}[rng.IntN(4)]
	}
	score := func(old float64) float64 {
		return []float64{rng.Float64(), math.NaN(), math.Inf(1), math.Inf(-1), -old, old * (1 + 1e-12),
			math.Nextafter(old, 2), 0, 1}[rng.IntN(9)]
	}
	count := func(old uint64) uint64 {
		return []uint64{old + 1, old - 1, 0, rng.Uint64(), old + rng.Uint64N(100)}[rng.IntN(5)]
	}
	ranked := func(r *Ranked) {
		switch old := *r; rng.IntN(3) {
		case 0:
			r.Index = index()
		case 1:
			r.Score = score(old.Score)
		default:
			*r = Ranked{index(), score(old.Score)}
		}
	}
	best := func(b *Best) {
		switch {
		case !b.Any:
			b.Any, b.Ranked = true, Ranked{index(), rng.Float64()}
		case rng.IntN(3) == 0:
			b.Any = false
		default:
			ranked(&b.Ranked)
		}
	}
	some := func(n int) int { return rng.IntN(max(n, 1)) }
	switch kind := rng.IntN(19); kind {
	case 0:
		x.shard = Shard{rng.IntN(5) - 1, []int{rng.IntN(9) - 2, int(rng.Int64()), -int(rng.Int64())}[rng.IntN(3)]}
		return "shard"
	case 1:
		x.judged = count(x.judged)
		return "judged"
	case 2:
		r := &x.done.ranges[some(len(x.done.ranges))]
		r.from, r.to = count(r.from), count(r.to)
		return "blocks"
	case 3:
		texts := []string{"", "propeller", "propeller 3 in x 2.1 in: no", "\x1b[2J", strings.Repeat("x", 1<<16)}
		x.failed[texts[rng.IntN(len(texts))]] = true
		return "failures"
	case 4:
		g := some(len(k.Rejected))
		k.Rejected[g] = count(k.Rejected[g])
		return "tally"
	case 5:
		k.Feasible = count(k.Feasible)
		return "feasible"
	case 6, 7:
		if rng.IntN(3) == 0 {
			i := some(len(k.rank.heap))
			k.rank.heap = slices.Delete(k.rank.heap, i, i+1)
		} else {
			ranked(&k.rank.heap[some(len(k.rank.heap))])
		}
		return "ranking"
	case 8:
		p := &k.front.points[some(len(k.front.points))]
		switch rng.IntN(3) {
		case 0:
			p.box[rng.IntN(3)] += int32(rng.IntN(2001) - 1000)
		case 1:
			ranked(&p.Ranked)
		default:
			*p = k.front.points[some(len(k.front.points))]
		}
		return "front"
	case 9:
		best(&k.Leaders[some(len(k.Leaders))])
		return "leaders"
	case 10:
		best(&k.ByCells[some(len(k.ByCells))])
		return "by cells"
	case 11:
		best(&k.Payloads[some(len(k.Payloads))])
		return "payloads"
	case 12:
		best(&k.Size.Cells[some(len(k.Size.Cells))].Best)
		return "size map"
	case 13, 14:
		m := k.Maps[some(len(k.Maps))].Cells
		best(&m[some(len(m))].Best)
		return "map"
	case 15:
		m := k.Maps[some(len(k.Maps))].Cells
		m[some(len(m))].Gate = uint8(rng.IntN(256))
		return "gate"
	case 16:
		switch rng.IntN(3) {
		case 0:
			k.Nearest.Index = index()
		case 1:
			k.Nearest.Gate = rng.IntN(30) - 4
		default:
			k.Nearest.Shortfall = score(k.Nearest.Shortfall)
		}
		return "nearest miss"
	case 17:
		c := k.listed[some(len(k.listed))]
		if c == nil {
			return "no candidates"
		}
		level := rng.IntN(Levels)
		list := c.lists[level]
		if len(list) == 0 {
			return "no candidates"
		}
		switch i := some(len(list)); {
		case rng.IntN(3) > 0:
			ranked(&list[i].Ranked)
		case level < Levels-1 && slices.ContainsFunc(c.lists[level+1],
			func(y Build) bool { return y.Parts == list[i].Parts }): // else only the run can tell
			c.lists[level] = slices.Delete(list, i, i+1)
		default:
			list[i], list[0] = list[0], list[i]
		}
		return "candidates"
	default:
		x.audit = Audit{Checked: count(x.audit.Checked), Breaches: count(0)}
		if rng.IntN(2) == 0 {
			x.audit.First = &Breach{Index: index(), Metric: model.Metrics[some(len(model.Metrics))],
				Bound: rng.NormFloat64(), Value: rng.NormFloat64()}
		}
		return "self-audit"
	}
}

// What nothing but the run can tell is found where blocks are judged again, in a small study
// always.
func TestForgedUntold(t *testing.T) {
	f := newForged(t, 2)
	whole := newForged(t, 1)
	for _, c := range []struct {
		name  string
		alter func(x *forgery, k *classTotal)
		want  string
	}{
		{"designs moved between gates", func(_ *forgery, k *classTotal) {
			k.Rejected[2]--
			k.Rejected[4]++
		}, "rejected at requirement"},
		{"the furthest gate of a cell", func(_ *forgery, k *classTotal) {
			m := k.Maps[1].Cells
			for i := range m {
				if g := m[i].Gate; g > 2 {
					m[i].Gate = 2
					if x := (&total{plan: f.plan}); x.plausibleGates(k, x.tables(k)) == nil {
						return
					}
					m[i].Gate = g
				}
			}
			t.Fatal("every gate is held by another map")
		}, "requirement 2, want"},
		{"a place seen in the size map", func(_ *forgery, k *classTotal) {
			k.Size.Seen[slices.Index(k.Size.Seen, false)] = true
		}, "was seen"},
		{"a nearest miss that is less near", func(x *forgery, k *classTotal) {
			a := f.plan.newAgain()
			for _, r := range x.done.ranges {
				for n := range (r.to - r.from) * f.blockSize {
					i := x.visits.at(r.from+n/f.blockSize)*f.blockSize + n%f.blockSize
					if err := a.compute(i); err != nil {
						t.Fatal(err)
					}
					gate, short := a.verdict(k.Class.Limit)
					m := Miss{Index: i, Gate: gate, Shortfall: short, Any: true}
					if gate == k.Nearest.Gate && k.Nearest.compare(m) < 0 {
						k.Nearest = m
						return
					}
				}
			}
			t.Fatal("one design alone came that near")
		}, "is a nearer miss"},
		{"a candidate left out where it alone is kept", func(x *forgery, k *classTotal) {
			for level := Levels - 1; level >= 0; level-- {
				var last Build
				for _, c := range k.listed {
					if c == nil || len(c.lists[level]) == 0 {
						continue
					}
					if list := c.lists[level]; last == (Build{}) {
						last = list[len(list)-1]
					}
					c.lists[level] = slices.DeleteFunc(c.lists[level], func(x Build) bool { return x == last })
				}
				if last != (Build{}) {
					return
				}
			}
			t.Fatal("there is no candidate")
		}, "is missing"},
		{"a candidate that is not the best of its build", func(x *forgery, k *classTotal) {
			class := slices.IndexFunc(x.classes, func(o classTotal) bool { return o.Class == k.Class })
			a := f.plan.newAgain()
			for level := Levels - 1; level >= 0; level-- {
				for _, c := range k.listed {
					if c == nil || len(c.lists[level]) == 0 {
						continue
					}
					// The worst of the list may be worse still.
					last := c.lists[level][len(c.lists[level])-1]
					put := func(from, to Ranked) {
						for _, c := range k.listed {
							for i := 0; c != nil && i < len(c.lists[level]); i++ {
								if x := &c.lists[level][i]; x.Ranked == from {
									x.Ranked = to
									slices.SortFunc(c.lists[level], func(a, b Build) int { return a.compare(b.Ranked) })
									break
								}
							}
						}
					}
					for n := range f.study.Grid.axes[axCapacity].Values {
						i := last.Parts + uint64(n)*f.study.Grid.stride[axCapacity]
						if err := a.compute(i); err != nil {
							t.Fatal(err)
						}
						gate, _ := a.verdict(k.Class.Limit)
						if i == last.Index || gate < len(f.gates) || a.level(class) < level {
							continue
						}
						worse := Ranked{i, f.study.Merit.Of(&a.craft)}
						put(last.Ranked, worse)
						if x.plausible() == nil {
							return
						}
						put(worse, last.Ranked)
					}
				}
			}
			t.Fatal("every build has one design alone")
		}, "is missing"},
	} {
		t.Run(c.name, func(t *testing.T) {
			x := f.of(t, 1)
			c.alter(x, &x.classes[1])
			_, err := f.merged(t.Context(), 1, x.sealed())
			if err == nil || !strings.Contains(err.Error(), c.want) || refusal(err, "forged") != "" {
				t.Errorf("merged: %v, want a line of the file with %q", err, c.want)
			}
			x = whole.of(t, 0)
			c.alter(x, &x.classes[1])
			path := filepath.Join(t.TempDir(), "checkpoint")
			if err := os.WriteFile(path, x.sealed(), 0o644); err != nil {
				t.Fatal(err)
			}
			if _, err := Run(t.Context(), whole.study, Options{Checkpoint: path, Resume: true}); err == nil ||
				!strings.Contains(err.Error(), c.want) || refusal(err, path) != "" {
				t.Errorf("resumed: %v, want a line of the file with %q", err, c.want)
			}
			judgeAgain(t, 0)
			if _, err := f.merged(t.Context(), 1, f.of(t, 1).sealed()); err != nil {
				t.Error(err)
			}
		})
	}
}

// Checkpoints that are altered at random, with a checksum that fits, are refused in one
// line or change nothing: by field, and byte by byte; whether or not blocks are judged
// again.
func TestForgedAtRandom(t *testing.T) {
	f := newForged(t, 2)
	for name, designs := range map[string]uint64{"computed again": 0, "judged again": rejudgeDesigns} {
		t.Run(name, func(t *testing.T) {
			judgeAgain(t, designs)
			rounds := 600
			if testing.Short() {
				rounds = 150
			}
			forgeAtRandom(t, f, rounds)
		})
	}
}

func forgeAtRandom(t *testing.T, f *forged, rounds int) {
	rng := rand.New(rand.NewPCG(19, 20))
	var refused, harmless, most uint64
	for n := range rounds {
		x := f.of(t, 1)
		what := "bytes"
		var b []byte
		if n%3 < 2 {
			what = forge(rng, x)
			b = x.sealed()
		} else {
			b = x.sealed()
			body := b[len(checkpointMagic) : len(b)-32]
			for range 1 + rng.IntN(3) {
				i := rng.IntN(len(body))
				switch rng.IntN(4) {
				case 0:
					body[i] = byte(rng.Uint32())
				case 1:
					body = slices.Insert(slices.Clone(body), i, byte(rng.Uint32()))
				case 2:
					body = slices.Delete(slices.Clone(body), i, i+1)
				default:
					body = append(binary.AppendUvarint(slices.Clone(body[:i]), rng.Uint64()), body[i:]...)
				}
			}
			b = sealed(body)
		}
		var r *Result
		var err error
		took := allocated(func() { r, err = f.merged(t.Context(), 1, b) })
		most = max(most, took)
		if took > 200<<20 {
			t.Errorf("%d, %s: %d bytes allocated", n, what, took)
		}
		if err != nil {
			refused++
			if wrong := refusal(err, "forged"); wrong != "" {
				t.Errorf("%d, %s: %v: %s", n, what, err, wrong)
			}
			continue
		}
		harmless++
		if !reflect.DeepEqual(r.Classes, f.truth.Classes) &&
			(what != "gate" || rejudgeDesigns > 0) { // which TestForgedUntold has
			t.Errorf("%d, %s: taken, and changes the result", n, what)
		}
	}
	t.Logf("%d refused, %d harmless, %d bytes allocated at most", refused, harmless, most)
}

// Of more designs than there is room for, a part is chosen by scattering and the first of
// every ranking besides: the same every time, with all that is said of each.
func TestVerifySample(t *testing.T) {
	f := newForged(t, 1)
	f.study.Grid = small(t, map[*AxisDef]string{Diameter: "3:6:0.1", Stator: "1404,2207", KV: "1500:3500:500",
		Cells: "3,4,6", Capacity: "450:1050:200mAh", Payload: "0,30g"})
	stride := f.study.Grid.stride[Chord.place]
	var claims []claim
	heads := 0
	for i := range f.study.Grid.size {
		if i%7 == 0 {
			continue
		}
		c := claim{index: i, head: i%97 == 1}
		if c.head {
			heads++
		}
		claims = append(claims, c, claim{index: i, class: 1})
	}
	everything, all := f.chosen(claims, budget{1 << 20, 1000})
	if n := len(slices.Concat(everything...)); !all || n != len(claims) {
		t.Errorf("%d of %d claims where there is room for all, %v", n, len(claims), all)
	}
	for _, room := range []budget{{1 << 20, 9}, {1500, 1000}, {300, 1}, {0, 1000}, {1000, 0}} {
		some, all := f.chosen(slices.Clone(claims), room)
		again, _ := f.chosen(slices.Clone(claims), room)
		if !reflect.DeepEqual(some, again) {
			t.Errorf("%+v: chosen otherwise a second time", room)
		}
		firsts, full := 0, map[uint64]int{}
		for _, c := range slices.Concat(some...) {
			if c.head {
				firsts++
			}
			if c.class == 1 { // none of these is a head
				full[c.index/stride]++
			}
		}
		designs := 0
		for _, n := range full {
			designs += n
		}
		least := min(room.designs, room.propellers*len(claims)/2/31) * 9 / 10
		most := room.designs * 11 / 10
		if all || firsts != heads || len(full) > room.propellers || designs < least || designs > most {
			t.Errorf("%+v: %d designs of %d propellers and %d of %d firsts, %v",
				room, designs, len(full), firsts, heads, all)
		}
	}
	// What is beyond the room is still held to what takes no model, and the first of a
	// ranking is computed.
	judgeAgain(t, 0)
	old := verifyBudget
	verifyBudget = budget{}
	defer func() { verifyBudget = old }()
	f = newForged(t, 1)
	x := f.of(t, 0)
	if _, err := f.merged(t.Context(), 0, x.sealed()); err != nil {
		t.Fatal(err)
	}
	x.classes[0].Maps[1].Cells[0].Gate = 99
	if _, err := f.merged(t.Context(), 0, x.sealed()); err == nil {
		t.Error("gate 99 is taken")
	}
}

// Behind a checksum that fits, whatever shard, flags and finds a file has: it is refused in
// one line, or the merge is the true one. Reports are left out: they take a second each.
func FuzzForged(f *testing.F) {
	x := newForged(f, 2)
	head := &writer{}
	head.uint(checkpointVersion)
	head.text(model.Version)
	head.text(x.study.Fingerprint())
	tail := func(y *forgery) []byte {
		b := y.sealed()
		return b[len(checkpointMagic)+len(head.b) : len(b)-sha256.Size]
	}
	f.Add(tail(x.of(f, 1)))
	f.Add(tail(x.of(f, 0)))
	rng := rand.New(rand.NewPCG(21, 22))
	for range 40 {
		y := x.of(f, 1)
		forge(rng, y)
		f.Add(tail(y))
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		r, err := x.merged(t.Context(), 1, sealed(slices.Concat(head.b, b)))
		if err != nil {
			if wrong := refusal(err, "forged"); wrong != "" {
				t.Fatalf("%v: %s", err, wrong)
			}
			return
		}
		if !reflect.DeepEqual(r.Classes, x.truth.Classes) {
			t.Fatal("taken, and changes the result")
		}
	})
}
