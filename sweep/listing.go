package sweep

import (
	"math"
)

// listing gathers the candidates of a block in one class. It starts from what others have
// found in the block's groups, which is joined with itself in the end, so that few designs
// come near it. Designs of one build follow one another, capacity by capacity, and hand up
// their best when the last has been judged.
type listing struct {
	*plan
	lists []groupLists
	rows  []listRow        // of lists by axis of values
	best  [][Levels]Best   // of the builds in work, by payload
	bars  [][Levels]Ranked // what a design must come before for some list to take it, the same
	fit   int              // payloads up to the last of which a design waits
}

// groupLists are the lists of one group.
type groupLists struct {
	candidates
	group int
	seen  int // changes of the total's lists when they were last copied, plus one; 0 for never
}

// listRow is where the lists of an axis' values stand, one of a value that a block has alone:
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
	l := listing{plan: p, best: make([][Levels]Best, payloads), bars: make([][Levels]Ranked, payloads)}
	room := func(most *lengths) {
		x := groupLists{group: -1}
		for level := range x.lists {
			x.lists[level] = make([]Build, 0, most[level])
		}
		l.lists = append(l.lists, x)
	}
	for range payloads {
		room(&p.groups.listed)
	}
	for _, v := range p.groups.values {
		r := listRow{valueGroups: v, first: len(l.lists), fixed: v.axis < p.depth}
		n := v.count
		if r.fixed {
			n = 1
		}
		for range n {
			room(&p.groups.ofValue)
		}
		l.rows = append(l.rows, r)
	}
	return l
}

// each gives the lists of the groups that a block has, from its first place in the grid.
func (l *listing) each(first *coord, do func(x *groupLists, group int)) {
	from := l.groups.size(first[axDiameter], first[Blades.place])
	for i := range l.best {
		do(&l.lists[i], from+i)
	}
	for i := range l.rows {
		r := &l.rows[i]
		if r.fixed {
			do(&l.lists[r.first], r.from+first[r.axis])
			continue
		}
		for n := range r.count {
			do(&l.lists[r.first+n], r.from+n)
		}
	}
}

// tell copies what a total has for a block.
func (l *listing) tell(first *coord, k *classTotal) {
	l.each(first, func(x *groupLists, group int) { x.copy(group, k.listed[group]) })
}

// start prepares for a block.
func (l *listing) start(first *coord) {
	l.each(first, func(x *groupLists, group int) {
		if x.group != group {
			x.copy(group, nil)
		}
		x.changes = 0
	})
}

// copy takes over the lists of a group where they have changed; they may be nil.
func (l *groupLists) copy(group int, c *candidates) {
	seen := 1
	if c != nil {
		seen += c.changes
	}
	if l.group == group && l.seen == seen {
		return
	}
	l.group, l.seen = group, seen
	for i := range l.lists {
		l.lists[i] = l.lists[i][:0]
		if c != nil {
			l.lists[i] = append(l.lists[i], c.lists[i]...)
		}
	}
}

// begin prepares for the builds of the number of cells that a block has come to.
func (l *listing) begin(at *coord) {
	for level := range Levels {
		last := Ranked{Index: 0, Score: math.Inf(1)}
		for i := range l.rows {
			last = l.later(last, l.rows[i].at(at), level)
		}
		for payload := range l.bars {
			l.bars[payload][level] = l.later(last, payload, level)
		}
	}
}

// later is the later of a design and of what is to be come before for a list to change.
func (l *listing) later(x Ranked, at, level int) Ranked {
	most := l.groups.ofValue[level]
	if at < len(l.bars) {
		most = l.groups.listed[level]
	}
	list := l.lists[at].lists[level]
	if len(list) < most {
		return anywhere
	}
	if last := list[len(list)-1].Ranked; x.compare(last) < 0 {
		return last
	}
	return x
}

// takes says whether a design may change a list of a level.
func (l *listing) takes(level, payload int, x Ranked) bool {
	return x.compare(l.bars[payload][level]) < 0
}

// end hands up the best of builds of which all capacities have been judged.
func (l *listing) end(at *coord) {
	if l.fit == 0 {
		return
	}
	for payload := range l.best[:l.fit] {
		for level := range Levels {
			b := &l.best[payload][level]
			if !b.Any {
				continue
			}
			x := Build{b.Ranked, l.study.Grid.parts(b.Index)}
			l.lists[payload].add(level, x, l.groups.listed[level])
			for i := range l.rows {
				l.lists[l.rows[i].at(at)].add(level, x, l.groups.ofValue[level])
			}
			*b = Best{}
		}
	}
	l.fit = 0
}

// list keeps the current design, of which all is known that its score reads, at the levels
// that it reaches in a class. Its level is looked for from the highest down, and no further
// than to where no list takes the design; it is the least of those in the scenarios.
func (w *worker) list(class, payload int, x Ranked) {
	l := &w.found[class].listing
	level := w.levelByMass(w.craft.Mass, class)
	if !l.takes(level, payload, x) {
		return
	}
	for _, flown := range [...]bool{false, true} { // what takes longest last
		if level = w.lower(flown, class, payload, level, x); !l.takes(level, payload, x) {
			return
		}
		for _, o := range w.others {
			if level = o.lower(flown, class, payload, level, x); !l.takes(level, payload, x) {
				return
			}
		}
	}
	l.fit = max(l.fit, payload+1)
	for ; level >= 0 && l.takes(level, payload, x); level-- {
		l.best[payload][level], l.bars[payload][level] = Best{x, true}, x
	}
}

// lower is the highest level up to a given one that the current design reaches in a class by what is
// known before flight, or by the rest, in the worker's scenario; it ends where no list takes the
// design.
func (w *worker) lower(flown bool, class, payload, level int, x Ranked) int {
	l, c := &w.found[class].listing, &w.craft
	for i := range w.margins {
		m := &w.margins[i]
		switch {
		case flown != (m.of == nil):
			continue
		case !flown:
			if v := m.value(c); !m.keeps(v, class, level) {
				if level = m.lower(v, class, level); !l.takes(level, payload, x) {
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
		if level = m.lower(m.metric.Of(c), class, level); !l.takes(level, payload, x) {
			return level
		}
	}
	return level
}

// listable says whether a design that has been foreseen, and whose merit has been bounded
// as far as other places want it, could be a candidate of a class. The terms of the merit
// take longer to bound than the level, which mostly decides by what is known of them.
func (w *worker) listable(class, payload int) bool {
	l, c := &w.found[class].listing, &w.craft
	level := w.levelByMass(c.Mass, class)
	if w.upper.below(&w.bounded, w.asks(class, l.wants(level, payload))) {
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
			if w.upper.below(&w.bounded, w.asks(class, l.wants(level, payload))) {
				if i > 0 { // as likely to decide on the next
					w.margins[i-1], w.margins[i] = w.margins[i], w.margins[i-1]
				}
				return false
			}
		}
	}
	least := l.wants(level, payload)
	return math.IsInf(least, -1) || w.upper.reaches(&w.bounded, c, w.asks(class, least))
}

// wants is the score below which no list of a level takes a design.
func (l *listing) wants(level, payload int) float64 { return l.bars[payload][level].Score }
