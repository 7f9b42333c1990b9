package decide

import (
	"context"
	"math"
	"slices"

	"rotorsieve/model"
	"rotorsieve/model/flight"
	"rotorsieve/model/pack"
)

// Test is something that is measured of a build before its parts are put together or after,
// and what it will come to over the draws, in SI units: resistances as records state them,
// of a winding at 20 degC and of a new pack at 25 degC, a propeller's values at rest in the
// air of the study, and a motor's cooling in a stream of CoolingWash of it.
type Test struct {
	What Measurable
	N    float64 // of a propeller, rev/s, in whole hundreds of rpm; 0 for others
	Quantiles
	// Explains is, by requirement in the order of the gates, the share of the variance of its
	// margin that goes along with the logarithm of what is measured: 0 to 1.
	Explains []float64
}

// Loads are what the parts of a build bear at full throttle at rest, over the draws in which it has
// such a point.
type Loads struct {
	Motor, Pack Quantiles // current of one motor and of the pack, A
	Turns       Quantiles // of a propeller, rev/s
}

// loadsOf makes them of the points of the draws.
func loadsOf(full []flight.FullThrottle) (l Loads) {
	of := func(get func(*flight.FullThrottle) float64) Quantiles {
		var all []float64
		for k := range full {
			if full[k].OK {
				all = append(all, get(&full[k]))
			}
		}
		return quantilesOf(all)
	}
	l.Motor = of(func(f *flight.FullThrottle) float64 { return f.Current })
	l.Pack = of(func(f *flight.FullThrottle) float64 { return f.PackCurrent })
	l.Turns = of(func(f *flight.FullThrottle) float64 { return f.Speed })
	return l
}

// CoolingWash is the speed of the air that a motor's cooling is told in, m/s.
const CoolingWash = 12

// tested are the tests of a plan, in the order in which they are made.
var tested = []Measurable{FrameMass, MotorMass, PackMass, MotorResistance, PackResistance, PackLimit, MotorCooling,
	PropellerThrust, PropellerPower, HoverPower}

// wholeTurns is a speed of rotation in rev/s in whole hundreds of rpm, as a stand is set to.
func wholeTurns(n float64) float64 {
	const perMinute, step = 60, 100
	return math.Round(n*perMinute/step) * step / perMinute
}

// testsOf are the values of the tests of a craft whose operating points are computed where
// it has any, propellers at n rev/s in an air of a density in kg/m3. What there is not is NaN.
func testsOf(c *model.Craft, operates bool, n, density float64) []float64 {
	t := c.Powertrain
	d, p, a := &t.Drive, t.Propeller, &c.Model.Assume
	thrust, power, hover := math.NaN(), math.NaN(), math.NaN()
	if operates {
		hover = c.Hover.Power
	}
	if n > 0 {
		x := d.Throttled(&p.Propulsor, &t.Full, n) // no arms below, and the air is measured
		thrust = x.Thrust / (p.Installed * p.Density) * density
		power = 2 * math.Pi * n * x.Torque / p.Density * density
	}
	state := pack.Condition{Temperature: a.PackTemperature, Aged: a.PackAged}
	out := make([]float64, len(tested))
	for i, what := range tested {
		out[i] = map[Measurable]float64{
			FrameMass: c.Masses().Frame, MotorMass: d.Motor.Mass, PackMass: d.Pack.Mass,
			MotorResistance: d.Motor.ColdResistance(),
			PackResistance:  d.Pack.R / state.Resistance(),
			PackLimit:       d.Pack.BurstLimit(), MotorCooling: d.Motor.Conductance(density * CoolingWash),
			PropellerThrust: thrust, PropellerPower: power, HoverPower: hover,
		}[what]
	}
	return out
}

// plannedTests makes of the values of the tests by draw, and of margins by requirement and
// draw, the plan. What never exists is left out.
func plannedTests(values [][]float64, margins [][]float64, n float64) (out []Test) {
	for i, what := range tested {
		t := Test{What: what}
		if what == PropellerThrust || what == PropellerPower {
			t.N = n
		}
		var all []float64
		logs := make([]float64, len(values))
		for k := range values {
			v := values[k][i]
			if logs[k] = math.Log(v); !math.IsNaN(v) {
				all = append(all, v)
			}
		}
		if len(all) == 0 {
			continue
		}
		t.Quantiles = quantilesOf(all)
		for _, m := range margins {
			t.Explains = append(t.Explains, explained(logs, m))
		}
		out = append(out, t)
	}
	return out
}

// explained is the squared correlation of two samples where both exist; 0 where one does not
// vary.
func explained(x, y []float64) float64 {
	var a, b []float64
	for k := range x {
		if !math.IsNaN(x[k]) && !math.IsNaN(y[k]) {
			a, b = append(a, x[k]), append(b, y[k])
		}
	}
	if len(a) == 0 || !standardise(a) || !standardise(b) {
		return 0
	}
	r := correlation(a, b)
	return min(1, r*r)
}

// planned is what is to be measured of a build over the draws, with its margins by requirement and draw,
// and what its parts bear.
func (r *runner) planned(ctx context.Context, e ensemble, b *build, margins [][]float64) ([]Test, Loads, error) {
	speed := 0.0
	err := r.pass(ctx, models{r.nominal}, []*build{b}, func(w *bench, _ int, b *build, _ int) {
		w.load(b, b.planned)
		if w.craft.Operate() {
			speed = wholeTurns(w.craft.Hover.Speed)
		}
	})
	if err != nil {
		return nil, Loads{}, err
	}
	values, full := make([][]float64, e.Draws()), make([]flight.FullThrottle, e.Draws())
	r.expect(e.Draws())
	density := r.study.Model.Air.Density
	err = r.pass(ctx, e, []*build{b}, func(w *bench, k int, b *build, _ int) {
		w.load(b, b.planned)
		values[k] = testsOf(&w.craft, w.craft.Operate(), speed, density)
		full[k] = w.train.Full
	})
	if err != nil || slices.ContainsFunc(values, func(v []float64) bool { return v == nil }) {
		return nil, Loads{}, err // or there is no such propeller
	}
	return plannedTests(values, margins, speed), loadsOf(full), nil
}

// rivals are the builds beside the first that something is worth measuring of, with what to expect of it.
func (r *runner) rivals(ctx context.Context, e ensemble, builds []*build, all []Worth) (out []RivalTests,
	err error) {
	for _, w := range all {
		if w.Build == 0 || w.Class == WithinNoise ||
			slices.ContainsFunc(out, func(c RivalTests) bool { return c.Build == w.Build }) {
			continue
		}
		c := RivalTests{Build: w.Build}
		if c.Tests, _, err = r.planned(ctx, e, builds[w.Build], nil); err != nil {
			return nil, err
		}
		c.Tests = slices.DeleteFunc(c.Tests, func(t Test) bool {
			return !slices.ContainsFunc(all, func(x Worth) bool {
				return x.Build == w.Build && x.Class != WithinNoise &&
					(x.What == t.What || x.Pair && x.Another == t.What)
			})
		})
		out = append(out, c)
	}
	return slices.DeleteFunc(out, func(c RivalTests) bool { return len(c.Tests) == 0 }), nil
}

// margins are those of a build by requirement and draw, NaN where the metric does not exist.
func (f *fresh) margins(build int) [][]float64 {
	out := make([][]float64, len(f.require))
	for n := range f.require {
		r := &f.require[n]
		for k := range f.draws {
			v := f.value(build, k, f.place(r.Metric))
			if !math.IsNaN(v) {
				v = margin(r, v)
			}
			out[n] = append(out[n], v)
		}
	}
	return out
}
