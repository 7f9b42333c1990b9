package sweep

import (
	"math"
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
		for _, workers := range []int{1, 2, 16} {
			first, second := opening*time.Duration(c.tried), other*time.Duration(c.tried)
			got, want := projected(first, second, c.tried, c.propellers, c.blocks, workers), whole/time.Duration(workers)
			if (got - want).Abs() > time.Microsecond {
				t.Errorf("%+v: %v with %d workers, want %v", c, got, workers, want)
			}
		}
	}
	if got := projected(time.Hour, time.Hour, 1, 1e9, 1e9, 2); got != math.MaxInt64 {
		t.Errorf("1e18 blocks of an hour take %v, want the longest there is", got)
	}
}

// A trial leaves the study as it is, and says more than nothing.
func TestEstimate(t *testing.T) {
	s := study(t, small(t, nil))
	before := s.Fingerprint()
	for _, workers := range []int{0, 1, 3} {
		if got, err := Estimate(s, workers, 0); err != nil || got <= 0 {
			t.Errorf("%d workers: %v, %v", workers, got, err)
		}
	}
	if s.Fingerprint() != before {
		t.Error("the study has changed")
	}
}
