package finding

import (
	"math"
	"slices"

	"rotorsieve/model"
	"rotorsieve/sweep"
)

// Edge is an axis at an end of which a design lies, so that a wider grid may have a
// better one.
type Edge struct {
	Axis    *sweep.AxisDef
	Value   float64 // SI
	Highest bool    // otherwise the lowest
}

// usualCells are the cells in series that builders take up to an all-up weight in kg
// (common practice).
var usualCells = []struct {
	upTo         float64
	fewest, most float64
}{
	{0.1, 1, 3}, {0.25, 2, 4}, {1, 3, 6}, {3, 4, 8}, {math.Inf(1), 6, model.CellsBound.Max},
}

// worthwhile is the range of an axis within which a wider grid has designs that somebody
// builds, at an all-up weight in kg: its bound, and of cells what is usual.
func worthwhile(d *sweep.AxisDef, mass float64) model.Bound {
	b := d.Bound()
	if d != sweep.Cells {
		return b
	}
	for _, u := range usualCells {
		if mass <= u.upTo {
			return model.Bound{Min: max(b.Min, u.fewest), Max: min(b.Max, u.most)}
		}
	}
	return b
}

// Edges tells on which axes a design of an all-up weight in kg lies at an end of the
// grid. Axes without an order, of less than three values, and the payload have no such
// end, nor is there a wider grid beyond the bound of an axis, or one to advise beyond the
// cells that builders take.
func Edges(g *sweep.Grid, index uint64, mass float64) []Edge {
	var out []Edge
	for n, a := range g.Axes() {
		last := len(a.Values) - 1
		if last < 2 || a.Def == sweep.Stator || a.Def == sweep.Payload {
			continue
		}
		v := a.Values[g.At(index, n)]
		bound := worthwhile(a.Def, mass)
		switch at := g.At(index, n); {
		case at == 0 && v > bound.Min*(1+1e-9):
			out = append(out, Edge{a.Def, v, false})
		case at == last && v < bound.Max*(1-1e-9):
			out = append(out, Edge{a.Def, v, true})
		}
	}
	return out
}

// Past is a term of the merit past whose best value a craft is, so that more of it
// no longer counts.
type Past struct {
	sweep.Term
	Value float64 // SI
}

// Saturated lists the terms of the merit past whose best value a craft is.
func Saturated(m sweep.Merit, c *model.Craft) []Past {
	var out []Past
	for _, t := range m {
		v := t.Metric.Of(c)
		if over := v > t.Best; t.Best > t.Worst && over || t.Best < t.Worst && v < t.Best {
			out = append(out, Past{t, v})
		}
	}
	return out
}

// Values are those of an axis of the grid.
func (r *Run) Values(d *sweep.AxisDef) []float64 { return AxisValues(r.Study.Grid, d) }

// Swept says whether the grid has more than one value of an axis.
func (r *Run) Swept(d *sweep.AxisDef) bool { return len(r.Values(d)) > 1 }

// AxisValues are the values of an axis, in SI units; none where the grid lacks it.
func AxisValues(g *sweep.Grid, def *sweep.AxisDef) []float64 {
	at, ok := g.AxisIndex(def.Name)
	if !ok {
		return nil
	}
	return g.Axes()[at].Values
}

// MustPlace finds an axis that the study has been checked to have.
func MustPlace(g *sweep.Grid, d *sweep.AxisDef) int {
	at, ok := g.AxisIndex(d.Name)
	if !ok {
		panic("finding: the grid has no axis " + d.Name)
	}
	return at
}

// BladeGaps lists in what numbers of blades of a grid were not measured, each once.
func BladeGaps(g *sweep.Grid) []model.BladeGap {
	var out []model.BladeGap
	for _, D := range AxisValues(g, sweep.Diameter) {
		for _, n := range AxisValues(g, sweep.Blades) {
			if gap := model.BladesBeyond(D, int(n)); gap != model.NoBladeGap {
				out = append(out, gap)
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}
