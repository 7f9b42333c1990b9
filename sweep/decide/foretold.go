package decide

import (
	"cmp"
	"math"
	"slices"

	"rotorsieve/model"
)

// foretelling follows the stages of a choice without judging anything: which builds go through
// which draws, by the order in which the sweep lists candidates in place of their ranks, and
// which propellers are solved for that.
type foretelling struct {
	*rules
	shelf
	works Works
	stage Stage
	lists stageLists
	held  float64 // by the results of the class at most, in bytes
}

// stageLists are the builds that go through the draws of a stage.
type stageLists struct{ all, more, best, told []*build }

// sizes is how many diameters builds that are told of have.
func (l *stageLists) sizes() int {
	seen := map[float64]bool{}
	for _, b := range l.told {
		seen[b.design.Diameter] = true
	}
	return len(seen)
}

// class adds what the choice in a class does among candidates, the best first.
func (f *foretelling) class(s shifts, same int, all []*build, later map[propellerKey]bool, o Options) {
	all = slices.Clone(all)
	slices.SortStableFunc(all, func(a, b *build) int { return cmp.Compare(b.nominal, a.nominal) })
	f.lists = stageLists{all: all}
	if len(all) == 0 {
		return
	}
	f.stage = Planning
	f.pass(all, 1)
	f.stage = FirstDraws
	draws := firstDraws(len(all), o.Draws)
	f.pass(all, draws)

	f.stage = MoreDraws
	c := &choice{builds: all, merits: make([][]float64, len(all)), order: make([]int, len(all))}
	length := make([]float64, mostOf(o.Draws)) // of which only the length is read
	for i := range all {
		c.order[i], c.merits[i] = i, length[:draws]
	}
	some := func(which []int) (out []*build) {
		for _, i := range which {
			out = append(out, all[i])
		}
		return out
	}
	const number, outcome = 8, 9 // bytes: of a score; of a merit, and whether it is kept
	f.held = float64(outcome * draws * len(all))
	for i, r := range rounds {
		to := upTo(i, o.Draws)
		which := c.finalists(f.space, min(r.builds, len(all)), r.ofValue)
		list := some(which)
		if f.pass(list, to-draws); i == 0 {
			f.lists.more = list
		} else {
			f.held += float64(number * f.scored * (to - draws) * len(list))
		}
		f.held += float64(outcome * (to - draws) * len(list))
		for _, at := range which {
			c.merits[at] = length[:to]
		}
		draws = to
	}
	f.stage = Weighing
	f.lists.best = all[:min(told, len(all))]
	f.pass(f.lists.best, upTo(0, o.Draws))
	f.stage = Loosening
	f.pass(c.neighbours(f.space), 1)

	f.stage = Telling
	taken := map[int]bool{}
	for i := range f.lists.best {
		taken[i] = true
	}
	for _, i := range c.finalists(f.space, 0, toldOfValue) {
		taken[i] = true
	}
	needed := map[propellerKey]bool{}
	for i := range all {
		if taken[i] {
			f.lists.told = append(f.lists.told, all[i])
			needed[all[i].propeller] = true
		}
	}
	f.held += float64(number * o.Fresh * (len(f.metrics) + 5) * len(f.lists.told))
	f.forget(func(k propellerKey) bool { return !needed[k] && !later[k] })
	f.pass(f.lists.told, o.Fresh)
	f.stage = Moving
	f.pass(f.lists.told, s.Draws())
	f.pass(f.lists.told, same)
	f.stage = Measuring
	of := all[:1]
	if n := rival(all); n > 0 {
		of = append(of, all[n])
	}
	f.pass(of, 1)
	f.pass(of, o.Fresh)
	for i := range of { // tests of one and of its rival
		f.pass(of[i:i+1], 1)
		f.pass(of[i:i+1], o.Fresh)
	}
	f.forget(func(k propellerKey) bool { return !later[k] })
}

// pass notes the work of a pass.
func (f *foretelling) pass(builds []*build, draws int) {
	w := &f.works[f.stage]
	if draws == 0 {
		return
	}
	for _, part := range lots(builds) {
		keys := make([]propellerKey, len(part))
		for i, g := range part {
			keys[i] = builds[g[0]].propeller
			w.Builds += draws * len(g)
		}
		w.Solved += len(f.solve(keys))
		if draws > 1 && f.last >= model.StageFlight {
			w.Traced += len(f.trace(keys))
		}
		w.Draws += draws
		w.Varied += draws * len(part)
	}
}

// grown is a list of candidates of a part of a study as that of the whole would be: so many
// times the builds, of so many times the propellers, in which they are as those that there are.
func grown(list []*build, builds, propellers float64) []*build {
	n := len(list)
	out := list
	place := map[propellerKey]int{}
	for _, b := range list {
		if _, ok := place[b.propeller]; !ok {
			place[b.propeller] = len(place)
		}
	}
	most := int(math.Round(float64(len(place)) * max(1, propellers)))
	want := min(mostBuilds+1, int(math.Round(float64(n)*max(1, builds))))
	for i := n; i < want; i++ {
		b := *list[i%n]
		b.first = false
		if turn := i / n; place[b.propeller]+turn*len(place) < most {
			b.propeller.at[0] = -turn // one that there is not
		}
		out = append(out, &b)
	}
	return out
}
