package decide

import (
	"context"
	"testing"
)

// Two builds of steady scores: one of 0.8 and 0.2, one of 0.3 and 0.6, by two terms. The
// first leads as long as 0.8 s + 0.2 (1 - s) > 0.3 s + 0.6 (1 - s): s > 4/9.
func TestWeightRange(t *testing.T) {
	t.Parallel()
	const draws = 16
	r := &runner{workers: 2}
	w := &weighing{builds: 3, draws: draws, terms: 2, scenes: 1, shares: []float64{0.7, 0.3}}
	for _, b := range [][2]float64{{0.8, 0.2}, {0.1, 0.1}, {0.3, 0.6}} {
		for range draws {
			w.scores = append(w.scores, b[0], b[1])
		}
	}
	got, err := r.ranges(context.Background(), w)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []WeightRange{{Term: 0, Weight: 0.7, Least: 4.0 / 9, Most: 1, Below: 2, Above: -1},
		{Term: 1, Weight: 0.3, Least: 0, Most: 5.0 / 9, Below: -1, Above: 2}} {
		g := got[i]
		if !near(g.Least, want.Least, shareFine) || !near(g.Most, want.Most, shareFine) || g.Below != want.Below ||
			g.Above != want.Above || g.Weight != want.Weight {
			t.Errorf("%+v, want %+v", g, want)
		}
	}
	w.terms, w.shares, w.scores = 1, []float64{1}, w.scores[:3*draws]
	if got, err = r.ranges(context.Background(), w); err != nil || got[0].Least != 0 || got[0].Most != 1 ||
		got[0].Below != -1 || got[0].Above != -1 {
		t.Errorf("one term: %+v, %v", got, err)
	}
}
