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

// Spread takes a design through draws, in all scenarios of a study, of which metrics are told in one,
// by its place: requirements are kept where they are in all. The limit is that of its weight class in
// kg, 0 for none.
func Spread(ctx context.Context, in []*model.Model, shown int, d model.Design, limit float64,
	require []sweep.Requirement, draws int, seed uint64) (*Drawn, error) {
	if err := d.Check(); err != nil {
		return nil, err
	}
	e, err := drawn(in)(seed, draws)
	if err != nil {
		return nil, err
	}
	var props []*model.Propeller
	for _, m := range in {
		p, err := m.PropellerFor(&d)
		if err != nil {
			return nil, err
		}
		props = append(props, p)
	}
	load := func(c *model.Craft, x draw, p *model.Propeller, built *model.Powertrain) error {
		bought, err := x.model.PackOf(&d)
		if err != nil {
			return err
		}
		mot, err := x.model.MotorOf(&d)
		if err != nil {
			return err
		}
		t := new(model.Powertrain)
		if built == nil {
			x.model.Power(t, x.vary(p), &mot, &bought)
		} else {
			x.model.PowerAs(t, x.vary(p), &mot, &bought, built)
		}
		t.Parts = d.Parts
		c.Load(x.model, t, d.Payload)
		c.Limit = limit
		return nil
	}
	speed := 0.0
	var planned model.Craft
	if err := load(&planned, drawOf(in[0]), props[0], nil); err != nil {
		return nil, err
	}
	if planned.Operate() {
		speed = wholeTurns(planned.Hover.Speed)
	}
	keeps, light := 0, 0
	kept := make([]int, len(require))
	values, margins := make([][]float64, len(model.Metrics)), make([][]float64, len(require))
	measured, full := make([][]float64, e.Draws()), make([]flight.FullThrottle, e.Draws())
	crafts := make([]model.Craft, len(in))
	last := make([]model.Stage, len(in)) // that crafts have come to
	for k := range e.Draws() {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		x := e.draw(k)
		all := true
		for n, o := range append([]draw{x}, x.others...) {
			var built *model.Powertrain
			if n > 0 {
				built = crafts[0].Powertrain
			}
			c := &crafts[n]
			if err := load(c, o, props[n], built); err != nil {
				return nil, err
			}
			last[n] = model.StageMass
			if c.Operate() {
				c.Endure()
				c.Fly()
				last[n] = model.LastStage
			} else {
				all = false
			}
		}
		if limit == 0 || crafts[0].Mass <= limit {
			light++
		} else {
			all = false
		}
		for n := range require {
			r := &require[n]
			least, keep := math.Inf(1), true
			for i := range crafts {
				v := math.NaN()
				if r.Metric.Stage <= last[i] {
					v = r.Metric.Of(&crafts[i])
				}
				keep = keep && r.Kept(v)
				if !math.IsNaN(v) {
					v = margin(r, v)
				}
				least = min(least, v) // NaN where one is
			}
			if keep {
				kept[n]++
			}
			all = all && keep
			margins[n] = append(margins[n], least)
		}
		if all {
			keeps++
		}
		for i, metric := range model.Metrics {
			if metric.Stage > last[shown] {
				continue
			}
			if v := metric.Of(&crafts[shown]); !math.IsNaN(v) {
				values[i] = append(values[i], v)
			}
		}
		measured[k] = testsOf(&crafts[0], last[0] > model.StageMass, speed, in[0].Air.Density)
		full[k] = crafts[0].Powertrain.Full
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
