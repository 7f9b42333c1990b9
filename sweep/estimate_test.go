package sweep

import (
	"math"
	"slices"
	"testing"
	"time"
)

// What a study takes is what its blocks do, one by one, however many of them were tried.
func TestProjected(t *testing.T) {
	const opening, early, late = 40 * time.Millisecond, 5 * time.Millisecond, 3 * time.Millisecond // of a block
	for _, c := range []struct {
		tried, more        int // propellers with their first and second block, and further blocks
		propellers, blocks uint64
	}{{1, 0, 1, 1}, {1, 0, 7, 5}, {3, 0, 7, 5}, {7, 21, 7, 5}, {2, 0, 250, 16}} {
		stints := []stint{{c.tried, true, time.Duration(c.tried) * opening}}
		further := c.tried
		if c.blocks == 1 {
			further = 0
		} else {
			stints = append(stints, stint{c.tried, false, time.Duration(c.tried) * late})
		}
		if c.more > 0 {
			stints[1].took = time.Duration(c.tried) * early // when little has been found
			stints = append(stints, stint{c.more, false, time.Duration(c.more) * late})
			further += c.more
		}
		whole := time.Duration(c.propellers)*opening + time.Duration(c.propellers*(c.blocks-1))*late
		if c.more > 0 {
			whole += time.Duration(c.tried) * (early - late)
		}
		if further > int(c.propellers*(c.blocks-1)) {
			t.Fatalf("%+v: more was tried than there is", c)
		}
		for _, share := range []float64{1, 0.5, 1.0 / 16} {
			got, want := projected(stints, c.propellers, c.blocks, share), time.Duration(whole.Seconds()*share*1e9)
			if (got - want).Abs() > time.Microsecond {
				t.Errorf("%+v: %v for a share of %g, want %v", c, got, share, want)
			}
		}
	}
	if got := projected([]stint{{1, true, time.Hour}, {1, false, time.Hour}}, 1e9, 1e9, 0.5); got != math.MaxInt64 {
		t.Errorf("1e18 blocks of an hour take %v, want the longest there is", got)
	}
}

// A trial leaves the study as it is, and says more than nothing.
func TestEstimate(t *testing.T) {
	s := study(t, small(t, nil))
	before := s.Fingerprint()
	for _, workers := range []int{0, 1, 3} {
		got, err := Estimate(s, Options{Workers: workers}, 0)
		if err != nil || got.CPU <= 0 || got.Time <= 0 || got.Memory <= 0 {
			t.Errorf("%d workers: %v, %v", workers, got, err)
		}
		if f := got.Found; f.Done == 0 || f.Done > s.Grid.Size() || len(f.Classes) != len(s.Classes) {
			t.Errorf("%d workers: the trial has judged %d designs", workers, f.Done)
		}
	}
	// What is judged to its end has nothing left to be found: no class grows.
	all, err := Estimate(s, Options{Workers: 2}, time.Hour)
	if err != nil || all.Found.Done != s.Grid.Size() {
		t.Errorf("in an hour %d of %d designs are judged, error %v", all.Found.Done, s.Grid.Size(), err)
	}
	for i, g := range all.Growth {
		if g != (Growth{1, 1}) {
			t.Errorf("class %d, all judged: %+v", i, g)
		}
	}
	if s.Fingerprint() != before {
		t.Error("the study has changed")
	}
}

// Builds that doubled when the designs judged did double less and less often, up to all designs.
func TestGrowth(t *testing.T) {
	s := study(t, small(t, nil))
	p, err := newPlan(s)
	if err != nil {
		t.Fatal(err)
	}
	r := &runner{plan: p, total: p.newTotal(wholeStudy)}
	r.first, r.last = wholeStudy.blocks(p.blocks)
	all := s.Grid.Size()
	for _, c := range []struct {
		judged uint64
		want   float64
	}{{all, 1}, {all / 2, math.Exp2(weaker)}, {all / 4, math.Exp2(weaker + weaker*weaker)}} {
		now := milestone{judged: c.judged, builds: slices.Repeat([]int{200}, len(s.Classes))}
		was := milestone{judged: c.judged / 2, builds: slices.Repeat([]int{100}, len(s.Classes))}
		x := &tried{runner: r, marks: []milestone{was}}
		for i, g := range x.growth(now, 8, 4) {
			if math.Abs(g.Builds/c.want-1) > 0.01 || g.Propellers != 2 {
				t.Errorf("class %d, %d of %d judged: %+v, want %.3f and 2", i, c.judged, all, g, c.want)
			}
		}
	}
}
