package sweep

import (
	"math"
	"math/bits"

	"rotorsieve/model"
	"rotorsieve/model/pack"
)

// take counts all designs of the run, which have been found to agree.
func (w *worker) take(count int) {
	r, s := &w.runs, w.study
	line := len(s.Grid.axes[axPayload].Values)
	var used uint64
	crosses := false // from slot to slot
	for l := range min(r.fit+1, line) {
		w.weigh(l)
		w.tooHeavy(l, 0, r.scale.of(0)) // the first that is too heavy for all as well
		used |= r.slots[l]
		crosses = crosses || w.nested && r.slots[l]&(r.slots[l]-1) != 0
	}
	clear(r.gates[:r.fit])
	if crosses {
		for l := range r.fit {
			w.takeBySlots(l, count)
		}
		used = 0
	}
	for ; used != 0; used &= used - 1 {
		i := bits.TrailingZeros64(used)
		for l := range r.fit {
			r.gates[l] = 0
			if r.slots[l]>>i&1 == 1 {
				w.weigh(l)
				r.gates[l] = w.takeAll(i, l, count)
			}
		}
		w.markRun(i, 0, count)
	}
	for l := range r.fit {
		for in := r.slots[l]; in != 0; in &= in - 1 {
			if r.verdictOf(l, bits.TrailingZeros64(in)) == feasible {
				w.feasible += uint64(count)
				break
			}
		}
	}
	r.passed += uint64(count * line)
	if crosses {
		r.crossed += uint64(count * line)
	}
	w.auditRun(s.Grid.index(&r.at), count)
}

// verdictOf is the verdict on the designs of a payload in a slot: where classes are nested, that in the first.
func (r *runs) verdictOf(payload, slot int) int {
	if r.nested {
		slot = bits.TrailingZeros64(r.slots[payload])
	}
	return r.verdicts[payload*(len(r.verdicts)/len(r.slots))+slot]
}

// takeBySlots counts the designs of a payload, which are of several slots one after another: mass grows from
// pack to pack.
func (w *worker) takeBySlots(payload, count int) {
	r := &w.runs
	w.weigh(payload)
	x := &r.scale
	to, mass := 0, x.of(0)
	for in := r.slots[payload]; in != 0 && to < count; in &= in - 1 {
		slot, limit := bits.TrailingZeros64(in), math.Inf(1)
		if in&(in-1) != 0 {
			limit = w.limit(slot)
		}
		if mass > limit {
			continue
		}
		from := to
		if from > 0 {
			w.tooHeavy(payload, from, mass)
		}
		var gate uint8
		for to < count && mass <= limit {
			bin, start := w.bin(mass), to
			to, mass = x.past(to+1, count, min(limit, w.binEnds[bin]))
			gate = w.takeAt(slot, payload, start, to, bin)
		}
		r.gates[payload] = gate
		w.markRun(slot, from, to)
	}
	r.gates[payload] = 0
}

// scale tells the masses of the designs of a run at a payload.
type scale struct {
	m       *model.Model
	train   *model.Powertrain
	packs   []pack.Pack // of the capacities of the run
	payload float64     // kg
}

// weigh readies the scale of the run for a payload.
func (w *worker) weigh(payload int) {
	r, s := &w.runs, w.study
	first := r.at[axCells]*len(s.Grid.axes[axCapacity].Values) + r.at[axCapacity]
	r.scale = scale{s.Model, r.lo, w.packs[first:][:r.count], s.Grid.axes[axPayload].Values[payload]}
}

// of is the mass of the design at a capacity of the run, kg.
func (x *scale) of(capacity int) float64 { return x.train.AUWOf(x.m, &x.packs[capacity], x.payload) }

// past is the first capacity from one to before another at which the design weighs more than a limit, with its
// mass: the other where there is none. Mass grows from pack to pack, and limits are near each other.
func (x *scale) past(from, end int, limit float64) (at int, mass float64) {
	high, over := end, math.Inf(1) // known to be past it
	for step := 1; from < high; step *= 2 {
		i := min(from+step, end) - 1
		if mass = x.of(i); mass > limit {
			high, over = i, mass
			break
		}
		from = i + 1
	}
	for from < high {
		mid := from + (high-from)/2
		if mass = x.of(mid); mass > limit {
			high, over = mid, mass
		} else {
			from = mid + 1
		}
	}
	return high, over
}

// indexAt is that of the same design.
func (w *worker) indexAt(payload, capacity int) uint64 {
	at := w.runs.at
	at[axCapacity] += capacity
	at[axPayload] = payload
	return w.study.Grid.index(&at)
}

// tooHeavy notes the design at a payload and at a capacity of the run, of a mass, for the classes that it is too
// heavy for.
func (w *worker) tooHeavy(payload, capacity int, mass float64) {
	if mass <= w.near {
		w.heavy(w.indexAt(payload, capacity), mass, w.slotOf(mass))
	}
}

// takeAll counts the designs of a payload, all in a slot, and gives the gate at which they were rejected, 0 for none.
func (w *worker) takeAll(slot, payload, count int) (gate uint8) {
	x := &w.runs.scale
	for to, mass := 0, x.of(0); to < count; {
		bin, from := w.bin(mass), to
		to, mass = x.past(to+1, count, w.binEnds[bin])
		gate = w.takeAt(slot, payload, from, to, bin)
	}
	return gate
}

// takeAt counts the designs of a payload and of the capacities of the run from one to before another, all in a slot
// and in a bin of weight, and gives the gate at which they were rejected, 0 for none.
func (w *worker) takeAt(slot, payload, from, to, bin int) uint8 {
	r, x := &w.runs, w.found[slot]
	count := uint64(to - from)
	x.seen[bin] = true
	verdict := r.verdictOf(payload, slot)
	if verdict == feasible {
		x.feasible += count
		return 0
	}
	gate := verdict % perScenario
	if gate == GateOperating {
		x.nearer(Miss{Index: w.indexAt(payload, from), Gate: GateOperating, Any: true})
	}
	x.size[bin] = max(x.size[bin], uint8(gate))
	x.rejected[gate] += count
	x.fell(verdict/perScenario, gate, count)
	return uint8(gate)
}

// markRun notes the gates of the payloads for maps, of a slot and of the capacities of the run from one to before
// another.
func (w *worker) markRun(slot, from, to int) {
	r := &w.runs
	gates, marks := r.gates[:r.fit], r.marks[:r.fit]
	where := r.at
	where[axCapacity] += from
	for p, gate := range gates {
		if gate == 0 {
			continue
		}
		at, _ := w.sheet(slot, int(gate))
		clear(marks[:p])
		for q := p; q < len(gates); q++ { // all that are on this ground
			marks[q] = 0
			if gates[q] == 0 {
				continue
			}
			if on, mark := w.sheet(slot, int(gates[q])); on == at {
				gates[q], marks[q] = 0, mark
			}
		}
		w.fresh[lineLoop-1] |= 1 << at
		w.grounds[at].mark(&where, to-from, marks)
	}
}

// mark notes, in all cells of maps that designs of a run of capacities are in, what stands for where those of each
// payload were rejected, 0 for nothing.
func (v *ground) mark(at *coord, count int, marks []uint8) {
	most := uint8(0)
	for _, g := range marks {
		most = max(most, g)
	}
	from := at[lineLoop]
	news := v.reached.marks(at, count, marks)
	l := &v.loops[lineLoop]
	for k := range l.rows {
		r := &l.rows[k]
		n := len(r.cells)
		for p, g := range marks {
			if g == 0 {
				continue
			}
			if p < len(r.up) {
				r.up[p] = max(r.up[p], g)
			}
			if r.pair == nil || !news.has(axPayload) {
				continue
			}
			for c := from; c < from+count; c++ {
				cell := &r.pair[c*n+p]
				*cell = max(*cell, g)
			}
		}
	}
	if l.pair != nil && news.has(axCells) {
		raise(l.pair[at[lineLoop-1]*l.n+from:][:count], most)
	}
	if l.up != nil && news != 0 {
		raise(l.up[from:][:count], most)
	}
	*l.outer = max(*l.outer, most)
}

// raise notes a gate in cells.
func raise(cells []uint8, gate uint8) {
	for i := range cells {
		cells[i] = max(cells[i], gate)
	}
}
