package bench

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"rotorsieve/model"
	"rotorsieve/model/motor"
)

// The terms of a fit: factors on what the model says.
const (
	CT = iota
	CP
	KV
	Resistance // of winding and leads together
	Loss
	Chopping
	terms
)

var termNames = [terms]string{"CT of the propeller", "CP of the propeller", "KV", "resistance of winding and leads",
	"loss torque", "chopping loss"}

// Errors: of scales and shunts, which all points of a quantity share; of the model from
// point to point; and the resolution of a stand.
const (
	calibration = 0.02
	perPoint    = 0.03
	leastForce  = 0.02  // N, as the next two the resolution
	leastAmps   = 0.03  // A
	leastTorque = 0.001 // N m, the drift of a zero
	knownBetter = 0.9   // of the prior: above, the data say nothing of a term
	mostOff     = 4     // how many spreads a term may be off by
)

// Term is what a fit says of one quantity.
type Term struct {
	Name          string
	Factor        float64 // the most probable one on the model
	Before, After float64 // standard deviation of its logarithm
	Known         bool    // the data say something of it that can be recorded
}

// Fit is the most probable correction of a rig by measurements.
type Fit struct {
	Terms  [terms]Term
	Rig    *Rig // with the factors put on
	Points int
	// Misfit is the root mean square of the residuals of the fitted model, in units of
	// the errors that the rows are taken to have; about 1 for a model that fits.
	Misfit float64

	n        float64 // of the propeller's terms, rev/s
	together float64 // correlation of CT and CP a priori
}

// MostMisfit is the Misfit above which the model does not fit the rows.
const MostMisfit = 2

// Unlikely is the error of a fit to rows that ask for an implausible factor.
type Unlikely struct {
	Term   int
	Name   string  // of the file
	Factor float64 // that the rows ask for
	Before float64 // as that of a Term
}

// Error says which term is implausible, and what is likely wrong.
func (e *Unlikely) Error() string {
	want := "the true stator, KV, propeller and units"
	if e.Term == Chopping {
		want += ", and the pulse rate"
	}
	return fmt.Sprintf("%s: the rows ask for %.3g times the %s of the model, which is known to ±%.0f %%; want %s",
		e.Name, e.Factor, termNames[e.Term], 100*e.Before, want)
}

// Fit finds the factors on the propeller's CT and CP, the motor's KV, resistance, loss
// torque and chopping loss that are most probable given rows: the maximum a posteriori
// estimate with normal errors of the logarithms. Thrust, power and torque are compared
// at the measured speed and voltage, speed and current at full duty too. The priors
// are those of model.StaticSpread and model.MotorSpread, and of the chopping loss
// model.ChoppingSpread where the pulse rate is known; measurements have 2 % that all
// points of a quantity share and the model has 3 % from point to point (chosen here).
// What is left is the posterior's covariance, from the curvature at the estimate. Where
// the residuals exceed the errors, with a Misfit above 1, the errors are taken that much
// larger (R. T. Birge, The Calculation of Errors by the Method of Least
// Squares, 1932; from memory).
//
// Rows that Odd names are left out. It errs where none is left, and with Unlikely where
// a term is more than 4 of its spreads off: then the motor or propeller is another.
func (r *Rig) Fit(u *Used) (*Fit, error) {
	f, err := newFitting(r, u)
	if err != nil {
		return nil, err
	}
	first, err := f.solve()
	if err != nil || first.Misfit <= 1 {
		return first, err
	}
	f.scale = first.Misfit
	out, err := f.solve()
	if err == nil {
		out.Misfit = first.Misfit
	}
	return out, err
}

// fitting is a problem of least squares in z, standard normal a priori.
type fitting struct {
	rig      *Rig
	rows     []Row
	turns    bool
	name     string
	n        float64        // of the propeller's terms, rev/s
	scale    float64        // on the errors
	spread   [terms]float64 // a priori
	together float64        // correlation of CT and CP
	factor   mat.TriDense   // ln of the terms is factor z
	groups   [5][]int       // rows that have thrust, power, torque, speed and current of full throttle
}

func newFitting(r *Rig, u *Used) (*fitting, error) {
	f := &fitting{rig: r, turns: u.Turns, name: u.Name, scale: 1}
	drop := r.oddRows(u)
	for i := range u.Rows {
		if !slices.Contains(drop, i) {
			f.rows = append(f.rows, u.Rows[i])
		}
	}
	if len(f.rows) == 0 {
		return nil, fmt.Errorf("%s; no other row is left to fit, want some that are possible", r.Odd(u)[0].Text)
	}
	if err := f.expect(); err != nil {
		return nil, err
	}
	for i := range f.rows {
		row := &f.rows[i]
		if _, ok := r.at(row, f.turns); !ok {
			continue // past the speeds of the rotor model
		}
		f.groups[0] = append(f.groups[0], i)
		f.groups[1] = append(f.groups[1], i)
		if row.Torque > 0 {
			f.groups[2] = append(f.groups[2], i)
		}
		if row.Full() && row.Speed > 0 { // without speeds the others are at full duty already
			f.groups[3] = append(f.groups[3], i)
			f.groups[4] = append(f.groups[4], i)
		}
	}
	if len(f.groups[0]) == 0 {
		return nil, fmt.Errorf("%s: no row that can be fitted; want some at speeds of the rotor model", u.Name)
	}
	return f, nil
}

// logs are those of the terms at z.
func (f *fitting) logs(z []float64) (x [terms]float64) {
	for k := range x {
		for j := range k + 1 {
			x[k] += f.factor.At(k, j) * z[j]
		}
	}
	return x
}

// with is the rig with factors whose logarithms are x.
func (r *Rig) with(x [terms]float64) *Rig {
	q := *r
	e := func(k int) float64 { return math.Exp(x[k]) }
	q.Thrust *= e(CT)
	q.Power *= e(CP)
	q.Motor = r.Motor.Scaled(motor.Scale{KV: e(KV), Resistance: e(Resistance), Loss: e(Loss), Chopping: e(Chopping),
		Mass: 1, Cooling: 1})
	q.Controller.R *= e(Resistance)
	q.Controller.Leads *= e(Resistance)
	return &q
}

// residuals are those of priors and measurements at z, each in units of its spread and
// independent of the others.
func (f *fitting) residuals(z []float64) ([]float64, error) {
	rig := f.rig.with(f.logs(z))
	out := slices.Clone(z)
	for g, rows := range f.groups {
		var miss, sigma []float64
		for _, i := range rows {
			row := &f.rows[i]
			p, ok := rig.fitted(row, f.turns)
			var model, measured, least float64
			switch g {
			case 0:
				model, measured, least = p.Thrust, row.Thrust, leastForce
			case 1:
				model, measured, least = p.Electrical(), row.Electrical(), leastAmps*row.Volts
			case 2:
				model, measured, least = p.Torque, row.Torque, leastTorque
			case 3, 4:
				s := rig.Stand
				s.Volts, s.Resistance = row.Volts, 0
				p, ok = s.AtDuty(1)
				model, measured = p.Speed, row.Speed
				if g == 4 {
					model, measured, least = p.Current, row.Amps, leastAmps
				}
			}
			if !ok || !(model > 0) {
				return nil, fmt.Errorf("%s:%d: no such state in the model", f.name, row.Line)
			}
			miss = append(miss, math.Log(model/measured))
			sigma = append(sigma, math.Hypot(perPoint, least/measured))
		}
		out = append(out, whitened(miss, sigma)...)
	}
	for i := terms; i < len(out); i++ {
		out[i] /= f.scale
	}
	return out, nil
}

// whitened turns errors with the covariance diag(sigma^2) + calibration^2, the same
// for all pairs, into independent ones of unit variance: over their sigma, they have
// 1 + a aT with a the calibration over the sigma, whose inverse root takes
// away a part along a.
func whitened(miss, sigma []float64) []float64 {
	long, along := 0.0, 0.0
	for i, s := range sigma {
		a := calibration / s
		miss[i] /= s
		long += a * a
		along += a * miss[i]
	}
	if long == 0 {
		return miss
	}
	part := (1 - 1/math.Sqrt(1+long)) * along / long
	for i, s := range sigma {
		miss[i] -= part * calibration / s
	}
	return miss
}

// solve minimises the sum of squares by the Gauss-Newton method with halved steps.
func (f *fitting) solve() (*Fit, error) {
	const (
		maxSteps = 60
		h        = 1e-4 // for derivatives
		small    = 1e-6
	)
	z := make([]float64, terms)
	r, err := f.residuals(z)
	if err != nil {
		return nil, err
	}
	J := mat.NewDense(len(r), terms, nil)
	for range maxSteps {
		if err := f.slopes(J, z, r, h); err != nil {
			return nil, err
		}
		var step mat.VecDense
		if err := step.SolveVec(J, mat.NewVecDense(len(r), r)); err != nil {
			return nil, fmt.Errorf("%s: fit: %w", f.name, err)
		}
		moved := 0.0
		for t := 1.0; t > small; t /= 2 {
			trial := slices.Clone(z)
			for k := range trial {
				trial[k] -= t * step.AtVec(k)
			}
			if next, err := f.residuals(trial); err == nil && squares(next) <= squares(r) {
				moved = t * mat.Norm(&step, math.Inf(1))
				z, r = trial, next
				break
			}
		}
		if moved < small {
			return f.done(z, r, J, h)
		}
	}
	return nil, fmt.Errorf("%s: the fit does not converge; want rows of one motor with one propeller", f.name)
}

// slopes fills in the derivatives of the residuals at z, where they are r.
func (f *fitting) slopes(J *mat.Dense, z, r []float64, h float64) error {
	for k := range z {
		up := slices.Clone(z)
		up[k] += h
		next, err := f.residuals(up)
		if err != nil {
			return err
		}
		for i := range next {
			J.Set(i, k, (next[i]-r[i])/h)
		}
	}
	return nil
}

// done judges the estimate and finds what uncertainty it leaves.
func (f *fitting) done(z, r []float64, J *mat.Dense, h float64) (*Fit, error) {
	if err := f.slopes(J, z, r, h); err != nil {
		return nil, err
	}
	var A mat.Dense
	A.Mul(J.T(), J) // with the prior's ones in it
	S := mat.NewSymDense(terms, nil)
	for i := range terms {
		for j := i; j < terms; j++ {
			S.SetSym(i, j, A.At(i, j))
		}
	}
	var ch mat.Cholesky
	var left mat.SymDense
	if !ch.Factorize(S) || ch.InverseTo(&left) != nil {
		return nil, errors.New("bench: the fit has no covariance")
	}
	var half, cov mat.Dense
	half.Mul(&f.factor, &left)
	cov.Mul(&half, f.factor.T())
	x := f.logs(z)
	data := r[terms:]
	out := &Fit{Rig: f.rig.with(x), Points: len(f.groups[0]), Misfit: math.Sqrt(squares(data) / float64(len(data))),
		n: f.n, together: f.together}
	for k := range out.Terms {
		t := &out.Terms[k]
		*t = Term{Name: termNames[k], Factor: math.Exp(x[k]), Before: f.spread[k]}
		t.After = math.Sqrt(cov.At(k, k))
		t.Known = t.After <= knownBetter*t.Before
		if q := recorded[k]; q != nil {
			t.Known = t.Known && likelihoodOf(t, model.MotorSpread(q)).known
		}
		if math.Abs(x[k]) > mostOff*t.Before {
			return nil, &Unlikely{Term: k, Name: f.name, Factor: t.Factor, Before: t.Before}
		}
	}
	return out, nil
}

func squares(r []float64) (sum float64) {
	for _, r := range r {
		sum += r * r
	}
	return sum
}
