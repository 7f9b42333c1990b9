package flight

import (
	"math"
	"testing"

	"rotorsieve/model/frame"
	"rotorsieve/model/motor"
	"rotorsieve/model/rotor"
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
		c := motors.Rated(x.rating)
		got := d.Spin(&p, c, J, x.duty, x.from, x.to)
		n, s := x.from, 0.0
		const dt = 1e-7
		for (n-x.to)*(x.from-x.to) > 0 && s < 1 {
			i := (x.duty*(d.RestedTop-d.Pack.R*d.steady()/d.RestedTop) - 2*math.Pi*d.Motor.Kt*n) /
				(d.Motor.Impedance(n) + c.Series() + frame.Rotors*x.duty*x.duty*d.Pack.R)
			i = math.Max(-x.rating, math.Min(i, x.rating))
			_, Q := p.static(n)
			n += dt * (d.Motor.Torque(i) - d.Motor.LossTorque(n) - Q) / (2 * math.Pi * J)
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
	if above, below := d.Spin(&p, rated, J, duty, 300, 200.5), d.Spin(&p, rated, J, duty, 300, 199.5); math.IsInf(above,
		1) || !math.IsInf(below, 1) {
		t.Errorf("at the duty %g of 200 rev/s, 200.5 are reached in %g s and 199.5 in %g s", duty, above, below)
	}
	full := d.Static(&p)
	if s := d.Spin(&p, full.Controller, J, 1, 100, 1.2*full.Speed); !math.IsInf(s, 1) {
		t.Errorf("a speed past full throttle was reached in %g s", s)
	}
}

// The moment of inertia of a propeller against its derivation: a blade whose mass
// goes with the square of the chord of the generic planform, from the edge of the
// hub at a tenth of the radius, and three tenths of the mass in the hub, a disc.
func TestBladeGyration(t *testing.T) {
	b, err := rotor.Generic(0.127, 0.1016, 3, 0)
	if err != nil {
		t.Fatal(err)
	}
	const hub, inHub, steps = 0.1, 0.3, 2000
	var mass, moment float64
	for i := range steps {
		x := hub + (1-hub)*(float64(i)+0.5)/steps
		c, _ := b.At(x)
		mass += c * c
		moment += c * c * x * x
	}
	blade := moment / mass
	if math.Abs(blade-0.30) > 0.005 {
		t.Errorf("blade: %.4g m R^2, the comment says 0.30", blade)
	}
	want := (1-inHub)*blade + inHub*hub*hub/2
	const m, R = 2.5e-3, 0.0635
	if got := nominal.RotorInertia(m, R, &motor.Motor{}) / (m * R * R); math.Abs(got/want-1) > 0.03 {
		t.Errorf("propeller: %.4g m R^2, derived %.4g", got, want)
	}
}

// A hoop and a box of which the moments are known.
func TestInertia(t *testing.T) {
	m := motor.Motor{Stator: motor.Stator{Diameter: 0.022, Height: 0.007}, Mass: 0.033}
	if got, want := nominal.RotorInertia(0, 0.0635, &m), 0.45*0.033*0.01232*0.01232; math.Abs(got-want) > 1e-12 {
		t.Errorf("bell: %g, want %g", got, want)
	}
	if got, want := nominal.RollInertia(0.05, 0, 0, 0.1), 4*0.05*0.01; math.Abs(got-want) > 1e-15 {
		t.Errorf("four tips: %g, want %g", got, want)
	}
	// 2.4 kg of 1200 kg/m3 are a box of 0.1 x 0.1 x 0.2 m.
	if got, want := nominal.RollInertia(0, 0, 2.4, 0.1), 2.4*(0.01+0.01)/12; math.Abs(got-want) > 1e-12 {
		t.Errorf("box: %g, want %g", got, want)
	}
}

// Arms are rods from the middle of the craft to its motors: many slices of each, by
// their distance from the axis.
func TestArmInertia(t *testing.T) {
	const arm, lateral, slices = 0.04, 0.11, 10000
	want := 0.0
	for i := range slices {
		r := lateral * (float64(i) + 0.5) / slices
		want += frame.Rotors * arm / slices * r * r
	}
	if got := nominal.RollInertia(0, arm, 0, lateral); math.Abs(got/want-1) > 1e-6 {
		t.Errorf("four arms of %g kg reaching %g m: %g kg m2, in slices %g", arm, lateral, got, want)
	}
}
