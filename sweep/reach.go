package sweep

import "encoding/binary"

// reach notes the furthest gates that the designs of a slot have come to in the cells of maps. Most
// bring nothing new, so that pairs of inner axes are compared by eight cells at once.
func (t *total) reach(slot int, x *gateGatherer, r *reached, at, end *coord) {
	p := t.plan
	for i := range p.inner.lone {
		m := &p.inner.lone[i]
		switch {
		case m.x < p.depth && m.y < p.depth:
			t.reachCell(slot, i, m.cell(at), x.block)
		case m.x < p.depth:
			for j := range r.each(m.y, at, end) {
				t.reachCell(slot, i, j*m.nx+at[m.x], x.axes[m.y][j])
			}
		default:
			for j := range r.each(m.x, at, end) {
				t.reachCell(slot, i, at[m.y]*m.nx+j, x.axes[m.x][j])
			}
		}
	}
	for q := range p.inner.pairs {
		cells, known := x.pairs[q], t.class(slot).pairs[q]
		if r.few(p.inner.pairs[q]) {
			t.reachFew(slot, q, cells, r)
			continue
		}
		n := 0
		for ; n+8 <= len(cells); n += 8 {
			if len(p.gates) > 128 || beyond(cells[n:], known[n:]) {
				t.reachPairs(slot, q, n, cells[n:n+8])
			}
		}
		t.reachPairs(slot, q, n, cells[n:])
	}
}

// reachFew is reach of a pair with the capacity, of which few were reached.
func (t *total) reachFew(slot, pair int, cells []uint8, r *reached) {
	n := len(r.has)
	if t.plan.inner.pairs[pair].b == axCapacity {
		for row := 0; row < len(cells); row += n {
			for _, c := range r.list {
				t.reachPairs(slot, pair, row+c, cells[row+c:row+c+1])
			}
		}
		return
	}
	m := len(cells) / n
	for _, c := range r.list {
		t.reachPairs(slot, pair, c*m, cells[c*m:][:m])
	}
}

// beyond says whether one of eight gates, which are below 128, is further than its counterpart.
func beyond(gates, known []uint8) bool {
	const high = 0x8080808080808080
	left := (binary.LittleEndian.Uint64(known) | high) - binary.LittleEndian.Uint64(gates)
	return left&high != high
}

// reachCell notes a gate in a cell of a lone map.
func (t *total) reachCell(slot, lone, cell int, gate uint8) {
	p := t.plan
	for s := slot; s < p.top(slot) && t.class(s).lone[lone][cell] < gate; s++ {
		k := t.class(s)
		k.lone[lone][cell] = gate
		k.Maps[p.inner.lone[lone].at].Cells[cell].reach(gate)
	}
}

// reachPairs notes gates in the cells of a pair from one on.
func (t *total) reachPairs(slot, pair, from int, gates []uint8) {
	p := t.plan
	q := &p.inner.pairs[pair]
	nb := len(p.study.Grid.axes[q.b].Values)
	for n, gate := range gates {
		var at coord
		at[q.a], at[q.b] = (from+n)/nb, (from+n)%nb
		for s := slot; s < p.top(slot) && t.class(s).pairs[pair][from+n] < gate; s++ {
			k := t.class(s)
			k.pairs[pair][from+n] = gate
			for i := range q.maps {
				m := &q.maps[i]
				k.Maps[m.at].Cells[m.cell(&at)].reach(gate)
			}
		}
	}
}
