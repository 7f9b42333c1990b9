package report

import (
	"slices"

	"rotorsieve/model"
	"rotorsieve/sweep"
)

// edge is an axis at an end of which a design lies, so that a wider grid may have a
// better one.
type edge struct {
	Axis    *sweep.AxisDef
	Value   float64 // SI
	Highest bool    // otherwise the lowest
}

// edges tells on which axes a design lies at an end of the grid. Axes without an
// order, of less than three values, and the payload have no such end, nor is there
// a wider grid beyond the bound of an axis.
func edges(g *sweep.Grid, index uint64) []edge {
	var out []edge
	for n, a := range g.Axes() {
		last := len(a.Values) - 1
		if last < 2 || a.Def == sweep.Stator || a.Def == sweep.Payload {
			continue
		}
		v := a.Values[g.At(index, n)]
		bound := a.Def.Bound()
		switch at := g.At(index, n); {
		case at == 0 && v > bound.Min*(1+1e-9):
			out = append(out, edge{a.Def, v, false})
		case at == last && v < bound.Max*(1-1e-9):
			out = append(out, edge{a.Def, v, true})
		}
	}
	return out
}

// past is a term of the merit past whose best value a craft is, so that more of it
// no longer counts.
type past struct {
	sweep.Term
	Value float64 // SI
}

// saturated lists the terms of the merit past whose best value a craft is.
func saturated(m sweep.Merit, c *model.Craft) []past {
	var out []past
	for _, t := range m {
		v := t.Metric.Of(c)
		if over := v > t.Best; t.Best > t.Worst && over || t.Best < t.Worst && v < t.Best {
			out = append(out, past{t, v})
		}
	}
	return out
}

// values are those of an axis of the grid.
func (r *Run) values(d *sweep.AxisDef) []float64 { return axisValues(r.Study.Grid, d) }

func (r *Run) swept(d *sweep.AxisDef) bool { return len(r.values(d)) > 1 }

// axisValues are the values of an axis, in SI units; none where the grid lacks it.
func axisValues(g *sweep.Grid, def *sweep.AxisDef) []float64 {
	at, ok := g.Place(def.Name)
	if !ok {
		return nil
	}
	return g.Axes()[at].Values
}

// mustPlace finds an axis that the study has been checked to have.
func mustPlace(g *sweep.Grid, d *sweep.AxisDef) int {
	at, ok := g.Place(d.Name)
	if !ok {
		panic("report: the grid has no axis " + d.Name)
	}
	return at
}

// bladeGaps lists in what numbers of blades of a grid were not measured, each once.
func bladeGaps(g *sweep.Grid) []model.BladeGap {
	var out []model.BladeGap
	for _, D := range axisValues(g, sweep.Diameter) {
		for _, n := range axisValues(g, sweep.Blades) {
			if gap := model.BladesBeyond(D, int(n)); gap != model.NoBladeGap {
				out = append(out, gap)
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}
