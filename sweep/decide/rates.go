package decide

import (
	"cmp"
	"context"
	"math"
	"slices"

	"rotorsieve/sweep/spent"
)

// A trial takes so many propellers and builds of each through so many draws.
const (
	triedPropellers = 12
	triedBuilds     = 40 // of a propeller, at most
	triedDraws      = 16
	triedTurns      = 3   // as often, in other draws
	triedOften      = 16  // of two builds, which take little
	triedTold       = 2   // propellers whose builds more is told of
	leastTried      = 128 // builds of those that stand for the better ones
)

// rate is what the work of a stage takes, in seconds of processor time.
type rate struct {
	draw, vary, judge float64 // a draw, a propeller in it, a build in it
	packs             float64 // of a build in a draw
}

// rates are those of a class.
type rates struct {
	of   [Stages]rate
	once [Stages]float64 // what the class takes besides
}

// trying measures what the work of a choice takes, class by class.
type trying struct {
	*runner
	ctx           context.Context
	err           error
	solve, trace  float64 // s, of all that were
	solved, flown int
}

// timed is the processor time of something in seconds, and the work that it was.
func (t *trying) timed(do func() error) (seconds float64, w Work) {
	if t.err != nil {
		return 0, w
	}
	before := t.works[t.stage]
	from := spent.Time()
	t.err = do()
	return (spent.Time() - from).Seconds(), t.works[t.stage].less(before)
}

// less takes from work what was done before.
func (w Work) less(b Work) Work {
	return Work{w.Solved - b.Solved, w.Traced - b.Traced, w.Draws - b.Draws, w.Varied - b.Varied, w.Builds - b.Builds,
		w.Packs - b.Packs}
}

// less takes from the work of all stages what was done before.
func (w *Works) less(b *Works) (out Works) {
	for s := range Stages {
		out[s] = w[s].less(b[s])
	}
	return out
}

// each is what solving a propeller takes, and tracing its flight for draws.
func (t *trying) each() (solve, trace float64) {
	return t.solve / float64(max(t.solved, 1)), t.trace / float64(max(t.flown, 1))
}

// inOtherAir is what a propeller takes in air that the sweep has not solved it in, by that of two
// sizes.
func (t *trying) inOtherAir(others [][]alternative, some []*build) float64 {
	const sizes = 2
	var of []*build
	for _, b := range some {
		if !slices.ContainsFunc(of, func(o *build) bool { return o.design.Diameter == b.design.Diameter }) &&
			len(of) < sizes {
			of = append(of, b)
		}
	}
	for _, every := range others {
		if !every[0].blows {
			continue
		}
		seconds, w := t.timed(func() error {
			m, err := otherwise(t.nominal.models(), every)
			if err == nil {
				_, _, err = t.inAir(t.ctx, m, of)
			}
			return err
		})
		return seconds / float64(max(w.Solved, 1))
	}
	return 0
}

// class measures the rates of a class by some of its builds.
func (t *trying) class(of *stageLists, done Works, o Options) (x rates) {
	some, all := sample(of), len(of.all)
	e, err := drawn(t.nominal.models())(o.Seed, triedOften*triedDraws)
	if t.err == nil {
		t.err = err
	}
	nothing := func(*bench, int, *build, int) {}
	solve := func() error { return t.pass(t.ctx, models{t.nominal}, some, nothing) }
	if t.nominal.model.Store != nil { // the sweep will have solved them
		t.timed(solve)
		t.forget(func(propellerKey) bool { return true })
	}
	seconds, w := t.timed(solve)
	if w.Solved > 0 { // else they are those of another class
		t.solve, t.solved = t.solve+seconds, t.solved+w.Solved
	}
	perBuild := func(do func() error) (seconds, packs float64) {
		s, w := t.timed(do)
		n := float64(len(some))
		return s / n, float64(w.Packs) / n
	}
	p, l := &x.of[Planning], &x.of[Loosening]
	p.judge, p.packs = perBuild(func() error { return t.plan(t.ctx, some) })
	eased := t.eased()
	l.judge, l.packs = perBuild(func() error {
		return t.pass(t.ctx, models{t.nominal}, some, func(w *bench, _ int, b *build, _ int) {
			w.eachLoosened(b, eased, func(int, uint64, float64) {})
		})
	})
	if t.err != nil {
		return x
	}
	// The flight for draws is traced in the first pass.
	const two = 2
	seconds, w = t.timed(func() error { return t.pass(t.ctx, window{e, 0, two}, some, nothing) })
	again, _ := t.timed(func() error { return t.pass(t.ctx, window{e, 0, two}, some, nothing) })
	if w.Traced > 0 {
		t.trace, t.flown = t.trace+max(0, seconds-again), t.flown+w.Traced
	}
	merits := make([][]float64, len(some))
	for i := range merits {
		merits[i] = make([]float64, triedDraws)
	}
	judge := func(w *bench, _ int, b *build, _ int) { w.judge(b) }
	if t.err == nil {
		t.err = t.pass(t.ctx, window{e, 0, triedDraws}, some, func(w *bench, k int, b *build, at int) {
			merits[at][k] = w.judge(b).merit
		})
	}
	x.of[FirstDraws] = t.rate(e, some, judge, triedTurns)
	if t.err != nil {
		return x
	}
	// Those that keep their requirements in most draws go on to more.
	by := make([]int, len(some))
	memory := make([]float64, triedDraws)
	cautious := make([]float64, len(some))
	for i := range by {
		by[i] = i
		cautious[i] = cautiousOf(merits[i], memory)
	}
	slices.SortStableFunc(by, func(a, b int) int { return cmp.Compare(cautious[b], cautious[a]) })
	// Of a propeller as many as there will be, so that what it costs to scale it is shared by as many.
	best := func(s Stage, of int) (out []*build) {
		each := max(1, (done[s].Builds+done[s].Varied-1)/max(1, done[s].Varied))
		count := map[propellerKey]int{}
		for _, i := range by[:max(min(len(by), leastTried), of*len(by)/all)] {
			if b := some[i]; count[b.propeller] < each {
				count[b.propeller]++
				out = append(out, b)
			}
		}
		return out
	}
	x.of[MoreDraws] = t.rate(e, best(MoreDraws, len(of.more)), judge, triedTurns)
	far := best(Telling, 0)
	x.of[Telling] = t.rate(e, far, judge, triedTurns)
	x.of[Weighing], x.of[Moving] = x.of[Telling], x.of[Telling]
	x.of[Measuring] = t.rate(e, far[:min(len(far), 2)], judge, triedOften)
	// Models of a source moved are made in another way.
	moved := shifts{t.nominal.models()}
	few := far[:1]
	draws := min(triedDraws, moved.Draws())
	seconds, w = t.timed(func() error { return t.pass(t.ctx, window{moved, 0, draws}, few, judge) })
	m := &x.of[Moving]
	m.draw = max(m.draw, seconds/float64(draws)-m.vary-m.judge)
	t.besides(&x, of, ofFew(far), o)
	return x
}

// ofFew are the builds of the first propellers in a list.
func ofFew(builds []*build) (out []*build) {
	var keys []propellerKey
	for _, b := range builds {
		if !slices.Contains(keys, b.propeller) && len(keys) < triedTold {
			keys = append(keys, b.propeller)
		}
		if slices.Contains(keys, b.propeller) {
			out = append(out, b)
		}
	}
	return out
}

// rate measures a job of builds in draws, of all of them and of one of each propeller: a draw has the
// packs and motors of builds, a propeller is scaled for it, and each build is judged.
func (t *trying) rate(e ensemble, builds []*build, do job, turns int) (x rate) {
	by := map[propellerKey][]*build{}
	for _, b := range builds {
		by[b.propeller] = append(by[b.propeller], b)
	}
	var ones []*build
	for _, of := range by {
		ones = append(ones, of[len(of)/2]) // the first may be the best
	}
	draws, n, m := float64(turns*triedDraws), float64(len(builds)), float64(len(ones))
	measure := func(in ensemble, of []*build, made, done *float64) (packs float64) {
		one := make([]*build, len(of))
		for i := range one {
			b := *of[i]
			b.propeller = of[0].propeller
			one[i] = &b
		}
		seconds, _ := t.timed(func() error {
			return t.pass(t.ctx, in, one, func(w *bench, _ int, b *build, _ int) { w.motor(b); w.shelf(b) })
		})
		*made += seconds / draws
		seconds, w := t.timed(func() error { return t.pass(t.ctx, in, of, do) })
		*done += seconds / draws
		return float64(w.Packs) / draws
	}
	var madeFew, few, made, all, packs float64
	for turn := range turns {
		in := window{e, turn * triedDraws, triedDraws}
		measure(in, ones, &madeFew, &few)
		packs += measure(in, builds, &made, &all)
	}
	few -= madeFew
	all -= made
	x.draw, x.judge, x.packs = made, max(0, all)/n/2, packs/n
	if n > m {
		x.judge = max(0, min(all, all-few)) / (n - m)
	}
	x.vary = max(0, all-n*x.judge) / m
	return x
}

// besides measures what stages take besides judging: what is told of builds, the ranges of weights,
// and what is worth measuring.
func (t *trying) besides(x *rates, of *stageLists, some []*build, o Options) {
	seed := other(o.Seed, forBootstrap)
	e, err := drawn(t.nominal.models())(other(o.Seed, forFresh), o.Fresh)
	if t.err == nil {
		t.err = err
	}
	x.once[Telling], _ = t.timed(func() error { bootstrap(o.Fresh, seed); return nil })
	var f *fresh
	seconds, w := t.timed(func() (err error) {
		if f, err = t.watch(t.ctx, e, some, seed); err == nil {
			_, err = t.describe(t.ctx, f)
		}
		return err
	})
	if t.err != nil {
		return
	}
	tell := &x.of[Telling]
	seconds -= x.once[Telling] + x.of[Measuring].draw*float64(w.Draws) + tell.vary*float64(w.Varied)
	tell.judge = max(0, seconds) / float64(w.Builds)

	n := min(told, len(of.all))
	rows := make([][]float64, n)
	for i := range rows {
		rows[i] = f.of(i % len(some))
	}
	if terms := len(t.study.Merit); terms > 1 {
		g := &weighing{builds: n, draws: mostOf(o.Draws), terms: terms, scenes: t.scored / terms,
			shares: slices.Repeat([]float64{1 / float64(terms)}, terms)}
		g.scores = make([]float64, n*g.draws*t.scored)
		for i := range g.scores {
			row := rows[i/(g.draws*t.scored)]
			g.scores[i] = row[i/t.scored%len(row)]
		}
		seconds, _ := t.timed(func() error { g.first(0, g.shares[0]); return nil })
		x.once[Weighing] = seconds * float64(terms) / shareStep
	}
	// Of three quantities there are six worths, of those that a plan looks at some fifty.
	const tried, worths, usual = 3, 6, 51
	list := make([]measured, tried)
	for i := range list {
		v := make([]float64, o.Fresh)
		for k := range v {
			v[k] = math.Sin(float64(k * (i + 1)))
		}
		standardise(v)
		list[i] = measured{what: Measurable(i), x: v}
	}
	seconds, _ = t.timed(func() error {
		_, err := newKnowing(rows).worth(t.ctx, list, seed)
		return err
	})
	x.once[Measuring] = seconds * usual / worths
}

// sample takes builds of some propellers, of which half are those of builds that are told of.
func sample(of *stageLists) (out []*build) {
	var keys []propellerKey
	add := func(b *build, most int) {
		if k := b.propeller; k.at[0] >= 0 && len(keys) < most && !slices.Contains(keys, k) {
			keys = append(keys, k)
		}
	}
	for _, b := range of.told {
		add(b, triedPropellers/2)
	}
	for i := range of.all { // spread over them
		add(of.all[i*7919%len(of.all)], triedPropellers)
	}
	for _, k := range keys {
		var own []*build
		for _, b := range of.all {
			if b.propeller == k {
				own = append(own, b)
			}
		}
		n := min(len(own), triedBuilds)
		for i := range n {
			b := *own[i*len(own)/n]
			out = append(out, &b)
		}
	}
	return out
}
