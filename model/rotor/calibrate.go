package rotor

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"rotorsieve/model/air"
)

// StaticPoint is one measurement of a rotor at rest, J = 0. The uncertainties are
// of one standard deviation over the value; 0 is that of a usual stand, 2 %
// (chosen here), and +Inf says that the value was not measured. Where a rotor has
// points at several speeds none counts as better than half of that, by which the
// model's own curves of CT and CP bend away from those measured.
type StaticPoint struct {
	N      float64 // rev/s
	Thrust float64 // N
	Power  float64 // W, at the shaft

	ThrustSigma, PowerSigma float64

	// Lift says at which thrust in N the power was measured, where not at the speed N:
	// that is then about the speed, and the thrust at it was not measured. 0 for a
	// power at N.
	Lift float64
}

// spreads are the uncertainties of thrust and power.
func (m *StaticPoint) spreads() [2]float64 {
	s := [2]float64{m.ThrustSigma, m.PowerSigma}
	for k := range s {
		if s[k] == 0 {
			s[k] = measureSpread
		}
	}
	return s
}

// check says what in a point is impossible.
func (m *StaticPoint) check() error {
	s := m.spreads()
	good := m.N > 0 && !math.IsInf(m.N, 0)
	for k, v := range [2]float64{m.Thrust, m.Power} {
		known := !math.IsInf(s[k], 1)
		good = good && s[k] > 0 && (!known || v > 0 && !math.IsInf(v, 0))
	}
	if !good {
		return fmt.Errorf("rotor: measurement of %g rev/s, %g N, %g W: want all positive", m.N, m.Thrust, m.Power)
	}
	return nil
}

// Calibrate returns the correction that makes a rotor most probable given
// measurements at rest in an air: the maximum a posteriori estimate of the
// offset of the pitch angle, the drag and the chord, for normal priors and errors
// of measurement as the points state them. A correction that g has already is replaced.
//
// The prior of a blade whose shape is given is no correction, with spreads of
// 1.5°, 20 % and 10 % (chosen here). That of the generic blade is, with
// L = ln(D/8 in), D from 3 to 19 in:
//
//	pitch      0.55° + 1.2° L   ± 1.5°
//	ln drag            -0.27 L  ± 0.30
//	ln chord  -0.025  - 0.12 L  ± 0.15, or 0.18 with more than two blades
//
// and where the chord is given, with which the pitch is that of the label,
//
//	pitch      0.35° + 1.8° L   ± 1.5°
//	ln chord  -0.04   - 0.08 L  ± 0.10
//
// A point at rest leaves a line of corrections that all meet it; the means say
// where on that line propellers lie in the wind, where the generic blade loses
// thrust too early, and small ones are dragged more and pitched less than large
// ones. They are the weighted median regression of what fits each propeller of
// the wind-tunnel data best, at rest and in the wind, a family of k propellers
// weighing sqrt(k); its residuals give the spreads. Chosen on halves of the families,
// see DEVELOPERS.md.
//
// A generic blade that is measured to be as predicted is therefore corrected all
// the same, along that line: at rest it stays as it was, in the wind it changes.
//
// Where the points differ in speed, the trends of CT and CP with ln n may be off
// by 0.08 besides: that is the scatter of the trends of scanned blades calibrated
// with one point. Were the model's trend believed, many points would bend the blade
// to the model's errors with Reynolds number.
//
// It errs where there are no points, where a point is not positive, where thrust and
// power at one speed make a figure of merit above 1, and where the measurements are so far from the rotor that the
// correction lies more than 4 spreads from the mean of its prior: then the geometry or a unit is more likely
// wrong.
func Calibrate(g Geometry, a air.Air, points []StaticPoint) (Correction, error) {
	e, err := Infer(g, a, points)
	return e.Correction, err
}

// calibration is a problem of least squares: minus twice the logarithm of the
// posterior is the sum of the squares of the residuals.
type calibration struct {
	geometry Geometry
	air      air.Air
	points   []StaticPoint
	prior    *prior
	// Of thrust and power: ln n of the points less its mean over their uncertainty,
	// of unit length, nil where n is one; and what shrinks the part of the residuals
	// along it.
	trend  [2][]float64
	shrink [2]float64
}

func newCalibration(g Geometry, a air.Air, points []StaticPoint) *calibration {
	c := &calibration{geometry: g, air: a, points: slices.Clone(points), prior: g.Blade.shape.prior}
	mean := 0.0
	for _, m := range points {
		mean += math.Log(m.N) / float64(len(points))
	}
	l := make([]float64, len(points))
	for i, m := range points {
		l[i] = math.Log(m.N) - mean
	}
	if slices.ContainsFunc(l, func(l float64) bool { return math.Abs(l) > 1e-3 }) {
		for i := range c.points {
			p := &c.points[i]
			s := p.spreads()
			p.ThrustSigma, p.PowerSigma = math.Max(s[0], measureSpread/2), math.Max(s[1], measureSpread/2)
		}
	}
	// Errors of the trend add trendSpread² l lT to the covariance of the
	// measurements, S², and so widen S^-1 (residuals) along S^-1 l alone.
	for k := range c.trend {
		t := make([]float64, len(points))
		for i := range points {
			t[i] = l[i] / c.points[i].spreads()[k]
		}
		if long := math.Sqrt(sumOfSquares(t)); long*measureSpread > 1e-9 {
			for i := range t {
				t[i] /= long
			}
			c.trend[k] = t
			c.shrink[k] = 1 / math.Hypot(1, trendSpread*long)
		}
	}
	return c
}

const unknowns = 3

// fit minimises by the Gauss-Newton method with halved steps.
func (c *calibration) fit() (Estimate, error) {
	const (
		maxSteps = 50
		small    = 1e-6 // of the priors
		h        = 1e-4 // for derivatives
		furthest = 5    // spreads; more than judge accepts
	)
	rows := unknowns + 2*len(c.points)
	var z [unknowns]float64
	r := make([]float64, rows)
	if err := c.residuals(z, r); err != nil {
		return Estimate{}, err
	}
	next := make([]float64, rows)
	A := mat.NewDense(rows, unknowns, nil)
	var step mat.VecDense
	for range maxSteps {
		for k := range z {
			up := z
			up[k] += h
			if err := c.residuals(up, next); err != nil {
				return Estimate{}, err
			}
			for i := range next {
				A.Set(i, k, (next[i]-r[i])/h)
			}
		}
		if err := step.SolveVec(A, mat.NewVecDense(rows, r)); err != nil {
			return Estimate{}, fmt.Errorf("rotor: calibration: %w", err)
		}
		moved := 0.0 // against a bound, less than the step
		for t := 1.0; t > small; t /= 2 {
			trial, far := z, 0.0
			for k := range trial {
				trial[k] = math.Max(-furthest, math.Min(trial[k]-t*step.AtVec(k), furthest))
				far = math.Max(far, math.Abs(trial[k]-z[k]))
			}
			if c.residuals(trial, next) == nil && sumOfSquares(next) <= sumOfSquares(r) {
				z, moved = trial, far
				r, next = next, r
				break
			}
		}
		if moved < small {
			return c.judge(z, A)
		}
	}
	return Estimate{}, errors.New("rotor: calibration does not converge: want measurements of one rotor at rest")
}

// residuals fills r with the residuals of priors and measurements, in units of their
// spreads, at z standard deviations of the priors.
func (c *calibration) residuals(z [unknowns]float64, r []float64) error {
	g := c.geometry
	g.Correction = c.prior.correction(z)
	s, err := New(g, c.air)
	if err != nil {
		return err
	}
	copy(r, z[:])
	D := g.Diameter
	for i, m := range c.points {
		p, err := atRest(s, m.N)
		if err != nil {
			return err
		}
		if m.Lift > 0 { // near the speed that gives it, from which the coefficients hardly change
			m.N *= math.Sqrt(m.Lift / (p.CT * c.air.Density * m.N * m.N * D * D * D * D))
			if p, err = atRest(s, m.N); err != nil {
				return err
			}
		}
		q := c.air.Density * m.N * m.N * D * D * D * D
		off := [2]float64{p.CT * q / m.Thrust, p.CP * q * D * m.N / m.Power}
		if m.Lift > 0 { // the speed goes with the root of thrust over CT, the power with its cube
			off[1] /= math.Pow(p.CT*q/m.Lift, 1.5)
		}
		for k, s := range m.spreads() {
			r[unknowns+2*i+k] = 0
			if !math.IsInf(s, 1) {
				r[unknowns+2*i+k] = math.Log(off[k]) / s
			}
		}
	}
	for k := range c.trend { // thrust and power
		along := 0.0
		for i, l := range c.trend[k] {
			along += l * r[unknowns+2*i+k]
		}
		for i, l := range c.trend[k] {
			r[unknowns+2*i+k] -= (1 - c.shrink[k]) * along * l
		}
	}
	return nil
}

// atRest solves a rotor that must give thrust.
func atRest(s *Solver, n float64) (Point, error) {
	p, err := s.Solve(0, n)
	if err == nil && !(p.CT > 0 && p.CP > 0) {
		err = fmt.Errorf("rotor: static CT %.3g, CP %.3g at %g rev/s: want a rotor that gives thrust at rest", p.CT,
			p.CP, n)
	}
	return p, err
}

func sumOfSquares(r []float64) (sum float64) {
	for _, r := range r {
		sum += r * r
	}
	return sum
}

// prior is what is known of a blade before it is measured: means and spreads of
// the offset of the pitch angle in rad and of the logarithms of drag and chord.
type prior struct{ mean, spread [unknowns]float64 }

// knownPrior is that of a blade whose shape is given.
var knownPrior = prior{spread: [unknowns]float64{pitchSpread, dragSpread, chordSpread}}

// genericPrior returns that of the generic blade of a diameter.
func genericPrior(diameter float64, blades int, chordKnown bool) *prior {
	L := math.Log(math.Max(genericSmallest, math.Min(diameter, genericLargest)) / genericSize)
	if chordKnown {
		return &prior{
			mean: [unknowns]float64{statedPitch + statedPitchSize*L, genericDragSize * L,
				statedChord + statedChordSize*L},
			spread: [unknowns]float64{pitchSpread, genericDragSpread, chordSpread},
		}
	}
	p := &prior{
		mean: [unknowns]float64{genericPitch + genericPitchSize*L, genericDragSize * L,
			genericChord + genericChordSize*L},
		spread: [unknowns]float64{pitchSpread, genericDragSpread, genericChordSpread},
	}
	if blades > 2 {
		p.spread[2] = math.Hypot(genericChordSpread, moreChordSpread)
	}
	return p
}

// correction returns the correction at z spreads from the mean.
func (p *prior) correction(z [unknowns]float64) Correction {
	for k := range z {
		z[k] = p.mean[k] + z[k]*p.spread[k]
	}
	return Correction{Pitch: z[0], Drag: math.Expm1(z[1]), Chord: math.Expm1(z[2])}
}
