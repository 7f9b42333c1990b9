package finding

import (
	"cmp"
	"math"
	"slices"

	"rotorsieve/model"
	"rotorsieve/model/flight"
	"rotorsieve/sweep"
)

// nearBound is the share of a bound within which a design is said to be held by
// it.
const nearBound = 0.05

// Held is what holds a design of a class: the bounds that it is nearest to, what
// holds its top speed where it is not full throttle and the study asks for it, and what
// rejects most designs.
type Held struct {
	Bounds []Bound
	Top    *model.TopLimit // nil for nothing
	Sieve  *Sieve          // nil where no design light enough is rejected
}

// Held finds what holds a design of a class.
func (r *Run) Held(f *Class, e *Entry) Held {
	h := Held{Bounds: r.Closest(f, e), Sieve: r.Sieve(f)}
	if c := e.Craft; c.Flight.OK && c.Flight.Limit != flight.ByThrottle && r.asks(Metric("top-speed")) {
		h.Top = new(c.TopLimit())
	}
	return h
}

// asks says whether a metric is in the merit or among the requirements.
func (r *Run) asks(m *model.Metric) bool {
	return slices.ContainsFunc(r.Study.Merit, func(t sweep.Term) bool { return t.Metric == m }) ||
		slices.ContainsFunc(r.Result.Gates, func(g sweep.Gate) bool {
			return g.Requirement != nil &&
				g.Requirement.Metric == m
		})
}

// Bound is a bound with what a design makes of it.
type Bound struct {
	Requirement *sweep.Requirement // nil for the limit of the class
	Value       float64            // SI
	Limit       float64
	Scenario    int     // of several, by its place, in which it is nearest; -1 where none is meant
	slack       float64 // between them, over the limit
}

// Closest lists the bounds that a design is near to, those within nearBound, the nearest
// first.
func (r *Run) Closest(f *Class, e *Entry) []Bound {
	limit := f.Class.Limit
	all := []Bound{{nil, e.Craft.Mass, limit, -1, 1 - e.Craft.Mass/limit}}
	for _, g := range r.Result.Gates {
		q := g.Requirement
		if q == nil || q.Bound == 0 {
			continue
		}
		nearest := Bound{slack: math.Inf(1)}
		var values []float64
		for i, c := range e.In {
			v := q.Metric.Of(c)
			values = append(values, v)
			if slack := math.Abs(v-q.Bound) / math.Abs(q.Bound); Finite(slack) && slack < nearest.slack {
				nearest = Bound{q, v, q.Bound, i, slack}
			}
		}
		if binds(values, q.AtLeast) < 0 {
			nearest.Scenario = -1
		}
		if Finite(nearest.slack) {
			all = append(all, nearest)
		}
	}
	slices.SortStableFunc(all, func(a, b Bound) int { return cmp.Compare(a.slack, b.slack) })
	n := 0
	for n < len(all) && all[n].slack < nearBound {
		n++
	}
	return all[:n]
}

// Sieve is the gate that rejects most of the designs within a class.
type Sieve struct {
	Gate             sweep.Gate
	Rejected, Within uint64 // designs: that it rejects, within the class
}

// Sieve finds it, nil where none is rejected.
func (r *Run) Sieve(f *Class) *Sieve {
	s := Sieve{Within: r.Result.Done - f.Rejected[sweep.GateClass]}
	for n, g := range f.Rejected {
		if n != sweep.GateClass && g > s.Rejected {
			s.Rejected, s.Gate = g, r.Result.Gates[n]
		}
	}
	if s.Rejected == 0 {
		return nil
	}
	return &s
}

// Commonest is the gate that rejects most designs of a class; false where none does.
func (f *Class) Commonest(gates []sweep.Gate) (sweep.Gate, bool) {
	most := 0
	for g := range gates {
		if f.Rejected[g] > f.Rejected[most] {
			most = g
		}
	}
	return gates[most], f.Rejected[most] > 0
}

// Stood says whether a time that the motors stand is known and has an end.
func Stood(time *model.Metric, c *model.Craft) bool {
	v := time.Of(c)
	return Finite(v) && !Capped(time, v)
}
