package sweep

import (
	"cmp"
	"math"
	"math/bits"
	"slices"

	"rotorsieve/model"
)

// slots are what a worker keeps of a block by the classes, which are nested: a design that a class
// takes is in all heavier ones as well. A slot is the place of a class by rising limit. A design is
// kept in the slot of the lightest class that takes it, and nowhere else: what it betters nothing of
// there it betters nothing of in a heavier class, whose best are at least as good. In the end what
// slots have found goes up through the classes as far as it betters something (total.add).
//
// Where a study reads a metric that differs by class, designs have another merit or end at another
// gate in each: there a design is kept in the slots of all classes that take it, and nothing goes up.
type slots struct {
	found   []*gatherer
	grounds []*ground // see plan.sheet
	floors  []*Ranked // what a design must beat to be ranked
	miss    []Miss    // the nearest of earlier blocks
	lines   []line
	shades  []shade
	lineAt  uint64 // number of the current one, from 1
	stillAt uint64 // changes with the line's cells, and with the incumbents

	source  source            // of what others have found; nil for none
	first   coord             // of the block
	used    uint64            // slots that something was found in
	begun   uint64            // slots whose lists are ready for the builds of the current cells
	waiting uint64            // slots with a candidate in work
	fresh   [axisCount]uint64 // grounds by loop: something for maps was found since its value began
	touched uint64            // and since the block began
	rungs   []rung            // of the current design
	handed  []handed          // candidates of the block
	finds   []find
	scores  []float64 // of the finds, by view

	open uint64  // slots of classes whose nearest miss may be a design that is too heavy
	over []Miss  // the nearest of these in the block
	near float64 // mass above which none of these is nearer, kg
}

// find is a design of the block that betters something.
type find struct {
	Ranked
	slot, bin int32
}

// source tells what others have found of a class, by its slot.
type source interface{ tellSlot(w *worker, slot int) }

// byLimit gives the places of the classes by rising limit.
func (s *Study) byLimit() []int {
	at := make([]int, len(s.Classes))
	for i := range at {
		at[i] = i
	}
	slices.SortStableFunc(at, func(a, b int) int { return cmp.Compare(s.Classes[a].Limit, s.Classes[b].Limit) })
	return at
}

// readsClass says whether some metric that the study reads differs by class.
func (s *Study) readsClass() bool {
	of := func(m *model.Metric) bool { return m != nil && m.ByClass }
	return slices.ContainsFunc(s.Require, func(r Requirement) bool { return of(r.Metric) }) ||
		slices.ContainsFunc(s.Merit, func(t Term) bool { return of(t.Metric) }) ||
		slices.ContainsFunc(s.Maps, func(m MapSpec) bool { return of(m.Metric) }) ||
		slices.ContainsFunc(s.Front, of)
}

func (p *plan) newSlots() *slots {
	n := len(p.byLimit)
	x := &slots{floors: make([]*Ranked, n), miss: make([]Miss, n), over: make([]Miss, n), shades: make([]shade, n),
		open: ^uint64(0) >> (64 - n), lineAt: 1, stillAt: 1}
	for range p.sheets() {
		x.grounds = append(x.grounds, p.newGround())
	}
	for range n {
		x.found = append(x.found, p.newGatherer())
		x.lines = append(x.lines, line{least: make([]float64, len(p.views)), still: make([]float64, len(p.views))})
	}
	return x
}

// limit is the mass that the class of a slot takes, kg.
func (p *plan) limit(slot int) float64 { return p.ceilings[slot] }

// slotOf is the slot of a mass: that of the lightest class that takes it, or one past the last.
func (p *plan) slotOf(mass float64) int {
	lo, hi := 0, len(p.ceilings)
	for lo < hi {
		if mid := (lo + hi) / 2; mass > p.ceilings[mid] {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	return lo
}

// from are the slots that a design of a slot is kept in.
func (p *plan) from(slot int) uint64 {
	switch n := len(p.byLimit); {
	case slot >= n:
		return 0
	case p.nested:
		return 1 << slot
	default:
		return ^uint64(0) >> (64 - n) &^ (1<<slot - 1)
	}
}

// upwards are the slots of all classes that have what is kept in some slots.
func (p *plan) upwards(in uint64) uint64 {
	if p.nested {
		return ^uint64(0) >> (64 - len(p.byLimit)) &^ (in&-in - 1)
	}
	return in
}

// top is past the last slot whose class has what is kept in a slot.
func (p *plan) top(slot int) int {
	if p.nested {
		return len(p.byLimit)
	}
	return slot + 1
}

// ready prepares slots for a design of the block, which has come to them.
func (w *worker) ready(in uint64) {
	for in &^= w.used; in != 0; in &= in - 1 {
		slot := bits.TrailingZeros64(in)
		w.used |= 1 << slot
		if w.source != nil {
			w.source.tellSlot(w, slot)
		}
	}
}

// begin prepares the lists of a slot for the builds of the current cells.
func (w *worker) begin(slot int, at *coord) {
	if w.begun>>slot&1 == 0 {
		w.ready(1 << slot)
		w.begun |= 1 << slot
		w.found[slot].listing.begin(at)
	}
}

// reset prepares for the next block.
func (w *worker) reset() {
	for in := w.used; in != 0; in &= in - 1 {
		f := w.found[bits.TrailingZeros64(in)]
		f.reset()
		clear(f.listing.best)
		f.listing.fit = 0
	}
	for in := w.touched; in != 0; in &= in - 1 {
		w.grounds[bits.TrailingZeros64(in)].reset(w.plan)
	}
	w.used, w.begun, w.waiting, w.touched, w.fresh = 0, 0, 0, 0, [axisCount]uint64{}
	w.handed, w.finds, w.scores = w.handed[:0], w.finds[:0], w.scores[:0]
	clear(w.over)
}

// keep adds a feasible design, but for the front and the candidates.
func (w *worker) keep(slot int, x Ranked, bin int) {
	f := w.found[slot]
	f.pass(bin)
	if floor := w.floors[slot]; floor == nil || x.compare(*floor) < 0 {
		f.rank.add(x)
	}
	w.finds = append(w.finds, find{x, int32(slot), int32(bin)})
	for i := range w.views {
		score := x.Score
		if t := w.views[i].metric; t != nil {
			score = mapScore(t, WorstOf(t, w.crafts), score)
		}
		w.scores = append(w.scores, score)
	}
}

// mapScore ranks designs in a map of a metric: by the metric in its better
// direction, or by merit where neither is better.
func mapScore(t *model.Metric, v, merit float64) float64 {
	switch t.Better {
	case model.Higher:
		return v
	case model.Lower:
		return -v
	}
	return merit
}

// openTo works out above which mass no design that is too heavy for an open class is its nearest miss.
func (w *worker) openTo() {
	w.near = math.Inf(-1)
	for in := w.open; in != 0; in &= in - 1 {
		slot := bits.TrailingZeros64(in)
		short := math.Inf(1)
		for _, m := range [2]*Miss{&w.miss[slot], &w.over[slot]} {
			if m.Any {
				short = min(short, m.Shortfall)
			}
		}
		const rounding = 1 + 1e-9
		w.near = max(w.near, w.limit(slot)*(1+short)*rounding)
	}
}

// heavy notes a design that is too heavy for the classes of the slots before one.
func (w *worker) heavy(index uint64, mass float64, slot int) {
	open := w.open & (1<<slot - 1)
	for in := open; in != 0; in &= in - 1 {
		i := bits.TrailingZeros64(in)
		w.over[i].add(Miss{Index: index, Gate: GateClass, Shortfall: classShortfall(mass, w.limit(i)), Any: true})
	}
	if open != 0 {
		w.openTo()
	}
}

// shade notes a box that is new on the front of a slot, and so of all classes that have it.
func (w *worker) shade(slot int, p FrontPoint, v [maxFront]float64) {
	w.shades[slot].add(p)
	for i := slot + 1; i < w.top(slot) && w.used>>i&1 == 1 && !w.shades[i].covers(v); i++ {
		w.shades[i].add(p)
	}
}
