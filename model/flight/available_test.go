package flight

import (
	"math"
	"math/rand/v2"
	"testing"

	"rotorsieve/model/frame"
	"rotorsieve/model/rotor"
)

// At rest the thrust available is that of full throttle, and the thrust needed is
// the weight.
func TestThrustsAtRest(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 22))
	seen := 0
	for range 40 {
		p, D := anyPropulsor(t, r)
		x, ok := anyCraft(t, r, &p, D)
		if !ok {
			continue
		}
		seen++
		at, ok := x.Thrusts(&p, x.full.Controller, x.mass, nominal.Body(x.mass, Hull{}), 0)
		if want := frame.Rotors * x.full.Thrust; !ok || math.Abs(at.Available-want) > 1e-7*want {
			t.Errorf("%.10g N are available at rest (%v), full throttle gives %.10g N", at.Available, ok, want)
		}
		if want := x.mass * Gravity; math.Abs(at.Needed-want) > 1e-9*want {
			t.Errorf("%.10g N are needed at rest, the weight is %.10g N", at.Needed, want)
		}
		still := x.inFlow(&p, x.full.Controller, rotor.Flow{})
		if f := x.full; !still.OK || math.Abs(still.Speed/f.Speed-1) > 1e-7 ||
			math.Abs(still.PackCurrent/f.PackCurrent-1) > 1e-7 || still.Controller != f.Controller {
			t.Errorf("full throttle in no flow is %+v, at rest %+v", still, f)
		}
	}
	if seen < 25 {
		t.Errorf("only %d craft", seen)
	}
}

// What is available crosses what is needed at the top speed of a craft that the
// throttle limits, from above, and the propellers unload on the way.
func TestThrustsCrossAtTopSpeed(t *testing.T) {
	r := rand.New(rand.NewPCG(23, 24))
	seen := 0
	for range 60 {
		p, D := anyPropulsor(t, r)
		x, ok := anyCraft(t, r, &p, D)
		if !ok {
			continue
		}
		e := NewEnvelope(&nominal, &p, 0.1*math.Pow(D/0.127, 2.3), Hull{})
		var f Flight
		c := x.full.Controller
		x.Fly(&f, e, &x.full, x.mass, &x.h, math.Pi/2)
		if !f.OK || f.Limit != ByThrottle || f.Top.Airspeed == 0 {
			continue
		}
		seen++
		at, ok := x.Thrusts(&p, c, x.mass, nominal.Body(x.mass, Hull{}), f.Top.Airspeed)
		if !ok || math.Abs(at.Available/at.Needed-1) > 3e-3 {
			t.Errorf("at the top speed of %.4g m/s %.5g N are needed and %.5g N available (%v)", f.Top.Airspeed,
				at.Needed, at.Available, ok)
		}
		if D, W := at.Needed*math.Sin(at.Tilt), at.Needed*math.Cos(at.Tilt); math.Abs(math.Hypot(W,
			D)-at.Needed) > 1e-9*at.Needed {
			t.Errorf("thrust of %g N has parts of %g N and %g N", at.Needed, W, D)
		}
		for _, side := range []float64{0.97, 1.03} {
			at, ok := x.Thrusts(&p, c, x.mass, nominal.Body(x.mass, Hull{}), side*f.Top.Airspeed)
			if ok && (at.Available > at.Needed) != (side < 1) {
				t.Errorf("at %g of the top speed %.5g N are needed and %.5g N available", side, at.Needed, at.Available)
			}
		}
	}
	if seen < 15 {
		t.Errorf("only %d craft were limited by full throttle", seen)
	}
}

// Thrust at full throttle falls with the flow through the discs, though the
// propellers turn faster in it; flow along the discs adds to it.
func TestInFlowUnloads(t *testing.T) {
	r := rand.New(rand.NewPCG(25, 26))
	seen := 0
	for range 40 {
		p, D := anyPropulsor(t, r)
		x, ok := anyCraft(t, r, &p, D)
		if !ok {
			continue
		}
		c := x.full.Controller
		last := x.full
		for J := 0.1; J < 1; J += 0.1 {
			at := x.inFlow(&p, c, rotor.Flow{Axial: J * x.full.Speed * D})
			if !at.OK || at.Thrust < 0.1*x.full.Thrust {
				break
			}
			seen++
			if !(at.Thrust < last.Thrust) {
				t.Errorf("%.5g N in a flow of J %.2g, %.5g N in less", at.Thrust, J, last.Thrust)
			}
			if J > 0.5 && !(at.Speed > x.full.Speed && at.PackCurrent < x.full.PackCurrent) {
				t.Errorf("at J %.2g %.5g rev/s and %.4g A, at rest %.5g rev/s and %.4g A", J, at.Speed, at.PackCurrent,
					x.full.Speed, x.full.PackCurrent)
			}
			last = at
		}
		along := x.inFlow(&p, c, rotor.Flow{InPlane: 0.1 * math.Pi * x.full.Speed * D})
		if !along.OK || !(along.Thrust > x.full.Thrust) {
			t.Errorf("%.5g N in a flow along the discs, %.5g N at rest", along.Thrust, x.full.Thrust)
		}
	}
	if seen < 100 {
		t.Errorf("only %d points", seen)
	}
}

// A motor that would drive its propeller past the rotor model has no point.
func TestInFlowOutside(t *testing.T) {
	p, d := propulsor(t, 0.127), drive(t, 4000, 6, 1100)
	d.Motor.R, d.Pack.R = 1e-5, 1e-5 // nothing sags
	if at := d.inFlow(&p, rated, rotor.Flow{}); at != (FullThrottle{}) {
		t.Errorf("full throttle past the rotor model: %+v", at)
	}
	if at, ok := d.Thrusts(&p, rated, 50, nominal.Body(50, Hull{}), 5); ok {
		t.Errorf("50 kg fly level on five-inch propellers: %+v", at)
	}
}
