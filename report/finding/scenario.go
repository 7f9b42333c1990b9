package finding

import (
	"math"
	"slices"

	"rotorsieve/model"
	"rotorsieve/sweep"
)

// Scenarios are what a design does in the scenarios of its study.
type Scenarios struct {
	Models  []*model.Model
	Crafts  []*model.Craft // up to the first in which it has no operating point
	Over    sweep.Over
	Merits  []float64 // by scenario; NaN where it has no operating point
	Merit   float64   // over all; NaN where it has none in one
	Telling int       // the scenario whose craft tells of the design
	Broken  bool      // it breaks a requirement there; otherwise its merit is least there
	Lines   []ScenarioLine
}

// ScenarioLine is a metric in all scenarios.
type ScenarioLine struct {
	Metric  *model.Metric
	Require *sweep.Requirement // nil of a metric of the merit alone
	Values  []float64          // by scenario, SI
	Binds   int                // where the requirement is nearest, or broken most; -1 where all are alike
}

// ScenariosOf holds the crafts of a design in all scenarios of a study beside each other, of which the
// last may lack where it has no operating point; nil for a study of one.
func ScenariosOf(s *sweep.Study, crafts []*model.Craft) *Scenarios {
	if len(s.Others) == 0 {
		return nil
	}
	x := &Scenarios{Models: s.Models(), Crafts: crafts, Over: s.Over, Merit: math.NaN()}
	last := crafts[len(crafts)-1]
	if Operates(last) {
		x.Merit, x.Telling = s.MeritOf(crafts), s.Telling(crafts)
		x.Broken = slices.ContainsFunc(s.Require, func(r sweep.Requirement) bool {
			return !r.Kept(r.Metric.Of(crafts[x.Telling]))
		})
	} else {
		x.Telling, x.Broken = len(crafts)-1, true
	}
	of := func(m *model.Metric) (all []float64) {
		for i := range x.Models {
			v := math.NaN()
			if i < len(crafts) && (Operates(crafts[i]) || m.Stage <= model.StageMass) {
				v = m.Of(crafts[i])
			}
			all = append(all, v)
		}
		return all
	}
	for i := range x.Models {
		v := math.NaN()
		if i < len(crafts) && Operates(crafts[i]) {
			v = s.Merit.Of(crafts[i])
		}
		x.Merits = append(x.Merits, v)
	}
	for i := range s.Require {
		r := &s.Require[i]
		l := ScenarioLine{Metric: r.Metric, Require: r, Values: of(r.Metric)}
		l.Binds = binds(l.Values, r.AtLeast)
		x.Lines = append(x.Lines, l)
	}
	for _, t := range s.Merit {
		known := slices.ContainsFunc(x.Lines, func(l ScenarioLine) bool { return l.Metric == t.Metric })
		if !known {
			l := ScenarioLine{Metric: t.Metric, Values: of(t.Metric)}
			l.Binds = binds(l.Values, t.Best > t.Worst)
			x.Lines = append(x.Lines, l)
		}
	}
	return x
}

// sameValue is by how much of itself a value may differ that is the same.
const sameValue = 1e-9

// binds is where values are least, or most where they are bounded from above: the first of them, and
// -1 where all are alike.
func binds(values []float64, least bool) int {
	at := 0
	same := true
	for i, v := range values {
		if math.IsNaN(v) {
			return i
		}
		same = same && math.Abs(v-values[0]) <= sameValue*math.Abs(values[0])
		if least == (v < values[at]) && v != values[at] {
			at = i
		}
	}
	if same {
		return -1
	}
	return at
}
