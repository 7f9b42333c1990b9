package main

import (
	"math"
	"math/rand/v2"
	"testing"

	"rotorsieve/model"
	"rotorsieve/model/unit"
	"rotorsieve/sweep"
)

// What is printed of a requirement, a term of the merit or a reference states the
// very same again, to the last bit, for every metric: a run is repeated from it.
func TestStatementsRoundTrip(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	value := func(m *model.Metric) float64 {
		v := math.Exp(12*r.Float64() - 6)
		if u := m.Unit; r.IntN(2) == 0 {
			v = u.ToSI(math.Round(1000*v) / 1000) // as people write
		}
		if m.Kind == unit.Count || m.Kind == unit.Cells {
			v = math.Ceil(v)
		}
		if most := m.Natural().Max; v >= most {
			v = most * (0.01 + 0.9*r.Float64())
		}
		return v
	}
	for _, m := range model.Metrics {
		if !inSweep(m) {
			continue
		}
		for range 50 {
			want := sweep.Requirement{Metric: m, AtLeast: r.IntN(2) == 0, Bound: value(m)}
			got, err := parseRequirement(requirementText(want))
			if err != nil || got.Requirement != want {
				t.Fatalf("%s is read as %+v, want %+v, %v", requirementText(want), got, want, err)
			}
			term := sweep.Term{Metric: m, Weight: math.Exp(r.NormFloat64()), Worst: value(m), Best: value(m)}
			if term.Worst == term.Best {
				continue
			}
			if m.Better == model.Higher && term.Best < term.Worst || m.Better == model.Lower && term.Best > term.Worst {
				term.Worst, term.Best = term.Best, term.Worst
			}
			read, err := parseTerm(termText(term))
			if err != nil || read != term {
				t.Fatalf("%s is read as %+v, want %+v, %v", termText(term), read, term, err)
			}
		}
	}
	for range 50 {
		var want model.Reference
		for _, m := range model.Compared() {
			if r.IntN(3) > 0 {
				*want.Of(m) = value(m)
			}
		}
		var parts []likePart
		if err := newLike(&parts).Set(likeText(want)); err != nil {
			t.Fatal(err)
		}
		got, err := reference(parts, model.Defaults())
		if err != nil || got != want {
			t.Fatalf("%s is read as %+v, want %+v, %v", likeText(want), got, want, err)
		}
	}
	for _, x := range sweep.AxisDefs {
		for _, y := range sweep.AxisDefs {
			if x == y {
				continue
			}
			for _, want := range []sweep.MapSpec{{X: x, Y: y}, {X: x, Y: y, Metric: model.Metrics[0]}} {
				if got, err := parseMap(mapText(want)); err != nil || got != want {
					t.Fatalf("%s is read as %+v, want %+v, %v", mapText(want), got, want, err)
				}
			}
		}
	}
}
