package sweep

import (
	"cmp"
	"slices"

	"rotorsieve/model"
)

// upper bounds the merit of crafts that have been foreseen. Its terms are asked for
// until the rest can no longer lift the merit to what is wanted, in the order of the
// merit that they have cost over the time they take.
type upper struct {
	bare   []upperTerm // the same for every payload
	turn   []upperTerm // the others, in the order in which they are asked for
	rest   []float64   // weight of the terms from each on
	given  float64     // weight of terms that nothing bounds
	weight float64
	learn  int // from how many more designs the order is learnt
}

// upperTerm is a term of the merit; slope is that of its score.
type upperTerm struct {
	of                   func(*model.Craft) float64
	worst, slope, weight float64
	start                func(*model.Craft) // see model.Metric.Start
	slow                 bool
	flown                int     // place in plan.flown; below 0 for none
	asked, lost          float64 // how often, and the weight that it has cost in all
}

// worth is the weight that the term costs on average, over about how long it takes to
// read; until that is known, all its weight.
func (t *upperTerm) worth() float64 {
	lost := t.weight
	if t.asked > 0 {
		lost = t.lost / t.asked
	}
	if t.slow {
		return lost / 10
	}
	return lost
}

func (p *plan) newUpper() *upper {
	u := new(upper)
	for _, t := range p.study.Merit {
		u.weight += t.Weight
		of := t.Metric.Foreseen()
		if of != nil && p.skew != nil {
			of = func(c *model.Craft) float64 { return p.atBest(t.Metric, c) }
		}
		// The bound of a metric holds in its better direction alone.
		along := t.Metric.Better == model.Higher && t.Best > t.Worst || t.Metric.Better == model.Lower &&
			t.Best < t.Worst
		if of == nil || !(along || t.Metric.Known()) {
			u.given += t.Weight
			continue
		}
		x := upperTerm{of: of, worst: t.Worst, slope: 1 / (t.Best - t.Worst), weight: t.Weight,
			slow: t.Metric.Slow, start: t.Metric.Start(), flown: slices.Index(p.flown, t)}
		if t.Metric.Bare && !x.slow {
			u.bare = append(u.bare, x)
		} else {
			u.turn = append(u.turn, x)
		}
	}
	u.rest = make([]float64, len(u.turn)+1)
	u.order()
	return u
}

// order puts the terms that were worth most so far first. It changes the time that a
// bound takes, not what is kept.
func (u *upper) order() {
	u.learn = 1000
	slices.SortStableFunc(u.turn, func(a, b upperTerm) int {
		return cmp.Compare(b.worth(), a.worth())
	})
	for i := len(u.turn) - 1; i >= 0; i-- {
		u.rest[i] = u.rest[i+1] + u.turn[i].weight
	}
}

// rounding allows for summing the terms in another order than Merit.Of.
const rounding = 1 - 1e-12

// bounded is how far a design's merit has been bounded.
type bounded struct {
	values [maxFlown]float64 // of the metrics of plan.flown at best
	scores [maxFlown]float64 // of the terms of plan.flown at most, where it is held by lines that were flown
	held   bool
	bare   float64 // sum of the terms that are the same for every payload
	sum    float64 // and of those asked for, with what is given
	asked  int
	knows  bool // bare
}

// payload forgets what follows from the payload.
func (b *bounded) payload() { b.asked, b.sum, b.held = 0, b.bare, false }

// line forgets all.
func (b *bounded) line() { *b = bounded{} }

// below says whether what is known of the merit of a craft is short of least.
func (u *upper) below(b *bounded, least float64) bool {
	return b.sum+u.rest[b.asked] < least*u.weight*rounding
}

// most is what is known so far that the merit of a craft is at most.
func (u *upper) most(b *bounded) float64 {
	if !b.knows {
		return 1
	}
	return min(1, (b.sum+u.rest[b.asked])/(u.weight*rounding))
}

// reaches says whether the merit of a craft could come to least.
func (u *upper) reaches(b *bounded, c *model.Craft, least float64) bool {
	if !b.knows {
		b.knows, b.bare = true, u.given
		for i := range u.bare {
			t := &u.bare[i]
			b.bare += t.weight * clamped((t.of(c)-t.worst)*t.slope)
		}
		b.sum = b.bare
	}
	want := least * u.weight * rounding // scores are at least 0
	learn := u.learn > 0
	if learn {
		u.learn--
	}
	sum, i := b.sum, b.asked
	turn := u.turn
	rest := u.rest[:len(turn)+1]
	for ; i < len(turn) && sum+rest[i] >= want; i++ {
		t := &turn[i]
		var s float64
		if b.held && t.flown >= 0 {
			s = b.scores[t.flown]
		} else {
			if t.start != nil {
				t.start(c)
			}
			s = clamped((t.of(c) - t.worst) * t.slope)
		}
		sum += t.weight * s
		if learn {
			t.asked++
			t.lost += t.weight * (1 - s)
		}
	}
	b.sum, b.asked = sum, i
	return sum+rest[i] >= want
}
