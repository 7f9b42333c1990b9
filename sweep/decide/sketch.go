package decide

import (
	"slices"
)

// A sketch takes builds through few draws: up to so many of each value of an axis, and of no more
// propellers than a trial has, solved already where there are any.
const (
	sketchedDraws   = 1
	sketchedFresh   = 32
	sketchedOfValue = toldOfValue
)

// sketch is a choice in a class among some of its builds, in few draws: it has all parts of a whole
// one and about as many builds, so that what a report takes to tell of it can be tried. Its
// numbers are of no use.
func (t *trying) sketch(class int, of *stageLists, o Options) (out Class) {
	if t.err != nil {
		return out
	}
	var solved, some []*build
	for _, b := range of.all {
		if t.kept[b.propeller] {
			solved = append(solved, b)
		}
	}
	if len(solved) == 0 {
		solved = sample(of)
	}
	taken := map[axisPlace]int{}
	for at, b := range solved {
		ok := at < told || b.first
		for _, axis := range t.space.swept() {
			v := axisPlace{axis, t.space.grid.At(b.index, axis)}
			ok = ok || taken[v] < sketchedOfValue
			taken[v]++
		}
		if ok {
			own := *b
			some = append(some, &own)
		}
	}
	later := map[propellerKey]bool{}
	for k := range t.kept {
		later[k] = true
	}
	o.Draws, o.Fresh = sketchedDraws, sketchedFresh
	out, t.err = t.decide(t.ctx, class, some, later, drawn(t.nominal.models()), o)
	out.Judged = len(of.all)
	return out
}

// sketched is a decision of such classes.
func (r *rules) sketched(classes []Class, o Options) *Decision {
	return &Decision{Draws: o.Draws, Fresh: o.Fresh, Seed: o.Seed, ByThrottle: o.ByThrottle,
		Metrics: slices.Clone(r.metrics), Classes: classes}
}
