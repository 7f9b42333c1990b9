package main

import (
	"context"
	"errors"
	"fmt"
	"runtime/debug"
	"slices"

	"github.com/spf13/pflag"

	"rotorsieve/model"
	"rotorsieve/report/finding"
	"rotorsieve/report/screen"
	"rotorsieve/sweep"
	"rotorsieve/sweep/abandon"
	"rotorsieve/sweep/decide"
)

// drawFlags say over which draws of what the model may err by a build is chosen.
type drawFlags struct {
	draws, seed int
	byThrottle  []*model.Metric
}

// mostDraws bounds --draws: what more would tell is below what the spreads are known to.
const mostDraws = decide.MostDraws

// declare declares the flags of a study, without those that declareSpread declares for one
// design.
func (d *drawFlags) declare(f *pflag.FlagSet, one bool) {
	if !one {
		f.Var(newNumber(&d.draws, 0, mostDraws, decide.DefaultDraws), "draws", "of what the model may err by, over "+
			"which a build is chosen and is told how sure it is; 0 for none: the sweep is faster, and keeps nothing "+
			"to choose among later")
		d.declareSeed(f)
	}
	f.Var(newByThrottle(&d.byThrottle), "by-throttle", "requirements that the pilot keeps with the throttle: where "+
		"a draw breaks one, full throttle is held back, and thrust to weight and all that follows it is of that")
}

func (d *drawFlags) declareSeed(f *pflag.FlagSet) {
	f.Var(newNumber(&d.seed, 0, 1<<31-1, 1), "draw-seed", "of the draws: runs of one seed have the same errors, and "+
		"are compared draw by draw")
}

// declareSpread declares the flags of one design over draws.
func (d *drawFlags) declareSpread(f *pflag.FlagSet) {
	f.Var(newNumber(&d.draws, 0, mostDraws, 0), "draws", "of what the model may err by, over which the percentiles of "+
		"each metric are printed beside it; 0 for none")
	d.declareSeed(f)
}

// spread is what the metrics of a design are over the draws; nil where none are asked for
// or the design does not operate.
func (d *drawFlags) spread(ctx context.Context, st *sweep.Study, of model.Design, c *model.Craft, operates bool) (
	*screen.Spread, error) {
	if d.draws == 0 || !operates {
		return nil, nil
	}
	s := &screen.Spread{Draws: d.draws, Seed: d.seed, Required: c.Limit > 0 || len(st.Require) > 0}
	err := abandon.Run(ctx, func() (err error) {
		s.Drawn, err = decide.Spread(ctx, st.Models(), st.Scenario(c), of, c.Limit, st.Require, d.draws, uint64(d.seed))
		return err
	})
	return s, err
}

// newByThrottle is a list of metrics that a pilot keeps within their bounds with the
// throttle.
func newByThrottle(to *[]*model.Metric) *list[*model.Metric] {
	l := &list[*model.Metric]{to: to, item: "metric", comma: true, empty: true, most: len(model.Metrics),
		names: decide.HeldByThrottle(),
		parse: func(text string) (*model.Metric, error) {
			m, err := decide.ByThrottle([]string{text})
			if err != nil {
				return nil, err
			}
			return m[0], nil
		},
		clash: func(a, b *model.Metric) error {
			if a == b {
				return errors.New("the same metric twice, want each once")
			}
			return nil
		},
	}
	return l.start()
}

// check refuses what nothing follows from.
func (d *drawFlags) check(st *sweep.Study) error {
	for _, m := range d.byThrottle {
		if d.draws == 0 {
			return errors.New("--by-throttle says how draws are judged, want --draws above 0")
		}
		if !slices.ContainsFunc(st.Require, func(r sweep.Requirement) bool { return r.Metric == m }) {
			return fmt.Errorf("--by-throttle %s: nothing is required of it, want a --require on it beside",
				m.Name)
		}
	}
	return nil
}

// foresee is what the choice of a run will take of which a trial has found a part.
func (d *drawFlags) foresee(st *sweep.Study, trial *sweep.Forecast, workers int) (decide.Forecast, error) {
	defer lean()() // as the choice will be
	return decide.Estimate(context.Background(), st, trial.Found, trial.Growth, decide.Options{Draws: d.draws,
		Seed: uint64(d.seed), ByThrottle: d.byThrottle, Workers: workers})
}

// decideOn chooses builds in the result of a finished run. Where it is interrupted, onwards
// says what goes on.
func (d *drawFlags) decideOn(ctx context.Context, r *finding.Run, workers int, p *progress, onwards string) error {
	if d.draws == 0 || !r.Result.Complete {
		return nil
	}
	o := decide.Options{Draws: d.draws, Seed: uint64(d.seed), ByThrottle: d.byThrottle, Workers: workers}
	p.turn(phaseChoice)
	o.Progress = p.weigh
	defer p.clear()
	defer lean()() // propellers with their flight, some hundred, are most of what is held
	var err error
	if r.Decision, err = decide.Run(ctx, r.Study, r.Result, o); err == nil {
		return nil
	}
	if ctx.Err() != nil && errors.Is(err, ctx.Err()) {
		return &exitError{exitEarly, "interrupted while choosing a build, with all designs judged: " + onwards}
	}
	return withFlags(err)
}

// lean leaves less room for what has been used until the function that it gives is called: it
// keeps small, at little time, what holds much, as a choice and the sheets of many classes do.
func lean() func() {
	const room = 40 // per cent
	before := debug.SetGCPercent(room)
	return func() { debug.SetGCPercent(before) }
}
