package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"rotorsieve/sweep"
)

// nearBound is the share of a bound within which a design is said to be held by
// it.
const nearBound = 0.05

// decisions says in words what decides a class: how far the best design leads
// the best of another diameter, which bounds hold it, and what turns most
// designs away.
func (r *Run) decisions(f *finding) []string {
	best := f.Best()
	if best == nil {
		return nil
	}
	var out []string
	if next := f.secondDiameter(); next != nil {
		out = append(out, fmt.Sprintf("%s leads %s, the next diameter, by %.2g %% in merit", inch.Format(best.Design.Diameter, 4),
			inch.Format(next.Design.Diameter, 4), 100*(1-next.Score/best.Score)))
	} else {
		out = append(out, "no other diameter has a feasible design")
	}
	out = append(out, "closest bounds: "+strings.Join(r.closest(f, best), ", "))
	if gate, share := r.sieve(f); gate != "" {
		out = append(out, fmt.Sprintf("of the designs light enough, most fail at %s (%s)", gate, share))
	}
	return out
}

// secondDiameter is the best design of any diameter but that of the best; nil
// for none.
func (f *finding) secondDiameter() *entry {
	var next *entry
	for _, e := range f.ByDiameter {
		if e != nil && e.Design.Diameter != f.Best().Design.Diameter && (next == nil || e.Score > next.Score) {
			next = e
		}
	}
	return next
}

// closest names the bounds that a design is nearest to, over the bound: those
// within nearBound, or the one nearest.
func (r *Run) closest(f *finding, e *entry) []string {
	type held struct {
		words string
		slack float64
	}
	all := []held{{
		fmt.Sprintf("all-up weight %s of %s", gram.Format(e.Craft.Mass, 4), mass(f.Class.Limit)), 1 - e.Craft.Mass/f.Class.Limit,
	}}
	for _, g := range r.Result.Gates {
		q := g.Requirement
		if q == nil || q.Bound == 0 {
			continue
		}
		v := q.Metric.Of(e.Craft)
		if slack := math.Abs(v-q.Bound) / math.Abs(q.Bound); finite(slack) {
			all = append(all, held{fmt.Sprintf("%s %s (%s)", lower(q.Metric.Title), shown(q.Metric, v), boundText(q)), slack})
		}
	}
	slices.SortStableFunc(all, func(a, b held) int {
		switch {
		case a.slack < b.slack:
			return -1
		case a.slack > b.slack:
			return 1
		}
		return 0
	})
	var out []string
	for i, h := range all {
		if i == 0 || h.slack < nearBound {
			out = append(out, h.words)
		}
	}
	return out
}

// sieve names the gate that turns away most of the designs within the class, and
// its share of them; "" where none does.
func (r *Run) sieve(f *finding) (gate, share string) {
	within := r.Result.Done - f.Turned[sweep.GateClass]
	most := uint64(0)
	at := 0
	for n, g := range f.Turned {
		if n != sweep.GateClass && g > most {
			most, at = g, n
		}
	}
	if most == 0 {
		return "", ""
	}
	return lower(gateTitle(r.Result.Gates[at])), shareText(most, within)
}
