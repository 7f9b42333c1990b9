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
	var weigh []sweep.Ranked // whose mass is not known
	found := sweep.Best{Ranked: sweep.Ranked{Index: l.Index, Score: l.Merit}, Any: l.Any}
	better := func(b sweep.Ranked) bool { return !found.Any || b.Score > found.Score }
	for i := range r.Classes {
		k := &r.Classes[i]
		if k.Class.Limit <= own.Limit {
			continue
		}
		l.Swept = l.Swept || k.Class.Limit >= l.Bound*(1-roundedMass)
		for _, b := range binned(&k.Size, l.Bound) {
			if better(b) {
				found = sweep.Best{Ranked: b, Any: true}
			}
		}
		weigh = append(weigh, k.Ranking...)
		for _, all := range [][]sweep.Best{k.Leaders, k.ByCells, k.Payloads} {
			for _, b := range all {
				if b.Any {
					weigh = append(weigh, b.Ranked)
				}
			}
		}
	}
	weigh = slices.DeleteFunc(weigh, func(b sweep.Ranked) bool { return !better(b) })
	slices.SortFunc(weigh, func(a, b sweep.Ranked) int {
		return cmp.Or(cmp.Compare(b.Score, a.Score), cmp.Compare(a.Index, b.Index))
	})
	e := sweep.NewEvaluator(s)
	weigh = slices.Compact(weigh)
	for _, b := range weigh[:min(mostWeighed, len(weigh))] {
		if err := ctx.Err(); err != nil {
			return err
		}
		in, err := e.Crafts(b.Index, own)
		if err != nil {
			if errors.Is(err, model.ErrNoOperatingPoint) {
				continue
			}
			return err
		}
		if in[0].Mass <= l.Bound {
			found = sweep.Best{Ranked: b, Any: true}
			break
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

// mostWeighed is of how many designs the mass is found, the best first: rankings may be long.
const mostWeighed = 200

// roundedMass is the share by which the end of a bin may miss a mass that it is meant to be.
const roundedMass = 1e-9

// binned are the best of the cells of a map whose bins end at a mass, or below.
func binned(s *sweep.SizeMap, most float64) (out []sweep.Ranked) {
	for b := range s.Bins {
		if s.Width*float64(b+1) > most*(1+roundedMass) {
			break
		}
		for d := range s.Diameters {
			if c := &s.Cells[d*s.Bins+b]; c.Any {
				out = append(out, c.Ranked)
			}
		}
	}
	return out
}

// differsByClass says whether a design may be feasible, or score, otherwise in a heavier class.
func differsByClass(s *sweep.Study) bool {
	return slices.ContainsFunc(s.Require, func(q sweep.Requirement) bool { return q.Metric.ByClass }) ||
		slices.ContainsFunc(s.Merit, func(t sweep.Term) bool { return t.Metric.ByClass })
}
