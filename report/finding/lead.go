package finding

import (
	"math"
	"slices"

	"rotorsieve/model"
	"rotorsieve/sweep"
	"rotorsieve/sweep/decide"
)

// Lead is how far the best design of a class leads the best of any other diameter, by the
// nominal model; and where the run has draws, how the recommended build stands there.
type Lead struct {
	Best, Next *Entry // Next nil where no other diameter has a feasible design
	Draws      *Rival // nil without draws, or where they have no other diameter
}

// Rival is the best build of another diameter against the recommended one, draw by draw.
type Rival struct {
	From, To float64          // diameters in m: of the recommended build, of the other
	Against  decide.AxisValue // the other against the recommended
	Draws    int
}

// Lead finds the lead of a class that has a feasible design.
func (f *Class) Lead() Lead {
	l := Lead{Best: f.Best(), Next: f.SecondDiameter()}
	if c := f.Choice; c != nil {
		if all := c.Rivals(); len(all) > 0 {
			l.Draws = &all[0]
		}
	}
	return l
}

// Rivals are the other diameters against that of the recommended build, the best cautious
// merit first.
func (c *Choice) Rivals() []Rival {
	var out []Rival
	for _, v := range c.Others(sweep.Diameter) {
		out = append(out, Rival{c.Recommended().Design.Diameter, v.Value, v, c.Of.Fresh})
	}
	return out
}

// SecondDiameter is the best design of any diameter but that of the best; nil
// for none.
func (f *Class) SecondDiameter() *Entry {
	var next *Entry
	for _, e := range f.ByDiameter {
		if e != nil && e.Design.Diameter != f.Best().Design.Diameter && (next == nil || e.Score > next.Score) {
			next = e
		}
	}
	return next
}

// Change is that of a metric from one design to another.
type Change struct {
	Metric   *model.Metric
	from, to float64 // SI
}

// Percent is a change in per cent of what it was.
func (c Change) Percent() float64 { return 100 * (c.to/c.from - 1) }

// changes are those of the metrics that rank, from one design to another.
func (r *Run) changes(from, to *Entry) []Change {
	var all []Change
	for _, t := range r.Study.Merit {
		x, y := t.Metric.Of(from.Craft), t.Metric.Of(to.Craft)
		if Finite(x) && Finite(y) && x > 0 && Relative(t.Metric) && !Capped(t.Metric, x) && !Capped(t.Metric, y) {
			all = append(all, Change{t.Metric, x, y})
		}
	}
	return all
}

// Before is the next lighter class with a feasible design, nil for none.
func (r *Run) Before(f *Class) *Class {
	var out *Class
	for i := range r.evaluated {
		k := &r.evaluated[i]
		if k.Best() != nil && k.Class.Limit < f.Class.Limit && (out == nil || k.Class.Limit > out.Class.Limit) {
			out = k
		}
	}
	return out
}

// Lightest says whether no class of the study is lighter.
func (r *Run) Lightest(f *Class) bool {
	return !slices.ContainsFunc(r.evaluated, func(k Class) bool { return k.Class.Limit < f.Class.Limit })
}

// Gain is what the best design of a class has over that of a lighter one.
type Gain struct {
	From, To *Class
	Same     bool     // the same design is best in both
	Changes  []Change // of the metrics that rank
}

// Gain holds the best designs of two classes against each other, both with a feasible one.
func (r *Run) Gain(from, to *Class) Gain {
	a, b := from.Best(), to.Best()
	if a.Index == b.Index {
		return Gain{From: from, To: to, Same: true}
	}
	return Gain{From: from, To: to, Changes: r.changes(a, b)}
}

// farBelow is the share of a class's limit beneath which its best design leaves
// weight unused.
const farBelow = 0.9

// Unused is why a best design that leaves weight unused is not heavier.
type Unused struct {
	Why   unusedWhy
	Limit float64 // of the class, kg
	Used  float64 // kg
	Least float64 // from which on designs are near the limit, kg
	// Gate is the furthest that such designs reach, where none of them is feasible.
	Gate sweep.Gate
	// Best is the best of all, Heavy the best of those near the limit, and Changes what
	// ranks from one to the other, where Heavy scores less.
	Best, Heavy *Entry
	Changes     []Change
}

// unusedWhy is what is known of the designs near the limit.
type unusedWhy int

const (
	NotKnown     unusedWhy = iota // nothing is near the limit, or the run has not come to it
	NoneInGrid                    // the grid has none
	NoneFeasible                  // none keeps the requirements
	NoneBetter                    // the best of them scores as much, or nothing scores
	scoreLess                     // the best of them scores less
)

// Unused tells of a best design far below the limit why none heavier is best: by how
// much the best of the heaviest scores less, or what rejects all of those. It is
// nil for a design that is not far below.
func (r *Run) Unused(f *Class) *Unused {
	best, h := f.Best(), &f.Heaviest
	if best.Craft.Mass >= farBelow*f.Class.Limit {
		return nil
	}
	u := &Unused{Limit: f.Class.Limit, Used: best.Craft.Mass, Least: h.Least, Gate: r.Result.Gates[h.gate],
		Best: best, Heavy: h.Best}
	switch {
	case h.Least >= f.Class.Limit, h.Best == nil && !r.Result.Complete:
		u.Why = NotKnown
	case !h.seen:
		u.Why = NoneInGrid
	case h.Best == nil:
		u.Why = NoneFeasible
	case best.Score == 0 || h.Best.Score == best.Score:
		u.Why = NoneBetter
	default:
		u.Why, u.Changes = scoreLess, r.changes(best, h.Best)
	}
	return u
}

// Farthest is the best design of the diameter farthest from the best of all.
func Farthest(k *Class) *Entry {
	best := k.Best()
	other := best
	for _, e := range k.ByDiameter {
		if e != nil && math.Abs(e.Design.Diameter-best.Design.Diameter) >
			math.Abs(other.Design.Diameter-best.Design.Diameter) {
			other = e
		}
	}
	return other
}

// loss is the metric of the merit of which another design loses the largest share.
type loss struct {
	Metric *model.Metric
	Share  float64 // per cent
}

// Loses finds what another design loses against the best, by the nominal model. It is
// false for less than a per cent.
func Loses(merit sweep.Merit, best, other *Entry) (loss, bool) {
	const least = 1 // per cent
	var most loss
	for _, t := range merit {
		a, b := t.Metric.Of(best.Craft), t.Metric.Of(other.Craft)
		share := 100 * (a - b) / a
		if t.Best < t.Worst { // less is better: what it adds counts
			share = -share
		}
		if share > most.Share {
			most = loss{t.Metric, share}
		}
	}
	return most, most.Share >= least
}
