package sweep

import "slices"

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
		t.tally.fill(t.plan.blocks)
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
func (t *tally) fill(blocks uint64) {
	t.all = blocks
	for _, counts := range append(slices.Clone(t.axes), t.maps...) {
		for i := range counts {
			counts[i] = blocks / uint64(len(counts))
		}
	}
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
	for i := range nx {
		for j := range ny {
			switch {
			case t.maps[n] != nil:
				out[j*nx+i] = t.maps[n][j*nx+i] == p.blocks/uint64(nx*ny)
			case m.x < p.depth:
				out[j*nx+i] = t.axes[m.x][i] == p.blocks/uint64(nx)
			case m.y < p.depth:
				out[j*nx+i] = t.axes[m.y][j] == p.blocks/uint64(ny)
			}
		}
	}
	return out
}
