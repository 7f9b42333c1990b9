package decide

import (
	"cmp"
	"context"
	"errors"
	"slices"

	"rotorsieve/model"
	"rotorsieve/sweep"
)

// sweptHeavier raises what a looser limit of a class gains to the best that the sweep has found
// in heavier classes within it: in whole bins of weight, and of what is ranked or leads. Where a
// requirement or the merit differs by class these tell nothing of it.
func (c *Class) sweptHeavier(ctx context.Context, s *sweep.Study, r *sweep.Result, class int) error {
	at := slices.IndexFunc(c.Loosened, func(l Loosened) bool { return l.Gate == sweep.GateClass })
	if at < 0 || differsByClass(s) {
		return nil
	}
	l := &c.Loosened[at]
	own := r.Classes[class].Class
	var near, weigh []sweep.Ranked // whose mass is not known, the former about the limit
	found := sweep.Best{Ranked: sweep.Ranked{Index: l.Index, Score: l.Merit}, Any: l.Any}
	better := func(b sweep.Ranked) bool { return !found.Any || b.Score > found.Score }
	for i := range r.Classes {
		k := &r.Classes[i]
		if k.Class.Limit <= own.Limit {
			continue
		}
		l.Swept = l.Swept || k.Class.Limit >= l.Bound*(1-1e-9)
		whole, across := k.Size.Within(l.Bound)
		for _, b := range whole {
			if better(b) {
				found = sweep.Best{Ranked: b, Any: true}
			}
		}
		near = append(near, across...)
		weigh = append(weigh, k.Ranking...)
		for _, all := range [][]sweep.Best{k.Leaders, k.ByCells, k.Payloads} {
			for _, b := range all {
				if b.Any {
					weigh = append(weigh, b.Ranked)
				}
			}
		}
	}
	e := sweep.NewEvaluator(s)
	for _, of := range [...][]sweep.Ranked{near, weigh} {
		of = slices.DeleteFunc(of, func(b sweep.Ranked) bool { return !better(b) })
		slices.SortFunc(of, func(a, b sweep.Ranked) int {
			return cmp.Or(cmp.Compare(b.Score, a.Score), cmp.Compare(a.Index, b.Index))
		})
		of = slices.Compact(of)
		best, err := lightEnough(ctx, e, of[:min(mostWeighed, len(of))], own, l.Bound)
		if err != nil {
			return err
		}
		if best.Any {
			found = best
		}
	}
	if found.Any && (!l.Any || found.Score > l.Merit) {
		gained := found.Score
		if l.Any {
			gained -= l.Merit
		}
		l.Index, l.Merit, l.Gain, l.Any = found.Index, found.Score, l.Gain+gained, true
	}
	return nil
}

// lightEnough is the first of some designs that weighs no more than a limit.
func lightEnough(ctx context.Context, e *sweep.Evaluator, of []sweep.Ranked, in sweep.Class,
	most float64) (sweep.Best, error) {
	for _, b := range of {
		if err := ctx.Err(); err != nil {
			return sweep.Best{}, err
		}
		crafts, err := e.Crafts(b.Index, in)
		switch {
		case errors.Is(err, model.ErrNoOperatingPoint):
		case err != nil:
			return sweep.Best{}, err
		case crafts[0].Mass <= most:
			return sweep.Best{Ranked: b, Any: true}, nil
		}
	}
	return sweep.Best{}, nil
}

// mostWeighed is of how many designs the mass is found, the best first: rankings may be long.
const mostWeighed = 200

// differsByClass says whether a design may be feasible, or score, otherwise in a heavier class.
func differsByClass(s *sweep.Study) bool {
	return slices.ContainsFunc(s.Require, func(q sweep.Requirement) bool { return q.Metric.ByClass }) ||
		slices.ContainsFunc(s.Merit, func(t sweep.Term) bool { return t.Metric.ByClass })
}
