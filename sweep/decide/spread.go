package decide

import (
	"context"
	"math"

	"rotorsieve/model"
)

// Spread gives P10, P50 and P90 of every metric of model.Metrics, in its order and in SI
// units, of one design with its pack as stated, over draws of what the model may err by. The
// limit is that of its weight class in kg, 0 for none. A metric is over the draws in which it
// exists; it is NaN where there are none, as for what only Craft.Explain computes.
func Spread(ctx context.Context, m *model.Model, d model.Design, limit float64, draws int, seed uint64) ([]Quantiles,
	error) {
	if err := d.Check(); err != nil {
		return nil, err
	}
	e, err := drawn(m)(seed, draws)
	if err != nil {
		return nil, err
	}
	p, err := m.PropellerFor(&d)
	if err != nil {
		return nil, err
	}
	values := make([][]float64, len(model.Metrics))
	for k := range e.Draws() {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		x := e.draw(k)
		bought, err := x.model.PackOf(&d)
		if err != nil {
			return nil, err
		}
		mot, err := x.model.MotorOf(&d)
		if err != nil {
			return nil, err
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
	return out, nil
}
