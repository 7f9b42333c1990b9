package model

import (
	"math"
	"testing"
)

func TestThresholds(t *testing.T) {
	last := 0.0
	for _, c := range Thresholds {
		if c.Limit < last {
			t.Errorf("%s at %g kg stands after %g kg", c.What, c.Limit, last)
		}
		last = c.Limit
		if c.What == "" || c.Where == "" || c.Rule == "" {
			t.Errorf("threshold of %g kg is not fully described", c.Limit)
		}
	}
	// The pound is 0.45359237 kg by definition.
	if g := Thresholds[1].Limit * 1e3; math.Abs(g-249.48) > 0.005 {
		t.Errorf("0.55 lb = %.5g g, want 249.48", g)
	}
}
