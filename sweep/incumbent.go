package sweep

import (
	"math"
	"sync/atomic"

	"rotorsieve/model"
)

// incumbents hold, for every place in which a best design is kept, the score of the
// best that any worker has found for it. A design that can beat none of the incumbents
// of its places, nor the ranking and the front, changes no result but the count of
// feasible designs, so that it need not be flown, nor slow metrics of it be read.
// Incumbents only rise and are read without a lock: one read too early is low, and spares
// less.
type incumbents struct{ classes []classIncumbents }

type classIncumbents struct {
	size     []incumbent   // as SizeMap.Cells, whose places lie within those of the leaders by diameter
	byCells  []incumbent   // as ClassResult.ByCells
	payloads []incumbent   // as ClassResult.Payloads
	maps     [][]incumbent // as Map.Cells
}

// incumbent is a score that only rises.
type incumbent struct{ bits atomic.Uint64 } // of a float64

func (m *incumbent) score() float64 { return math.Float64frombits(m.bits.Load()) }

func (m *incumbent) raise(score float64) {
	for {
		old := m.bits.Load()
		if !(score > math.Float64frombits(old)) || m.bits.CompareAndSwap(old, math.Float64bits(score)) {
			return
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
	known, knowsStill bool
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
// be the nearest miss of a class that it is in.
func (w *worker) lost(r *Requirement, gate int, index, in uint64) bool {
	if r.AtLeast != (r.Metric.Better == model.Higher) || r.Metric.Better == model.Neither {
		return false
	}
	v := w.atBest(r.Metric, &w.craft)
	if r.Kept(v) {
		return false
	}
	bound := Miss{Index: index, Gate: gate, Shortfall: r.Shortfall(v), Any: true}
	for i, x := range w.found {
		if in>>i&1 == 1 && !(w.miss[i].Any && w.miss[i].compare(bound) < 0 || x.miss.Any && x.miss.compare(bound) < 0) {
			return false
		}
	}
	return true
}

// betters says whether a feasible design could change what is kept of one of some classes: that
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

// mattering gives those of some classes of which a feasible design could change what is kept, as far
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
	left := in
	for i := range w.found {
		if in>>i&1 == 0 {
			continue
		}
		if w.byClass {
			w.bounded.payload()
		}
		c.Limit = w.study.Classes[i].Limit
		switch h := w.scene.share; {
		case !w.matters(i, at, bin):
			left &^= 1 << i
		case h != nil:
			h.earlier[i] += w.upper.most(&w.bounded)
		case w.scene.at == 0 && len(w.others) == 0:
			return left // one class is enough
		}
	}
	w.trusted = w.trusted || left != in && guess
	return left
}

// matters says whether a feasible design that has been foreseen could change what
// is kept of a class.
func (w *worker) matters(class int, at *coord, bin int) bool {
	c := &w.craft
	k := &w.incumbents.classes[class]
	d := at[axDiameter]
	// The lowest incumbent of all places that are scored by merit.
	least := min(k.size[d*w.study.SizeBins+bin].score(), k.payloads[at[axPayload]].score(),
		k.byCells[d*len(w.study.Grid.axes[axCells].Values)+at[axCells]].score(), w.ranked(class))
	l := &w.lines[class]
	if !l.known {
		for v := range w.views {
			if !l.knowsStill {
				l.still[v] = k.lowest(w.views[v].others, at, math.Inf(1))
			}
			l.least[v] = k.lowest(w.views[v].byCapacity, at, l.still[v])
		}
		l.known, l.knowsStill = true, true
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
		!w.shades[class].covers(w.frontBest()) || w.listable(class, at[axPayload])
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

// install raises the incumbents of a design that has been kept.
func (w *worker) install(class int, at *coord, bin int, score float64) {
	k := &w.incumbents.classes[class]
	w.lines[class].knowsStill = false
	d := at[axDiameter]
	k.size[d*w.study.SizeBins+bin].raise(score)
	k.payloads[at[axPayload]].raise(score)
	k.byCells[d*len(w.study.Grid.axes[axCells].Values)+at[axCells]].raise(score)
	for v := range w.views {
		y := score
		if t := w.views[v].metric; t != nil {
			y = mapScore(t, WorstOf(t, w.crafts), score)
		}
		for i := range w.views[v].maps {
			m := &w.views[v].maps[i]
			k.maps[m.at][m.cell(at)].raise(y)
		}
	}
}
