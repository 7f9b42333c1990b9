package decide

import (
	"context"
	"errors"
	"fmt"
	"runtime"
	"slices"

	"rotorsieve/model"
	"rotorsieve/sweep"
)

// Options say how a choice is made. Workers and Progress never change what comes of it.
type Options struct {
	Draws      int                   // of the choice, see DefaultDraws
	Seed       uint64                // of all draws
	ByThrottle []*model.Metric       // see ByThrottle
	Workers    int                   // 0 for all processors
	Progress   func(done, total int) // builds in draws; may be nil; called by one goroutine at a time
	Fresh      int                   // draws of what is told of builds; 0 for the usual number
	Staged     func(Stage)           // told of each stage that begins, class by class; may be nil
}

// MostDraws bounds what is asked for: the merits of all candidates are held in memory.
const MostDraws = 4096

// Run chooses in every class of a result among the builds that the sweep has kept. It
// returns an error where the context ends first, something of the options cannot be used, or the
// study is Nominal.
func Run(ctx context.Context, s *sweep.Study, r *sweep.Result, o Options) (*Decision, error) {
	return run(ctx, s, r, o, drawn(s.Models()))
}

func run(ctx context.Context, s *sweep.Study, found *sweep.Result, o Options, from source) (*Decision, error) {
	if s.Nominal {
		return nil, errors.New("a study that keeps no candidates, want one that does")
	}
	if o.Fresh == 0 {
		o.Fresh = Fresh
	}
	for _, n := range []int{o.Draws, o.Fresh} {
		if n < 1 || n > MostDraws {
			return nil, fmt.Errorf("%d draws, want 1 to %d", n, MostDraws)
		}
	}
	if o.Workers <= 0 {
		o.Workers = runtime.GOMAXPROCS(0)
	}
	rules := newRules(s, o.ByThrottle)
	x := newRunner(rules, s.Models(), o.Workers)
	x.tell, x.staged = o.Progress, o.Staged
	d := &Decision{Draws: o.Draws, Fresh: o.Fresh, Seed: o.Seed, ByThrottle: o.ByThrottle, Metrics: rules.metrics}
	builds := make([][]*build, len(found.Classes))
	for i := range found.Classes {
		c := &found.Classes[i]
		builds[i] = rules.space.candidates(i, c)
		x.expect(len(builds[i])*(1+firstDraws(len(builds[i]), o.Draws)) +
			min(len(builds[i]), usuallyTold)*o.Fresh)
	}
	for i := range found.Classes {
		later := map[propellerKey]bool{}
		for _, list := range builds[i+1:] {
			for _, b := range list {
				later[b.propeller] = true
			}
		}
		c, err := x.decide(ctx, i, builds[i], later, from, o)
		if err == nil {
			err = c.sweptHeavier(ctx, s, found, i)
		}
		if err != nil {
			return nil, err
		}
		d.Classes = append(d.Classes, c)
		builds[i] = nil
	}
	d.Works = *x.works
	return d, nil
}

// usuallyTold is about how many builds are told of, for the progress alone.
const usuallyTold = 150

// decide is the choice in one class. Later classes look at some of the propellers that are
// solved; ensembles are made for the class, since they keep something of every part.
func (r *runner) decide(ctx context.Context, class int, builds []*build, later map[propellerKey]bool,
	from source, o Options) (Class, error) {
	out := Class{Judged: len(builds), Nominal: -1, Surest: -1}
	if len(builds) == 0 {
		return out, nil
	}
	r.begin(Planning)
	if err := r.plan(ctx, builds); err != nil {
		return out, err
	}
	e, err := from(o.Seed, mostOf(o.Draws))
	if err != nil {
		return out, err
	}
	c, err := r.choose(ctx, e, o.Draws, class, builds)
	if err != nil {
		return out, err
	}
	r.begin(Weighing)
	w, err := r.weigh(ctx, c, e)
	if err != nil {
		return out, err
	}
	if out.Weights, err = r.ranges(ctx, w); err != nil {
		return out, err
	}
	r.begin(Loosening)
	if out.Loosened, err = r.loosened(ctx, c); err != nil {
		return out, err
	}
	r.begin(Telling)
	var tell []*build
	places := c.tell(r.space)
	needed := map[propellerKey]bool{}
	for at, i := range places {
		tell = append(tell, builds[i])
		needed[builds[i].propeller] = true
		if builds[i].first {
			out.Nominal = at
		}
	}
	r.forget(func(k propellerKey) bool { return !needed[k] && !later[k] })
	r.expect((len(tell) - min(len(builds), usuallyTold)) * o.Fresh)
	if e, err = from(other(o.Seed, forFresh), o.Fresh); err != nil {
		return out, err
	}
	f, err := r.watch(ctx, e, tell, other(o.Seed, forBootstrap))
	if err != nil {
		return out, err
	}
	if out.Builds, err = r.describe(ctx, f); err != nil {
		return out, err
	}
	for at, i := range places {
		out.Builds[at].Rank = c.standing[i].rank
	}
	out.Surest = surest(out.Builds)
	out.Axes, out.Line = f.axisValues(), line(out.Builds)
	out.Drawn = slices.Clone(f.of(0)[:min(DefaultDraws, f.draws)])
	margins := f.margins(0)
	f.values = nil // many, and no longer read
	r.begin(Moving)
	if out.Sensitivities, err = r.sensitivities(ctx, tell); err != nil {
		return out, err
	}
	r.begin(Measuring)
	if out.Tests, out.Loads, err = r.planned(ctx, e, tell[0], margins); err != nil {
		return out, err
	}
	if out.Worth, err = r.worth(ctx, e, f, other(o.Seed, forShuffle)); err != nil {
		return out, err
	}
	out.Rivals, err = r.rivals(ctx, e, tell, out.Worth)
	r.forget(func(k propellerKey) bool { return !later[k] })
	return out, err
}
