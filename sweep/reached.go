package sweep

import "iter"

// reached are the capacities of which a block has found something for maps. Where steps are fine they
// are few: the others are in runs that were passed by, and need be neither joined nor cleared.
type reached struct {
	list []int
	has  []bool // by capacity; nil where a block has one

	// What blocks before have marked in cells of maps, by the map's other axis: by its value and the
	// capacity. The total has it, and it needs no mark again.
	marked [axisCount][]uint8
	axes   []int // that have such maps, but for the payload
}

func (p *plan) newReached() (r reached) {
	g := p.study.Grid
	n := len(g.axes[axCapacity].Values)
	if p.depth > axCapacity {
		return r
	}
	r.has = make([]bool, n)
	for _, m := range p.study.Maps {
		x, y := g.place(m.X), g.place(m.Y)
		if y == axCapacity {
			x, y = y, x
		}
		if x == axCapacity && r.marked[y] == nil {
			r.marked[y] = make([]uint8, n*len(g.axes[y].Values))
			if y != axPayload {
				r.axes = append(r.axes, y)
			}
		}
	}
	return r
}

func (r *reached) add(capacity int) {
	if r.has != nil && !r.has[capacity] {
		r.has[capacity] = true
		r.list = append(r.list, capacity)
	}
}

func (r *reached) reset() {
	for _, c := range r.list {
		r.has[c] = false
	}
	r.list = r.list[:0]
}

// some are the capacities of which cells by capacity are to be looked at: none where there are none.
func (r *reached) some(cells []uint8) []int {
	if cells == nil {
		return nil
	}
	return r.list
}

// each gives the values of an axis within a block of which something may have been found.
func (r *reached) each(axis int, at, end *coord) iter.Seq[int] {
	return func(yield func(int) bool) {
		if axis == axCapacity && r.has != nil {
			for _, c := range r.list {
				if !yield(c) {
					return
				}
			}
			return
		}
		for i := at[axis]; i < end[axis] && yield(i); i++ {
		}
	}
}

// few says whether few of the cells of a pair of axes are to be looked at.
func (r *reached) few(q pairPlan) bool {
	return (q.a == axCapacity || q.b == axCapacity) && 8*len(r.list) < len(r.has)
}

// clear empties the cells of a pair of axes.
func (r *reached) clear(cells []uint8, q pairPlan) {
	switch n := len(r.has); {
	case n == 0 || q.a != axCapacity && q.b != axCapacity:
		clear(cells)
	case q.b == axCapacity:
		for row := cells; len(row) > 0; row = row[n:] {
			for _, c := range r.list {
				row[c] = 0
			}
		}
	default:
		m := len(cells) / n
		for _, c := range r.list {
			clear(cells[c*m:][:m])
		}
	}
}

// marks notes what stands for where designs of so many capacities from one on were rejected, by payload, 0 for
// nothing, and says of which axes maps with the capacity did not have it yet.
func (r *reached) marks(at *coord, count int, marks []uint8) (news axisSet) {
	most := uint8(0)
	for p, g := range marks {
		if g == 0 {
			continue
		}
		most = max(most, g)
		if r.marked[axPayload] != nil && r.mark(axPayload, p, at[axCapacity], count, g) {
			news |= 1 << axPayload
		}
	}
	for _, a := range r.axes {
		if r.mark(a, at[a], at[axCapacity], count, most) {
			news |= 1 << a
		}
	}
	if news != 0 {
		for c := at[axCapacity]; c < at[axCapacity]+count; c++ {
			r.add(c)
		}
	}
	return news
}

// mark is marks beside a value of one axis that has maps.
func (r *reached) mark(axis, value, from, count int, gate uint8) (news bool) {
	row := r.marked[axis][value*len(r.has)+from:][:count]
	for i, g := range row {
		if g < gate {
			row[i], news = gate, true
		}
	}
	return news
}

// axisSet is a set of axes, by the bits of their places.
type axisSet uint32

func (s axisSet) has(axis int) bool { return s>>axis&1 == 1 }
