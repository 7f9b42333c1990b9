package sweep

import "encoding/binary"

// reach notes what a ground has for the cells of maps. Most brings nothing new, so that pairs of inner axes
// are compared by eight cells at once.
func (t *total) reach(sheet int, x *ground, at, end *coord) {
	p := t.plan
	r := &x.reached
	for i := range p.inner.lone {
		m := &p.inner.lone[i]
		switch {
		case m.x < p.depth && m.y < p.depth:
			t.reachCell(sheet, i, m.cell(at), x.block)
		case m.x < p.depth:
			for j := range r.each(m.y, at, end) {
				t.reachCell(sheet, i, j*m.nx+at[m.x], x.axes[m.y][j])
			}
		default:
			for j := range r.each(m.x, at, end) {
				t.reachCell(sheet, i, at[m.y]*m.nx+j, x.axes[m.x][j])
			}
		}
	}
	for q := range p.inner.pairs {
		cells, known := x.pairs[q], t.known[sheet].pairs[q]
		if r.few(p.inner.pairs[q]) {
			t.reachFew(sheet, q, cells, r)
			continue
		}
		n := 0
		for ; n+8 <= len(cells); n += 8 {
			if len(p.gates) > 128 || beyond(cells[n:], known[n:]) {
				t.reachPairs(sheet, q, n, cells[n:n+8])
			}
		}
		t.reachPairs(sheet, q, n, cells[n:])
	}
}

// reachFew is reach of a pair with the capacity, of which few were reached.
func (t *total) reachFew(sheet, pair int, cells []uint8, r *reached) {
	n := len(r.has)
	if t.plan.inner.pairs[pair].b == axCapacity {
		for row := 0; row < len(cells); row += n {
			for _, c := range r.list {
				t.reachPairs(sheet, pair, row+c, cells[row+c:row+c+1])
			}
		}
		return
	}
	m := len(cells) / n
	for _, c := range r.list {
		t.reachPairs(sheet, pair, c*m, cells[c*m:][:m])
	}
}

// beyond says whether one of eight marks, which are below 128, is further than its counterpart.
func beyond(marks, known []uint8) bool {
	const high = 0x8080808080808080
	left := (binary.LittleEndian.Uint64(known) | high) - binary.LittleEndian.Uint64(marks)
	return left&high != high
}

// reachCell notes a mark in a cell of a lone map.
func (t *total) reachCell(sheet, lone, cell int, mark uint8) {
	if k := &t.known[sheet].lone[lone][cell]; *k < mark {
		*k = mark
		t.reachMap(sheet, mark, t.plan.inner.lone[lone].at, cell)
	}
}

// reachPairs notes marks in the cells of a pair from one on.
func (t *total) reachPairs(sheet, pair, from int, marks []uint8) {
	known := t.known[sheet].pairs[pair][from:][:len(marks)]
	for n, mark := range marks {
		if known[n] >= mark {
			continue
		}
		known[n] = mark
		q := &t.plan.inner.pairs[pair]
		nb := len(t.plan.study.Grid.axes[q.b].Values)
		var at coord
		at[q.a], at[q.b] = (from+n)/nb, (from+n)%nb
		for i := range q.maps {
			m := &q.maps[i]
			t.reachMap(sheet, mark, m.at, m.cell(&at))
		}
	}
}

// reachMap notes a mark of a ground in a cell of a map, in all classes up from where it is that do not have it.
func (t *total) reachMap(sheet int, mark uint8, at, cell int) {
	p := t.plan
	slot, gate := sheet, mark
	if p.byGate {
		slot, gate = len(p.byLimit)-int(mark), uint8(sheet)
	}
	for s := slot; s < p.top(slot) && t.class(s).Maps[at].Cells[cell].reach(gate); s++ {
	}
}
