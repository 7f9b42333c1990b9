package sweep

// tally counts the blocks that are done by what is fixed within them: what of a map or of a
// diameter was judged follows from it. It is made of the positions that are done, and
// nothing else.
type tally struct {
	all  uint64
	axes [][]uint64 // of the axes that are fixed within a block, by value
	maps [][]uint64 // by cell, of the study's maps of two such axes; nil for others
	of   []mapPlan  // of all
}

func (p *plan) newTally() tally {
	g := p.study.Grid
	t := tally{axes: make([][]uint64, p.depth), maps: make([][]uint64, len(p.study.Maps)),
		of: make([]mapPlan, len(p.study.Maps))}
	for a := range t.axes {
		t.axes[a] = make([]uint64, len(g.axes[a].Values))
	}
	for v := range p.views {
		for _, m := range p.views[v].maps {
			t.of[m.at] = m
			if m.x < p.depth && m.y < p.depth {
				t.maps[m.at] = make([]uint64, m.nx*len(g.axes[m.y].Values))
			}
		}
	}
	return t
}

// add counts a block of which at is the first coordinate.
func (t *tally) add(at *coord) {
	t.all++
	for a := range t.axes {
		t.axes[a][at[a]]++
	}
	for n := range t.maps {
		if t.maps[n] != nil {
			t.maps[n][t.of[n].cell(at)]++
		}
	}
}

func (t *tally) merge(o *tally) {
	t.all += o.all
	sum := func(into, from []uint64) {
		for i, n := range from {
			into[i] += n
		}
	}
	for a := range t.axes {
		sum(t.axes[a], o.axes[a])
	}
	for n := range t.maps {
		sum(t.maps[n], o.maps[n])
	}
}

// recount makes the tally of a total that was read.
func (t *total) recount() {
	t.tally = t.plan.newTally()
	g := t.plan.study.Grid
	if t.done.size() == t.plan.blocks {
		t.tally.fill(t.plan)
		return
	}
	for _, r := range t.done.ranges {
		for position := r.from; position < r.to; position++ {
			at := g.coord(t.visits.at(position) * t.plan.blockSize)
			t.tally.add(&at)
		}
	}
}

// fill counts all blocks.
func (t *tally) fill(p *plan) {
	t.all = p.blocks
	for a := range t.axes {
		for i := range t.axes[a] {
			t.axes[a][i] = p.blocksAt(a, i)
		}
	}
	for n, counts := range t.maps {
		if counts != nil {
			copy(counts, p.blocksOf(&t.of[n]))
		}
	}
}

// blocksAt is how many blocks have a value of an axis that is fixed within them.
func (p *plan) blocksAt(axis, value int) uint64 {
	g := p.study.Grid
	of := g.follows[axis]
	if of == nil {
		return p.blocks / uint64(g.count[axis])
	}
	return p.blocks / uint64(len(of)) * g.bring(axis, value)
}

// bring is how many parts bring a value of an axis; 1 for one that varies by itself.
func (g *Grid) bring(axis, value int) (n uint64) {
	of := g.follows[axis]
	if of == nil {
		return 1
	}
	for _, v := range of {
		if v == value {
			n++
		}
	}
	return n
}

// With is how many designs have a value of an axis, by the axis' place in Axes: of one that
// parts bring, all those of its parts.
func (g *Grid) With(axis, value int) uint64 {
	at := g.shown[axis]
	return g.size / uint64(g.count[g.from[at]]) * g.bring(at, value)
}

// blocksOf is how many blocks are of each cell of a map of two axes that are fixed within
// them.
func (p *plan) blocksOf(m *mapPlan) []uint64 {
	g := p.study.Grid
	ny := len(g.axes[m.y].Values)
	out := make([]uint64, m.nx*ny)
	if g.from[m.x] == g.from[m.y] && m.x != m.y { // of one kind of parts
		lead := g.from[m.x]
		var at coord
		for part := range g.count[lead] {
			for _, a := range [...]int{m.x, m.y} {
				if at[a] = part; g.follows[a] != nil {
					at[a] = g.follows[a][part]
				}
			}
			out[m.cell(&at)] += p.blocks / uint64(g.count[lead])
		}
		return out
	}
	for x := range m.nx {
		for y := range ny {
			out[y*m.nx+x] = p.blocksAt(m.x, x) / uint64(g.count[g.from[m.y]]) * g.bring(m.y, y)
		}
	}
	return out
}

// byDiameter gives the designs that were judged of each diameter.
func (t *tally) byDiameter(p *plan) []uint64 {
	out := make([]uint64, len(t.axes[axDiameter]))
	for d, n := range t.axes[axDiameter] {
		out[d] = n * p.blockSize
	}
	return out
}

// whole says of each cell of a map whether all of its designs were judged; nil where all
// of the grid was.
func (t *tally) whole(p *plan, n int) []bool {
	if t.all == p.blocks {
		return nil
	}
	m := t.of[n]
	nx, ny := m.nx, len(p.study.Grid.axes[m.y].Values)
	out := make([]bool, nx*ny)
	var of []uint64
	if t.maps[n] != nil {
		of = p.blocksOf(&m)
	}
	for i := range nx {
		for j := range ny {
			switch {
			case t.maps[n] != nil:
				out[j*nx+i] = t.maps[n][j*nx+i] == of[j*nx+i]
			case m.x < p.depth:
				out[j*nx+i] = t.axes[m.x][i] == p.blocksAt(m.x, i)
			case m.y < p.depth:
				out[j*nx+i] = t.axes[m.y][j] == p.blocksAt(m.y, j)
			}
		}
	}
	return out
}
