package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"rotorsieve/model"
	"rotorsieve/model/flight"
	"rotorsieve/sweep"
)

// nearBound is the share of a bound within which a design is said to be held by
// it.
const nearBound = 0.05

// held says which bounds hold the best design, what holds its top speed, and what
// turns most designs away.
func (r *Run) held(f *finding) []string {
	out := []string{"closest bounds: " + strings.Join(r.closest(f, f.Best()), ", ")}
	if level := &f.Best().Craft.Flight; level.OK && level.Limit != flight.ByThrottle && r.asks(metric("top-speed")) {
		out = append(out, "top speed is held by "+f.Best().Craft.TopLimit())
	}
	if s := r.sieve(f); s != "" {
		out = append(out, s)
	}
	return out
}

// asks says whether a metric is in the merit or among the requirements.
func (r *Run) asks(m *model.Metric) bool {
	return slices.ContainsFunc(r.Study.Merit, func(t sweep.Term) bool { return t.Metric == m }) ||
		slices.ContainsFunc(r.Result.Gates, func(g sweep.Gate) bool { return g.Requirement != nil && g.Requirement.Metric == m })
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

// sieve says which gate turns away most of the designs within the class, and what
// share of them; "" where none does.
func (r *Run) sieve(f *finding) string {
	within := r.Result.Done - f.Turned[sweep.GateClass]
	most := uint64(0)
	at := 0
	for n, g := range f.Turned {
		if n != sweep.GateClass && g > most {
			most, at = g, n
		}
	}
	if most == 0 {
		return ""
	}
	words := "fail at " + lower(gateTitle(r.Result.Gates[at]))
	if r.Result.Gates[at].Requirement == nil {
		words = "have no hover or full-throttle point"
	}
	return fmt.Sprintf("of the designs light enough, %s %s, the commonest failure", shareText(most, within), words)
}
