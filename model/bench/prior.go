package bench

import (
	"fmt"

	"gonum.org/v1/gonum/mat"

	"rotorsieve/model"
	"rotorsieve/model/record"
)

// expect sets the priors.
func (f *fitting) expect() error {
	r := f.rig
	f.n = middle(f.rows, r)
	static, together, err := model.StaticSpread(r.Rotor.Geometry(), r.Rotor.Air(), f.n)
	if err != nil {
		return fmt.Errorf("%s: %w", f.name, err)
	}
	f.together = together
	f.spread = [terms]float64{CT: static[0], CP: static[1], KV: model.MotorSpread(record.KV),
		Resistance: model.MotorSpread(record.Resistance), Loss: model.MotorSpread(record.Loss),
		Chopping: model.MotorSpread(record.Chopping)}
	if r.RateKnown {
		f.spread[Chopping] = model.ChoppingSpread
	}
	cov := mat.NewSymDense(terms, nil)
	for k, s := range f.spread {
		cov.SetSym(k, k, s*s)
	}
	cov.SetSym(CT, CP, together*f.spread[CT]*f.spread[CP])
	var ch mat.Cholesky
	if !ch.Factorize(cov) {
		return fmt.Errorf("%s: the priors of CT and CP are no covariance", f.name)
	}
	ch.LTo(&f.factor)
	return nil
}
