package sweep

import "rotorsieve/model"

// gatherer collects what one block finds in one class. It follows the loops of
// the block: designs of a line along the payload axis come one by one, and each
// loop that ends hands its best upwards, so that a design costs few updates
// however many maps there are.
type gatherer struct {
	turned   []uint64
	feasible uint64
	rank     ranking
	miss     Miss
	leader   Best // of the block
	byCells  []Best
	payloads []Best
	size     []Cell // by weight bin, on the block's diameter
	seen     []bool
	front    front
	views    []viewGatherer

	touched bool // something beyond counts at the class gate was found
	onLine  bool // the same on the line in turn, for maps
}

// viewGatherer holds the best by one score.
type viewGatherer struct {
	block Cell
	axes  [axisCount][]Cell // by value of an inner axis
	pairs [][]Cell          // by the pairs of the plan: [a*len(b) + b]

	cells   Cell   // best of a cells iteration
	kv      Cell   // best of a KV iteration
	onLine  []Cell // by payload: the designs of a line
	inCells []Cell // by payload: best of a cells iteration
	inKV    []Cell // by payload: best of a KV iteration
	capKV   []Cell // by capacity: best of a KV iteration
}

func (p *plan) newGatherer() *gatherer {
	g := p.study.Grid
	n := func(axis int) int { return len(g.axes[axis].Values) }
	x := &gatherer{
		turned:   make([]uint64, len(p.gates)),
		rank:     ranking{k: p.study.Top},
		byCells:  make([]Best, n(axCells)),
		payloads: make([]Best, n(axPayload)),
		size:     make([]Cell, p.study.SizeBins),
		seen:     make([]bool, p.study.SizeBins),
		views:    make([]viewGatherer, len(p.views)),
	}
	for i := range x.views {
		v, spec := &x.views[i], &p.views[i]
		for a := range axisCount {
			if spec.axes[a] {
				v.axes[a] = make([]Cell, n(a))
			}
		}
		for _, q := range spec.pairs {
			v.pairs = append(v.pairs, make([]Cell, n(q.a)*n(q.b)))
		}
		v.onLine = make([]Cell, n(axPayload))
		v.inCells = make([]Cell, n(axPayload))
		v.inKV = make([]Cell, n(axPayload))
		v.capKV = make([]Cell, n(axCapacity))
	}
	return x
}

// reset prepares for the next block.
func (x *gatherer) reset(p *plan, at, end *coord) {
	clear(x.turned)
	x.feasible = 0
	x.rank.heap = x.rank.heap[:0]
	x.miss = Miss{}
	x.front.points = x.front.points[:0]
	if !x.touched {
		return
	}
	x.touched = false
	x.leader = Best{}
	clear(x.byCells)
	clear(x.payloads)
	clear(x.size)
	clear(x.seen)
	for i := range x.views {
		v := &x.views[i]
		v.block = Cell{}
		for a := range v.axes {
			clear(v.axes[a])
		}
		for q := range v.pairs {
			clear(v.pairs[q])
		}
		clear(v.inCells)
		clear(v.inKV)
		clear(v.capKV)
	}
}

// turn counts a design that a gate turned away; bin is its place in the size map.
func (x *gatherer) turn(gate int, m Miss, payload, bin int) {
	if m.Gate >= x.miss.Gate || !x.miss.Any {
		x.miss.add(m)
	}
	x.count(gate, payload, bin)
}

// count is turn for a design that is not the nearest miss.
func (x *gatherer) count(gate int, payload, bin int) {
	x.turned[gate]++
	if gate == GateClass {
		return // what every cell starts from
	}
	x.touched, x.onLine = true, true
	g := uint8(gate)
	for i := range x.views {
		c := &x.views[i].onLine[payload]
		c.Gate = max(c.Gate, g)
	}
	x.seen[bin] = true
	x.size[bin].Gate = max(x.size[bin].Gate, g)
}

// pass counts a feasible design that changes nothing else.
func (x *gatherer) pass(bin int) {
	x.touched = true
	x.feasible++
	x.seen[bin] = true
}

// keep adds a feasible design, but for the front.
func (x *gatherer) keep(p *plan, r Ranked, floor *Ranked, craft *model.Craft, payload, bin int) {
	x.pass(bin)
	x.onLine = true
	if floor == nil || r.compare(*floor) < 0 {
		x.rank.add(r)
	}
	x.size[bin].add(r)
	for i := range x.views {
		y := r
		if t := p.views[i].metric; t != nil {
			y.Score = mapScore(t, t.Of(craft), r.Score)
		}
		x.views[i].onLine[payload].add(y)
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

// endLine hands up the first n designs of a line along the payload axis.
func (x *gatherer) endLine(p *plan, at *coord, n int) {
	if !x.onLine {
		return
	}
	x.onLine = false
	for i := range x.views {
		v, spec := &x.views[i], &p.views[i]
		line := Cell{}
		var pair []Cell
		if q := spec.pairAt[axCapacity][axPayload]; q > 0 {
			pair = v.pairs[q-1][at[axCapacity]*len(v.onLine):]
		}
		for k := range n {
			c := v.onLine[k]
			line.merge(c)
			v.inCells[k].merge(c)
			if pair != nil {
				pair[k].merge(c)
			}
			v.onLine[k] = Cell{}
		}
		v.capKV[at[axCapacity]].merge(line)
		if q := spec.pairAt[axCells][axCapacity]; q > 0 {
			v.pairs[q-1][at[axCells]*len(v.capKV)+at[axCapacity]].merge(line)
		}
		v.cells.merge(line)
	}
}

// endCells hands up what the capacities of one cell count have found.
func (x *gatherer) endCells(p *plan, at *coord) {
	if !x.touched {
		return
	}
	for i := range x.views {
		v, spec := &x.views[i], &p.views[i]
		if i == 0 {
			x.byCells[at[axCells]].merge(v.cells.Best)
		}
		if v.axes[axCells] != nil {
			v.axes[axCells][at[axCells]].merge(v.cells)
		}
		if q := spec.pairAt[axKV][axCells]; q > 0 {
			n := len(p.study.Grid.axes[axCells].Values)
			v.pairs[q-1][at[axKV]*n+at[axCells]].merge(v.cells)
		}
		if q := spec.pairAt[axCells][axPayload]; q > 0 {
			mergeCells(v.pairs[q-1][at[axCells]*len(v.inCells):][:len(v.inCells)], v.inCells)
		}
		mergeCells(v.inKV, v.inCells)
		clear(v.inCells)
		v.kv.merge(v.cells)
		v.cells = Cell{}
	}
}

// endKV hands up what one KV has found.
func (x *gatherer) endKV(p *plan, at *coord) {
	if !x.touched {
		return
	}
	for i := range x.views {
		v, spec := &x.views[i], &p.views[i]
		if v.axes[axKV] != nil {
			v.axes[axKV][at[axKV]].merge(v.kv)
		}
		if v.axes[axCapacity] != nil {
			mergeCells(v.axes[axCapacity], v.capKV)
		}
		if q := spec.pairAt[axKV][axCapacity]; q > 0 {
			mergeCells(v.pairs[q-1][at[axKV]*len(v.capKV):][:len(v.capKV)], v.capKV)
		}
		clear(v.capKV)
		if i == 0 {
			for k := range v.inKV {
				x.payloads[k].merge(v.inKV[k].Best)
			}
		}
		if v.axes[axPayload] != nil {
			mergeCells(v.axes[axPayload], v.inKV)
		}
		if q := spec.pairAt[axKV][axPayload]; q > 0 {
			mergeCells(v.pairs[q-1][at[axKV]*len(v.inKV):][:len(v.inKV)], v.inKV)
		}
		clear(v.inKV)
		v.block.merge(v.kv)
		v.kv = Cell{}
	}
	x.leader = x.views[0].block.Best
}

func mergeCells(into, from []Cell) {
	for i := range from {
		into[i].merge(from[i])
	}
}
