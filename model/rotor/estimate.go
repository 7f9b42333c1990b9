package rotor

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"

	"rotorsieve/model/air"
)

// Unknowns is how many quantities a correction has.
const Unknowns = unknowns

// Deviations is a correction in standard deviations of the prior of a blade, counted
// from no correction: of the pitch angle and the logarithms of drag and chord.
type Deviations [Unknowns]float64

// Estimate is what measurements at rest say of a rotor: the most probable
// correction with the remaining part of the prior's uncertainty, in its units, to first
// order about it.
type Estimate struct {
	Correction Correction
	Mean       Deviations // of the prior
	Offset     Deviations // of the correction from it
	// Information is what the measurements add to the precision, 1 before them: the
	// covariance left is (1 + Information)^-1.
	Information [Unknowns][Unknowns]float64
	// Sensitivity is that of ln CT and of ln CP at rest to each unknown, at the median
	// measured speed.
	Sensitivity [2]Deviations
}

// Infer is Calibrate with the uncertainty that the measurements leave.
func Infer(g Geometry, a air.Air, points []StaticPoint) (Estimate, error) {
	if len(points) == 0 {
		return Estimate{}, errors.New("rotor: no measurement to calibrate with; want at least one static point")
	}
	for i := range points {
		if err := points[i].check(); err != nil {
			return Estimate{}, err
		}
	}
	g.Correction = Correction{}
	if err := g.check(); err != nil {
		return Estimate{}, err
	}
	if err := possible(g.Diameter, a, points); err != nil {
		return Estimate{}, err
	}
	c := newCalibration(g, a, points)
	e, err := c.fit()
	if err != nil {
		return e, err
	}
	return e, c.sense(&e)
}

// possible errs where a thrust and a power at one speed make a figure of merit above 1:
// momentum theory has T sqrt(T/(2 rho A)) as the least power of a disc of area A at rest.
func possible(diameter float64, a air.Air, points []StaticPoint) error {
	const oneSpeed = 1e-3 // as a share
	disc := math.Pi / 4 * diameter * diameter
	for _, t := range points {
		if t.Lift > 0 {
			t.Thrust, t.ThrustSigma = t.Lift, t.PowerSigma
		}
		ideal := t.Thrust * math.Sqrt(t.Thrust/(2*a.Density*disc))
		for _, p := range points {
			known := !math.IsInf(t.ThrustSigma, 1) && !math.IsInf(p.PowerSigma, 1) && t.Lift == p.Lift
			if known && math.Abs(p.N/t.N-1) < oneSpeed && ideal > p.Power {
				return fmt.Errorf("rotor: at %.5g rpm the ideal power of %.4g N is %.4g W, above the %.4g W that "+
					"were measured: "+
					"a figure of merit of %.3g, want it below 1: thrust and power at the shaft of one rotor, and the "+
					"true diameter",
					t.N*60, t.Thrust, ideal, p.Power, ideal/p.Power)
			}
		}
	}
	return nil
}

// judge returns the estimate, with the derivatives A of the residuals there, or an
// error where it is implausible.
func (c *calibration) judge(z [unknowns]float64, A *mat.Dense) (Estimate, error) {
	e := Estimate{Correction: c.prior.correction(z), Offset: z}
	for k := range e.Mean {
		e.Mean[k] = c.prior.mean[k] / c.prior.spread[k]
	}
	for _, z := range z {
		if math.Abs(z) > 4 {
			o := e.Correction
			return Estimate{}, fmt.Errorf("rotor: the measurements ask for a pitch angle off by %+.1f°, drag by "+
				"%+.0f %% "+
				"and chord by %+.0f %%: want measurements per rotor, in the stated air, and the true diameter, pitch "+
				"and blades",
				o.Pitch/deg, 100*o.Drag, 100*o.Chord)
		}
	}
	var precision mat.Dense
	precision.Mul(A.T(), A)
	for i := range e.Information {
		for j := range e.Information[i] {
			e.Information[i][j] = precision.At(i, j)
		}
		e.Information[i][i]--
	}
	return e, nil
}

// sense fills the sensitivity of an estimate.
func (c *calibration) sense(e *Estimate) error {
	const h = 0.01 // of the priors
	n := 1.0
	for _, m := range c.points {
		n *= math.Pow(m.N, 1/float64(len(c.points)))
	}
	at := func(z [unknowns]float64) (ln [2]float64, err error) {
		g := c.geometry
		g.Correction = c.prior.correction(z)
		s, err := New(g, c.air)
		if err != nil {
			return ln, err
		}
		p, err := s.Solve(0, n)
		return [2]float64{math.Log(p.CT), math.Log(p.CP)}, err
	}
	for k := range unknowns {
		up, down := [unknowns]float64(e.Offset), [unknowns]float64(e.Offset)
		up[k] += h
		down[k] -= h
		a, err := at(up)
		if err != nil {
			return err
		}
		b, err := at(down)
		if err != nil {
			return err
		}
		for q := range e.Sensitivity {
			e.Sensitivity[q][k] = (a[q] - b[q]) / (2 * h)
		}
	}
	return nil
}

// CorrectionAt is the correction of a blade at a number of standard deviations of its
// prior from none.
func (b Blade) CorrectionAt(y Deviations) Correction {
	p := *b.shape.prior
	p.mean = [unknowns]float64{}
	return p.correction(y)
}

// DeviationsOf is a correction of a blade in standard deviations of its prior, from
// none: what CorrectionAt takes back.
func (b Blade) DeviationsOf(c Correction) Deviations { return b.shape.prior.deviations(c) }

func (p *prior) deviations(c Correction) Deviations {
	return Deviations{c.Pitch / p.spread[0], math.Log1p(c.Drag) / p.spread[1], math.Log1p(c.Chord) / p.spread[2]}
}

// GenericSpreads are the standard deviations of a deviation of the generic blade of two
// blades: of the pitch angle in rad, and of ln drag and ln chord.
func GenericSpreads() Deviations {
	return Deviations{pitchSpread, genericDragSpread, genericChordSpread}
}

// SensitivityOf is that of ln CT and ln CP at rest and n rev/s to the deviations of a rotor
// from its correction, by differences of half a standard deviation to either side; of less
// where so different a blade gives no thrust.
func SensitivityOf(g Geometry, a air.Air, n float64) (s [2]Deviations, err error) {
	const most, least = 0.5, 0.01
	for step := most; step > least; step /= 2 {
		if s, err = sensitivity(g, a, n, step); err == nil {
			break
		}
	}
	return s, err
}

func sensitivity(g Geometry, a air.Air, n, step float64) (s [2]Deviations, err error) {
	y := g.Blade.DeviationsOf(g.Correction)
	for k := range y {
		for _, side := range [2]float64{-1, 1} {
			z := y
			z[k] += side * step
			g.Correction = g.Blade.CorrectionAt(z)
			solver, err := New(g, a)
			if err != nil {
				return s, err
			}
			p, err := solver.Solve(0, n)
			if err != nil {
				return s, err
			}
			if !(p.CT > 0 && p.CP > 0) {
				return s,
					fmt.Errorf("rotor: static CT %.3g, CP %.3g at %g rev/s: want a rotor that gives thrust at rest",
						p.CT, p.CP, n)
			}
			s[0][k] += side * math.Log(p.CT) / (2 * step)
			s[1][k] += side * math.Log(p.CP) / (2 * step)
		}
	}
	return s, nil
}
