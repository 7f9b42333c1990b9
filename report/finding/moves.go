package finding

import (
	"cmp"
	"slices"

	"rotorsieve/sweep"
)

// Move is how much of the merit hangs on one axis.
type Move struct {
	Axis *sweep.AxisDef
	// Loss is the share of the best merit that the best designs of the axis's values lack in
	// the mean over the values that have one, and over the classes: 0 to 1. An axis whose
	// value hardly matters has 0.
	Loss float64
}

// Moves tells it of the axes of which a map by merit was gathered, in the order of the grid.
// What nothing is feasible with does not count: how much of that there is follows from how
// widely the axis was swept.
func (r *Run) Moves() []Move {
	type sum struct{ loss, n float64 }
	sums := map[*sweep.AxisDef]*sum{}
	for i := range r.Result.Classes {
		told := map[*sweep.AxisDef]bool{}
		for n := range r.Result.Classes[i].Maps {
			m := &r.Result.Classes[i].Maps[n]
			if m.Spec.Metric != nil {
				continue
			}
			for _, d := range [2]*sweep.AxisDef{m.Spec.X, m.Spec.Y} {
				if told[d] {
					continue // every map of an axis has the same bests
				}
				told[d] = true
				if loss, ok := lossAlong(m, d); ok {
					if sums[d] == nil {
						sums[d] = &sum{}
					}
					sums[d].loss += loss
					sums[d].n++
				}
			}
		}
	}
	var out []Move
	for _, a := range r.Study.Grid.Axes() {
		if s := sums[a.Def]; s != nil {
			out = append(out, Move{a.Def, s.loss / s.n})
		}
	}
	return out
}

// lossAlong is Move.Loss of a class along one axis of a map, false where nothing has merit.
func lossAlong(m *sweep.Map, d *sweep.AxisDef) (float64, bool) {
	n := m.NX
	if d == m.Spec.Y {
		n = m.NY
	}
	bests, has := make([]float64, n), make([]bool, n)
	for at, c := range m.Cells {
		k := at % m.NX
		if d == m.Spec.Y {
			k = at / m.NX
		}
		if c.Any {
			bests[k], has[k] = max(bests[k], c.Score), true
		}
	}
	sum, feasible := 0.0, 0.0
	for k := range bests {
		if has[k] {
			sum += bests[k]
			feasible++
		}
	}
	best := slices.Max(bests)
	if feasible == 0 || !(best > 0) {
		return 0, false
	}
	return 1 - sum/feasible/best, true
}

// Of the maps that nobody asked for by name: how many are told of with those that were, and
// the least Loss of an axis for whose sake a second one is.
const (
	toldMaps  = 2
	leastLoss = 0.1
)

// Telling are the places in Study.Maps of the maps that a reader is shown unasked: those that
// were asked for by name and, up to two in all, of the others that over the pair of axes that
// move the merit most, and that which brings in the next axis; over the capacity, which the weight
// decides, only where there is no other.
func (r *Run) Telling() []int {
	var out []int
	loss := map[*sweep.AxisDef]float64{}
	for _, m := range r.Moves() {
		loss[m.Axis] = m.Loss
	}
	shown := map[*sweep.AxisDef]bool{}
	take := func(n int) {
		out = append(out, n)
		shown[r.Study.Maps[n].X], shown[r.Study.Maps[n].Y] = true, true
	}
	for n, m := range r.Study.Maps {
		if !m.Implied {
			take(n)
		}
	}
	for len(out) < toldMaps {
		of := func(n int) float64 { return loss[r.Study.Maps[n].X] + loss[r.Study.Maps[n].Y] }
		news := func(d *sweep.AxisDef) bool { return !shown[d] && (len(shown) == 0 || loss[d] >= leastLoss) }
		var left []int
		for n, m := range r.Study.Maps {
			if m.Implied && !slices.Contains(out, n) && (news(m.X) || news(m.Y)) {
				left = append(left, n)
			}
		}
		if ordered := slices.DeleteFunc(slices.Clone(left), func(n int) bool {
			return r.Study.Maps[n].X == sweep.Capacity || r.Study.Maps[n].Y == sweep.Capacity
		}); len(ordered) > 0 || len(out) > 0 {
			left = ordered // the pack is bought last, as the weight allows: it is no choice of its own
		}
		if len(left) == 0 {
			break
		}
		take(slices.MaxFunc(left, func(a, b int) int { return cmp.Compare(of(a), of(b)) }))
	}
	slices.Sort(out)
	return out
}
