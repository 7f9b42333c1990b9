package decide

import (
	"context"
	"math"
	"slices"

	"rotorsieve/model"
	"rotorsieve/model/flight"
	"rotorsieve/sweep"
)

// Drawn is one design with its pack as stated over draws of what the model may err by.
type Drawn struct {
	// Metrics are P10, P50 and P90 of every metric of model.Metrics, in its order and in SI units,
	// over the draws in which it exists; NaN where there are none, as for what only Craft.Explain
	// computes.
	Metrics []Quantiles
	// Feasible is the share of draws in which the design keeps the limit and the requirements, as it
	// is: who buys another pack where it is too heavy keeps them in more. InClass is that of
	// the limit alone.
	Feasible, InClass float64
	Margins           []Quantiles // by requirement as they were given, see Build.Margins
	Kept              []float64   // the same, see Build.Kept
	Tests             []Test      // Explains by requirement as they were given
	Loads             Loads
}

// Spread takes a design through draws. The limit is that of its weight class in kg, 0 for none.
func Spread(ctx context.Context, m *model.Model, d model.Design, limit float64, require []sweep.Requirement,
	draws int, seed uint64) (*Drawn, error) {
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
	load := func(c *model.Craft, x draw) error {
		bought, err := x.model.PackOf(&d)
		if err != nil {
			return err
		}
		mot, err := x.model.MotorOf(&d)
		if err != nil {
			return err
		}
		var t model.Powertrain
		x.model.Power(&t, x.vary(p), mot, bought)
		t.Parts = d.Parts
		c.Load(x.model, &t, d.Payload)
		c.Limit = limit
		return nil
	}
	speed := 0.0
	var planned model.Craft
	if err := load(&planned, drawOf(m)); err != nil {
		return nil, err
	}
	if planned.Operate() {
		speed = wholeTurns(planned.Hover.Speed)
	}
	keeps, light := 0, 0
	kept := make([]int, len(require))
	values, margins := make([][]float64, len(model.Metrics)), make([][]float64, len(require))
	measured, full := make([][]float64, e.Draws()), make([]flight.FullThrottle, e.Draws())
	for k := range e.Draws() {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		x := e.draw(k)
		var c model.Craft
		if err := load(&c, x); err != nil {
			return nil, err
		}
		last := model.StageMass
		operates := c.Operate()
		if operates {
			c.Endure()
			c.Fly()
			last = model.LastStage
		}
		all := operates
		if limit == 0 || c.Mass <= limit {
			light++
		} else {
			all = false
		}
		for n := range require {
			r, v := &require[n], math.NaN()
			if r.Metric.Stage <= last {
				v = r.Metric.Of(&c)
			}
			if r.Kept(v) {
				kept[n]++
			} else {
				all = false
			}
			if !math.IsNaN(v) {
				v = margin(r, v)
			}
			margins[n] = append(margins[n], v)
		}
		if all {
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
		measured[k] = testsOf(&c, operates, speed, m.Air.Density)
		full[k] = c.Powertrain.Full
	}
	share := 1 / float64(e.Draws())
	out := &Drawn{Feasible: float64(keeps) / float64(e.Draws()), InClass: float64(light) * share,
		Tests: plannedTests(measured, margins, speed), Loads: loadsOf(full)}
	for _, v := range values {
		out.Metrics = append(out.Metrics, quantilesOf(v))
	}
	for n, v := range margins {
		v = slices.DeleteFunc(v, math.IsNaN)
		out.Margins, out.Kept = append(out.Margins, quantilesOf(v)), append(out.Kept, float64(kept[n])*share)
	}
	return out, nil
}
