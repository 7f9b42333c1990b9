package decide

import (
	"cmp"
	"context"
	"slices"
)

// choice is the choice in a class: all candidates over the same draws.
type choice struct {
	class  int
	draws  int
	builds []*build
	merits []float64 // [build*draws + draw], 0 where a gate is not passed

	standing []standing // by build
	order    []int      // builds by rank
	nominal  int        // build of the nominal best design; -1 for none
}

// standing is how a build does over draws.
type standing struct {
	cautious, feasible, mean float64
	rank                     int // from 1
}

// compare ranks by cautious merit. That is 0 for all that keep the requirements in half of
// the draws or less, which are then ranked by how often they do, and by mean merit.
func (a *standing) compare(b *standing) int {
	return cmp.Or(cmp.Compare(b.cautious, a.cautious), cmp.Compare(b.feasible, a.feasible),
		cmp.Compare(b.mean, a.mean))
}

// plan finds for each candidate the capacity that is best by the nominal model.
func (r *runner) plan(ctx context.Context, builds []*build) error {
	return r.pass(ctx, models{r.nominal}, builds, func(w *bench, _ int, b *build, _ int) { w.plan(b) })
}

// Up to so many capacities are all looked at; of more so many evenly spread ones, and then
// those about the best, ever closer.
const (
	allCapacities  = 64
	someCapacities = 32
)

// plan finds the capacity of a build that is best by the model of the bench, of those that
// keep the class. Where none is feasible it is that with which the build was kept by the
// sweep, or the largest below it that keeps the class; where none keeps it, the smallest.
// The class limit holds the pack where the next larger on the axis breaks it: not at the
// axis' end.
func (w *bench) plan(b *build) {
	w.loaded = -1
	n := len(w.space.axes[w.space.capacity].Values)
	top := w.largest(b, b.planned, w.study.Classes[b.class].Limit)
	if top < 0 {
		w.space.plan(b, w.space.with(b.index, w.space.capacity, 0))
		b.filled = n > 1
		return
	}
	best, merit, any := min(b.planned, top), 0.0, false
	seen := map[int]bool{}
	try := func(at int) {
		if at < 0 || at > top || seen[at] {
			return
		}
		seen[at] = true
		w.load(b, at)
		if o := w.check(nil); o.gate == kept {
			if !any || o.merit > merit || o.merit == merit && at < best {
				best, merit, any = at, o.merit, true
			}
		}
	}
	step := 1
	if top >= allCapacities {
		step = (top + someCapacities) / someCapacities
	}
	try(best)
	for at := top; at >= 0; at -= step {
		try(at)
	}
	for step > 1 && any {
		step = (step + 1) / 2
		for was := -1; was != best; {
			was = best
			try(was - step)
			try(was + step)
		}
	}
	w.space.plan(b, w.space.with(b.index, w.space.capacity, best))
	b.filled = best == top && top < n-1
	b.nominal, b.feasible = merit, any
}

// choose takes the candidates of a class through the draws of the choice and ranks them.
func (r *runner) choose(ctx context.Context, e ensemble, class int, builds []*build) (*choice, error) {
	c := &choice{class: class, draws: e.Draws(), builds: builds, nominal: -1,
		merits: make([]float64, len(builds)*e.Draws()), standing: make([]standing, len(builds))}
	passed := make([]bool, len(c.merits))
	err := r.pass(ctx, e, builds, func(w *bench, k int, b *build, at int) {
		o := w.judge(b)
		c.merits[at*c.draws+k], passed[at*c.draws+k] = o.merit, o.gate == kept
	})
	if err != nil {
		return nil, err
	}
	memory := make([]float64, c.draws)
	for i := range builds {
		s := &c.standing[i]
		s.cautious = cautiousOf(c.of(i), memory)
		s.mean, _ = moments(c.of(i))
		n := 0
		for _, ok := range passed[i*c.draws:][:c.draws] {
			if ok {
				n++
			}
		}
		s.feasible = float64(n) / float64(c.draws)
		c.order = append(c.order, i)
	}
	slices.SortFunc(c.order, func(a, b int) int {
		return cmp.Or(c.standing[a].compare(&c.standing[b]), cmp.Compare(builds[a].index, builds[b].index))
	})
	for at, i := range c.order {
		c.standing[i].rank = at + 1
	}
	return c, nil
}

// of are the merits of a build.
func (c *choice) of(build int) []float64 { return c.merits[build*c.draws:][:c.draws] }

// told is how many of the best builds are always told of.
const told = 40

// pointsOf are the shares of feasible draws for which the best is told.
var pointsOf = []float64{0.5, 0.6, 0.7, 0.8, 0.9}

// optimism is by how much a share of feasible draws may read high on the draws that chose.
const optimism = 0.02

// tell says of which builds more is told, by rank: the best, that of the nominal best
// design, the surest, the best with each value of an axis, and the best and of the best
// median for each point of the line, which still are where the share reads high.
func (c *choice) tell(s *space) []int {
	tell := map[int]bool{}
	first := func(good func(i int) bool) {
		for _, i := range c.order {
			if good(i) {
				tell[i] = true
				return
			}
		}
	}
	for _, i := range c.order[:min(told, len(c.order))] {
		tell[i] = true
	}
	if c.nominal >= 0 {
		tell[c.nominal] = true
	}
	surest, medians := c.order[0], make([]float64, len(c.builds))
	memory := make([]float64, c.draws)
	for _, i := range c.order {
		if c.standing[i].feasible > c.standing[surest].feasible {
			surest = i
		}
		copy(memory, c.of(i))
		slices.Sort(memory)
		medians[i] = quantile(memory, 0.5)
	}
	tell[surest] = true
	for _, axis := range s.swept() {
		for v := range s.axes[axis].Values {
			first(func(i int) bool { return s.grid.At(c.builds[i].index, axis) == v })
		}
	}
	for _, p := range pointsOf {
		for _, p := range []float64{p, p + optimism} {
			first(func(i int) bool { return c.standing[i].feasible >= p })
			best := -1
			for _, i := range c.order {
				if c.standing[i].feasible >= p && (best < 0 || medians[i] > medians[best]) {
					best = i
				}
			}
			if best >= 0 {
				tell[best] = true
			}
		}
	}
	var out []int
	for _, i := range c.order {
		if tell[i] {
			out = append(out, i)
		}
	}
	return out
}
