package decide

import (
	"context"
	"math"
	"runtime"
	"slices"
	"time"

	"rotorsieve/sweep"
	"rotorsieve/sweep/spent"
)

// Forecast is what a choice will take, as a trial has shown.
type Forecast struct {
	Builds int           // candidates of all classes, of what was found so far
	CPU    time.Duration // of the choice, of all processors together
	Time   time.Duration // of the same, where the run has its processors for itself
	Memory float64       // that it holds at most besides what the sweep has left, in bytes
}

// A trial takes so many propellers and builds of each through so many draws, some times.
const (
	triedPropellers = 4
	triedBuilds     = 6
	triedDraws      = 8
	triedTurns      = 8
)

// Measured on whole choices: what a propeller holds with the flight that draws are scaled
// from, and by how much the heap reaches over what is held.
const (
	perPropeller = 160e3
	overHeld     = 1.5

	apart      = 0.4  // of the values of axes: that many have the full number of builds that are not among the best
	aboutTold  = 55   // builds that are told of besides those of values
	statistics = 25e3 // what comes of a class besides takes as long as judging so many builds in a draw
	bestOf     = 100  // builds of a class that a trial of the best takes its own from
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
	var all, best []*build // of all classes
	type candidates struct{ builds, propellers int }
	var each []candidates // by class
	solve := map[propellerKey]bool{}
	for i := range found.Classes {
		b := rules.space.candidates(i, &found.Classes[i])
		own := map[propellerKey]bool{}
		for _, b := range b {
			own[b.propeller], solve[b.propeller] = true, true
		}
		all, each = append(all, b...), append(each, candidates{len(b), len(own)})
		best = append(best, b[:min(len(b), bestOf)]...)
	}
	out.Builds = len(all)
	if len(all) == 0 {
		return out, nil
	}
	e, err := drawn(s.Models())(o.Seed, 3*triedTurns*triedDraws)
	if err != nil {
		return out, err
	}
	// Those that come far pass more gates.
	r := newRunner(rules, s.Models(), 1)
	t, err := tryOut(ctx, r, e, all)
	if err != nil {
		return out, err
	}
	far, err := tryOut(ctx, r, e, best)
	if err != nil {
		return out, err
	}
	values := 0
	for _, axis := range rules.space.swept() {
		values += len(rules.space.axes[axis].Values)
	}
	some := apart * float64(values)
	// Other air is looked at twice, with half of what solving takes for draws.
	seconds := t.propeller * float64(len(solve)+min(airSizes, len(solve)))
	shifted := float64(shifts{s.Models()}.Draws())
	fresh := float64(o.Fresh)
	for _, of := range each {
		if of.builds == 0 {
			continue
		}
		// The draws of each pass, and the builds and propellers that go through them.
		builds, solved := float64(of.builds), float64(of.propellers)
		varied := func(builds float64) float64 { return solved * (1 - math.Exp(-builds/2/solved)) }
		first := float64(firstDraws(of.builds, o.Draws))
		seconds += t.plan*builds + t.judge*(first*builds+statistics) +
			t.draw*first*math.Ceil(solved/solvedAtOnce) + t.vary*first*solved
		pass := func(builds, draws float64) {
			seconds += far.judge*builds*draws + t.draw*draws + t.vary*varied(builds)*draws
		}
		const number, outcome = 8, 9 // bytes: of a score; of a merit, and whether it is kept
		held := outcome * builds * first
		last := first
		for i, x := range rounds {
			to := float64(upTo(i, o.Draws))
			n := min(builds, float64(x.builds)+some*float64(x.ofValue))
			pass(n, to-last)
			held += outcome * n * (to - last)
			if i > 0 {
				held += number * n * (to - last) * float64(len(s.Merit))
			}
			last = to
		}
		tell := min(builds, aboutTold+some*toldOfValue)
		pass(tell, fresh+shifted)
		held += tell * fresh * number * float64(len(rules.metrics)+5)
		out.Memory = max(out.Memory, held)
	}
	out.Memory = overHeld * (out.Memory + perPropeller*float64(min(len(solve), solvedKept)))
	processors := runtime.GOMAXPROCS(0)
	if o.Workers > 0 {
		processors = min(processors, o.Workers)
	}
	out.CPU = time.Duration(seconds * float64(time.Second))
	out.Time = out.CPU / time.Duration(processors)
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
			from := spent.Time()
			err = do()
			seconds = (spent.Time() - from).Seconds()
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
	// By turns, and the second least of each: a machine that is busy disturbs some.
	var turns [3][]float64
	pass := func(of, turn int, builds []*build) {
		from := (of*triedTurns + turn) * triedDraws
		seconds := timed(func() error { return r.pass(ctx, window{e, from, triedDraws}, builds, judge) })
		turns[of] = append(turns[of], seconds/triedDraws)
	}
	var firsts []*build // of each propeller
	for _, k := range keys {
		firsts = append(firsts, some[slices.IndexFunc(some, func(b *build) bool { return b.propeller == k })])
	}
	for turn := range triedTurns {
		pass(0, turn, firsts[:1])
		pass(1, turn, firsts)
		pass(2, turn, some)
	}
	for i := range turns {
		slices.Sort(turns[i])
	}
	one, other, many := turns[0][1], turns[1][1], turns[2][1]
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
