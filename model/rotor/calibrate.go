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
// offset of the pitch angle, the drag and the chord, for normal priors of 1.5°,
// 20 % and 10 % and errors of measurement of 2 % in thrust and power (chosen
// here). A correction that g has already is replaced.
//
// It errs where there are no points, where a point is not positive, and where
// the measurements are so far from the rotor that a correction of more than 4
// times its prior results: then the geometry or a unit is more likely wrong.
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
	return (&calibration{g, a, points}).fit()
}

// calibration is a problem of least squares: minus twice the logarithm of the
// posterior is the sum of the squares of the residuals.
type calibration struct {
	geometry Geometry
	air      air.Air
	points   []StaticPoint
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
	e := prior(z)
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
	g.Correction = prior(z)
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
	return nil
}

func sumOfSquares(r []float64) (sum float64) {
	for _, r := range r {
		sum += r * r
	}
	return sum
}

// prior returns the correction at z standard deviations of the priors.
func prior(z [unknowns]float64) Correction {
	return Correction{
		Pitch: z[0] * pitchSpread,
		Drag:  math.Expm1(z[1] * dragSpread),
		Chord: math.Expm1(z[2] * chordSpread),
	}
}
