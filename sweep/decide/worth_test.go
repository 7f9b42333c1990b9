package decide

import (
	"context"
	"math"
	"testing"

	drawing "rotorsieve/model/draw"
)

// Of three builds one gains by a quantity and one loses by it; another quantity moves
// nothing, and a third all builds alike.
func TestWorth(t *testing.T) {
	t.Parallel()
	const draws = 1024
	column := func(name string) []float64 {
		x := make([]float64, draws)
		for k := range x {
			x[k] = drawing.Hash(4, name, k)
		}
		standardise(x)
		return x
	}
	tells, idle, all := column("tells"), column("idle"), column("all")
	noise := [3][]float64{column("a"), column("b"), column("c")}
	merits := make([][]float64, 3)
	for b, slope := range []float64{0.05, -0.05, 0} {
		for k := range draws {
			merits[b] = append(merits[b], 0.5+slope*tells[k]+0.04*all[k]+0.03*noise[b][k])
		}
	}
	w := newKnowing(merits)
	got, err := w.worth(context.Background(), []measured{{PackMass, 0, idle}, {FrameMass, 0, tells},
		{MotorCooling, 0, all}}, 8)
	if err != nil {
		t.Fatal(err)
	}
	// The best of two lines of slopes +-s at a standard normal number is s |x| on the mean.
	want := 0.05 * math.Sqrt(2/math.Pi)
	if x := got[0]; x.What != FrameMass || !near(x.Gain, want, 0.004) || x.Class != LargeWorth {
		t.Errorf("what tells them apart: %+v, want a gain of %.3f", x, want)
	}
	for _, x := range got[1:3] {
		if x.Class != WithinNoise || x.Gain > 0.003 {
			t.Errorf("what does not: %+v", x)
		}
	}
	pair := got[3]
	if !pair.Pair || pair.What != FrameMass && pair.Another != FrameMass || pair.Gain < got[0].Gain-0.003 {
		t.Errorf("best pair: %+v", pair)
	}
	if perfect := w.perfect(); perfect < got[0].Gain {
		t.Errorf("knowing everything gains %g, less than one thing", perfect)
	}
}
