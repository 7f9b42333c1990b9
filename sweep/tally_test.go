package sweep

import (
	"context"
	"path/filepath"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// What is said to have been judged, of diameters and of the cells of maps, is what the blocks
// hold that are done: as they were counted, as a checkpoint gives them back, and of any shard.
func TestJudged(t *testing.T) {
	cutBlocks(t, 64)
	few(t, 3)
	s := medium(t)
	s.Maps = append(s.Maps, MapSpec{X: Stator, Y: Diameter}, MapSpec{X: KV, Y: Diameter}, MapSpec{X: Capacity, Y: Payload})
	g := s.Grid
	dir := t.TempDir()
	for n, percent := range []uint64{3, 40, 75, 97, 100} {
		for _, shard := range []Shard{{1, 1}, {2, 3}} {
			o := Options{Shard: shard, MaxDesigns: max(1, g.size/uint64(shard.Of)*percent/100), Workers: 1 + n%2,
				Checkpoint: filepath.Join(dir, string(rune('a'+n))+string(rune('0'+shard.Of)))}
			if percent == 100 {
				o.MaxDesigns = 0
			}
			got, err := Run(context.Background(), s, o)
			if err != nil {
				t.Fatal(err)
			}
			st, err := ReadState(o.Checkpoint)
			if err != nil {
				t.Fatal(err)
			}
			p, err := newPlan(s)
			if err != nil {
				t.Fatal(err)
			}
			read, err := st.total(p)
			if err != nil {
				t.Fatal(err)
			}
			diameters := make([]uint64, len(g.axes[axDiameter].Values))
			open := make([][]bool, len(s.Maps)) // cells of which some design was not judged
			for m := range open {
				open[m] = make([]bool, len(got.Classes[0].Maps[m].Cells))
			}
			whole := true
			for i := range g.size {
				if read.has(i / p.blockSize) {
					diameters[g.at(i, axDiameter)]++
					continue
				}
				whole = false
				for m := range open {
					x, _ := g.AxisIndex(s.Maps[m].X.Name)
					y, _ := g.AxisIndex(s.Maps[m].Y.Name)
					open[m][g.At(i, y)*got.Classes[0].Maps[m].NX+g.At(i, x)] = true
				}
			}
			for what, r := range map[string]*Result{"run": got, "read back": read.result()} {
				if d := cmp.Diff(diameters, r.Judged); d != "" {
					t.Errorf("%d %% of shard %v, %s, by diameter (-want +got):\n%s", percent, shard, what, d)
				}
				if r.Complete != (r.Done == r.Share) || r.Share/uint64(shard.Of) == 0 || r.Done != got.Done {
					t.Errorf("%d %% of shard %v, %s: %d of %d judged, complete %v", percent, shard, what, r.Done, r.Share, r.Complete)
				}
				for m := range open {
					judged := r.Classes[0].Maps[m].Judged
					if whole {
						if judged != nil {
							t.Errorf("map %d of a whole run has cells that were not judged", m)
						}
						continue
					}
					for i := range judged {
						judged[i] = !judged[i]
					}
					if !slices.Equal(judged, open[m]) {
						t.Errorf("%d %% of shard %v, %s, map %d: not judged whole are %v, want %v", percent, shard, what, m,
							judged, open[m])
					}
					for i := range judged { // for the other classes
						judged[i] = !judged[i]
					}
				}
			}
		}
	}
}

// The positions that are done are one range but for what workers have not given back, so
// that a checkpoint stays small.
func TestDoneIsFewRanges(t *testing.T) {
	cutBlocks(t, 64)
	few(t, 3)
	s := medium(t)
	p, err := newPlan(s)
	if err != nil {
		t.Fatal(err)
	}
	r := &runner{plan: p, options: Options{Workers: 2, MaxDesigns: s.Grid.size / 2}, total: p.newTotal(wholeStudy), last: p.blocks}
	if err := r.run(context.Background()); err != nil {
		t.Fatal(err)
	}
	if n := len(r.total.done.ranges); n != 1 {
		t.Errorf("%d ranges when all that was begun is done, want 1: %v", n, r.total.done.ranges)
	}
}
