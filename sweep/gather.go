package sweep

// lineLoop is the innermost loop around the designs: each of its values has one line of
// them along the payload axis.
const lineLoop = axPayload - 1

// gatherer collects what one block finds in one slot of the classes, but for designs that better
// something, which are few (slots.finds). The furthest gates of maps follow the loops of the block:
// designs of a line along the payload axis come one by one, and each loop that ends hands its furthest
// upwards, so that a design costs few updates however many maps there are.
type gatherer struct {
	rejected []uint64 // by gate
	fallen   []uint64 // of these, in further scenarios, see ClassResult.Fallen
	feasible uint64
	rank     ranking
	miss     Miss    // not by its mass, see slots.over
	size     []uint8 // the furthest gate by weight bin, on the block's diameter
	seen     []bool
	front    front
	gates    gateGatherer
	listing  listing

	bit   uint64             // of the slot
	fresh *[axisCount]uint64 // slots by loop: something for maps was found since its value began
	fit   int                // payloads of the line up to the last of which something was found

	reached reached // capacities
}

// gateGatherer holds the furthest gates.
type gateGatherer struct {
	block uint8
	axes  [axisCount][]uint8 // by value of an inner axis
	pairs [][]uint8          // by the pairs of the plan: [a*len(b) + b]

	line  []uint8 // by payload: the designs of a line
	loops [axisCount]loopGatherer
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

func (p *plan) newGatherer(of *slots, slot int) *gatherer {
	g := p.study.Grid
	n := func(axis int) int { return len(g.axes[axis].Values) }
	x := &gatherer{
		rejected: make([]uint64, len(p.gates)),
		fallen:   make([]uint64, len(p.gates)*len(p.others)),
		rank:     ranking{k: p.study.Top},
		size:     make([]uint8, p.study.SizeBins),
		seen:     make([]bool, p.study.SizeBins),
		listing:  p.newListing(),
		reached:  p.newReached(),
		bit:      1 << slot,
		fresh:    &of.fresh,
	}
	v := &x.gates
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
	return x
}

// hold makes room for the furthest gate of each of n values of a loop's axis, in the block and in
// each enclosing loop whose pair with it a map has.
func (v *gateGatherer) hold(spec *inner, axis, n int) {
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
func (v *gateGatherer) pair(spec *inner, a, b int) []uint8 {
	if q := spec.pairAt[a][b]; q > 0 {
		return v.pairs[q-1]
	}
	return nil
}

// reset prepares for the next block.
func (x *gatherer) reset(p *plan) {
	clear(x.rejected)
	clear(x.fallen)
	x.feasible = 0
	x.rank.heap = x.rank.heap[:0]
	x.miss = Miss{}
	x.front.points = x.front.points[:0]
	clear(x.size)
	clear(x.seen)
	v := &x.gates
	v.block = 0
	for a := range v.axes {
		if a != axCapacity {
			clear(v.axes[a])
			continue
		}
		for _, c := range x.reached.some(v.axes[a]) {
			v.axes[a][c] = 0
		}
	}
	for q, pair := range v.pairs {
		x.reached.clear(pair, p.inner.pairs[q])
	}
	x.reached.reset()
}

// reject counts a design at the gate that it did not pass, after that of the class; bin is its place
// in the size map.
func (x *gatherer) reject(gate int, m Miss, payload, bin int) {
	if m.Gate >= x.miss.Gate || !x.miss.Any {
		x.miss.add(m)
	}
	x.count(gate, payload, bin)
}

// count is reject for a design that is not the nearest miss.
func (x *gatherer) count(gate int, payload, bin int) {
	x.rejected[gate]++
	x.fresh[lineLoop] |= x.bit
	x.fit = payload + 1
	g := uint8(gate)
	c := &x.gates.line[payload]
	*c = max(*c, g)
	x.seen[bin] = true
	x.size[bin] = max(x.size[bin], g)
}

// fell notes in which scenario designs were rejected; of the first nothing is kept, which is the
// rest.
func (x *gatherer) fell(scenario, gate int, count uint64) {
	if scenario > 0 {
		x.fallen[(scenario-1)*len(x.rejected)+gate] += count
	}
}

// pass counts a feasible design that changes nothing else.
func (x *gatherer) pass(bin int) {
	x.feasible++
	x.seen[bin] = true
}

// handUp hands up what the designs of a loop's present value have come to.
func (x *gatherer) handUp(loop int, at *coord) {
	if loop == lineLoop {
		x.reached.add(at[loop])
	}
	l := &x.gates.loops[loop]
	for k := range l.rows {
		r := &l.rows[k]
		switch {
		case loop == lineLoop:
			r.handUp(x.fit, at[loop], &l.furthest)
		case r.axis == axCapacity:
			for _, c := range x.reached.list {
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
