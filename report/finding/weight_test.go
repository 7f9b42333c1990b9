package finding_test

import (
	"math"
	"testing"

	"rotorsieve/report/trial"
	"rotorsieve/sweep"
)

// What the last tenth of the widest limit has bought is told against the best design of the
// brute-force search over all that is lighter; of the other classes it is not told.
func TestWeight(t *testing.T) {
	t.Parallel()
	r := trial.MappedRun(t)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	told := 0
	for i := range found {
		f := &found[i]
		if (f.Weight != nil) != (f.ClassResult == r.Widest() && f.Best() != nil) {
			t.Fatalf("%s: weight %v", f.Class.Label, f.Weight)
		}
		w := f.Weight
		if w == nil {
			continue
		}
		told++
		if w.Alone || w.Step != 0.1*f.Class.Limit || w.Loosened != nil || w.More != nil {
			t.Errorf("%s: %+v", f.Class.Label, w)
		}
		evaluator := sweep.NewEvaluator(r.Study)
		best := math.Inf(-1)
		for n := range r.Study.Grid.Size() {
			in, err := evaluator.Crafts(n, f.Class)
			if err == nil && in[0].Mass <= f.Class.Limit-w.Step {
				best = max(best, r.Study.Merit.Of(in[0]))
			}
		}
		// The map of sizes has bins, so that the lighter one may be a bin lighter still.
		if w.Less == nil || w.Less.Craft.Mass > f.Class.Limit-w.Step || w.Less.Score > best ||
			w.Less.Score > w.Best.Score {
			t.Errorf("%s: a step lighter %+v, by brute force %g", f.Class.Label, w.Less, best)
		}
	}
	if told != 1 {
		t.Errorf("%d classes told of", told)
	}
}

// Where draws choose, a tenth more weight buys what the loosened limit gains, in every class.
func TestWeightLoosened(t *testing.T) {
	t.Parallel()
	r := trial.DecidedRun(t)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	for i := range found {
		f := &found[i]
		w := f.Weight
		if (w != nil) != (f.Choice != nil) {
			t.Fatalf("%s: weight %v", f.Class.Label, w)
		}
		if w == nil {
			continue
		}
		widest := f.ClassResult == r.Widest()
		if w.Widest != widest || w.Less != nil && !widest || w.Unused != f.Class.Limit-f.Planned.Craft.Mass {
			t.Errorf("%s: %+v", f.Class.Label, w)
		}
		if w.Loosened == nil || w.Loosened.Gate != sweep.GateClass || (w.More != nil) != (w.Loosened.Gain > 0) {
			t.Fatalf("%s: %+v", f.Class.Label, w)
		}
		if w.More != nil && w.More.Index != w.Loosened.Index {
			t.Errorf("%s: more is %+v", f.Class.Label, w.More)
		}
	}
}
