package sweep

import "math"

// bar is what designs of a run are to reach: a line along the capacity, by its values at the lines next to
// the run.
type bar struct{ lo, hi float64 }

func flat(least float64) bar { return bar{least, least} }

// or is below both: two lines are nowhere below the line between the lower ones at either end.
func (b bar) or(c bar) bar { return bar{min(b.lo, c.lo), min(b.hi, c.hi)} }

// place works out which part of the way from the line below the run to that above it each of its
// capacities is.
func (w *worker) place() {
	r := &w.runs
	packs := w.packs[r.at[axCells]*len(w.study.Grid.axes[axCapacity].Values)+r.at[axCapacity]:][:r.count]
	from, to := r.lo.Drive.Pack.Capacity, r.hi.Drive.Pack.Capacity
	r.parts = r.parts[:0]
	for i := range packs {
		r.parts = append(r.parts, (packs[i].Capacity-from)/(to-from))
	}
}

// barOf is below the incumbents of some maps in a slot over the capacities of the run, and below a bar. What is best
// mostly rises or falls along them, as designs of the run do.
func (r *runs) barOf(k *incumbents, slot int, maps []mapPlan, at *coord, least bar) bar {
	for i := range maps {
		m := &maps[i]
		cells := k.maps[m.at]
		first, step := m.cell(at)*k.slots+slot, 0
		switch axCapacity {
		case m.x:
			step = k.slots
		case m.y:
			step = m.nx * k.slots
		}
		if step == 0 {
			least = least.or(flat(cells[first].score()))
			continue
		}
		least = least.or(r.under(cells, first, step))
	}
	return least
}

// under is the line through the incumbents at the first and at the last capacity of the run, as far down
// as none is below it.
func (r *runs) under(cells places, first, step int) bar {
	n := len(r.parts) - 1
	a := cells[first].score()
	if n == 0 {
		return flat(a)
	}
	slope := (cells[first+n*step].score() - a) / (r.parts[n] - r.parts[0])
	if math.IsNaN(slope) || math.IsInf(slope, 0) { // nothing has been found there
		return flat(math.Inf(-1))
	}
	lo := a - slope*r.parts[0]
	above := 1e-12 // what rounding leaves
	for i, part := range r.parts {
		above = max(above, lo+slope*part-cells[first+i*step].score())
	}
	return bar{lo - above, lo + slope - above}
}
