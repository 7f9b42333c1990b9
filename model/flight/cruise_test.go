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

// anySolver is that of a propeller of 2 to 12 in in air up to 4 km.
func anySolver(t testing.TB, r *rand.Rand) *rotor.Solver {
	t.Helper()
	D := 0.0254 * (2 + 10*r.Float64())
	a, err := air.Standard(4000 * r.Float64())
	if err != nil {
		t.Fatal(err)
	}
	b, err := rotor.Generic(D, D*(0.4+0.6*r.Float64()), 2, 0)
	if err != nil {
		t.Fatal(err)
	}
	s, err := rotor.New(rotor.Geometry{Diameter: D, Blades: 2 + r.IntN(3), Blade: b}, a)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// solved is the propulsor of a propeller.
func solved(t testing.TB, s *rotor.Solver) (p Propulsor, diameter float64) {
	t.Helper()
	tab, err := rotor.NewTable(s)
	if err != nil {
		t.Fatal(err)
	}
	D := s.Geometry().Diameter
	return NewPropulsor(tab, D, s.Air().Density, 0.95), D
}

func anyPropulsor(t testing.TB, r *rand.Rand) (p Propulsor, diameter float64) {
	t.Helper()
	return solved(t, anySolver(t, r))
}

// craft is a motor, pack and weight that suit a propeller about as well as those
// that are built.
type craft struct {
	Drive
	mass float64
	full FullThrottle
	h    Point
}

func anyCraft(t testing.TB, r *rand.Rand, p *Propulsor, D float64) (craft, bool) {
	t.Helper()
	size := 0.022 * math.Sqrt(D/0.127) * (0.8 + 0.5*r.Float64())
	cells := 1 + r.IntN(6)
	// Full throttle unloaded at tip Mach 0.45 to 0.75.
	kv := 60 * (0.45 + 0.3*r.Float64()) * 340 / (math.Pi * D) / (4 * float64(cells))
	k, err := packs.New(pack.Grades[r.IntN(2)], cells, 3600*(0.8+r.Float64())*math.Pow(D/0.127, 2)*5/float64(cells),
		pack.Condition{Temperature: 298.15})
	if err != nil {
		t.Fatal(err)
	}
	x := craft{Drive: Drive{Motor: motor.New(motor.Stator{Diameter: size, Height: size / 3}, kv,
		motor.Use{Winding: 333.15, PulseRate: 48e3}), Pack: k, Avionics: 3, RestedTop: k.Rested(0.1)}}
	x.Limits = LimitsOf(&k, []float64{1, 1, 0.6, 1.5, 3}[r.IntN(5)], []float64{0, 0, 0.2, -0.3, -3}[r.IntN(5)])
	x.full = x.Static(p)
	x.mass = 4 * x.full.Thrust / Gravity / (1.3 + 8*r.Float64())
	x.h = x.Hover(p, x.full.Controller, x.mass*Gravity/4)
	return x, x.full.OK && x.h.OK
}

// What is read from the envelope between its nodes is the trim itself, to 0.2 % of
// the shaft power, at the airspeeds that are told of a craft and at random ones.
func TestEnvelopeAgainstTrim(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	compared, worst := 0, 0.0
	for range 60 {
		p, D := anyPropulsor(t, r)
		e := NewEnvelope(&nominal, &p, 0.1*math.Pow(D/0.127, 2.3), Hull{})
		for range 20 {
			x, ok := anyCraft(t, r, &p, D)
			if !ok {
				continue
			}
			var f Flight
			x.Fly(&f, e, &x.full, x.mass, &x.h, math.Pi/2)
			if !f.OK {
				continue
			}
			b := nominal.Body(x.mass, Hull{})
			check := func(what string, at *Cruise) {
				trim, ok := p.Level(x.mass*Gravity, b, at.Airspeed)
				if !ok {
					t.Errorf("%s: no trim at %g m/s of %g kg on %g m", what, at.Airspeed, x.mass, D)
					return
				}
				compared++
				miss := math.Abs(at.Shaft/trim.Rotor.Power - 1)
				if worst = math.Max(worst, miss); miss > 2e-3 {
					t.Errorf("%s: shaft power at %.3g m/s of %.3g kg on %.3g m (%.2g of the fastest turn) is %.3g %% "+
						"off the trim's",
						what, at.Airspeed, x.mass, D, at.Speed/p.nMax, 100*miss)
				}
				tilt, wash := e.Attitude(x.mass, at)
				if math.Abs(tilt-trim.Tilt) > 3e-3 || math.Abs(wash/trim.Wash-1) > 5e-3 {
					t.Errorf("%s: tilt %.5g and wash %.5g, the trim has %.5g and %.5g", what, tilt, wash, trim.Tilt,
						trim.Wash)
				}
			}
			check("least power", &f.Endurance)
			check("best range", &f.Range)
			check("top speed", &f.Top)
			for range 3 {
				if at, ok := x.Level(e, x.full.Controller, x.mass, f.Top.Airspeed*r.Float64()); ok {
					check("between", &at)
				}
			}
			if V, n := x.Climb(e, &x.full, x.mass); V > 0 {
				trim, ok := p.Climb(x.mass*Gravity, b, V)
				if !ok || math.Abs(n/trim.Rotor.N-1) > 1e-3 {
					t.Errorf("climb at %g m/s turns at %g rev/s, its trim at %g (%v)", V, n, trim.Rotor.N, ok)
				}
			}
		}
	}
	if compared < 3000 {
		t.Errorf("only %d points compared", compared)
	}
	t.Logf("%d points, worst %.2g %%", compared, 100*worst)
}

// The airspeeds that are told are those that a fine search of the trim itself
// finds, and the limits are where they say.
func TestFlyAgainstSearch(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	seen := map[Limit]int{}
	for range 25 {
		p, D := anyPropulsor(t, r)
		e := NewEnvelope(&nominal, &p, 0.1*math.Pow(D/0.127, 2.3), Hull{})
		x, ok := anyCraft(t, r, &p, D)
		if !ok {
			continue
		}
		var f Flight
		c := x.full.Controller
		x.Fly(&f, e, &x.full, x.mass, &x.h, 1.3)
		if !f.OK {
			continue
		}
		seen[f.Limit]++
		b := nominal.Body(x.mass, Hull{})
		at := func(V float64) (Trim, Point) {
			trim, ok := p.Level(x.mass*Gravity, b, V)
			if !ok {
				t.Fatalf("no trim at %g m/s", V)
			}
			return trim, x.Turn(c, x.Pack.Mean, trim.Rotor.N, trim.Torque())
		}
		power, perMetre := math.Inf(1), math.Inf(1)
		for V := f.Top.Airspeed / 500; V <= f.Top.Airspeed; V += f.Top.Airspeed / 500 {
			_, pt := at(V)
			power, perMetre = math.Min(power, pt.Power), math.Min(perMetre, pt.Power/V)
		}
		if got := f.Endurance.Power; math.Abs(got/power-1) > 2e-3 {
			t.Errorf("least power %.6g W, search finds %.6g", got, power)
		}
		if got := f.Range.Power / f.Range.Airspeed; math.Abs(got/perMetre-1) > 2e-3 {
			t.Errorf("least power over airspeed %.6g J/m, search finds %.6g", got, perMetre)
		}
		// A little slower all limits hold, a little faster the one named does not.
		for _, side := range []float64{0.996, 1.004} {
			trim, _ := at(f.Top.Airspeed * side)
			top := x.Turn(c, x.RestedTop, trim.Rotor.N, trim.Torque())
			ampere := math.Min(x.Limits.Current, (x.RestedTop-math.Max(x.Limits.Voltage, x.RestedTop/2))/x.Pack.R)
			holds := map[Limit]bool{
				ByThrottle:   x.spare(c, trim.Rotor.N, trim.Torque()) >= 0,
				ByPack:       top.PackCurrent <= ampere,
				ByController: top.Current <= c.Rating,
				ByTilt:       trim.Tilt <= 1.3,
				ByPropeller:  trim.Rotor.N <= fastest*p.nMax*1.002,
			}
			for l, ok := range holds {
				if side < 1 && !ok && !(l == ByPack && f.Limit == ByThrottle) {
					t.Errorf("limited by %v at %.4g m/s, but %v does not hold just below", f.Limit, f.Top.Airspeed, l)
				}
				if side > 1 && ok && l == f.Limit {
					t.Errorf("%v still holds just above %.4g m/s", l, f.Top.Airspeed)
				}
			}
		}
	}
	t.Log(seen)
	if len(seen) < 3 {
		t.Errorf("only the limits %v were met", seen)
	}
}

// In level flight the power that leaves the pack is what reaches shafts, losses
// and avionics.
func TestEnergyClosesInFlight(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	closed := 0
	for range 20 {
		p, D := anyPropulsor(t, r)
		e := NewEnvelope(&nominal, &p, 0.1*math.Pow(D/0.127, 2.3), Hull{})
		for range 20 {
			x, ok := anyCraft(t, r, &p, D)
			if !ok {
				continue
			}
			var f Flight
			x.Fly(&f, e, &x.full, x.mass, &x.h, math.Pi/2)
			c := x.full.Controller
			for _, at := range []struct {
				c        *Cruise
				rested   float64
				switched bool
			}{{&f.Endurance, x.Pack.Mean, true}, {&f.Range, x.Pack.Mean, true},
				{&f.Top, x.RestedTop, f.Limit != ByThrottle}} {
				if at.c.Airspeed == 0 {
					continue
				}
				i, n := at.c.Current, at.c.Speed
				in := at.rested*at.c.PackCurrent - x.Pack.R*at.c.PackCurrent*at.c.PackCurrent
				lost := (x.Motor.R+c.Series())*i*i + motors.Idle
				out := frame.Rotors*(2*math.Pi*n*(at.c.Torque+x.Motor.LossTorque(n))+lost) + x.Avionics
				if at.switched {
					out += frame.Rotors * (at.c.PackVoltage*x.Motor.Switching(i) + at.c.Chopping)
				}
				if math.Abs(in-out) > 1e-9*in || math.Abs(at.c.Power-in) > 1e-9*in {
					t.Errorf("%g W leave the pack, %g W are told, %g W arrive, limit %v", in, at.c.Power, out, f.Limit)
				}
				closed++
			}
		}
	}
	if closed < 500 {
		t.Errorf("only %d points", closed)
	}
}

// Outside the envelope there is no level flight, and hover stands for all.
func TestOutsideTheEnvelope(t *testing.T) {
	p, d := propulsor(t, 0.127), drive(t, 1750, 6, 1100)
	e := NewEnvelope(&nominal, &p, 0.15, Hull{})
	full := d.Static(&p)
	h := Point{Power: 100, Speed: 200, OK: true}
	for _, mass := range []float64{0.1, 50} {
		var f Flight
		d.Fly(&f, e, &full, mass, &h, math.Pi/2)
		if f.OK || f.Top.Airspeed != 0 || f.Endurance.Airspeed != 0 || f.Endurance.Power != 100 {
			t.Errorf("%g kg fly: %+v", mass, f)
		}
		if _, ok := d.Level(e, rated, mass, 5); ok {
			t.Errorf("%g kg fly level", mass)
		}
		if V, _ := d.Climb(e, &full, mass); V != 0 {
			t.Errorf("%g kg climb at %g m/s", mass, V)
		}
	}
	if x, ok := d.Level(e, rated, 0.65, 1000); ok {
		t.Errorf("level flight at 1000 m/s: %+v", x)
	}
	if none := NewEnvelope(&nominal, &p, 1e3, Hull{}); none.masses != 0 {
		t.Error("a craft of a tonne has an envelope on five-inch propellers")
	}
}

func TestRoot(t *testing.T) {
	for _, f := range []func(float64) float64{
		func(x float64) float64 { return 2 - x*x },
		func(x float64) float64 { return math.Exp(-3*x) - 0.1 },
		func(x float64) float64 { return 1 - math.Pow(x, 9) },
		func(x float64) float64 {
			if x > 0.7 {
				return math.Inf(-1)
			}
			return 0.7 - x
		},
	} {
		a, b := 0.0, 2.0
		x := seek.Between(f, a, b, f(a), f(b))
		lo, hi := a, b
		for range 100 {
			if m := (lo + hi) / 2; f(m) >= 0 {
				lo = m
			} else {
				hi = m
			}
		}
		if math.Abs(x-lo) > 1e-7 {
			t.Errorf("root at %.10g, bisection finds %.10g", x, lo)
		}
	}
}

func BenchmarkEnvelope(b *testing.B) {
	p := propulsor(b, 0.127)
	b.ReportAllocs()
	for b.Loop() {
		NewEnvelope(&nominal, &p, 0.15, Hull{})
	}
}

func BenchmarkFly(b *testing.B) {
	p, d := propulsor(b, 0.127), drive(b, 1300, 6, 1800)
	e := NewEnvelope(&nominal, &p, 0.15, Hull{})
	full := d.Static(&p)
	h := d.Hover(&p, full.Controller, 0.65*Gravity/4)
	var f Flight
	b.ReportAllocs()
	for b.Loop() {
		d.Fly(&f, e, &full, 0.65, &h, math.Pi/2)
	}
	if f.Limit != ByThrottle {
		b.Errorf("limited by %v", f.Limit)
	}
}

func BenchmarkClimb(b *testing.B) {
	p, d := propulsor(b, 0.127), drive(b, 1300, 6, 1800)
	e := NewEnvelope(&nominal, &p, 0.15, Hull{})
	full := d.Static(&p)
	b.ReportAllocs()
	for b.Loop() {
		d.Climb(e, &full, 0.65)
	}
}
