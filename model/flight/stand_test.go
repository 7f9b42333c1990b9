package flight

import (
	"math"
	"math/rand/v2"
	"testing"

	"rotorsieve/model/motor"
)

func stand(t testing.TB, kv, volts, ohms float64) Stand {
	p := propulsor(t, 0.127)
	p.Installed = 1
	use := motor.Use{Winding: 333.15, PulseRate: 48e3}
	return NewStand(motor.New(motor.Stator{Diameter: 0.022, Height: 0.007}, kv, use), &p, volts, ohms)
}

// All that the supply gives goes somewhere, at every duty, speed and thrust, and its
// voltage sags by its resistance.
func TestStandBalance(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(1, 2))
	for range 40 {
		s := stand(t, 1000+2000*r.Float64(), 7+12*r.Float64(), 0.05*r.Float64())
		top, by := s.Top()
		if by != ByDuty {
			t.Fatalf("%g V, KV %g: bounded by %s", s.Volts, s.Motor.KV, by)
		}
		check := func(what string, p StandPoint, ok bool) {
			t.Helper()
			if !ok {
				t.Errorf("%s: no state", what)
				return
			}
			in := s.Volts*p.Current - s.Resistance*p.Current*p.Current
			out := p.Shaft + p.Winding + p.Friction + p.Chopping + p.Leads + p.Switches + p.Idle
			if math.Abs(in-out) > 1e-9*in {
				t.Errorf("%s: %.12g W in, %.12g W out", what, in, out)
			}
			if math.Abs(p.Electrical()-in) > 1e-9*in {
				t.Errorf("%s: %.12g W enter the controller, %.12g W leave the supply's resistance", what,
					p.Electrical(), in)
			}
			if (p.Chopping > 0) != (p.Duty < 1) {
				t.Errorf("%s: duty %.4g, %.3g W are lost in chopping", what, p.Duty, p.Chopping)
			}
			// Speed, thrust and duty ask for one state.
			for _, same := range []func() (StandPoint, bool){
				func() (StandPoint, bool) { return s.AtSpeed(p.Speed) },
				func() (StandPoint, bool) { return s.AtThrust(p.Thrust) },
				func() (StandPoint, bool) { return s.AtDuty(p.Duty) },
			} {
				q, ok := same()
				if !ok || math.Abs(q.Current-p.Current) > 1e-7*p.Current || math.Abs(q.Speed-p.Speed) > 1e-7*p.Speed {
					t.Errorf("%s: %+v, asked for otherwise %v %+v", what, p, ok, q)
				}
			}
		}
		check("top", top, true)
		n := top.Speed * (0.2 + 0.75*r.Float64())
		p, ok := s.AtSpeed(n)
		check("speed", p, ok)
		p, ok = s.AtThrust(top.Thrust * (0.1 + 0.8*r.Float64()))
		check("thrust", p, ok)
		p, ok = s.AtDuty(0.1 + 0.89*r.Float64())
		check("duty", p, ok)
	}
}

// A stand is a quarter of a craft on a pack of a quarter of the resistance.
func TestStandIsDrive(t *testing.T) {
	t.Parallel()
	d := drive(t, 1750, 6, 1300)
	d.Avionics = 0
	p := propulsor(t, 0.127)
	s := NewStand(d.Motor, &p, d.RestedTop, 4*d.Pack.R)
	f := d.Static(&p)
	full, ok := s.AtDuty(1)
	if !ok || s.Controller != f.Controller {
		t.Fatalf("%v, controllers %+v and %+v", ok, s.Controller, f.Controller)
	}
	for _, c := range []struct {
		what      string
		got, want float64
	}{{"speed", full.Speed, f.Speed}, {"thrust", full.Thrust, f.Thrust}, {"voltage", full.Voltage, f.PackVoltage},
		{"current", 4 * full.Current, f.PackCurrent}} {
		if math.Abs(c.got-c.want) > 1e-7*c.want {
			t.Errorf("full duty: %s %.9g, of the craft %.9g", c.what, c.got, c.want)
		}
	}
}

// The bounds of a state, and what cannot be reached.
func TestStandBounds(t *testing.T) {
	t.Parallel()
	s := stand(t, 1750, 11.1, 0.010)
	s.Controller = motors.Rated(5)
	full, _ := s.AtDuty(1)
	if by := s.Bounds(&full); len(by) != 2 || by[0] != ByDuty || by[1] != ByRating {
		t.Errorf("full duty of %.3g A with a controller of 5 A is bounded by %q", full.MotorCurrent, by)
	}
	if p, ok := s.AtSpeed(1.05 * full.Speed); !ok || p.Duty <= 1 {
		t.Errorf("a speed past full duty: %v, duty %g", ok, p.Duty)
	}
	if _, ok := s.AtSpeed(1e5); ok {
		t.Error("a speed past the rotor model has a state")
	}
	if _, ok := s.AtThrust(1e5); ok {
		t.Error("a thrust past the rotor model has a state")
	}
	if _, ok := s.AtDuty(1e-4); ok {
		t.Error("a duty that does not turn the rotor has a state")
	}
	// 4 ohm give 11.1^2/16 W at most.
	s = stand(t, 1750, 11.1, 4)
	top, by := s.Top()
	if by != BySource || math.Abs(top.Electrical()/(11.1*11.1/16)-1) > 1e-3 {
		t.Errorf("a supply of 4 ohm gives %.4g W, bounded by %s; want %.4g", top.Electrical(), by, 11.1*11.1/16)
	}
	full, _ = s.AtDuty(1)
	if by := s.Bounds(&full); len(by) != 2 || by[1] != BySource || full.Speed >= top.Speed {
		t.Errorf("full duty of a weak supply is bounded by %q, turns %g, at most %g", by, full.Speed, top.Speed)
	}
	s = stand(t, 9000, 60, 0)
	if top, by = s.Top(); by != ByRotor || top.Duty > 1 {
		t.Errorf("60 V at KV 9000 are bounded by %s, duty %g", by, top.Duty)
	}
}

// Factors on thrust and power do what they say.
func TestStandFactors(t *testing.T) {
	t.Parallel()
	s := stand(t, 1750, 11.1, 0)
	a, _ := s.AtSpeed(200)
	s.Thrust, s.Power = 1.1, 0.9
	b, _ := s.AtSpeed(200)
	if math.Abs(b.Thrust/a.Thrust-1.1) > 1e-12 || math.Abs(b.Torque/a.Torque-0.9) > 1e-12 {
		t.Errorf("thrust times %g, torque times %g", b.Thrust/a.Thrust, b.Torque/a.Torque)
	}
}
