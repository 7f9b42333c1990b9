package sweep

import (
	"math"

	"rotorsieve/model"
)

// runMatters says whether a feasible design of the run could change what is kept of a slot's class,
// at a payload and in the bins of weight from low to high. Where classes are nested it says the same of the heavier
// ones that the run is in: what betters nothing of a class betters nothing of these, and bins that begin beyond it
// are held against the first class that has them.
func (w *worker) runMatters(class, payload, low, high int, lightest float64) bool {
	r := &w.runs
	k := w.incumbents
	d := r.at[axDiameter]
	least := min(k.score(k.payloads, payload, class), w.ranked(class),
		k.score(k.byCells, d*len(w.study.Grid.axes[axCells].Values)+r.at[axCells], class))
	for b := low; b <= high; b++ {
		in := class
		if w.nested {
			in = max(in, w.binSlots[b])
		}
		least = min(least, k.score(k.size, d*w.study.SizeBins+b, in))
	}
	if math.IsInf(least, -1) {
		return true
	}
	if !r.known {
		r.known = true
		for i := range r.lowest {
			r.lowest[i].lo = math.NaN()
		}
		w.place()
	}
	at := r.at
	at[axPayload] = payload
	merit := flat(least)
	for v := range w.views {
		spec := &w.views[v]
		lowest := r.lowest[class*len(w.views)+v]
		if math.IsNaN(lowest.lo) {
			lowest = r.barOf(k, class, spec.byCapacity, &r.at, flat(k.lowest(class, spec.others, &r.at, math.Inf(1))))
			r.lowest[class*len(w.views)+v] = lowest
		}
		lowest = r.barOf(k, class, spec.byPayload, &at, lowest)
		if t := spec.metric; t == nil || t.Better == model.Neither {
			merit = merit.or(lowest)
		} else if low := min(lowest.lo, lowest.hi); math.IsInf(low, -1) || !(mapScore(t, w.runBest(t), 0) < low) {
			return true
		}
		if math.IsInf(merit.lo, -1) {
			return true
		}
	}
	if w.runReaches(class, merit) {
		return true
	}
	if len(w.front.metrics) > 0 {
		var v [maxFront]float64
		for i, m := range w.front.metrics {
			if x, ok := w.runFront(i); ok {
				v[i] = x
				continue
			}
			v[i] = w.front.sign[i] * w.runBest(m)
		}
		if !w.shades[class].covers(v) {
			return true
		}
	}
	return w.lists() && w.runListable(class, payload, lightest)
}

// runReaches says whether the merit of a design of the run could come to least. Between the
// ends of the run it is no further above the line than its terms are.
func (w *worker) runReaches(class int, least bar) bool {
	r := &w.runs
	scale := r.terms[0].rest * rounding // scores are at least 0
	lo, hi := w.asks(class, least.lo)*scale, w.asks(class, least.hi)*scale
	for ; r.asked < len(r.terms); r.asked++ {
		t := &r.terms[r.asked]
		if r.sum.below(lo-t.rest, hi-t.rest) {
			return false
		}
		x := w.runScore(&t.Term)
		r.sum.lo += t.Weight * x.lo
		r.sum.hi += t.Weight * x.hi
		r.sum.off += t.Weight * x.off
	}
	return !r.sum.below(lo, hi)
}

// most is what is known so far that the merit of a design of the run is at most.
func (r *runs) most() float64 {
	rest := 0.0
	if r.asked < len(r.terms) {
		rest = r.terms[r.asked].rest
	}
	return min(1, (r.sum.most()+rest)/(r.terms[0].rest*rounding))
}

// chord is a bound on a run by the line between its ends.
type chord struct{ lo, hi, off float64 }

func (c *chord) most() float64 { return max(c.lo, c.hi) + c.off }

// below says whether it is below a line everywhere.
func (c *chord) below(lo, hi float64) bool { return c.lo+c.off < lo && c.hi+c.off < hi }

// runScore bounds what the designs of the run score in a term.
func (w *worker) runScore(t *Term) chord {
	m, rising := t.Metric, t.Best > t.Worst
	// The bound of a metric holds in its better direction alone.
	if !m.Known() && (m.Better == model.Neither || rising != (m.Better == model.Higher)) {
		return chord{lo: 1, hi: 1}
	}
	if x, ok := w.runChord(m); ok {
		slope := 1 / (t.Best - t.Worst)
		lo, hi := (x.lo-t.Worst)*slope, (x.hi-t.Worst)*slope
		if off := x.off * math.Abs(slope); max(lo, hi)+off <= 1 { // a score bends downwards there
			return chord{max(0, lo), max(0, hi), off}
		}
	}
	var v float64
	switch {
	case !m.Known():
		v = w.runBest(m)
	default:
		least, most := w.runRange(m)
		if v = least; rising {
			v = most
		}
	}
	v = t.Score(v)
	return chord{lo: v, hi: v}
}

// runChord bounds a metric by its ends, in its better direction where it is not known.
func (w *worker) runChord(m *model.Metric) (x chord, ok bool) {
	if !m.Even {
		return x, false
	}
	if !m.Known() && w.chords.any {
		if i := w.flownPlace(m); i >= 0 {
			if x, ok = w.runFlown(i); ok {
				return x, true
			}
		}
	}
	w.runStage(m)
	if x.lo, x.hi, x.off, ok = w.runs.span.Chord(m); ok && w.skew != nil {
		x.lo, x.hi = w.skew(m, x.lo), w.skew(m, x.hi)
	}
	return x, ok
}

// runListable says whether a design of the run could be a candidate of the classes that have a slot.
func (w *worker) runListable(slot, payload int, lightest float64) bool {
	class := w.byLimit[slot]
	w.climb(slot, lightest, &w.runs.at)
	level := w.rungs[len(w.rungs)-1].high
	if !w.runScores(slot, level, payload) {
		return false
	}
	for i := range w.margins {
		m := &w.margins[i]
		var v float64
		switch {
		case level == 0:
			return true
		case m.of != nil:
			least, most := w.runRange(m.metric)
			if v = most; !m.atLeast {
				v = least
			}
		case m.along:
			v = w.runBest(m.metric)
		default:
			continue
		}
		if !m.keeps(v, class, level) {
			if level = m.lower(v, class, level); !w.runScores(slot, level, payload) {
				return false
			}
		}
	}
	return true
}

// runScores says whether the merit of a design of the run could be one that the list of a
// level takes.
func (w *worker) runScores(slot, level, payload int) bool {
	least := w.wants(level, payload)
	return math.IsInf(least, -1) || w.runReaches(slot, flat(least))
}
