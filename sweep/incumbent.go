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
type incumbents struct {
	slots    int
	size     places   // as SizeMap.Cells, whose places lie within those of the leaders by diameter
	byCells  places   // as ClassResult.ByCells
	payloads places   // as ClassResult.Payloads
	maps     []places // as Map.Cells
}

// places are incumbents by place, those of all slots side by side: designs go from slot to slot.
type places []incumbent

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

// newIncumbents are those of a run that has found nothing.
func (p *plan) newIncumbents() *incumbents {
	s := p.study
	n := func(axis int) int { return len(s.Grid.axes[axis].Values) }
	k := &incumbents{slots: len(s.Classes)}
	k.size = k.unset(n(axDiameter) * s.SizeBins)
	k.byCells = k.unset(n(axDiameter) * n(axCells))
	k.payloads = k.unset(n(axPayload))
	for _, spec := range s.Maps {
		k.maps = append(k.maps, k.unset(s.cells(spec)))
	}
	return k
}

func (k *incumbents) unset(n int) places {
	m := make(places, n*k.slots)
	for i := range m {
		m[i].bits.Store(math.Float64bits(math.Inf(-1)))
	}
	return m
}

// score is that of a place and slot.
func (k *incumbents) score(of places, place, slot int) float64 { return of[place*k.slots+slot].score() }

// raise raises a place from a slot up, to the last before one that it raises nothing of.
func (k *incumbents) raise(of places, place, slot, top int, score float64) {
	all := of[place*k.slots:][:top]
	for i := slot; i < top && all[i].raise(score); i++ {
	}
}

// line holds, by view, the lowest incumbent of the maps that are the same for all payloads
// of a line, and of those that are for all its capacities as well.
type line struct {
	least, still      []float64
	known, knowsStill uint64 // of which line, and of which slots.stillAt
}

// lowest is the lowest incumbent of some maps in a slot, at most least.
func (k *incumbents) lowest(slot int, maps []mapPlan, at *coord, least float64) float64 {
	for i := range maps {
		m := &maps[i]
		if s := k.score(k.maps[m.at], m.cell(at), slot); s < least {
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
	k := w.incumbents
	d := at[axDiameter]
	// The lowest incumbent of all places that are scored by merit.
	least := min(k.score(k.size, d*w.study.SizeBins+bin, class), k.score(k.payloads, at[axPayload], class),
		k.score(k.byCells, d*len(w.study.Grid.axes[axCells].Values)+at[axCells], class), w.ranked(class))
	l := &w.lines[class]
	if l.known != w.lineAt {
		for v := range w.views {
			if l.knowsStill != w.stillAt {
				l.still[v] = k.lowest(class, w.views[v].others, at, math.Inf(1))
			}
			l.least[v] = k.lowest(class, w.views[v].byCapacity, at, l.still[v])
		}
		l.known, l.knowsStill = w.lineAt, w.stillAt
	}
	for v := range w.views {
		lowest := k.lowest(class, w.views[v].byPayload, at, l.least[v])
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
	k, top := w.incumbents, w.top(slot)
	k.raise(k.size, d*w.study.SizeBins+bin, slot, top, score)
	k.raise(k.payloads, at[axPayload], slot, top, score)
	k.raise(k.byCells, d*len(w.study.Grid.axes[axCells].Values)+at[axCells], slot, top, score)
	for v := range w.views {
		for i := range w.views[v].maps {
			m := &w.views[v].maps[i]
			k.raise(k.maps[m.at], m.cell(at), slot, top, scores[v])
		}
	}
}
