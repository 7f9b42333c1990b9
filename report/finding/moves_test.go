package finding_test

import (
	"math"
	"slices"
	"testing"

	"rotorsieve/report/finding"
	"rotorsieve/report/trial"
	"rotorsieve/sweep"
)

// By brute force: what an axis moves is what the bests of its values lack against the best.
func TestMoves(t *testing.T) {
	t.Parallel()
	r := trial.MappedRun(t)
	r.Study.Top = 1000 // more than are feasible
	var err error
	if r.Result, err = sweep.Run(t.Context(), r.Study, sweep.Options{Workers: 1}); err != nil {
		t.Fatal(err)
	}
	moves := r.Moves()
	axes := r.Study.Grid.Axes()
	for _, m := range moves {
		at := finding.MustPlace(r.Study.Grid, m.Axis)
		sum, classes := 0.0, 0.0
		for i := range r.Result.Classes {
			k := &r.Result.Classes[i]
			bests := make([]float64, len(axes[at].Values))
			for _, x := range k.Ranking { // which holds every feasible design of the small study
				v := r.Study.Grid.At(x.Index, at)
				bests[v] = max(bests[v], x.Score)
			}
			if uint64(len(k.Ranking)) != k.Feasible {
				t.Fatalf("%d of %d designs are ranked", len(k.Ranking), k.Feasible)
			}
			bests = slices.DeleteFunc(bests, func(v float64) bool { return v == 0 })
			if len(bests) == 0 {
				continue
			}
			mean := 0.0
			for _, v := range bests {
				mean += v / float64(len(bests))
			}
			sum += 1 - mean/slices.Max(bests)
			classes++
		}
		if want := sum / classes; math.Abs(m.Loss-want) > 1e-12 {
			t.Errorf("%s moves %g, want %g", m.Axis.Name, m.Loss, want)
		}
	}
	if len(moves) < 3 {
		t.Errorf("%d axes, want some to compare", len(moves))
	}
}

// Maps asked for by name are told of, all of them; of the others those over what moves the
// merit most, two in all.
func TestTelling(t *testing.T) {
	t.Parallel()
	r := trial.MappedRun(t)
	if got := r.Telling(); !slices.Equal(got, []int{0, 1, 2, 3, 4}) {
		t.Errorf("of maps that are all asked for %v are told of", got)
	}
	loss := map[*sweep.AxisDef]float64{}
	for _, m := range r.Moves() {
		loss[m.Axis] = m.Loss
	}
	best, most := -1, 0.0
	for n := range r.Study.Maps {
		m := &r.Study.Maps[n]
		m.Implied = true
		if sum := loss[m.X] + loss[m.Y]; sum > most {
			best, most = n, sum
		}
	}
	got := r.Telling()
	if len(got) > 2 || !slices.Contains(got, best) {
		t.Errorf("%v are told of, want up to two with %d", got, best)
	}
	if len(got) == 2 {
		a, b := r.Study.Maps[got[0]], r.Study.Maps[got[1]]
		if a.X == b.X && a.Y == b.Y {
			t.Errorf("%s and %s are over the same axes", a.Name(), b.Name())
		}
	}
	r.Study.Maps[best].Implied = false
	if got := r.Telling(); !slices.Contains(got, best) || len(got) > 2 {
		t.Errorf("with one asked for %v are told of", got)
	}
}
