package sweep

import (
	"math/bits"
	"slices"
)

// total is all that finished blocks have found, class by class. The order of adding has
// no effect, so it does not show which worker or shard found what.
type total struct {
	plan    *plan
	shard   Shard
	visits  visits
	classes []classTotal
	finds   finds    // best designs that the classes have yet to be told of
	known   []known  // by ground
	done    blockSet // by position
	tally   tally    // of the same
	judged  uint64
	failed  map[string]bool
	audit   Audit
	sum     []uint64 // of the block that is added: rejected, and fallen
}

type classTotal struct {
	ClassResult
	rank   ranking
	front  front
	listed []*candidates // by group; nil where there is none
	lasts  []lasts       // the same
}

// known is what blocks have brought of a ground.
type known struct {
	pairs [][]uint8 // by pairs of the plan
	lone  [][]uint8 // by cells of its lone maps
}

func (p *plan) newTotal(of Shard) *total {
	s := p.study
	t := &total{plan: p, shard: of, visits: p.visits(of), classes: make([]classTotal, len(s.Classes)),
		tally: p.newTally(), failed: map[string]bool{}, sum: make([]uint64, len(p.gates)*(1+len(p.others)))}
	n := func(axis int) int { return len(s.Grid.axes[axis].Values) }
	t.known = make([]known, p.sheets())
	for i := range t.known {
		k := &t.known[i]
		for _, q := range p.inner.pairs {
			k.pairs = append(k.pairs, make([]uint8, n(q.a)*n(q.b)))
		}
		for _, m := range p.inner.lone {
			k.lone = append(k.lone, make([]uint8, m.nx*n(m.y)))
		}
	}
	for i := range t.classes {
		k := &t.classes[i]
		k.Class = s.Classes[i]
		k.Rejected = make([]uint64, len(p.gates))
		k.Fallen = make([]uint64, len(p.gates)*len(p.others))
		k.rank.k = s.Top
		k.listed = make([]*candidates, p.groups.all)
		k.lasts = newLasts(p.groups.all)
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

// add takes in a block, of which at is the first coordinate and end past the last. What a slot has
// found goes up through the classes from its own, as long as it betters something.
func (t *total) add(b uint64, at, end *coord, found *slots) {
	p := t.plan
	t.done.add(t.visits.of(b))
	t.tally.add(at)
	t.judged += p.blockSize
	t.count(found)
	for in := found.open; in != 0; in &= in - 1 {
		slot := bits.TrailingZeros64(in)
		if m := found.over[slot]; m.Any {
			t.class(slot).Nearest.add(m)
		}
	}
	for in := found.used; in != 0; in &= in - 1 {
		slot := bits.TrailingZeros64(in)
		x := found.found[slot]
		up := func(do func(k *classTotal) (changed bool)) {
			for s := slot; s < p.top(slot) && do(t.class(s)); s++ {
			}
		}
		if x.miss.Any {
			up(func(k *classTotal) bool { return k.Nearest.add(x.miss) })
		}
		for _, r := range x.rank.heap {
			up(func(k *classTotal) bool { return k.rank.add(r) })
		}
		for _, f := range x.front.points {
			up(func(k *classTotal) bool { return k.front.take(f) })
		}
		d := at[axDiameter]
		for c, gate := range x.size {
			if !x.seen[c] {
				continue
			}
			n := d*len(x.size) + c
			up(func(k *classTotal) bool {
				had := k.Size.Seen[n]
				k.Size.Seen[n] = true
				return k.Size.Cells[n].reach(gate) || !had
			})
		}
	}
	for in := found.touched; in != 0; in &= in - 1 {
		sheet := bits.TrailingZeros64(in)
		t.reach(sheet, found.grounds[sheet], at, end)
	}
	if len(found.finds) > 0 && t.finds.slots == 0 {
		t.finds = p.newFinds() // a total that is read has none
	}
	for i := len(found.finds) - 1; i >= 0; i-- { // the last first, which have bettered the others
		t.finds.add(p, &found.finds[i], found.scores[i*len(p.views):])
	}
	slices.SortFunc(found.handed, func(a, b handed) int { return a.compare(b.Ranked) }) // the best first
	var memory [axisCount]int
	for i := range found.handed {
		x := &found.handed[i]
		for n, group := range p.groups.of(x.Index, memory[:0]) {
			if x.groups>>n&1 == 0 {
				continue
			}
			most := p.groups.most(group)[x.level]
			for s := int(x.slot); s < int(x.top) && t.class(s).take(group, int(x.level), x.Build, most); s++ {
			}
		}
	}
}

// class is the class of a slot.
func (t *total) class(slot int) *classTotal { return &t.classes[t.plan.byLimit[slot]] }

// before is the class of the slot before one; of the first it has nothing.
func (t *total) before(slot int) *classTotal {
	if slot == 0 {
		k := &classTotal{listed: make([]*candidates, t.plan.groups.all)}
		k.Maps = make([]Map, len(t.plan.study.Maps))
		return k
	}
	return t.class(slot - 1)
}

// count adds the tally of a block. A class has those of its slot and, where classes are nested, of all
// before; the rest is too heavy for it.
func (t *total) count(found *slots) {
	p := t.plan
	n := len(p.gates)
	clear(t.sum)
	rejected, fallen := t.sum[:n], t.sum[n:]
	var feasible uint64
	for slot := range p.byLimit {
		if found.used>>slot&1 == 1 {
			x := found.found[slot]
			for g, n := range x.rejected {
				rejected[g] += n
			}
			for g, n := range x.fallen {
				fallen[g] += n
			}
			feasible += x.feasible
		}
		k := t.class(slot)
		left := p.blockSize - feasible
		for g, n := range rejected {
			k.Rejected[g] += n
			left -= n
		}
		k.Rejected[GateClass] += left
		for g, n := range fallen {
			k.Fallen[g] += n
		}
		k.Feasible += feasible
		if !p.nested {
			clear(t.sum)
			feasible = 0
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

func mergeCells(into, from []Cell) {
	for i := range from {
		into[i].merge(from[i])
	}
}

func mergeBests(into, from []Best) {
	for i := range from {
		into[i].merge(from[i])
	}
}

// leading gives the best of each class that has one.
func (t *total) leading() (out []Leading) {
	t.settleOf(t.finds.leaders, leader)
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
	t.settle()
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
