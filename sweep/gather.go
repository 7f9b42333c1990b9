package sweep

import "rotorsieve/model"

// lineLoop is the innermost loop around the designs: each of its values has one line of
// them along the payload axis.
const lineLoop = axPayload - 1

// gatherer collects what one block finds in one class. It follows the loops of
// the block: designs of a line along the payload axis come one by one, and each
// loop that ends hands its best upwards, so that a design costs few updates
// however many maps there are.
type gatherer struct {
	rejected []uint64 // by gate
	fallen   []uint64 // of these, in further scenarios, see ClassResult.Fallen
	feasible uint64
	rank     ranking
	miss     Miss
	size     []Cell // by weight bin, on the block's diameter
	seen     []bool
	front    front
	views    []viewGatherer
	listing  listing

	touched bool            // something besides counts at the class gate was found
	fresh   [axisCount]bool // by loop: something for maps was found since its value began
	fit     int             // payloads of the line up to the last of which something was found

	reached reached // capacities
}

// viewGatherer holds the best by one score.
type viewGatherer struct {
	block Cell
	axes  [axisCount][]Cell // by value of an inner axis
	pairs [][]Cell          // by the pairs of the plan: [a*len(b) + b]

	line  []Cell // by payload: the designs of a line
	loops [axisCount]loopGatherer
}

// loopGatherer holds what the designs of a loop's present value have found, and where
// that goes when the value ends.
type loopGatherer struct {
	best  Cell
	outer *Cell  // the best of the loop around, or of the block
	up    []Cell // by value of the loop's axis: of a loop further out, or of the block; may be nil
	pair  []Cell // by values of the axis of the loop around and of this one; may be nil
	n     int    // of the latter
	rows  []row  // of the axes within
}

// row is the best by value of an axis within a loop.
type row struct {
	axis  int
	cells []Cell
	up    []Cell // the same for an enclosing loop, or the block; may be nil
	pair  []Cell // of the loop's axis and this; may be nil
}

func (p *plan) newGatherer() *gatherer {
	g := p.study.Grid
	n := func(axis int) int { return len(g.axes[axis].Values) }
	x := &gatherer{
		rejected: make([]uint64, len(p.gates)),
		fallen:   make([]uint64, len(p.gates)*len(p.others)),
		rank:     ranking{k: p.study.Top},
		size:     make([]Cell, p.study.SizeBins),
		seen:     make([]bool, p.study.SizeBins),
		views:    make([]viewGatherer, len(p.views)),
		listing:  p.newListing(),
		reached:  p.newReached(),
	}
	for i := range x.views {
		v, spec := &x.views[i], &p.views[i]
		for _, q := range spec.pairs {
			v.pairs = append(v.pairs, make([]Cell, n(q.a)*n(q.b)))
		}
		outer := &v.block
		for a := axKV; a < axisCount; a++ {
			v.loops[a].outer = outer
			v.loops[a].n = n(a)
			outer = &v.loops[a].best
			v.hold(spec, a, n(a))
		}
	}
	return x
}

// hold makes room for the best of each of n values of a loop's axis, in the block and in
// each enclosing loop whose pair with it a map has.
func (v *viewGatherer) hold(spec *view, axis, n int) {
	if spec.axes[axis] {
		v.axes[axis] = make([]Cell, n)
	}
	up := v.axes[axis] // of what is further out than the loop in question
	for a := axKV; a < axis-1; a++ {
		if pair := v.pair(spec, a, axis); pair != nil {
			r := row{axis, make([]Cell, n), up, pair}
			v.loops[a].rows = append(v.loops[a].rows, r)
			up = r.cells
		}
	}
	// The loop itself, value by value, knows its best.
	pair := v.pair(spec, axis-1, axis)
	if axis < axPayload {
		v.loops[axis].up, v.loops[axis].pair = up, pair
	} else {
		v.line = make([]Cell, n) // designs come by payload
		v.loops[lineLoop].rows = append(v.loops[lineLoop].rows, row{axis, v.line, up, pair})
	}
}

// pair is where the best of each pair of two loops' values goes; nil where no map has it.
func (v *viewGatherer) pair(spec *view, a, b int) []Cell {
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
	if !x.touched {
		return
	}
	x.touched = false
	clear(x.size)
	clear(x.seen)
	for i := range x.views {
		v := &x.views[i]
		v.block = Cell{}
		for a := range v.axes {
			if a != axCapacity {
				clear(v.axes[a])
				continue
			}
			for _, c := range x.reached.some(v.axes[a]) {
				v.axes[a][c] = Cell{}
			}
		}
		for q, pair := range v.pairs {
			x.reached.clear(pair, p.views[i].pairs[q])
		}
	}
	x.reached.reset()
}

// reject counts a design at the gate that it did not pass; bin is its place in the size
// map.
func (x *gatherer) reject(gate int, m Miss, payload, bin int) {
	if m.Gate >= x.miss.Gate || !x.miss.Any {
		x.miss.add(m)
	}
	x.count(gate, payload, bin)
}

// count is reject for a design that is not the nearest miss.
func (x *gatherer) count(gate int, payload, bin int) {
	x.rejected[gate]++
	if gate == GateClass {
		return // every cell starts from it
	}
	x.touched, x.fresh[lineLoop], x.fit = true, true, payload+1
	g := uint8(gate)
	for i := range x.views {
		c := &x.views[i].line[payload]
		c.Gate = max(c.Gate, g)
	}
	x.seen[bin] = true
	x.size[bin].Gate = max(x.size[bin].Gate, g)
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
	x.touched = true
	x.feasible++
	x.seen[bin] = true
}

// keep adds a feasible design, but for the front.
func (x *gatherer) keep(p *plan, r Ranked, floor *Ranked, crafts []*model.Craft, payload, bin int) {
	x.pass(bin)
	x.fresh[lineLoop], x.fit = true, payload+1
	if floor == nil || r.compare(*floor) < 0 {
		x.rank.add(r)
	}
	x.size[bin].add(r)
	for i := range x.views {
		y := r
		if t := p.views[i].metric; t != nil {
			y.Score = mapScore(t, WorstOf(t, crafts), r.Score)
		}
		x.views[i].line[payload].add(y)
	}
}

// mapScore ranks designs in a map of a metric: by the metric in its better
// direction, or by merit where neither is better.
func mapScore(t *model.Metric, v, merit float64) float64 {
	switch t.Better {
	case model.Higher:
		return v
	case model.Lower:
		return -v
	}
	return merit
}

// end hands up what the designs of a loop's present value have found.
func (x *gatherer) end(loop int, at *coord) {
	if x.fresh[loop] { // apart, so that where nothing was found it takes no call
		x.handUp(loop, at)
	}
}

func (x *gatherer) handUp(loop int, at *coord) {
	x.fresh[loop], x.fresh[loop-1] = false, true
	if loop == lineLoop {
		x.reached.add(at[loop])
	}
	for i := range x.views {
		l := &x.views[i].loops[loop]
		for k := range l.rows {
			r := &l.rows[k]
			switch {
			case loop == lineLoop:
				r.handUp(x.fit, at[loop], &l.best)
			case r.axis == axCapacity:
				for _, c := range x.reached.list {
					r.handUpOne(c, at[loop])
				}
			default:
				r.handUp(len(r.cells), at[loop], nil)
			}
		}
		if l.pair != nil {
			l.pair[at[loop-1]*l.n+at[loop]].merge(l.best)
		}
		if l.up != nil {
			l.up[at[loop]].merge(l.best)
		}
		l.outer.merge(l.best)
		l.best = Cell{}
	}
}

// handUp empties the first n cells of a row when a value of its loop has ended; best takes
// the best of all of them, nil where that is known.
func (r *row) handUp(n, value int, best *Cell) {
	cells, up, pair := r.cells[:n], r.up, r.pair
	if pair != nil {
		pair = pair[value*len(r.cells):]
	}
	for k := range cells {
		c := cells[k]
		cells[k] = Cell{}
		if k < len(up) {
			up[k].merge(c)
		}
		if k < len(pair) {
			pair[k].merge(c)
		}
		if best != nil {
			best.merge(c)
		}
	}
}

// handUpOne is handUp of one cell.
func (r *row) handUpOne(k, value int) {
	c := r.cells[k]
	r.cells[k] = Cell{}
	if r.up != nil {
		r.up[k].merge(c)
	}
	if r.pair != nil {
		r.pair[value*len(r.cells)+k].merge(c)
	}
}

func mergeCells(into, from []Cell) {
	for i := range from {
		into[i].merge(from[i])
	}
}
