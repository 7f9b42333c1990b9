package sweep

import (
	"maps"
	"slices"

	"rotorsieve/model"
)

// total appends what blocks have found.
func (w *writer) total(t *total) {
	w.uint(t.judged)
	w.uint(uint64(len(t.done.ranges)))
	for _, r := range t.done.ranges {
		w.uint(r.from)
		w.uint(r.to)
	}
	w.uint(uint64(len(t.failed)))
	for _, f := range slices.Sorted(maps.Keys(t.failed)) {
		w.text(f)
	}
	for slot := range t.classes {
		k, before := t.class(slot), t.before(slot)
		w.counts(k.Rejected)
		if len(k.Fallen) > 0 { // of one scenario nothing is written
			w.counts(k.Fallen)
		}
		w.uint(k.Feasible)
		ranked := k.rank.sorted()
		w.uint(uint64(len(ranked)))
		each(ranked, w.ranked)
		points := k.front.sorted()
		w.uint(uint64(len(points)))
		for _, x := range points {
			w.ranked(x.Ranked)
			for _, b := range x.box {
				w.int(int(b))
			}
		}
		w.bests(k.Leaders, before.Leaders)
		w.bests(k.ByCells, before.ByCells)
		w.bests(k.Payloads, before.Payloads)
		w.cells(k.Size.Cells, before.Size.Cells)
		each(k.Size.Seen, w.flag)
		for j := range k.Maps {
			w.cells(k.Maps[j].Cells, before.Maps[j].Cells)
		}
		w.flag(k.Nearest.Any)
		w.uint(k.Nearest.Index)
		w.int(k.Nearest.Gate)
		w.float(k.Nearest.Shortfall)
		for g, c := range k.listed {
			w.candidates(c, before.listed[g])
		}
	}
	w.uint(t.audit.Checked)
	w.uint(t.audit.Breaches)
	b := t.audit.First
	w.flag(b != nil)
	if b != nil {
		w.uint(b.Index)
		w.int(b.Scenario)
		w.text(b.Metric.Name)
		w.flag(b.Least)
		w.float(b.Bound)
		w.float(b.Value)
	}
}

// ranking reads designs, best first: turned round they are a heap.
func (r *reader) ranking(into *ranking) {
	n := r.count(leastRanked)
	if n > into.k {
		r.refuse(impossible("%d designs in a ranking of %d", n, into.k))
		return
	}
	into.heap = make([]Ranked, n)
	for i := range n {
		x := r.ranked()
		if i > 0 && into.heap[n-i].compare(x) >= 0 {
			r.refuse(impossible("a ranking out of order at design %d", x.Index))
		}
		into.heap[n-1-i] = x
	}
}

func (r *reader) front() (f front) {
	f.points = make([]FrontPoint, r.count(leastPoint))
	for i := range f.points {
		x := &f.points[i]
		x.Ranked = r.ranked()
		for n := range x.box {
			b := r.int()
			if x.box[n] = int32(b); int(x.box[n]) != b {
				r.refuse(impossible("a Pareto front beyond all values"))
			}
		}
	}
	return f
}

// leastBody is how many bytes a total of the study takes at least, so that what is made
// for it is bounded by what there is to read.
func (s *Study) leastBody() int {
	n := func(axis int) int { return len(s.Grid.axes[axis].Values) }
	groups := newGroups(s.Grid)
	class := leastCell*(n(axDiameter)*(1+n(axCells)+s.SizeBins)+n(axPayload)) +
		n(axDiameter)*s.SizeBins + groups.all // seen in the size map, and candidates
	for _, m := range s.Maps {
		class += leastCell * s.cells(m)
	}
	return len(s.Classes) * class
}

func (r *reader) bounded(s *Study) {
	if least := s.leastBody(); len(r.b) < least {
		r.refuse(unusable("the checkpoint is not whole: %d bytes where its study has %d at least", len(r.b), least))
	}
}

func (r *reader) total(p *plan, s Shard) *total {
	if r.bounded(p.study); r.err != nil {
		return nil
	}
	t := p.newTotal(s)
	t.judged = r.uint()
	t.done = r.positions(p.blocks)
	for range r.count(1) {
		t.failed[r.text()] = true
	}
	for slot := range t.classes {
		k, before := t.class(slot), t.before(slot)
		for g := range r.exactly(len(k.Rejected)) {
			k.Rejected[g] = r.uint()
		}
		if len(k.Fallen) > 0 {
			for g := range r.exactly(len(k.Fallen)) {
				k.Fallen[g] = r.uint()
			}
		}
		k.Feasible = r.uint()
		r.ranking(&k.rank)
		k.front = r.front()
		r.bests(k.Leaders, before.Leaders)
		r.bests(k.ByCells, before.ByCells)
		r.bests(k.Payloads, before.Payloads)
		r.cells(k.Size.Cells, before.Size.Cells)
		for n := range k.Size.Seen {
			k.Size.Seen[n] = r.flag()
		}
		for j := range k.Maps {
			r.cells(k.Maps[j].Cells, before.Maps[j].Cells)
		}
		k.Nearest = Miss{Any: r.flag(), Index: r.uint(), Gate: r.int(), Shortfall: r.float()}
		for g := range k.listed {
			k.hold(g, r.candidates(p, g, before.listed[g]), p.groups.most(g))
		}
		if r.err != nil {
			return t
		}
	}
	t.audit = Audit{Checked: r.uint(), Breaches: r.uint()}
	if r.flag() {
		b := &Breach{Index: r.uint(), Scenario: r.int()}
		var ok bool
		name := r.text()
		if b.Metric, ok = model.LookupMetric(name); !ok {
			r.refuse(impossible("a self-audit of %.40q, which is no metric", name))
			return t
		}
		b.Least, b.Bound, b.Value = r.flag(), r.float(), r.float()
		t.audit.First = b
	}
	return t
}
