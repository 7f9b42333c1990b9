package sweep

import (
	"math"

	"rotorsieve/model"
)

// listing gathers the candidates of a block in one class. It starts from what others have
// found in the block's group, which is joined with itself in the end, so that few designs
// come near it. Designs of one build follow one another, capacity by capacity, and hand up
// their best when the last has been judged.
type listing struct {
	candidates
	most  int
	group int
	seen  int             // changes of the total's lists when they were last copied, plus one; 0 for never
	best  [][Levels]Best  // of the builds in work, by payload
	floor [Levels]float64 // score below which a list takes nothing
	fit   int             // payloads up to the last of which a design waits
}

func (p *plan) newListing() listing {
	l := listing{most: p.listed, group: -1, best: make([][Levels]Best, len(p.study.Grid.axes[axPayload].Values))}
	for i := range l.lists {
		l.lists[i] = make([]Build, 0, l.most)
	}
	return l
}

// at prepares for a block of a group.
func (l *listing) at(group int) {
	if l.group != group {
		l.copy(group, nil)
	}
	l.changes = 0
	l.floors()
}

// copy takes over the lists of a group where they have changed; they may be nil.
func (l *listing) copy(group int, c *candidates) {
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

func (l *listing) floors() {
	for i, list := range l.lists {
		l.floor[i] = math.Inf(-1)
		if len(list) == l.most {
			l.floor[i] = list[l.most-1].Score
		}
	}
}

// takes says whether a design may change the list of a level.
func (l *listing) takes(level, payload int, x Ranked) bool {
	if x.Score < l.floor[level] {
		return false
	}
	if list := l.lists[level]; len(list) == l.most && x.compare(list[l.most-1].Ranked) >= 0 {
		return false
	}
	b := &l.best[payload][level]
	return !b.Any || x.compare(b.Ranked) < 0
}

// end hands up the best of builds of which all capacities have been judged.
func (l *listing) end(g *Grid) {
	if l.fit == 0 {
		return
	}
	for payload := range l.best[:l.fit] {
		for level := range Levels {
			b := &l.best[payload][level]
			if b.Any {
				l.add(level, Build{b.Ranked, g.parts(b.Index)}, l.most)
				*b = Best{}
			}
		}
	}
	l.fit = 0
	l.floors()
}

// list keeps the current design, of which all is known that its score reads, at the levels
// that it reaches in a class. Its level is looked for from the highest down, and no further
// than to where no list takes the design. It gives the stage that the craft has come to.
func (w *worker) list(class, payload int, x Ranked, stage model.Stage) model.Stage {
	l, c := &w.found[class].listing, &w.craft
	level := w.levelByMass(c.Mass, class)
	if !l.takes(level, payload, x) {
		return stage
	}
	for i := range w.margins {
		m := &w.margins[i]
		if m.of == nil {
			continue
		}
		if v := m.value(c); !m.keeps(v, class, level) {
			if level = m.lower(v, class, level); !l.takes(level, payload, x) {
				return stage
			}
		}
	}
	for i := range w.margins {
		m := &w.margins[i]
		if m.of != nil || level == 0 {
			continue
		}
		if stage < m.metric.Stage && m.along && m.keeps(w.atWorst(m.metric, c), class, level) {
			w.trusted = true
			continue // whatever its flight
		}
		for stage < m.metric.Stage {
			stage++
			c.Advance(stage)
		}
		if level = m.lower(m.metric.Of(c), class, level); !l.takes(level, payload, x) {
			return stage
		}
	}
	l.fit = max(l.fit, payload+1)
	for ; level >= 0 && l.takes(level, payload, x); level-- {
		l.best[payload][level] = Best{x, true}
	}
	return stage
}

// listable says whether a design that has been foreseen, and whose merit has been bounded
// as far as other places want it, could be a candidate of a class. The terms of the merit
// take longer to bound than the level, which mostly decides by what is known of them.
func (w *worker) listable(class, payload int) bool {
	l, c := &w.found[class].listing, &w.craft
	level := w.levelByMass(c.Mass, class)
	if w.upper.below(&w.bounded, l.wants(level, payload)) {
		return false
	}
	for i := 0; i < len(w.margins) && level > 0; i++ {
		m := &w.margins[i]
		var v float64
		switch {
		case m.of != nil:
			v = m.value(c)
		case m.along:
			v = w.atBest(m.metric, c)
		default:
			continue
		}
		if !m.keeps(v, class, level) {
			level = m.lower(v, class, level)
			if w.upper.below(&w.bounded, l.wants(level, payload)) {
				if i > 0 { // as likely to decide on the next
					w.margins[i-1], w.margins[i] = w.margins[i], w.margins[i-1]
				}
				return false
			}
		}
	}
	least := l.wants(level, payload)
	return math.IsInf(least, -1) || w.upper.reaches(&w.bounded, c, least)
}

// wants is the score below which the list of a level does not take a design.
func (l *listing) wants(level, payload int) float64 {
	if b := &l.best[payload][level]; b.Any {
		return max(l.floor[level], b.Score)
	}
	return l.floor[level]
}
