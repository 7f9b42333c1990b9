package flight

import (
	"math"
	"testing"

	"rotorsieve/model/frame"
	"rotorsieve/model/motor"
)

// The quadrature against small steps of the equation of motion, up with the
// current at its limit for part of the way, and down.
func TestSpin(t *testing.T) {
	p := propulsor(t, 0.127)
	const J = 5e-6
	for _, x := range []struct{ kv, rating, duty, from, to float64 }{
		{1750, 45, 1, 150, 380}, {1750, 20, 1, 150, 300}, {1750, 45, 0.3, 400, 300}, {1750, 10, 0.3, 400, 260},
	} {
		d := drive(t, x.kv, 6, 1100)
		c := motor.Rated(x.rating)
		got := d.Spin(&p, c, J, x.duty, x.from, x.to)
		n, s := x.from, 0.0
		const dt = 1e-7
		for (n-x.to)*(x.from-x.to) > 0 && s < 1 {
			i := (x.duty*(d.RestedTop-d.Pack.R*d.steady()/d.RestedTop) - 2*math.Pi*d.Motor.Kt*n) /
				(d.Motor.R + c.R + frame.Rotors*x.duty*x.duty*d.Pack.R)
			i = math.Max(-x.rating, math.Min(i, x.rating))
			_, Q := p.static(n)
			n += dt * (d.Motor.Kt*i - d.Motor.LossTorque(n) - Q) / (2 * math.Pi * J)
			s += dt
		}
		if !(math.Abs(got-s) <= 2e-3*s) || s >= 1 {
			t.Errorf("%+v: %.6g s, by small steps %.6g s", x, got, s)
		}
	}
	d := drive(t, 1750, 6, 1100)
	// The duty of a speed comes to rest at it: just above is reached, just below not.
	_, Q := p.static(200)
	duty := d.Duty(rated, 200, Q)
	if above, below := d.Spin(&p, rated, J, duty, 300, 200.5), d.Spin(&p, rated, J, duty, 300, 199.5); math.IsInf(above, 1) || !math.IsInf(below, 1) {
		t.Errorf("at the duty %g of 200 rev/s, 200.5 are reached in %g s and 199.5 in %g s", duty, above, below)
	}
	full := d.Static(&p)
	if s := d.Spin(&p, full.Controller, J, 1, 100, 1.2*full.Speed); !math.IsInf(s, 1) {
		t.Errorf("a speed past full throttle was reached in %g s", s)
	}
}

// A hoop and a box of which the moments are known.
func TestInertia(t *testing.T) {
	m := motor.Motor{Stator: motor.Stator{Diameter: 0.022, Height: 0.007}, Mass: 0.033}
	if got, want := RotorInertia(0, 0.0635, &m), 0.45*0.033*0.01232*0.01232; math.Abs(got-want) > 1e-12 {
		t.Errorf("bell: %g, want %g", got, want)
	}
	if got, want := RollInertia(0.05, 0, 0, 0.1), 4*0.05*0.01; math.Abs(got-want) > 1e-15 {
		t.Errorf("four tips: %g, want %g", got, want)
	}
	// 2.4 kg of 1200 kg/m3 are a box of 0.1 x 0.1 x 0.2 m.
	if got, want := RollInertia(0, 0, 2.4, 0.1), 2.4*(0.01+0.01)/12; math.Abs(got-want) > 1e-12 {
		t.Errorf("box: %g, want %g", got, want)
	}
}
