package model

import (
	"math"
	"testing"

	"rotorsieve/model/flight"
	"rotorsieve/model/motor"
)

// At the end of a response thrust has gone 63 % of the way, up and down, by the rotor
// model's own thrust at the end's speed. Where it is said by the square of that speed
// alone, the end is off.
func TestThrustOfResponse(t *testing.T) {
	m := newModel(t, nil)
	for _, d := range []Design{freestyle, cruiser, smallCruiser, loadCarrier} {
		c := evaluate(t, m, d)
		p := c.Powertrain.Propeller
		thrust := func(n float64) float64 {
			CT, _ := p.Table.Static(n)
			return CT * p.Installed * m.Air.Density * n * n * math.Pow(p.Diameter, 4)
		}
		hover, full := thrust(c.Hover.Speed), thrust(c.Powertrain.Full.Speed)
		for _, part := range []float64{1 - settled, settled} {
			n := c.between(part)
			if got := (thrust(n) - hover) / (full - hover); math.Abs(got-part) > 1e-6 {
				t.Errorf("%g in: %.6f of the step at %g rev/s, want %g", d.Diameter/in, got, n, part)
			}
		}
		var ends []float64
		note := func(_ *flight.Drive, _ *flight.Propulsor, _ motor.Controller, _, _, _, to float64) float64 {
			ends = append(ends, to)
			return 1
		}
		c.up(note)
		c.down(note)
		if ends[0] != c.between(settled) || ends[1] != c.between(1-settled) {
			t.Errorf("%g in: the responses end at %g rev/s", d.Diameter/in, ends)
		}
	}
}

// onStand puts into a motor that turns n rev/s what thrust stands measure beyond its
// winding: leads and commutation with 20 mohm, a speed constant under load of 0.95 of the
// label's, and the reactance of the winding,
//
//	V = 2 pi n Kt/0.95 + I (R + 20 mohm) + 3.2e-5 n (Kt^2/v) I,  v the stator's volume in m3
func onStand(m *motor.Motor, n float64) {
	m.R += 0.020 + 3.2e-5*n*m.Kt*m.Kt/m.Volume
	m.Kt /= 0.95
}

// The rotors of a 5 in craft on 4S follow a command as a lag of first order with a time
// constant of 33 ms (P. Foehn et al., Agilicious: Open-source and open-hardware agile
// quadrotor for vision-based flight, Science Robotics, 2022; parts and figure from memory:
// three-blade propellers of 5.1 in, motors of 2306 and about 2400 rpm/V, 0.75 kg).
//
// That is a lag of the speed of rotation about hover, under a duty that the controller
// sets at once, not the response from hover to full throttle, which the current's limit
// stretches, So here: the time to 63 % of a step of the speed, at the duty that holds half,
// three quarters, five quarters and 1.5 times the thrust of hover, with the current's
// limit. Inertia is known to 25 %, the motor's torque per ohm to 20 %, together to 30 %.
// The pitch is not known, and hardly matters. Without what stands measure beyond the
// winding, rotors would follow in 18 ms.
func TestRotorLag(t *testing.T) {
	const published, spread, first = 0.033, 0.30, 0.632
	m := newModel(t, nil)
	for _, pitch := range []float64{4, 4.5, 5} {
		d := Design{Diameter: 5.1 * in, Pitch: pitch * in, Blades: 3, Stator: stator(23, 6), KV: 2400,
			Cells: 4, Capacity: 1800 * 3.6}
		d.Payload = 0.75 - evaluate(t, m, d).Mass
		c := evaluate(t, m, d)
		p, full, drive := &c.Powertrain.Propeller.Propulsor, c.Powertrain.Full, c.Powertrain.Drive
		hover := c.Hover.Speed
		onStand(&drive.Motor, hover)
		for _, load := range []float64{0.5, 0.75, 1.25, 1.5} {
			n, q, ok := p.Hold(load * c.Mass * gravity / rotors)
			if !ok {
				t.Fatalf("no speed holds %g of the weight", load)
			}
			duty := drive.Duty(full.Controller, n, q)
			lag := drive.Spin(p, full.Controller, c.rotorInertia(), duty, hover, hover+first*(n-hover))
			t.Logf("pitch %g in, to %g of the weight: %.1f ms", pitch, load, 1e3*lag)
			if !(math.Abs(lag/published-1) <= spread) {
				t.Errorf("pitch %g in, to %g of the weight: %.3g s, published %g", pitch, load, lag, published)
			}
		}
	}
}
