package decide

import (
	"context"
	"math"
	"slices"

	"rotorsieve/model"
	"rotorsieve/sweep"
)

// Spread gives P10, P50 and P90 of every metric of model.Metrics, in its order and in SI
// units, of one design with its pack as stated, over draws of what the model may err by. The
// limit is that of its weight class in kg, 0 for none. A metric is over the draws in which it
// exists; it is NaN where there are none, as for what only Craft.Explain computes. Beside
// them is the share of draws in which the design keeps the limit and some requirements, as
// it is: who buys another pack where it is too heavy keeps them in more.
func Spread(ctx context.Context, m *model.Model, d model.Design, limit float64, require []sweep.Requirement,
	draws int, seed uint64) (of []Quantiles, feasible float64, err error) {
	if err := d.Check(); err != nil {
		return nil, 0, err
	}
	e, err := drawn(m)(seed, draws)
	if err != nil {
		return nil, 0, err
	}
	p, err := m.PropellerFor(&d)
	if err != nil {
		return nil, 0, err
	}
	keeps := 0
	values := make([][]float64, len(model.Metrics))
	for k := range e.Draws() {
		if ctx.Err() != nil {
			return nil, 0, ctx.Err()
		}
		x := e.draw(k)
		bought, err := x.model.PackOf(&d)
		if err != nil {
			return nil, 0, err
		}
		mot, err := x.model.MotorOf(&d)
		if err != nil {
			return nil, 0, err
		}
		var t model.Powertrain
		x.model.Power(&t, x.vary(p), mot, bought)
		t.Parts = d.Parts
		var c model.Craft
		c.Load(x.model, &t, d.Payload)
		c.Limit = limit
		last := model.StageMass
		if c.Operate() {
			c.Endure()
			c.Fly()
			last = model.LastStage
		}
		unkept := func(r sweep.Requirement) bool { return r.Metric.Stage > last || !r.Kept(r.Metric.Of(&c)) }
		if last > model.StageMass && (limit == 0 || c.Mass <= limit) && !slices.ContainsFunc(require, unkept) {
			keeps++
		}
		for i, metric := range model.Metrics {
			if metric.Stage > last {
				continue
			}
			if v := metric.Of(&c); !math.IsNaN(v) {
				values[i] = append(values[i], v)
			}
		}
	}
	out := make([]Quantiles, len(values))
	for i := range out {
		out[i] = quantilesOf(values[i])
	}
	return out, float64(keeps) / float64(e.Draws()), nil
}
