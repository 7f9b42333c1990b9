package sweep

import "rotorsieve/model"

// upper bounds the merit of crafts that have been foreseen. Its terms are asked for
// in the order of their cost, and most designs are passed before the last.
type upper struct {
	bare   []upperTerm // the same for every payload
	plain  []upperTerm
	slow   []upperTerm
	given  float64 // weight of terms that nothing bounds
	doubt  float64 // weight of the slow terms
	weight float64
}

// upperTerm is a term of the merit; slope is that of its score.
type upperTerm struct {
	of                   func(*model.Craft) float64
	worst, slope, weight float64
}

func (t *upperTerm) most(c *model.Craft) float64 {
	s := (t.of(c) - t.worst) * t.slope
	if !(s > 0) {
		return 0
	}
	return t.weight * min(s, 1)
}

func sumOf(terms []upperTerm, c *model.Craft) float64 {
	sum := 0.0
	for i := range terms {
		sum += terms[i].most(c)
	}
	return sum
}

func newUpper(m Merit) upper {
	var u upper
	for _, t := range m {
		u.weight += t.Weight
		of := t.Metric.Foreseen()
		// The bound of a metric holds in its better direction alone.
		along := t.Metric.Better == model.Higher && t.Best > t.Worst || t.Metric.Better == model.Lower && t.Best < t.Worst
		if of == nil || !(along || t.Metric.Known()) {
			u.given += t.Weight
			continue
		}
		x := upperTerm{of: of, worst: t.Worst, slope: 1 / (t.Best - t.Worst), weight: t.Weight}
		switch {
		case t.Metric.Slow:
			u.slow = append(u.slow, x)
			u.doubt += t.Weight
		case t.Metric.Bare:
			u.bare = append(u.bare, x)
		default:
			u.plain = append(u.plain, x)
		}
	}
	return u
}

// rounding covers that the terms are summed in another order than by Merit.Of.
const rounding = 1 + 1e-12

// bounded is how far a design's merit has been bounded.
type bounded struct {
	bare, plain, most      float64
	knowsBare, knows, full bool
}

// payload forgets what follows from the payload.
func (b *bounded) payload() { b.knows, b.full = false, false }

// line forgets all.
func (b *bounded) line() { *b = bounded{} }

// reaches says whether the merit of a craft could come to least.
func (u *upper) reaches(b *bounded, c *model.Craft, least float64) bool {
	if !b.knows {
		if !b.knowsBare {
			b.bare, b.knowsBare = sumOf(u.bare, c), true
		}
		b.plain, b.knows = u.given+b.bare+sumOf(u.plain, c), true
		b.most = (b.plain + u.doubt) / u.weight * rounding
	}
	if b.most < least {
		return false
	}
	if !b.full && len(u.slow) > 0 {
		b.most = (b.plain + sumOf(u.slow, c)) / u.weight * rounding
	}
	b.full = true
	return !(b.most < least)
}
