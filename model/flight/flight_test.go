package flight

import (
	"math"
	"math/rand/v2"
	"testing"

	"rotorsieve/model/air"
	"rotorsieve/model/frame"
	"rotorsieve/model/motor"
	"rotorsieve/model/pack"
	"rotorsieve/model/rotor"
)

func propulsor(t testing.TB, diameter float64) Propulsor {
	t.Helper()
	p, _ := solved(t, solver(t, diameter))
	return p
}

func solver(t testing.TB, diameter float64) *rotor.Solver {
	t.Helper()
	a, err := air.Standard(0)
	if err != nil {
		t.Fatal(err)
	}
	b, err := rotor.Generic(diameter, 0.8*diameter, 3, 0)
	if err != nil {
		t.Fatal(err)
	}
	s, err := rotor.New(rotor.Geometry{Diameter: diameter, Blades: 3, Blade: b}, a)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func drive(t testing.TB, kv float64, cells int, mAh float64) Drive {
	t.Helper()
	k, err := packs.New(pack.Grades[0], cells, mAh*3.6, pack.Condition{Temperature: 298.15})
	if err != nil {
		t.Fatal(err)
	}
	return Drive{Motor: motor.New(motor.Stator{Diameter: 0.022, Height: 0.007}, kv,
		motor.Use{Winding: 333.15, PulseRate: 48e3}), Pack: k, Avionics: 3, RestedTop: k.Rested(0.1),
		Limits: LimitsOf(&k, 1, 0)}
}

// rated is a common controller.
var (
	nominal = Nominal()
	motors  = motor.Nominal()
	packs   = pack.Nominal()
	rated   = motors.Rated(45)
)

// The full-throttle point against a bisection of the voltage balance that is
// written out here on its own.
func TestStaticAgainstBisection(t *testing.T) {
	p := propulsor(t, 0.127)
	r := rand.New(rand.NewPCG(1, 1))
	found := 0
	for range 200 {
		d := drive(t, math.Exp(math.Log(500)+r.Float64()*math.Log(8)), 2+r.IntN(6), 500+3000*r.Float64())
		f := d.Static(&p)
		spare := func(n float64) float64 {
			_, CP := p.Table.Static(n)
			i := d.Motor.Current(CP*p.Density*n*n*math.Pow(0.127, 5)/(2*math.Pi), n)
			load := frame.Rotors*motors.Idle + d.Avionics
			a := d.RestedTop - frame.Rotors*d.Pack.R*i
			disc := a*a - 4*d.Pack.R*load
			if a <= 0 || disc < 0 {
				return math.Inf(-1)
			}
			return (a+math.Sqrt(disc))/2 - f.Controller.Series()*i - d.Motor.Voltage(i, n)
		}
		lo, hi := p.nMin, p.nMax
		if spare(hi) > 0 {
			if f.OK {
				t.Errorf("a point past the table's speeds was taken: %+v", f)
			}
			continue
		}
		for range 200 {
			if mid := (lo + hi) / 2; spare(mid) > 0 {
				lo = mid
			} else {
				hi = mid
			}
		}
		if !f.OK || math.Abs(f.Speed-lo) > 1e-9*lo {
			t.Errorf("full throttle at %.12g rev/s (%v), bisection finds %.12g", f.Speed, f.OK, lo)
		}
		if f.Controller.Rating < 1.2*f.Current {
			t.Errorf("controller of %g A for %g A", f.Controller.Rating, f.Current)
		}
		found++
	}
	if found < 100 {
		t.Errorf("only %d points compared", found)
	}
}

// The current that a controller is rated on is that of the motor without its drop, also where the rest of the
// craft takes nearly all that the pack can give.
func TestPeakNearMostPower(t *testing.T) {
	p := propulsor(t, 0.127)
	r := rand.New(rand.NewPCG(2, 1))
	near := 0
	for range 20_000 {
		d := drive(t, math.Exp(math.Log(500)+r.Float64()*math.Log(8)), 2+r.IntN(6), 200+1500*r.Float64())
		d.Avionics = d.RestedTop * d.RestedTop / (4 * d.Pack.R) * r.Float64() * 0.9
		f := d.Static(&p)
		var free FullThrottle
		_, _ = d.balance(&free, &p, 0, p.nMax, 1e-7)
		if !f.OK || !free.OK {
			continue
		}
		if math.Abs(f.peak-free.Current) > 1e-4*free.Current {
			t.Errorf("a peak of %g A, found in small steps %g A: %.3g W beside, %g V at rest, %g V loaded", f.peak,
				free.Current, d.Avionics, d.RestedTop, free.PackVoltage)
		}
		if free.PackVoltage < 0.6*d.RestedTop {
			near++
		}
	}
	if near < 500 {
		t.Errorf("%d drives near the most power of their pack, want 500", near)
	}
}

// Hover carries the weight, and asks more of everything as the weight grows.
func TestHover(t *testing.T) {
	p := propulsor(t, 0.127)
	d := drive(t, 1750, 6, 1100)
	c := rated
	last := Point{}
	for thrust := 0.2; thrust < 8; thrust *= 1.3 {
		h := d.Hover(&p, c, thrust)
		if !h.OK {
			t.Fatalf("no hover at %g N", thrust)
		}
		if T, _ := p.static(h.Speed); math.Abs(T-thrust) > 1e-9*thrust {
			t.Errorf("%g N were asked for, %g N are given", thrust, T)
		}
		if !(h.Speed > last.Speed && h.Torque > last.Torque && h.Power > last.Power && h.Duty > last.Duty) {
			t.Errorf("hover at %g N asks no more than at less: %+v after %+v", thrust, h, last)
		}
		last = h
	}
	if h := d.Hover(&p, c, 1e3); h.OK {
		t.Errorf("a five-inch propeller gave a kilonewton: %+v", h)
	}
}

// More volts or more KV turn the propeller faster; a weaker pack slower.
func TestStaticTrends(t *testing.T) {
	p := propulsor(t, 0.127)
	at := func(kv float64, cells int, mAh float64) float64 {
		d := drive(t, kv, cells, mAh)
		return d.Static(&p).Speed
	}
	base := at(1750, 4, 1500)
	if !(at(1750, 6, 1500) > base && at(2000, 4, 1500) > base && at(1750, 4, 600) < base) {
		t.Error("full-throttle speed does not follow voltage, KV and pack")
	}
}

func BenchmarkStatic(b *testing.B) {
	p, d := propulsor(b, 0.127), drive(b, 1750, 6, 1100)
	b.ReportAllocs()
	for b.Loop() {
		d.Static(&p)
	}
}

func BenchmarkHover(b *testing.B) {
	p, d := propulsor(b, 0.127), drive(b, 1750, 6, 1100)
	c := rated
	b.ReportAllocs()
	for b.Loop() {
		d.Hover(&p, c, 1.5)
	}
}
