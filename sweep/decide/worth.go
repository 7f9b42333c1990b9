package decide

import (
	"cmp"
	"context"
	"math"
	"slices"
)

// What is worth measuring is told from noise by copies of its draws in another order.
const (
	shuffles     = 8
	beyond       = 2   // a gain counts from so many times that of the copies on
	large        = 0.2 // share of what perfect knowledge would gain, from which a gain is large
	mostMissing  = 0.1 // share of draws in which a quantity may not exist
	hardlyMoving = 1e-9
	sameThing    = 0.99 // correlation from which on a part says the same as that of another build
)

// measured is a measurable of a build with its logarithm in each draw, less the mean and
// over its spread.
type measured struct {
	what  Measurable
	build int
	x     []float64
}

// quantities are what is looked at: all of the first build, and of the best build of another
// diameter, or with another propeller where there is none, what tells its propeller and motor.
func (r *runner) quantities(ctx context.Context, e ensemble, builds []*build) ([]measured, error) {
	all := []Measurable{FrameMass, PropellerThrust, PropellerPower, MotorResistance, PackResistance, PackMass,
		PackLimit, MotorCooling, HoverPower}
	of := []*build{builds[0]}
	at := []int{0}
	if n := rival(builds); n > 0 {
		of, at = append(of, builds[n]), append(at, n)
	}
	speeds := make([]float64, len(of)) // of hover as planned, at which a propeller is put on a stand
	err := r.pass(ctx, models{r.nominal}, of, func(w *bench, _ int, b *build, i int) {
		w.load(b, b.planned)
		if w.craft.Operate() {
			speeds[i] = w.craft.Hover.Speed
		}
	})
	if err != nil {
		return nil, err
	}
	raw := make([]float64, len(of)*len(all)*e.Draws())
	r.expect(len(of) * e.Draws())
	err = r.pass(ctx, e, of, func(w *bench, k int, b *build, i int) {
		v := w.measure(b, speeds[i])
		for m := range all {
			raw[(i*len(all)+m)*e.Draws()+k] = math.Log(v[m])
		}
	})
	if err != nil {
		return nil, err
	}
	var out []measured
	for i := range of {
		for m, what := range all {
			own := what == PropellerThrust || what == PropellerPower || what == MotorResistance || what == MotorCooling
			same := what == MotorResistance || what == MotorCooling
			if i > 0 && (!own || same && of[i].motor == of[0].motor) {
				continue
			}
			x := raw[(i*len(all)+m)*e.Draws():][:e.Draws()]
			if !standardise(x) || slices.ContainsFunc(out, func(o measured) bool {
				return o.what == what && math.Abs(correlation(o.x, x)) > sameThing
			}) {
				continue
			}
			out = append(out, measured{what, at[i], x})
		}
	}
	return out, nil
}

// rival is the best build of another diameter than the first, or with another propeller;
// 0 for none.
func rival(builds []*build) int {
	for _, differs := range []func(a, b *build) bool{
		func(a, b *build) bool { return a.design.Diameter != b.design.Diameter },
		func(a, b *build) bool { return a.propeller != b.propeller },
	} {
		for i, b := range builds {
			if differs(b, builds[0]) {
				return i
			}
		}
	}
	return 0
}

// measure gives the quantities in the order of Measurable, of the build with its planned
// pack; a propeller's at a speed of rotation in rev/s. One that does not exist is NaN.
func (w *bench) measure(b *build, speed float64) (v [HoverPower + 1]float64) {
	w.load(b, b.planned)
	c, d := &w.craft, &w.train.Drive
	p := w.train.Propeller
	operates := c.Operate()
	v[FrameMass] = c.Masses().Frame
	// On a stand there are no arms below, and the air is measured.
	stand := d.Throttled(&p.Propulsor, &w.train.Full, speed)
	v[PropellerThrust], v[PropellerPower] = stand.Thrust/(p.Installed*p.Density), stand.Torque/p.Density
	v[MotorResistance], v[MotorCooling] = d.Motor.R, d.Motor.Conductance(usualFlux)
	v[PackResistance], v[PackMass], v[PackLimit] = d.Pack.R, d.Pack.Mass, d.Pack.BurstLimit()
	v[HoverPower] = math.NaN()
	if operates {
		v[HoverPower] = c.Hover.Power
	}
	if !(speed > 0) {
		v[PropellerThrust], v[PropellerPower] = math.NaN(), math.NaN()
	}
	return v
}

// usualFlux is a stream of air at which motors' cooling is compared, kg/(m2 s): whichever
// it is, it goes with the conductance.
const usualFlux = 12

// standardise takes the mean from a sample and divides it by its spread; what is missing
// takes the mean. It is false where too much is missing, or nothing varies.
func standardise(x []float64) bool {
	var sum, n float64
	for _, v := range x {
		if !math.IsNaN(v) {
			sum += v
			n++
		}
	}
	if n < (1-mostMissing)*float64(len(x)) {
		return false
	}
	mean, square := sum/n, 0.0
	for i, v := range x {
		if math.IsNaN(v) {
			v = mean
		}
		x[i] = v - mean
		square += x[i] * x[i]
	}
	spread := math.Sqrt(square / float64(len(x)))
	if !(spread > hardlyMoving) {
		return false
	}
	for i := range x {
		x[i] /= spread
	}
	return true
}

// correlation is that of two standardised samples.
func correlation(x, y []float64) float64 {
	sum := 0.0
	for k := range x {
		sum += x[k] * y[k]
	}
	return sum / float64(len(x))
}

// knowing works out what knowledge gains: merits of builds over draws.
type knowing struct {
	merits [][]float64 // by build
	means  []float64
	best   float64 // mean of the build with the best mean
}

func newKnowing(merits [][]float64) *knowing {
	w := &knowing{merits: merits}
	for _, m := range merits {
		mean, _ := moments(m)
		w.means = append(w.means, mean)
	}
	w.best = slices.Max(w.means)
	return w
}

// perfect is what knowing everything would gain.
func (w *knowing) perfect() float64 {
	sum := 0.0
	for k := range w.merits[0] {
		most := w.merits[0][k]
		for _, m := range w.merits {
			most = max(most, m[k])
		}
		sum += most
	}
	return sum/float64(len(w.merits[0])) - w.best
}

// gain is what choosing by a line through each build's merits over one or two quantities
// gains on the mean: the draws of each quantity are standardised, and taken in an order.
func (w *knowing) gain(order []int, x ...[]float64) float64 {
	n := len(w.merits[0])
	rho := 0.0 // correlation of the two
	if len(x) == 2 {
		if rho = correlation(x[0], x[1]); 1-rho*rho < 1e-6 { // one says the other
			x = x[:1]
		}
	}
	slopes := make([][2]float64, len(w.merits))
	for b, m := range w.merits {
		var c [2]float64
		for k, at := range order {
			for i := range x {
				c[i] += x[i][at] * (m[k] - w.means[b]) / float64(n)
			}
		}
		slopes[b] = c
		if len(x) == 2 {
			slopes[b] = [2]float64{(c[0] - rho*c[1]) / (1 - rho*rho), (c[1] - rho*c[0]) / (1 - rho*rho)}
		}
	}
	sum := 0.0
	for _, at := range order {
		most := math.Inf(-1)
		for b, s := range slopes {
			v := w.means[b]
			for i := range x {
				v += s[i] * x[i][at]
			}
			most = max(most, v)
		}
		sum += most
	}
	return sum/float64(n) - w.best
}

// worth tells what knowing each quantity would gain over the merits of the best builds, the
// most valuable first, and last the best pair. Gains are those of choosing by lines fitted
// to the draws, less the mean of the same with the quantity's draws in another order, which
// is all that a fit finds in nothing. A gain is within noise up to twice that mean, and large
// from a fifth of what knowing everything would gain.
func (w *knowing) worth(ctx context.Context, all []measured, seed uint64) ([]Worth, error) {
	n := len(w.merits[0])
	straight := make([]int, n)
	for i := range straight {
		straight[i] = i
	}
	orders := make([][]int, shuffles)
	for i := range orders {
		orders[i] = shuffled(n, mix(seed+uint64(i)))
	}
	perfect := w.perfect()
	told := func(o Worth, x ...[]float64) Worth {
		raw := w.gain(straight, x...)
		for _, order := range orders {
			o.Noise += w.gain(order, x...) / shuffles
		}
		o.Gain = max(0, raw-o.Noise)
		switch {
		case raw <= beyond*o.Noise || o.Gain <= rounding:
			o.Class = WithinNoise
		case o.Gain >= large*perfect:
			o.Class = LargeWorth
		default:
			o.Class = SomeWorth
		}
		return o
	}
	var out []Worth
	var pair Worth
	for i := range all {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		out = append(out, told(Worth{What: all[i].what, Build: all[i].build}, all[i].x))
		for j := range i {
			if all[i].build != all[j].build { // a pair is of one craft
				continue
			}
			x := told(Worth{What: all[j].what, Build: all[j].build, Pair: true, Another: all[i].what}, all[j].x,
				all[i].x)
			if !pair.Pair || x.Gain > pair.Gain {
				pair = x
			}
		}
	}
	slices.SortStableFunc(out, func(a, b Worth) int { return cmp.Compare(b.Gain, a.Gain) })
	if pair.Pair {
		out = append(out, pair)
	}
	return out, nil
}

// worth is what to measure of the builds that are told of, whose merits are known.
func (r *runner) worth(ctx context.Context, e ensemble, f *fresh, seed uint64) ([]Worth, error) {
	n := min(told, len(f.builds))
	x, err := r.quantities(ctx, e, f.builds[:n])
	if err != nil {
		return nil, err
	}
	merits := make([][]float64, n)
	for i := range merits {
		merits[i] = f.of(i)
	}
	return newKnowing(merits).worth(ctx, x, seed)
}
