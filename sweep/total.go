package sweep

import "slices"

// total is all that finished blocks have found, class by class. The order of adding has
// no effect, so it does not show which worker or shard found what.
type total struct {
	plan    *plan
	shard   Shard
	visits  visits
	classes []classTotal
	done    blockSet // by position
	tally   tally    // of the same
	judged  uint64
	failed  map[string]bool
	audit   Audit
}

type classTotal struct {
	ClassResult
	rank   ranking
	front  front
	listed []*candidates // by group; nil where there is none
}

func (p *plan) newTotal(of Shard) *total {
	s := p.study
	t := &total{plan: p, shard: of, visits: p.visits(of), classes: make([]classTotal, len(s.Classes)),
		tally: p.newTally(), failed: map[string]bool{}}
	n := func(axis int) int { return len(s.Grid.axes[axis].Values) }
	for i := range t.classes {
		k := &t.classes[i]
		k.Class = s.Classes[i]
		k.Rejected = make([]uint64, len(p.gates))
		k.Fallen = make([]uint64, len(p.gates)*len(p.others))
		k.rank.k = s.Top
		k.listed = make([]*candidates, p.groups.all)
		k.Leaders = make([]Best, n(axDiameter))
		k.ByCells = make([]Best, n(axDiameter)*n(axCells))
		k.Payloads = make([]Best, n(axPayload))
		k.Size = SizeMap{Bins: s.SizeBins, Width: p.binWidth, Diameters: n(axDiameter),
			Cells: make([]Cell, n(axDiameter)*s.SizeBins), Seen: make([]bool, n(axDiameter)*s.SizeBins)}
		for _, m := range s.Maps {
			x, y := s.Grid.place(m.X), s.Grid.place(m.Y)
			k.Maps = append(k.Maps, Map{Spec: m, NX: n(x), NY: n(y), Cells: make([]Cell, n(x)*n(y))})
		}
	}
	return t
}

// floor is the worst design of a full ranking, which a further one must beat;
// nil while the ranking has room.
func (c *classTotal) floor() *Ranked {
	if len(c.rank.heap) < c.rank.k {
		return nil
	}
	worst := c.rank.heap[0]
	return &worst
}

// add takes in a block, of which at is the first coordinate and end past the
// last.
func (t *total) add(b uint64, at, end *coord, found []*gatherer) {
	p := t.plan
	t.done.add(t.visits.of(b))
	t.tally.add(at)
	t.judged += p.blockSize
	for i, x := range found {
		k := &t.classes[i]
		for g, n := range x.rejected {
			k.Rejected[g] += n
		}
		for g, n := range x.fallen {
			k.Fallen[g] += n
		}
		if x.miss.Any {
			k.Nearest.add(x.miss)
		}
		if !x.touched {
			continue
		}
		k.Feasible += x.feasible
		for _, r := range x.rank.heap {
			k.rank.add(r)
		}
		for _, f := range x.front.points {
			k.front.add(f)
		}
		for i := range x.listing.lists {
			l := &x.listing.lists[i]
			k.list(l.group, &l.candidates, p.groups.most(l.group))
		}
		d := at[axDiameter]
		merit := &x.views[0]
		k.Leaders[d].merge(merit.block.Best)
		cells := merit.axes[axCells]
		for c := at[axCells]; c < end[axCells]; c++ {
			k.ByCells[d*len(cells)+c].merge(cells[c].Best)
		}
		for c := at[axPayload]; c < end[axPayload]; c++ {
			k.Payloads[c].merge(merit.axes[axPayload][c].Best)
		}
		size := k.Size.Cells[d*k.Size.Bins:][:k.Size.Bins]
		seen := k.Size.Seen[d*k.Size.Bins:][:k.Size.Bins]
		for c := range x.size {
			size[c].merge(x.size[c])
			seen[c] = seen[c] || x.seen[c]
		}
		for v := range p.views {
			for _, m := range p.views[v].maps {
				t.addMap(&k.Maps[m.at], m, &p.views[v], &x.views[v], at, end, &x.reached)
			}
		}
	}
}

func (t *total) addMap(into *Map, m mapPlan, spec *view, x *viewGatherer, at, end *coord, r *reached) {
	depth := t.plan.depth
	cell := func(i, j int) *Cell { return &into.Cells[j*into.NX+i] }
	switch {
	case m.x < depth && m.y < depth:
		cell(at[m.x], at[m.y]).merge(x.block)
	case m.x < depth:
		for j := range r.each(m.y, at, end) {
			cell(at[m.x], j).merge(x.axes[m.y][j])
		}
	case m.y < depth:
		for i := range r.each(m.x, at, end) {
			cell(i, at[m.y]).merge(x.axes[m.x][i])
		}
	case m.x < m.y:
		pair := x.pairs[spec.pairAt[m.x][m.y]-1]
		for i := range r.each(m.x, at, end) {
			for j := range r.each(m.y, at, end) {
				cell(i, j).merge(pair[i*into.NY+j])
			}
		}
	default:
		pair := x.pairs[spec.pairAt[m.y][m.x]-1]
		for j := range r.each(m.y, at, end) {
			for i := range r.each(m.x, at, end) {
				cell(i, j).merge(pair[j*into.NX+i])
			}
		}
	}
}

// merge takes in what other blocks of the same study have found.
func (t *total) merge(o *total) {
	t.judged += o.judged
	t.done.merge(&o.done)
	t.tally.merge(&o.tally)
	t.audit.add(o.audit)
	for f := range o.failed {
		t.failed[f] = true
	}
	for i := range t.classes {
		a, b := &t.classes[i], &o.classes[i]
		for g := range a.Rejected {
			a.Rejected[g] += b.Rejected[g]
		}
		for g := range a.Fallen {
			a.Fallen[g] += b.Fallen[g]
		}
		a.Feasible += b.Feasible
		for _, x := range b.rank.heap {
			a.rank.add(x)
		}
		a.front.merge(&b.front)
		for g, c := range b.listed {
			a.list(g, c, t.plan.groups.most(g))
		}
		mergeBests(a.Leaders, b.Leaders)
		mergeBests(a.ByCells, b.ByCells)
		mergeBests(a.Payloads, b.Payloads)
		for j := range a.Maps {
			mergeCells(a.Maps[j].Cells, b.Maps[j].Cells)
		}
		mergeCells(a.Size.Cells, b.Size.Cells)
		for n := range a.Size.Seen {
			a.Size.Seen[n] = a.Size.Seen[n] || b.Size.Seen[n]
		}
		if b.Nearest.Any {
			a.Nearest.add(b.Nearest)
		}
	}
}

func mergeBests(into, from []Best) {
	for i := range from {
		into[i].merge(from[i])
	}
}

// leading gives the best of each class that has one.
func (t *total) leading() (out []Leading) {
	diameters := t.plan.study.Grid.axes[axDiameter].Values
	for i := range t.classes {
		var best Best
		at := 0
		for d, x := range t.classes[i].Leaders {
			if x.Any && (!best.Any || x.compare(best.Ranked) < 0) {
				best, at = x, d
			}
		}
		if best.Any {
			out = append(out, Leading{t.classes[i].Class, diameters[at], best.Score})
		}
	}
	return out
}

// has says whether a block is done.
func (t *total) has(block uint64) bool {
	position, ok := t.visits.position(block)
	return ok && t.done.contains(position)
}

// result puts what has been found in order.
func (t *total) result() *Result {
	r := &Result{Gates: t.plan.gates, Audit: t.audit, Shard: t.shard, Done: t.judged,
		Share: (t.visits.last - t.visits.first) * t.plan.blockSize, Judged: t.tally.byDiameter(t.plan),
		block: t.plan.blockSize}
	for _, n := range t.plan.study.Grid.count[:t.plan.depth] {
		if n > 1 {
			r.between++
		}
	}
	r.Complete = r.Done == r.Share
	for i := range t.classes {
		k := &t.classes[i]
		c := k.ClassResult
		c.Ranking = k.rank.sorted()
		c.Front = k.front.sorted()
		c.OfValues, c.Candidates = k.candidates(&t.plan.groups)
		for n := range c.Maps {
			c.Maps[n].Judged = t.tally.whole(t.plan, n)
		}
		r.Classes = append(r.Classes, c)
	}
	for f := range t.failed {
		r.Failed = append(r.Failed, f)
	}
	slices.Sort(r.Failed)
	return r
}

// blockSet is a set of blocks by position, as ranges in rising order with gaps between.
// Positions are handed out in order, so the ranges are few.
type blockSet struct{ ranges []blockRange }

type blockRange struct{ from, to uint64 } // to is past the last

func (s *blockSet) add(b uint64) { s.addRange(blockRange{b, b + 1}) }

func (s *blockSet) addRange(r blockRange) {
	i, _ := slices.BinarySearchFunc(s.ranges, r.from, func(x blockRange, from uint64) int {
		if x.to < from {
			return -1
		}
		return 1
	})
	j := i
	for j < len(s.ranges) && s.ranges[j].from <= r.to {
		r.from, r.to = min(r.from, s.ranges[j].from), max(r.to, s.ranges[j].to)
		j++
	}
	s.ranges = slices.Replace(s.ranges, i, j, r)
}

func (s *blockSet) contains(b uint64) bool {
	_, ok := slices.BinarySearchFunc(s.ranges, b, func(x blockRange, b uint64) int {
		switch {
		case x.to <= b:
			return -1
		case x.from > b:
			return 1
		}
		return 0
	})
	return ok
}

func (s *blockSet) merge(o *blockSet) {
	for _, r := range o.ranges {
		s.addRange(r)
	}
}

// size is the number of blocks in the set.
func (s *blockSet) size() uint64 {
	var n uint64
	for _, r := range s.ranges {
		n += r.to - r.from
	}
	return n
}
