package sweep

import (
	"math"
	"math/bits"
	"sync/atomic"

	"rotorsieve/model"
)

// incumbents hold, for every place in which a best design is kept, the score of the
// best that any worker has found for it. A design that can beat none of the incumbents
// of its places, nor the ranking and the front, changes no result but the count of
// feasible designs, so that it need not be flown, nor slow metrics of it be read.
// Incumbents only rise and are read without a lock: one read too early is low, and spares
// less.
type incumbents struct{ classes []classIncumbents } // by slot

type classIncumbents struct {
	size     []incumbent   // as SizeMap.Cells, whose places lie within those of the leaders by diameter
	byCells  []incumbent   // as ClassResult.ByCells
	payloads []incumbent   // as ClassResult.Payloads
	maps     [][]incumbent // as Map.Cells
}

// incumbent is a score that only rises.
type incumbent struct{ bits atomic.Uint64 } // of a float64

func (m *incumbent) score() float64 { return math.Float64frombits(m.bits.Load()) }

// raise says whether it did.
func (m *incumbent) raise(score float64) bool {
	for {
		old := m.bits.Load()
		if !(score > math.Float64frombits(old)) {
			return false
		}
		if m.bits.CompareAndSwap(old, math.Float64bits(score)) {
			return true
		}
	}
}

func unset(n int) []incumbent {
	m := make([]incumbent, n)
	for i := range m {
		m[i].bits.Store(math.Float64bits(math.Inf(-1)))
	}
	return m
}

// newIncumbents are those of a run that has found nothing.
func (p *plan) newIncumbents() *incumbents {
	s := p.study
	n := func(axis int) int { return len(s.Grid.axes[axis].Values) }
	all := &incumbents{classes: make([]classIncumbents, len(s.Classes))}
	for i := range all.classes {
		k := &all.classes[i]
		k.size = unset(n(axDiameter) * s.SizeBins)
		k.byCells = unset(n(axDiameter) * n(axCells))
		k.payloads = unset(n(axPayload))
		k.maps = make([][]incumbent, len(s.Maps))
		for at, spec := range s.Maps {
			k.maps[at] = unset(s.cells(spec))
		}
	}
	return all
}

// line holds, by view, the lowest incumbent of the maps that are the same for all payloads
// of a line, and of those that are for all its capacities as well.
type line struct {
	least, still      []float64
	known, knowsStill uint64 // of which line, and of which slots.stillAt
}

// lowest is the lowest incumbent of some maps, at most least.
func (k *classIncumbents) lowest(maps []mapPlan, at *coord, least float64) float64 {
	for i := range maps {
		m := &maps[i]
		if s := k.maps[m.at][m.cell(at)].score(); s < least {
			least = s
		}
	}
	return least
}

// foresee takes an operated craft as far as its level flight can be bounded.
func (w *worker) foresee(stage model.Stage) model.Stage {
	for stage < model.StageEndure {
		stage++
		w.craft.Advance(stage)
	}
	w.craft.Foresee(&w.reach)
	return stage
}

// see foresees the current design, once, where its flight is to be bounded.
func (w *worker) see() {
	if w.stage < w.need && !w.seen {
		w.seen, w.stage = true, w.foresee(w.stage)
	}
}

// lost says whether a foreseen design can neither keep a requirement on its flight nor
// be the nearest miss of a class that it is in. A heavier class has one at least as near.
func (w *worker) lost(r *Requirement, gate int, index, in uint64) bool {
	if r.AtLeast != (r.Metric.Better == model.Higher) || r.Metric.Better == model.Neither {
		return false
	}
	v := w.atBest(r.Metric, &w.craft)
	if r.Kept(v) {
		return false
	}
	bound := Miss{Index: index, Gate: gate, Shortfall: r.Shortfall(v), Any: true}
	for ; in != 0; in &= in - 1 {
		if !w.missed(bits.TrailingZeros64(in), bound) {
			return false
		}
	}
	return true
}

// missed says whether the class of a slot has a nearer miss than a bound on one.
func (w *worker) missed(slot int, bound Miss) bool {
	x := &w.found[slot].miss
	return w.miss[slot].Any && w.miss[slot].compare(bound) < 0 || x.Any && x.compare(bound) < 0
}

// betters says whether a feasible design could change what is kept of one of some slots: that
// some scenario does not rule out.
func (w *worker) betters(at *coord, in uint64, bin int) bool {
	w.scene.share.begin()
	if in = w.mattering(at, in, bin); in == 0 {
		return false
	}
	for _, o := range w.others {
		if in = o.mattering(at, in, bin); in == 0 {
			return false
		}
	}
	return true
}

// mattering gives those of some slots of which a feasible design could change what is kept, as far
// as the worker's scenario tells.
func (w *worker) mattering(at *coord, in uint64, bin int) uint64 {
	c := &w.craft
	guess := w.stage < w.need || w.slow
	for w.stage < min(w.need, model.StageEndure) {
		w.stage++
		c.Advance(w.stage)
	}
	w.bounded.payload()
	w.bounded.held = guess && w.hold(at[axPayload])
	if !w.bounded.held || w.sights {
		w.see()
	}
	asked, left := in, in
	for ; in != 0; in &= in - 1 {
		i := bits.TrailingZeros64(in)
		if w.byClass {
			w.bounded.payload()
		}
		c.Limit = w.limit(i)
		switch h := w.scene.share; {
		case !w.matters(i, at, bin):
			left &^= 1 << i
		case h != nil:
			h.earlier[i] += w.upper.most(&w.bounded)
		case w.scene.at == 0 && len(w.others) == 0:
			return left // one class is enough
		}
	}
	w.trusted = w.trusted || left != asked && guess
	return left
}

// matters says whether a feasible design that has been foreseen could change what
// is kept of a slot's class.
func (w *worker) matters(class int, at *coord, bin int) bool {
	c := &w.craft
	k := &w.incumbents.classes[class]
	d := at[axDiameter]
	// The lowest incumbent of all places that are scored by merit.
	least := min(k.size[d*w.study.SizeBins+bin].score(), k.payloads[at[axPayload]].score(),
		k.byCells[d*len(w.study.Grid.axes[axCells].Values)+at[axCells]].score(), w.ranked(class))
	l := &w.lines[class]
	if l.known != w.lineAt {
		for v := range w.views {
			if l.knowsStill != w.stillAt {
				l.still[v] = k.lowest(w.views[v].others, at, math.Inf(1))
			}
			l.least[v] = k.lowest(w.views[v].byCapacity, at, l.still[v])
		}
		l.known, l.knowsStill = w.lineAt, w.stillAt
	}
	for v := range w.views {
		lowest := k.lowest(w.views[v].byPayload, at, l.least[v])
		if t := w.views[v].metric; t == nil || t.Better == model.Neither {
			least = min(least, lowest)
		} else if !(mapScore(t, w.atBest(t, c), 0) < lowest) {
			return true
		}
	}
	return w.upper.reaches(&w.bounded, c, w.asks(class, least)) || len(w.front.metrics) > 0 &&
		!w.shades[class].covers(w.frontBest()) || w.listable(class, at)
}

// ranked is the score that a class's ranking requires.
func (w *worker) ranked(class int) float64 {
	least := math.Inf(-1)
	if f := w.floors[class]; f != nil {
		least = f.Score
	}
	if r := &w.found[class].rank; len(r.heap) == r.k {
		least = max(least, r.heap[0].Score)
	}
	return least
}

// install raises the incumbents of the last design that has been kept, in a slot.
func (w *worker) install(slot int, at *coord, bin int) {
	w.stillAt++
	score, scores := w.finds[len(w.finds)-1].Score, w.scores[len(w.scores)-len(w.views):]
	d := at[axDiameter]
	of, top := w.incumbents.classes, w.top(slot)
	size := d*w.study.SizeBins + bin
	for s := slot; s < top && of[s].size[size].raise(score); s++ {
	}
	for s := slot; s < top && of[s].payloads[at[axPayload]].raise(score); s++ {
	}
	cells := d*len(w.study.Grid.axes[axCells].Values) + at[axCells]
	for s := slot; s < top && of[s].byCells[cells].raise(score); s++ {
	}
	for v := range w.views {
		for i := range w.views[v].maps {
			m := &w.views[v].maps[i]
			cell := m.cell(at)
			for s := slot; s < top && of[s].maps[m.at][cell].raise(scores[v]); s++ {
			}
		}
	}
}
