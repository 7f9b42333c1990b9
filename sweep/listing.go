package sweep

import (
	"math"
	"math/bits"
)

// listing gathers the candidates of a block in one slot. It knows what a design must come before for
// the lists of the block's groups, as they were when the slot was told of them, to take it, so that few
// designs come near them. Designs of one build follow one another, capacity by capacity, and hand up
// their best when the last has been judged.
type listing struct {
	*plan
	lasts []lasts
	rows  []listRow        // of lasts by axis of values
	best  [][Levels]Best   // of the builds in work, by payload
	fit   int              // payloads up to the last of which a design waits
	now   []int            // the lasts of the rows that the builds in work are of
	known []uint8          // levels of which bars are known, by payload
	bars  [][Levels]Ranked // what a design must come before for some list to take it, the same
}

// lasts are the last of the lists of one group, by level; of one that has room, anywhere.
type lasts [Levels]Ranked

// newLasts are those of groups without lists.
func newLasts(groups int) []lasts {
	out := make([]lasts, groups)
	for g := range out {
		for level := range out[g] {
			out[g][level] = anywhere
		}
	}
	return out
}

// listRow is where the lasts of an axis' values stand, one of a value that a block has alone:
// those of the payloads stand before all rows.
type listRow struct {
	valueGroups
	first int
	fixed bool
}

func (r *listRow) at(at *coord) int {
	if r.fixed {
		return r.first
	}
	return r.first + at[r.axis]
}

// anywhere is what every design comes before.
var anywhere = Ranked{Index: math.MaxUint64, Score: math.Inf(-1)}

func (p *plan) newListing() listing {
	payloads := len(p.study.Grid.axes[axPayload].Values)
	l := listing{plan: p, best: make([][Levels]Best, payloads), now: make([]int, len(p.groups.values)),
		known: make([]uint8, payloads), bars: make([][Levels]Ranked, payloads)}
	n := payloads
	for _, v := range p.groups.values {
		r := listRow{valueGroups: v, first: n, fixed: v.axis < p.depth}
		l.rows = append(l.rows, r)
		if n++; !r.fixed {
			n += v.count - 1
		}
	}
	l.lasts = make([]lasts, n)
	return l
}

// tell takes over what a total has for a block, from its first place in the grid.
func (l *listing) tell(first *coord, k *classTotal) {
	copy(l.lasts[:len(l.best)], k.lasts[l.groups.size(first[axDiameter], first[Blades.place]):])
	for i := range l.rows {
		r := &l.rows[i]
		if r.fixed {
			l.lasts[r.first] = k.lasts[r.from+first[r.axis]]
			continue
		}
		copy(l.lasts[r.first:][:r.count], k.lasts[r.from:])
	}
}

// begin prepares for the builds of the number of cells that a block has come to.
func (l *listing) begin(at *coord) {
	for i := range l.rows {
		l.now[i] = l.rows[i].at(at)
	}
	clear(l.known)
}

// bar is what a design must come before for some list of a level to take it.
func (l *listing) bar(level, payload int) *Ranked {
	x := &l.bars[payload][level]
	if l.known[payload]>>level&1 == 0 {
		l.known[payload] |= 1 << level
		*x = l.lasts[payload][level]
		for _, at := range l.now {
			if y := &l.lasts[at][level]; x.compare(*y) < 0 {
				*x = *y
			}
		}
	}
	return x
}

// open are the groups of the builds in work of which the list of a level may take a design: since the block was told of
// their lasts these have only become better.
func (l *listing) open(level, payload int, x Ranked) (groups uint32) {
	for i, at := range l.now {
		if x.compare(l.lasts[at][level]) < 0 {
			groups |= 1 << i
		}
	}
	if x.compare(l.lasts[payload][level]) < 0 {
		groups |= 1 << len(l.now)
	}
	return groups
}

// takes says whether a design may change a list of a level.
func (l *listing) takes(level, payload int, x Ranked) bool {
	return x.compare(*l.bar(level, payload)) < 0
}

// handed is a build with its best design of a block in a slot at a level.
type handed struct {
	Build
	slot, top, level uint8  // classes from the slot up, before top, may take it
	groups           uint32 // bits of those whose list may take it, in the order of groups.of
}

// handUp hands up the best of builds of which all capacities have been judged.
func (w *worker) handUp() {
	for in := w.waiting; in != 0; in &= in - 1 {
		slot := bits.TrailingZeros64(in)
		l := &w.found[slot].listing
		for payload := range l.best[:l.fit] {
			for level := range Levels {
				b := &l.best[payload][level]
				if b.Any {
					w.handed = append(w.handed, handed{Build{b.Ranked, w.study.Grid.parts(b.Index)}, uint8(slot),
						w.ahead(slot, payload, level, b.Ranked), uint8(level), l.open(level, payload, b.Ranked)})
					*b = Best{}
				}
			}
		}
		l.fit = 0
	}
	w.waiting = 0
}

// ahead is the next slot that has a better design of a build at a level: classes from there on have that in its place.
func (w *worker) ahead(slot, payload, level int, x Ranked) uint8 {
	top := w.top(slot)
	for in := w.waiting &^ (2<<slot - 1); in != 0; in &= in - 1 {
		i := bits.TrailingZeros64(in)
		if i >= top {
			break
		}
		if y := &w.found[i].listing.best[payload][level]; y.Any && y.compare(x) < 0 {
			return uint8(i)
		}
	}
	return uint8(top)
}

// rung is a stretch of levels at which a design is kept in one slot: that of the lightest class whose
// limit takes it, moved as levels move it.
type rung struct{ slot, low, high int }

// climb finds the rungs of a mass that is kept in a slot, from the lowest.
func (w *worker) climb(slot int, mass float64, at *coord) {
	w.begin(slot, at)
	w.rungs = append(w.rungs[:0], rung{slot: slot})
	for level := 1; level < Levels; level++ {
		last := &w.rungs[len(w.rungs)-1]
		next := last.slot
		for next < w.top(slot) && !(mass <= w.limits[w.byLimit[next]][level]) {
			next++
		}
		if next == w.top(slot) {
			return
		}
		if next > last.slot {
			w.begin(next, at)
			w.rungs = append(w.rungs, rung{next, level, level})
		} else {
			last.high = level
		}
	}
}

// takes says whether a list may take the current design at the levels up to a given one.
func (w *worker) takes(level, payload int, x Ranked) bool {
	for i := range w.rungs {
		if r := &w.rungs[i]; r.low <= level && w.found[r.slot].listing.takes(min(level, r.high), payload, x) {
			return true
		}
	}
	return false
}

// wants is the merit below which no list takes the current design at the levels up to a given one.
func (w *worker) wants(level, payload int) float64 {
	least := math.Inf(1)
	for i := range w.rungs {
		if r := &w.rungs[i]; r.low <= level {
			least = min(least, w.found[r.slot].listing.wants(min(level, r.high), payload))
		}
	}
	return least
}

// list keeps the current design, of which all is known that its score reads, at the levels
// that it reaches in the classes. Its level is looked for from the highest down, and no further
// than to where no list takes the design; it is the least of those in the scenarios.
func (w *worker) list(slot int, at *coord, x Ranked) {
	payload := at[axPayload]
	if w.begin(slot, at); !w.found[slot].listing.takes(Levels-1, payload, x) {
		return // nor do those of lower levels or heavier classes
	}
	w.climb(slot, w.craft.Mass, at)
	level := w.rungs[len(w.rungs)-1].high
	if !w.takes(level, payload, x) {
		return
	}
	class := w.byLimit[slot]
	for _, flown := range [...]bool{false, true} { // what takes longest last
		if level = w.lower(flown, class, payload, level, x); !w.takes(level, payload, x) {
			return
		}
		for _, o := range w.others {
			if level = o.lower(flown, class, payload, level, x); !w.takes(level, payload, x) {
				return
			}
		}
	}
	for _, r := range w.rungs {
		l := &w.found[r.slot].listing
		for n := min(level, r.high); n >= r.low && l.takes(n, payload, x); n-- {
			l.fit = max(l.fit, payload+1)
			w.waiting |= 1 << r.slot
			l.best[payload][n], l.bars[payload][n] = Best{x, true}, x
			// Heavier classes have it as well.
			for i := r.slot + 1; i < w.top(slot) && w.begun>>i&1 == 1; i++ {
				up := &w.found[i].listing
				if !up.takes(n, payload, x) {
					break
				}
				up.bars[payload][n] = x
			}
		}
	}
}

// lower is the highest level up to a given one that the current design reaches in a class by what is
// known before flight, or by the rest, in the worker's scenario; it ends where no list takes the
// design.
func (w *worker) lower(flown bool, class, payload, level int, x Ranked) int {
	c := &w.craft
	for i := range w.margins {
		m := &w.margins[i]
		switch {
		case flown != (m.of == nil):
			continue
		case !flown:
			if v := m.value(c); !m.keeps(v, class, level) {
				if level = m.lower(v, class, level); !w.takes(level, payload, x) {
					return level
				}
			}
			continue
		case level == 0:
			return level
		case w.stage < m.metric.Stage && m.along && m.keeps(w.atWorst(m.metric, c), class, level):
			w.trusted = true
			continue // whatever its flight
		}
		for w.stage < m.metric.Stage {
			w.stage++
			c.Advance(w.stage)
		}
		if level = m.lower(m.metric.Of(c), class, level); !w.takes(level, payload, x) {
			return level
		}
	}
	return level
}

// lists says whether candidates are kept.
func (w *worker) lists() bool { return w.source != nil && !w.study.Nominal }

// listable says whether a design that has been foreseen, and whose merit has been bounded
// as far as other places want it, could be a candidate of the classes that have a slot. The terms of the merit
// take longer to bound than the level, which mostly decides by what is known of them.
func (w *worker) listable(slot int, at *coord) bool {
	if !w.lists() {
		return false
	}
	c, class, payload := &w.craft, w.byLimit[slot], at[axPayload]
	w.climb(slot, c.Mass, at)
	level := w.rungs[len(w.rungs)-1].high
	if w.upper.below(&w.bounded, w.asks(slot, w.wants(level, payload))) {
		return false
	}
	for i := 0; i < len(w.margins) && level > 0; i++ {
		m := &w.margins[i]
		var v float64
		switch {
		case m.of != nil:
			v = m.value(c)
		case m.along:
			w.see()
			v = w.atBest(m.metric, c)
		default:
			continue
		}
		if !m.keeps(v, class, level) {
			level = m.lower(v, class, level)
			if w.upper.below(&w.bounded, w.asks(slot, w.wants(level, payload))) {
				if i > 0 { // as likely to decide on the next
					w.margins[i-1], w.margins[i] = w.margins[i], w.margins[i-1]
				}
				return false
			}
		}
	}
	least := w.wants(level, payload)
	return math.IsInf(least, -1) || w.upper.reaches(&w.bounded, c, w.asks(slot, least))
}

// wants is the score below which no list of a level takes a design.
func (l *listing) wants(level, payload int) float64 { return l.bar(level, payload).Score }
