package sweep

import "math/bits"

// ground gathers the furthest gates of a block in the cells of maps. They follow the loops of the block:
// designs of a line along the payload axis come one by one, and each loop that ends hands its furthest
// upwards, so that a design costs few updates however many maps there are.
//
// Of few classes there is one of each slot, which holds gates. Where there are more of them than gates there
// is one of each gate, which holds slots: the first that has a design rejected there, counted from the last, so
// that what goes furthest is the greatest in both (plan.sheet). So a block looks at no more than there are
// gates, however many classes its designs are in.
type ground struct {
	block uint8
	axes  [axisCount][]uint8 // by value of an inner axis
	pairs [][]uint8          // by the pairs of the plan: [a*len(b) + b]

	line    []uint8 // by payload: the designs of a line
	fit     int     // payloads of the line up to the last of which something was found
	loops   [axisCount]loopGatherer
	reached reached // capacities
}

// loopGatherer holds what the designs of a loop's present value have come to, and where
// that goes when the value ends.
type loopGatherer struct {
	furthest uint8
	outer    *uint8  // that of the loop around, or of the block
	up       []uint8 // by value of the loop's axis: of a loop further out, or of the block; may be nil
	pair     []uint8 // by values of the axis of the loop around and of this one; may be nil
	n        int     // of the latter
	rows     []row   // of the axes within
}

// row is the furthest gate by value of an axis within a loop.
type row struct {
	axis  int
	cells []uint8
	up    []uint8 // the same for an enclosing loop, or the block; may be nil
	pair  []uint8 // of the loop's axis and this; may be nil
}

func (p *plan) newGround() *ground {
	g := p.study.Grid
	n := func(axis int) int { return len(g.axes[axis].Values) }
	v := &ground{reached: p.newReached()}
	for _, q := range p.inner.pairs {
		v.pairs = append(v.pairs, make([]uint8, n(q.a)*n(q.b)))
	}
	outer := &v.block
	for a := axKV; a < axisCount; a++ {
		v.loops[a].outer = outer
		v.loops[a].n = n(a)
		outer = &v.loops[a].furthest
		v.hold(&p.inner, a, n(a))
	}
	return v
}

// hold makes room for the furthest gate of each of n values of a loop's axis, in the block and in
// each enclosing loop whose pair with it a map has.
func (v *ground) hold(spec *inner, axis, n int) {
	if spec.axes[axis] {
		v.axes[axis] = make([]uint8, n)
	}
	up := v.axes[axis] // of what is further out than the loop in question
	for a := axKV; a < axis-1; a++ {
		if pair := v.pair(spec, a, axis); pair != nil {
			r := row{axis, make([]uint8, n), up, pair}
			v.loops[a].rows = append(v.loops[a].rows, r)
			up = r.cells
		}
	}
	// The loop itself, value by value, knows its furthest.
	pair := v.pair(spec, axis-1, axis)
	if axis < axPayload {
		v.loops[axis].up, v.loops[axis].pair = up, pair
	} else {
		v.line = make([]uint8, n) // designs come by payload
		v.loops[lineLoop].rows = append(v.loops[lineLoop].rows, row{axis, v.line, up, pair})
	}
}

// pair is where the furthest gate of each pair of two loops' values goes; nil where no map has it.
func (v *ground) pair(spec *inner, a, b int) []uint8 {
	if q := spec.pairAt[a][b]; q > 0 {
		return v.pairs[q-1]
	}
	return nil
}

// reset prepares for the next block.
func (v *ground) reset(p *plan) {
	v.block = 0
	for a := range v.axes {
		if a != axCapacity {
			clear(v.axes[a])
			continue
		}
		for _, c := range v.reached.some(v.axes[a]) {
			v.axes[a][c] = 0
		}
	}
	for q, pair := range v.pairs {
		v.reached.clear(pair, p.inner.pairs[q])
	}
	v.reached.reset()
}

// sheets is how many grounds a block has.
func (p *plan) sheets() int {
	if p.byGate {
		return len(p.gates)
	}
	return len(p.byLimit)
}

// sheet is the ground that has the designs of a slot that are rejected at a gate, and what stands for them.
func (p *plan) sheet(slot, gate int) (at int, mark uint8) {
	if p.byGate {
		return gate, uint8(len(p.byLimit) - slot)
	}
	return slot, uint8(gate)
}

// note notes for maps that a design of a slot is rejected.
func (w *worker) note(slot, gate, payload int) {
	at, mark := w.sheet(slot, gate)
	v := w.grounds[at]
	w.fresh[lineLoop] |= 1 << at
	v.fit = payload + 1
	c := &v.line[payload]
	*c = max(*c, mark)
}

// ends hands up what the designs of a loop's present value have found.
func (w *worker) ends(loop int, at *coord) {
	for in := w.fresh[loop]; in != 0; in &= in - 1 {
		w.grounds[bits.TrailingZeros64(in)].handUp(loop, at)
	}
	w.touched |= w.fresh[loop]
	w.fresh[loop-1] |= w.fresh[loop]
	w.fresh[loop] = 0
}

// handUp hands up what the designs of a loop's present value have come to.
func (v *ground) handUp(loop int, at *coord) {
	if loop == lineLoop {
		v.reached.add(at[loop])
	}
	l := &v.loops[loop]
	for k := range l.rows {
		r := &l.rows[k]
		switch {
		case loop == lineLoop:
			r.handUp(v.fit, at[loop], &l.furthest)
		case r.axis == axCapacity:
			for _, c := range v.reached.list {
				r.handUpOne(c, at[loop])
			}
		default:
			r.handUp(len(r.cells), at[loop], nil)
		}
	}
	if l.pair != nil {
		c := &l.pair[at[loop-1]*l.n+at[loop]]
		*c = max(*c, l.furthest)
	}
	if l.up != nil {
		c := &l.up[at[loop]]
		*c = max(*c, l.furthest)
	}
	*l.outer = max(*l.outer, l.furthest)
	l.furthest = 0
}

// handUp empties the first n cells of a row when a value of its loop has ended; furthest takes
// that of all of them, nil where it is known.
func (r *row) handUp(n, value int, furthest *uint8) {
	cells, up, pair := r.cells[:n], r.up, r.pair
	if pair != nil {
		pair = pair[value*len(r.cells):]
	}
	for k, c := range cells {
		if c == 0 {
			continue
		}
		cells[k] = 0
		if k < len(up) {
			up[k] = max(up[k], c)
		}
		if k < len(pair) {
			pair[k] = max(pair[k], c)
		}
		if furthest != nil {
			*furthest = max(*furthest, c)
		}
	}
}

// handUpOne is handUp of one cell.
func (r *row) handUpOne(k, value int) {
	c := r.cells[k]
	r.cells[k] = 0
	if r.up != nil {
		r.up[k] = max(r.up[k], c)
	}
	if r.pair != nil {
		at := &r.pair[value*len(r.cells)+k]
		*at = max(*at, c)
	}
}
