package decide

import (
	"cmp"
	"context"
	"slices"

	"rotorsieve/sweep"
)

// choice is the choice in a class: all candidates over the same draws, the best over more.
type choice struct {
	class  int
	builds []*build
	merits [][]float64 // by build and draw, 0 where a gate is not passed
	passed [][]bool    // the same: all gates are
	scores [][]float64 // of terms: [draw*terms + term], from the first draw after those asked for

	standing []standing // by build
	order    []int      // builds by rank
	best     int        // builds that were in the last round, the first of order
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
// axis' end. The nominal best design of the class is planned as the sweep found it.
func (w *bench) plan(b *build) {
	w.loaded = -1
	n := w.space.capacities(b.cells)
	top := w.largest(b, n, w.study.Classes[b.class].Limit)
	if top < 0 {
		w.space.plan(b, w.space.withPack(b.index, 0))
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
		if w.craft.Mass > w.study.Classes[b.class].Limit { // a smaller one that exists may be heavier
			return
		}
		if o := w.check(b, nil); o.gate == kept {
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
	for at := top; at >= 0 && !b.first; at -= step {
		try(at)
	}
	for step > 1 && any && !b.first {
		step = (step + 1) / 2
		for was := -1; was != best; {
			was = best
			try(was - step)
			try(was + step)
		}
	}
	w.space.plan(b, w.space.withPack(b.index, best))
	b.filled = best == top && top < n-1
	b.nominal, b.feasible = merit, any
}

// rounds of the choice: the best builds go on to more draws, and so do the best with each
// value of an axis, so that what is said of a value rests on a build that is chosen as well.
// The first round ends with the draws that are asked for, others with so many times these, but
// for a choice of many draws up to a number that is enough: on 256 draws alone the first of
// them lost 1 to 2 % of the best cautious merit on the mean.
var rounds = []struct{ builds, ofValue, times, enough int }{{manyBuilds, 12, 1, 0}, {100, 6, 4, 1024},
	{told, toldOfValue, 8, 2048}}

// Of more builds than this all are judged in a part of the draws first, in no fewer than
// leastDraws.
const (
	manyBuilds = 800
	leastDraws = 64
)

// firstDraws is how many draws all of so many builds are judged in.
func firstDraws(builds, draws int) int {
	if builds <= manyBuilds {
		return draws
	}
	return min(draws, max(leastDraws, draws/4))
}

// upTo is how many draws a round ends with.
func upTo(round, draws int) int {
	r := rounds[round]
	return max(draws, min(r.times*draws, r.enough))
}

// mostOf is how many draws the choice takes in all where so many are asked for.
func mostOf(draws int) int { return upTo(len(rounds)-1, draws) }

// choose takes the candidates of a class through the first draws of an ensemble and ranks
// them; then the best of them through more, and those are ranked anew before the others.
func (r *runner) choose(ctx context.Context, e ensemble, draws, class int, builds []*build) (*choice, error) {
	r.begin(FirstDraws)
	c, err := r.judgeAll(ctx, e, firstDraws(len(builds), draws), class, builds)
	if err != nil {
		return nil, err
	}
	r.begin(MoreDraws)
	for i := range rounds {
		from, to := len(c.merits[c.order[0]]), upTo(i, draws)
		c.best = min(rounds[i].builds, len(builds))
		which := c.finalists(r.space, c.best, rounds[i].ofValue)
		r.expect(len(which) * (to - from))
		if err := r.sample(ctx, c, e, from, to, which, i > 0); err != nil {
			return nil, err
		}
		c.rank(which, c.best)
	}
	for at, i := range c.order {
		c.standing[i].rank = at + 1
	}
	return c, nil
}

// judgeAll is choose without the further rounds.
func (r *runner) judgeAll(ctx context.Context, e ensemble, draws, class int, builds []*build) (*choice, error) {
	n := len(builds)
	c := &choice{class: class, builds: builds, merits: make([][]float64, n), passed: make([][]bool, n),
		scores: make([][]float64, n), standing: make([]standing, n), order: make([]int, n), best: n}
	for i := range c.order {
		c.order[i] = i
	}
	if err := r.sample(ctx, c, e, 0, draws, c.order, false); err != nil {
		return nil, err
	}
	c.rank(c.order, n)
	return c, nil
}

// finalists are the best builds and, of those judged in as many draws, the best of each value
// of an axis, by rank.
func (c *choice) finalists(s *space, best, ofValue int) (out []int) {
	draws := len(c.merits[c.order[0]])
	taken := map[axisPlace]int{}
	for at, i := range c.order {
		if len(c.merits[i]) < draws {
			continue
		}
		ok := at < best
		for _, axis := range s.swept() {
			v := axisPlace{axis, s.grid.At(c.builds[i].index, axis)}
			ok = ok || taken[v] < ofValue
			taken[v]++
		}
		if ok {
			out = append(out, i)
		}
	}
	return out
}

// axisPlace is a value of an axis by its place.
type axisPlace struct{ axis, at int }

// sample judges some builds in further draws of an ensemble, and may note the scores of the
// merit's terms.
func (r *runner) sample(ctx context.Context, c *choice, e ensemble, from, to int, which []int, scored bool) error {
	if from == to {
		return nil
	}
	terms := r.scored
	some := make([]*build, len(which))
	for at, i := range which {
		some[at] = c.builds[i]
		c.merits[i] = append(c.merits[i], make([]float64, to-from)...)
		c.passed[i] = append(c.passed[i], make([]bool, to-from)...)
		if scored {
			c.scores[i] = append(c.scores[i], make([]float64, (to-from)*terms)...)
		}
	}
	return r.pass(ctx, window{e, from, to - from}, some, func(w *bench, k int, b *build, at int) {
		i := which[at]
		o := w.judge(b)
		c.merits[i][from+k], c.passed[i][from+k] = o.merit, o.gate == kept
		if scored && o.gate == kept {
			scores := c.scores[i]
			w.terms(scores[len(scores)-(to-from-k)*terms:])
		}
	})
}

// terms reads the scores of the merit's terms of the craft that has been judged: scenario by scenario,
// or in a mean their means.
func (w *bench) terms(to []float64) {
	n := len(w.study.Merit)
	for at, o := range append([]*bench{w}, w.others...) {
		for i, t := range w.study.Merit {
			s := t.Score(o.read(t.Metric))
			switch {
			case at == 0:
				to[i] = s
			case w.study.Over == sweep.Mean:
				to[i] += s
			default:
				to[at*n+i] = s
			}
		}
	}
	if all := float64(1 + len(w.others)); w.study.Over == sweep.Mean && all > 1 {
		for i := range n {
			to[i] /= all
		}
	}
}

// rank works out the standings of some builds and sorts the order: the first of it, which are
// among these, and the rest.
func (c *choice) rank(some []int, first int) {
	var memory []float64
	for _, i := range some {
		s := &c.standing[i]
		memory = slices.Grow(memory[:0], len(c.merits[i]))[:len(c.merits[i])]
		s.cautious = cautiousOf(c.merits[i], memory)
		s.mean, _ = moments(c.merits[i])
		n := 0
		for _, ok := range c.passed[i] {
			if ok {
				n++
			}
		}
		s.feasible = float64(n) / float64(len(c.passed[i]))
	}
	for _, part := range [][]int{c.order[:first], c.order[first:]} {
		slices.SortFunc(part, func(a, b int) int {
			return cmp.Or(c.standing[a].compare(&c.standing[b]), cmp.Compare(c.builds[a].index, c.builds[b].index))
		})
	}
}

// told is how many of the best builds are always told of, and toldOfValue how many of those
// with each value of an axis.
const (
	told        = 40
	toldOfValue = 3
)

// pointsOf are the shares of feasible draws for which the best is told.
var pointsOf = []float64{0.5, 0.6, 0.7, 0.8, 0.9}

// optimism is by how much a share of feasible draws may read high on the draws that chose.
const optimism = 0.02

// tell says of which builds more is told, by rank: the best, that of the nominal best
// design, the surest, the best with each value of an axis of those that came to the last
// round, and the best and of the best median for each point of the line, which still are
// where the share reads high.
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
	first(func(i int) bool { return c.builds[i].first })
	surest, medians := c.order[0], make([]float64, len(c.builds))
	var memory []float64
	for _, i := range c.order {
		if c.standing[i].feasible > c.standing[surest].feasible {
			surest = i
		}
		memory = append(memory[:0], c.merits[i]...)
		slices.Sort(memory)
		medians[i] = quantile(memory, 0.5)
	}
	tell[surest] = true
	for _, i := range c.finalists(s, 0, toldOfValue) {
		tell[i] = true
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
