package model

import (
	"math"
	"slices"
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

// The rotors of a 5 in craft on 4S follow commands as a lag of first order with a time
// constant of 33 ms (P. Foehn et al., Agilicious: Open-source and open-hardware agile
// quadrotor for vision-based flight, Science Robotics, 2022; parts and figure from memory:
// three-blade propellers of 5.1 x 4.8 in, motors of 2306 and about 2400 rpm/V, 0.75 kg).
//
// One constant stands for commands of all sizes there. The current's limit stretches
// large steps here, so that they take longer than small ones: 63 % of the step of thrust
// from hover to twice, three and four times the weight, each at the duty that holds it,
// and to full throttle, which is the metric, have the constant between them, and the
// longest is within what is known of the inertia and of the motor's torque, together 30 %.
func TestRotorLag(t *testing.T) {
	const published, spread = 0.033, 0.30
	m := newModel(t, nil)
	d := Design{Diameter: 5.1 * in, Pitch: 4.8 * in, Blades: 3, Stator: stator(23, 6), KV: 2400, Cells: 4,
		Capacity: 1800 * 3.6}
	d.Payload = 0.75 - evaluate(t, m, d).Mass
	c := evaluate(t, m, d)
	p, drive := &c.Powertrain.Propeller.Propulsor, c.Powertrain.Drive
	ctl, hover := c.Powertrain.Full.Controller, c.Hover.Speed
	thrust := c.Mass * gravity / rotors
	var lags []float64
	for _, load := range []float64{2, 3, 4} {
		n, q, ok := p.Hold(load * thrust)
		if !ok {
			t.Fatalf("no speed holds %g of the weight", load)
		}
		part, _, _ := p.Hold((1 + settled*(load-1)) * thrust)
		lag := drive.Spin(p, ctl, c.rotorInertia(), drive.Duty(ctl, n, q), hover, part)
		t.Logf("to %g of the weight: %.1f ms", load, 1e3*lag)
		lags = append(lags, lag)
	}
	full := value(t, c, "thrust-response-time")
	t.Logf("to full throttle: %.1f ms", 1e3*full)
	if !(lags[0] < published && full > published) || !slices.IsSorted(append(lags, full)) {
		t.Errorf("lags of %.3g s and %.3g s to full throttle, published %g", lags, full, published)
	}
	if !(math.Abs(full/published-1) <= spread) {
		t.Errorf("lag of %.3g s to full throttle, published %g", full, published)
	}
}
