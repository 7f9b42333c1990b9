package rotor

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"

	"rotorsieve/model/air"
)

// StaticPoint is one measurement of a rotor at rest, J = 0.
type StaticPoint struct {
	N      float64 // rev/s
	Thrust float64 // N
	Power  float64 // W, at the shaft
}

// Calibrate returns the correction that makes a rotor most probable given
// measurements at rest in an air: the maximum a posteriori estimate of the
// offset of the pitch angle, the drag and the chord, for normal priors and errors
// of measurement of 2 % in thrust and power (chosen here). A correction that g
// has already is replaced.
//
// The prior of a blade whose shape is given is no correction, with spreads of
// 1.5°, 20 % and 10 % (chosen here). That of the generic blade is, with
// L = ln(D/8 in), D from 3 to 19 in:
//
//	pitch      0.55° + 1.2° L   ± 1.5°
//	ln drag            -0.27 L  ± 0.30
//	ln chord  -0.025  - 0.12 L  ± 0.15
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
// weighing sqrt(k); its residuals give the spreads. In 12 divisions of the
// families by lot, each half calibrated by one point with the prior learnt from
// the other, the error of CT in the wind fell from 8.9 % (median; 90th percentile
// 23.9 %) to 6.8 % (20.2 %) and that of CP from 7.5 % (20.9 %) to 6.1 % (17.6 %),
// against the prior of a given blade; both medians fell in all 24 halves. At rest
// the 90th percentile of CP at other speeds rose from 7.7 to 8.1 %.
//
// A generic blade that is measured to be as predicted is therefore corrected all
// the same, along that line: at rest it stays as it was, in the wind it changes.
//
// Where the points differ in speed, the trends of CT and CP with ln n may be off
// by 0.08 besides: that is the scatter of the trends of scanned blades calibrated
// with one point. Were the model's trend believed, more points would bend the
// blade to its errors with Reynolds number, and the more of them, the larger the
// errors in the wind: with 12 points or more CT of scanned blades would be off by
// 15 % there, instead of 7 %.
//
// It errs where there are no points, where a point is not positive, and where
// the measurements are so far from the rotor that the correction lies more than 4
// spreads from the mean of its prior: then the geometry or a unit is more likely
// wrong.
func Calibrate(g Geometry, a air.Air, points []StaticPoint) (Correction, error) {
	if len(points) == 0 {
		return Correction{}, errors.New("rotor: no measurement to calibrate with; want at least one static point")
	}
	for _, m := range points {
		if !(m.N > 0 && m.Thrust > 0 && m.Power > 0) || math.IsInf(m.N+m.Thrust+m.Power, 0) {
			return Correction{}, fmt.Errorf("rotor: measurement of %g rev/s, %g N, %g W: want all positive", m.N, m.Thrust, m.Power)
		}
	}
	g.Correction = Correction{}
	if err := g.check(); err != nil {
		return Correction{}, err
	}
	return newCalibration(g, a, points).fit()
}

// calibration is a problem of least squares: minus twice the logarithm of the
// posterior is the sum of the squares of the residuals.
type calibration struct {
	geometry Geometry
	air      air.Air
	points   []StaticPoint
	prior    *prior
	trend    []float64 // ln n of the points less its mean, over its root sum of squares; nil where n is one
	shrink   float64   // of the part of the residuals along the trend
}

func newCalibration(g Geometry, a air.Air, points []StaticPoint) *calibration {
	c := &calibration{geometry: g, air: a, points: points, prior: g.Blade.shape.prior}
	mean := 0.0
	for _, m := range points {
		mean += math.Log(m.N) / float64(len(points))
	}
	l := make([]float64, len(points))
	for i, m := range points {
		l[i] = math.Log(m.N) - mean
	}
	// Errors of the trend add trendSpread² l lT to the covariance of the
	// measurements, measureSpread² 1, and so widen it along l alone.
	if long := math.Sqrt(sumOfSquares(l)); long > 1e-9 {
		for i := range l {
			l[i] /= long
		}
		c.trend = l
		c.shrink = 1 / math.Hypot(1, trendSpread/measureSpread*long)
	}
	return c
}

const unknowns = 3

// fit minimises by the Gauss-Newton method with halved steps.
func (c *calibration) fit() (Correction, error) {
	const (
		maxSteps = 50
		small    = 1e-6 // of the priors
		h        = 1e-4 // for derivatives
		furthest = 5    // no further; past what judge lets through
	)
	rows := unknowns + 2*len(c.points)
	var z [unknowns]float64
	r := make([]float64, rows)
	if err := c.residuals(z, r); err != nil {
		return Correction{}, err
	}
	next := make([]float64, rows)
	A := mat.NewDense(rows, unknowns, nil)
	var step mat.VecDense
	for range maxSteps {
		for k := range z {
			up := z
			up[k] += h
			if err := c.residuals(up, next); err != nil {
				return Correction{}, err
			}
			for i := range next {
				A.Set(i, k, (next[i]-r[i])/h)
			}
		}
		if err := step.SolveVec(A, mat.NewVecDense(rows, r)); err != nil {
			return Correction{}, fmt.Errorf("rotor: calibration: %w", err)
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
			return c.judge(z)
		}
	}
	return Correction{}, errors.New("rotor: calibration does not converge: want measurements of one rotor at rest")
}

// judge returns the correction, or an error where it is past belief.
func (c *calibration) judge(z [unknowns]float64) (Correction, error) {
	e := c.prior.correction(z)
	for _, z := range z {
		if math.Abs(z) > 4 {
			return Correction{}, fmt.Errorf("rotor: the measurements ask for a pitch angle off by %+.1f°, drag by %+.0f %% and chord by %+.0f %%: want measurements per rotor, in the stated air, and the true diameter, pitch and blades",
				e.Pitch/deg, 100*e.Drag, 100*e.Chord)
		}
	}
	return e, nil
}

// residuals fills r with what priors and measurements miss, in units of their
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
		p, err := s.Solve(0, m.N)
		if err != nil {
			return err
		}
		if !(p.CT > 0 && p.CP > 0) {
			return fmt.Errorf("rotor: static CT %.3g, CP %.3g at %g rev/s: want a rotor that gives thrust at rest", p.CT, p.CP, m.N)
		}
		q := c.air.Density * m.N * m.N * D * D * D * D
		r[unknowns+2*i] = math.Log(p.CT*q/m.Thrust) / measureSpread
		r[unknowns+2*i+1] = math.Log(p.CP*q*D*m.N/m.Power) / measureSpread
	}
	for k := range 2 { // thrust and power
		along := 0.0
		for i, l := range c.trend {
			along += l * r[unknowns+2*i+k]
		}
		for i, l := range c.trend {
			r[unknowns+2*i+k] -= (1 - c.shrink) * along * l
		}
	}
	return nil
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
func genericPrior(diameter float64, chordKnown bool) *prior {
	L := math.Log(math.Max(genericSmallest, math.Min(diameter, genericLargest)) / genericSize)
	if chordKnown {
		return &prior{
			mean:   [unknowns]float64{statedPitch + statedPitchSize*L, genericDragSize * L, statedChord + statedChordSize*L},
			spread: [unknowns]float64{pitchSpread, genericDragSpread, chordSpread},
		}
	}
	return &prior{
		mean:   [unknowns]float64{genericPitch + genericPitchSize*L, genericDragSize * L, genericChord + genericChordSize*L},
		spread: [unknowns]float64{pitchSpread, genericDragSpread, genericChordSpread},
	}
}

// correction returns the correction at z spreads from the mean.
func (p *prior) correction(z [unknowns]float64) Correction {
	for k := range z {
		z[k] = p.mean[k] + z[k]*p.spread[k]
	}
	return Correction{Pitch: z[0], Drag: math.Expm1(z[1]), Chord: math.Expm1(z[2])}
}
