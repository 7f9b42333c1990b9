package model

import (
	"math"
	"math/rand/v2"
	"testing"
)

// The reserve of thrust is left up to the share of the usable charge that is told:
// judged at the charge which is then left, static thrust to weight is the reserve.
func TestThrustShare(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(17, 18))
	seen := 0
	for range 60 {
		d := randomDesign(r)
		full, err := newModel(t, func(a *Assumptions) { a.Charge = 1 }).Evaluate(d)
		if err != nil || full.thrustToWeight < 1.2 {
			continue
		}
		reserve := 0.93 * full.thrustToWeight
		c, err := newModel(t, func(a *Assumptions) {
			a.Charge, a.ThrustReserve = 1,
				math.Min(reserve, ReserveBound.Max)
		}).Evaluate(d)
		if err != nil {
			t.Fatal(err)
		}
		share := value(t, c, "thrust-share")
		left := 1 - share*c.Powertrain.Drive.Pack.Usable()
		if !(share > 0.02 && share < 0.98 && reserve < ReserveBound.Max) {
			continue
		}
		late, err := newModel(t, func(a *Assumptions) { a.Charge = left }).Evaluate(d)
		if err != nil || late.Mass != c.Mass { // another controller
			continue
		}
		seen++
		if got := late.thrustToWeight; math.Abs(got/reserve-1) > 1e-6 {
			t.Errorf("thrust to weight at the charge of %g is %.9g, want the reserve of %.9g: %+v", left, got, reserve,
				d)
		}
	}
	if seen < 15 {
		t.Errorf("only %d craft", seen)
	}
}
