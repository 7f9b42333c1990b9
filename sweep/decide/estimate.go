package decide

import (
	"context"
	"runtime"
	"slices"
	"time"

	"rotorsieve/sweep"
)

// Forecast is what a choice will take, as a trial has shown.
type Forecast struct {
	Builds int           // candidates of all classes, of what was found so far
	Time   time.Duration // of the choice
	Memory float64       // that it holds at most besides what the sweep has left, in bytes
}

// A trial takes so many propellers and builds of each through so many draws.
const (
	triedPropellers = 4
	triedBuilds     = 6
	triedDraws      = 48
)

// Measured on whole choices: what a propeller holds with the flight that draws are scaled
// from, and by how much the heap reaches over what is held.
const (
	perPropeller = 160e3
	overHeld     = 1.5
	shared       = 0.87 // of the time, where builds have motors and packs in common, as few that are tried do
	aboutTold    = 50   // builds that are told of

	bestPropellers = 12   // of the builds that are told of, and of those of the last rounds
	statistics     = 25e3 // what comes of a class besides takes as long as judging so many builds in a draw
)

// Estimate takes some of the builds of a result, which may be of a part of a study, through
// some draws, and gives what a choice among all of them would take at that rate, on the
// processors that it would have. A propeller that is not solved is passed over.
func Estimate(ctx context.Context, s *sweep.Study, found *sweep.Result, o Options) (Forecast, error) {
	var out Forecast
	if o.Fresh == 0 {
		o.Fresh = Fresh
	}
	rules := newRules(s, o.ByThrottle)
	var all []*build // of all classes
	var each []int   // by class
	for i := range found.Classes {
		b := rules.space.candidates(i, &found.Classes[i])
		all, each = append(all, b...), append(each, len(b))
	}
	out.Builds = len(all)
	if len(all) == 0 {
		return out, nil
	}
	e, err := drawn(s.Models())(o.Seed, 3*triedDraws)
	if err != nil {
		return out, err
	}
	t, err := tryOut(ctx, newRunner(rules, s.Models(), 1), e, all)
	if err != nil {
		return out, err
	}
	propellers := map[propellerKey]bool{}
	for _, b := range all {
		propellers[b.propeller] = true
	}
	// Other air is looked at twice, with half of what solving takes for draws.
	seconds := t.propeller * float64(len(propellers)+min(airSizes, len(propellers)))
	shifted := shifts{s.Models()}.Draws()
	for _, n := range each {
		if n == 0 {
			continue
		}
		// The draws of each pass, and the builds that go through them.
		tell, most := min(n, aboutTold), mostOf(o.Draws)
		seconds += t.plan*float64(n) + t.draw*float64(o.Draws*(1+len(propellers)/solvedAtOnce)+most+2*o.Fresh+shifted)
		seconds += t.vary * float64(len(propellers)*o.Draws+min(len(propellers), bestPropellers)*(most+o.Fresh+shifted))
		judged := n*o.Draws + tell*(o.Fresh+shifted) + min(n, told)*o.Draws + statistics
		last := o.Draws
		for i := range rounds {
			judged += min(n, rounds[i].builds) * (upTo(i, o.Draws) - last)
			last = upTo(i, o.Draws)
		}
		seconds += t.judge * float64(judged)
		held := float64(n*o.Draws)*9 + float64(min(n, rounds[0].builds)*most)*8*float64(1+len(s.Merit)) +
			float64(tell*o.Fresh)*8*float64(len(rules.metrics)+5)
		out.Memory = max(out.Memory, held)
	}
	out.Memory = overHeld * (out.Memory + perPropeller*float64(min(len(propellers), solvedKept)))
	processors := runtime.GOMAXPROCS(0)
	if o.Workers > 0 {
		processors = min(processors, o.Workers)
	}
	out.Time = time.Duration(shared * seconds / float64(processors) * float64(time.Second))
	return out, nil
}

// tried is what parts of a choice took, in seconds of one processor.
type tried struct{ propeller, plan, draw, vary, judge float64 }

// tryOut measures a few builds of a few propellers: what solving a propeller takes, planning a
// build, making the models of a draw and of a propeller in it, and judging a build.
func tryOut(ctx context.Context, r *runner, e ensemble, all []*build) (t tried, err error) {
	var keys []propellerKey
	var some []*build
	count := map[propellerKey]int{}
	for i := range all { // spread over them
		b := all[i*7919%len(all)]
		if _, ok := count[b.propeller]; !ok && len(keys) < triedPropellers {
			keys = append(keys, b.propeller)
			count[b.propeller] = 0
		}
		if n, ok := count[b.propeller]; ok && n < triedBuilds && !slices.Contains(some, b) {
			count[b.propeller]++
			copied := *b
			some = append(some, &copied)
		}
	}
	timed := func(do func() error) (seconds float64) {
		if err == nil {
			from := time.Now()
			err = do()
			seconds = time.Since(from).Seconds()
		}
		return seconds
	}
	t.propeller = timed(func() error { return r.pass(ctx, window{e, 0, 2}, some, func(*bench, int, *build, int) {}) })
	t.propeller /= float64(len(keys))
	t.plan = timed(func() error { return r.plan(ctx, some) }) / float64(len(some))
	judge := func(w *bench, _ int, b *build, _ int) { w.judge(b) }
	if err == nil { // an ensemble works out once what it has of a part
		err = r.pass(ctx, window{e, 0, 2}, some, judge)
	}
	pass := func(from int, builds []*build) float64 {
		return timed(func() error { return r.pass(ctx, window{e, from, triedDraws}, builds, judge) }) / triedDraws
	}
	var firsts []*build // of each propeller
	for _, k := range keys {
		firsts = append(firsts, some[slices.IndexFunc(some, func(b *build) bool { return b.propeller == k })])
	}
	one, other, many := pass(0, firsts[:1]), pass(triedDraws, firsts), pass(2*triedDraws, some)
	p, n := float64(len(keys)), float64(len(some))
	t.judge = many / n / 2 // where too few were tried to tell them apart
	if n > p {
		t.judge = max(many-other, 0) / (n - p)
	}
	if p > 1 {
		t.vary = max((other-one)/(p-1)-t.judge, 0)
	}
	t.draw = max(one-t.judge-t.vary, 0)
	return t, err
}
