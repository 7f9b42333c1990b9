package sweep

import (
	"math"
	"slices"
	"testing"
	"time"
)

// What a study takes is what its blocks do, one by one, shared by the workers.
func TestProjected(t *testing.T) {
	const opening, other = 40 * time.Millisecond, 3 * time.Millisecond // of a propeller's first block and the rest
	for _, c := range []struct{ tried, propellers, blocks uint64 }{{1, 1, 1}, {1, 7, 5}, {3, 7, 5}, {2, 250, 16}} {
		var whole time.Duration
		for range c.propellers {
			for b := range c.blocks {
				if b == 0 {
					whole += opening
				} else {
					whole += other
				}
			}
		}
		for _, share := range []float64{1, 0.5, 1.0 / 16} {
			spans := slices.Repeat([]span{{opening, other}}, int(c.tried))
			got, want := projected(spans, c.propellers, c.blocks, share), time.Duration(whole.Seconds()*share*1e9)
			if (got - want).Abs() > time.Microsecond {
				t.Errorf("%+v: %v for a share of %g, want %v", c, got, share, want)
			}
		}
	}
	if got := projected([]span{{time.Hour, time.Hour}}, 1e9, 1e9, 0.5); got != math.MaxInt64 {
		t.Errorf("1e18 blocks of an hour take %v, want the longest there is", got)
	}
}

// A trial leaves the study as it is, and says more than nothing.
func TestEstimate(t *testing.T) {
	s := study(t, small(t, nil))
	before := s.Fingerprint()
	for _, workers := range []int{0, 1, 3} {
		got, err := Estimate(s, Options{Workers: workers}, 0)
		if err != nil || got.Time <= 0 || got.Memory <= 0 {
			t.Errorf("%d workers: %v, %v", workers, got, err)
		}
		if f := got.Found; f.Done == 0 || f.Done > s.Grid.Size() || len(f.Classes) != len(s.Classes) {
			t.Errorf("%d workers: the trial has judged %d designs", workers, f.Done)
		}
	}
	if s.Fingerprint() != before {
		t.Error("the study has changed")
	}
}
