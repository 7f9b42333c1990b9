package decide

import (
	"context"
	"fmt"
	"runtime"
	"slices"

	"rotorsieve/model"
	"rotorsieve/sweep"
)

// Contender is a design of a study's grid in a class of the study.
type Contender struct {
	Study *sweep.Study
	Class int // in Study.Classes
	Index uint64
}

// Pair is how two designs stand over the same draws, each as a build whose pack is bought in
// the draw; of a grid of one capacity that is the pack.
type Pair struct {
	Draws int
	Seed  uint64
	Of    [2]Build // Regret, Tied and Rank are not set
	// First holds the first against the second.
	First   AxisValue
	Metrics []*model.Metric // that Build.Metrics gives
}

// PairOf takes two designs through the fresh draws of a seed, so many, or the usual number
// where o.Fresh is 0. Both are judged by the requirements and the merit of the first one's
// study, each under the assumptions of its own.
func PairOf(ctx context.Context, a, b Contender, o Options) (*Pair, error) {
	if o.Fresh == 0 {
		o.Fresh = Fresh
	}
	if o.Fresh < 1 || o.Fresh > MostDraws {
		return nil, fmt.Errorf("%d draws, want 1 to %d", o.Fresh, MostDraws)
	}
	if o.Workers <= 0 {
		o.Workers = runtime.GOMAXPROCS(0)
	}
	other := *b.Study
	other.Require, other.Merit = a.Study.Require, a.Study.Merit
	b.Study = &other
	var all [2]*fresh
	for i, c := range []Contender{a, b} {
		f, err := c.watch(ctx, o)
		if err != nil {
			return nil, err
		}
		all[i] = f
	}
	first, second := all[0], all[1]
	p := &Pair{Draws: o.Fresh, Seed: o.Seed, Metrics: first.metrics,
		Of: [2]Build{first.describe(0, first.top()), second.describe(0, second.top())}}
	against := &fresh{rules: first.rules, builds: []*build{second.builds[0], first.builds[0]}, draws: o.Fresh,
		results: slices.Concat(second.results, first.results), values: slices.Concat(second.values, first.values),
		merits: slices.Concat(second.merits, first.merits), rising: slices.Concat(second.rising, first.rising),
		cautious: slices.Concat(second.cautious, first.cautious), samples: slices.Concat(second.samples, first.samples)}
	p.First.Any, p.First.Build = true, 1
	against.against(&p.First)
	p.First.Build = 0
	return p, nil
}

// watch takes the design through the draws as a choice tells of its builds.
func (c Contender) watch(ctx context.Context, o Options) (*fresh, error) {
	rules := newRules(c.Study, o.ByThrottle)
	r := newRunner(rules, c.Study.Models(), o.Workers)
	b := rules.space.build(c.Class, c.Index)
	b.first = true // its pack is planned as it is
	builds := []*build{b}
	if err := r.plan(ctx, builds); err != nil {
		return nil, err
	}
	e, err := drawn(c.Study.Models())(other(o.Seed, forFresh), o.Fresh)
	if err != nil {
		return nil, err
	}
	return r.watch(ctx, e, builds, other(o.Seed, forBootstrap))
}
