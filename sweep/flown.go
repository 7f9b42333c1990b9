package sweep

import (
	"slices"

	"rotorsieve/model"
	"rotorsieve/model/flight"
	"rotorsieve/model/pack"
)

// flown is what is kept of a design that was flown, to bound those of capacities between it and
// another: the metrics of flight of the merit, in the order of plan.flown.
type flown struct {
	ok     bool
	limit  flight.Limit
	values [maxFlown]float64
}

// maxFlown is the most metrics of flight that a merit may have for its designs to be bounded so.
const maxFlown = 6

// planFlown lists the metrics of flight of the merit where designs are bounded by those that were
// flown: all are to be even.
func (p *plan) planFlown() {
	s := p.study
	for i := range p.frontFlown {
		p.frontFlown[i] = -1
	}
	if p.byClass || len(s.Others) > 0 || p.exist != nil || !s.Model.Spans() {
		return
	}
	var of []Term
	for _, t := range s.Merit {
		if t.Metric.Known() {
			continue
		}
		along := t.Metric.Better == model.Higher
		if t.Best < t.Worst {
			along = t.Metric.Better == model.Lower
		}
		if !along || !t.Metric.Even || t.Metric.Slow || t.Metric.Sight() != 0 || len(of) == maxFlown {
			return
		}
		of = append(of, t)
	}
	p.flown = of
	for i, m := range s.Front {
		p.frontFlown[i] = p.flownPlace(m)
	}
}

// flownPlace is the place of a metric in plan.flown, below 0 where it has none.
func (p *plan) flownPlace(m *model.Metric) int {
	return slices.IndexFunc(p.flown, func(t Term) bool { return t.Metric == m })
}

// fly keeps what the current design, which has been flown, bounds others by.
func (w *worker) fly(payload int) {
	if w.flown == nil {
		return
	}
	f := &w.lineFlown[payload]
	if f.ok = w.craft.Settled(); !f.ok {
		return
	}
	f.limit = w.craft.Flight.Limit
	for i := range w.flown {
		f.values[i] = w.flown[i].Metric.Of(&w.craft)
	}
}

// chords bound the metrics of flight of the designs between two capacities, by payload.
type chords struct {
	any bool
	of  []pair
}

// pair is the nearest lines on either side that were flown at a payload.
type pair struct {
	on       bool
	lo, hi   *flown
	from, to float64 // capacity, A s
	longer   float64
}

// join prepares to bound the designs between two capacities, by the places of lines that are marked,
// by payload.
func (w *worker) join(lo, hi []int) {
	c, r := &w.chords, &w.runs
	c.any = false
	for p := range c.of {
		k := &c.of[p]
		a, b := &r.ends[lo[p]], &r.ends[hi[p]]
		k.lo, k.hi = &a.flown[p], &b.flown[p]
		k.on = k.lo.ok && k.hi.ok && k.lo.limit == k.hi.limit && r.span.Joins(&a.train, &b.train)
		if k.on {
			k.from, k.to = a.train.Drive.Pack.Capacity, b.train.Drive.Pack.Capacity
			k.longer = k.to/k.from - 1
			c.any = true
		}
	}
}

// apart has no lines bound the next.
func (c *chords) apart() {
	c.any = false
	for p := range c.of {
		c.of[p].on = false
	}
}

// flownChord bounds a metric of plan.flown at a payload by the line between its ends.
func (w *worker) flownChord(i, payload int) (x chord, ok bool) {
	k := &w.chords.of[payload]
	if !k.on {
		return x, false
	}
	m := w.flown[i].Metric
	x.lo, x.hi = k.lo.values[i], k.hi.values[i]
	if x.off, ok = m.FlownChord(x.lo, x.hi, k.longer); ok && w.skew != nil {
		x.lo, x.hi = w.skew(m, x.lo), w.skew(m, x.hi)
	}
	return x, ok
}

// at is the value of the line between the ends of a chord at a pack.
func (k *pair) at(x *chord, of *pack.Pack) float64 {
	return x.lo + (of.Capacity-k.from)/(k.to-k.from)*(x.hi-x.lo)
}

// runFlown is flownChord between the ends of the run.
func (w *worker) runFlown(i int) (x chord, ok bool) {
	r := &w.runs
	if x, ok = w.flownChord(i, r.payload); ok {
		k := &w.chords.of[r.payload]
		x.lo, x.hi = k.at(&x, &r.lo.Drive.Pack), k.at(&x, &r.hi.Drive.Pack)
	}
	return x, ok
}

// runFront is what no design of the run is better in than, of a metric of the front, signed, by lines
// that were flown.
func (w *worker) runFront(i int) (v float64, ok bool) {
	k := w.frontFlown[i]
	if k < 0 || !w.chords.any {
		return 0, false
	}
	x, ok := w.runFlown(k)
	if w.front.sign[i] < 0 {
		return x.off - min(x.lo, x.hi), ok
	}
	return x.most(), ok
}

// within is the best that a term of plan.flown can read of the current design.
func (w *worker) within(i, payload int) (best float64, ok bool) {
	x, ok := w.flownChord(i, payload)
	if !ok {
		return 0, false
	}
	k, t := &w.chords.of[payload], &w.flown[i]
	line := k.at(&x, &w.train.Drive.Pack)
	if t.Best < t.Worst {
		return line - x.off, true
	}
	return line + x.off, true
}

// hold bounds the scores of the current design in the terms of plan.flown, and says whether it could in
// all.
func (w *worker) hold(payload int) bool {
	if w.flown == nil || !w.chords.of[payload].on {
		return false
	}
	for i := range w.flown {
		v, ok := w.within(i, payload)
		if !ok {
			return false
		}
		w.bounded.values[i], w.bounded.scores[i] = v, w.flown[i].Score(v)
	}
	return true
}

// frontBest is frontSpec.values of the current design before its flight: no value is below its own.
func (w *worker) frontBest() (v [maxFront]float64) {
	f, c := w.front, &w.craft
	for i, m := range f.metrics {
		if k := w.frontFlown[i]; k >= 0 && w.bounded.held {
			v[i] = f.sign[i] * w.bounded.values[k]
			continue
		}
		if !m.Known() {
			w.see()
		}
		v[i] = f.sign[i] * m.AtBest(c)
	}
	return v
}

// tighten is the best that a foretold metric of the current design can be, by what lies around it, too.
func (w *worker) tighten(m *model.Metric, best float64, index uint64) float64 {
	i := w.flownPlace(m)
	if i < 0 {
		return best
	}
	switch v, ok := w.within(i, w.study.Grid.at(index, axPayload)); {
	case !ok:
		return best
	case m.Better == model.Lower:
		return max(best, v)
	default:
		return min(best, v)
	}
}
