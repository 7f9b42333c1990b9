package model

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"rotorsieve/model/unit"
)

// camera is a craft for long flights with a camera: 10 in on Li-ion.
func camera(a *Assumptions) Design {
	liIon(a)
	return Design{Diameter: 10 * in, Pitch: 4 * in, Blades: 2, Stator: stator(25, 7), KV: 800, Cells: 6,
		Capacity: 4200 * 3.6, Payload: 0.3}
}

// asking evaluates that craft under other assumptions.
func asking(t testing.TB, change func(*Assumptions)) *Craft {
	t.Helper()
	a := Defaults()
	d := camera(&a)
	change(&a)
	m, err := New(a)
	if err != nil {
		t.Fatal(err)
	}
	return evaluate(t, m, d)
}

// ideal is the power in W of momentum theory for a weight in N and a drag in N at an airspeed
// in m/s: the induced velocity v of H. Glauert's relation for a rotor in any flow, v = T/(2 rho A U),
// U the flow that results at the disc (The Elements of Aerofoil and Airscrew Theory, 1926;
// from memory), and the work against the drag.
func ideal(weight, drag, density, area, V float64) float64 {
	T := math.Hypot(weight, drag)
	sin, cos := drag/T, weight/T
	v := math.Sqrt(T / (2 * density * area))
	for range 200 {
		v = (v + T/(2*density*area*math.Hypot(V*cos, V*sin+v))) / 2
	}
	return T*v + drag*V
}

// At an airspeed the shafts give what momentum theory and the drag of the body ask for, and
// what blades lose: a profile power of rotors that grows with the airspeed, as textbooks of
// helicopters have it (J.G. Leishman, Principles of Helicopter Aerodynamics, 2006; from
// memory).
func TestAirspeedAgainstMomentumTheory(t *testing.T) {
	last := 0.0
	for _, V := range []float64{2, 4, 6, 8, 10, 12, 14, 16, 18, 20, 22} {
		c := asking(t, func(a *Assumptions) { a.Airspeed = V })
		x, ok := c.asked()
		if !ok {
			t.Fatalf("does not fly %g m/s", V)
		}
		tilt, W := value(t, c, "airspeed-tilt"), c.Weight()
		drag := 0.5 * c.Model.Air.Density * V * V * 0.0125 * math.Cbrt(c.Mass*c.Mass) * (math.Cos(tilt) + 2.5*math.Sin(tilt))
		least := ideal(W, drag, c.Model.Air.Density, c.Powertrain.Propeller.Disc, V)
		profile := rotors*x.Shaft - least
		if !(profile > 0.2*least && profile < 1.4*least) {
			t.Errorf("%g m/s: %.1f W at the shafts, momentum theory and drag ask for %.1f W", V, rotors*x.Shaft, least)
		}
		if V >= 10 && !(profile > last) {
			t.Errorf("%g m/s: profile power falls from %.1f to %.1f W", V, last, profile)
		}
		last = profile
		// The rotors' own drag tilts the craft further than that of the body.
		if body := math.Atan2(drag, W); !(tilt > body && tilt < 2*body+0.02) {
			t.Errorf("%g m/s: tilt %.4f rad, drag over weight %.4f", V, tilt, body)
		}
		if P := value(t, c, "airspeed-power"); P < rotors*x.Shaft || math.Abs(P-x.PackVoltage*x.PackCurrent) > 1e-9*P {
			t.Errorf("%g m/s: %g W from the pack, %g W at the shafts", V, P, rotors*x.Shaft)
		}
	}
}

// Distance is airspeed by time, and metrics of one flight are those of another way to it.
func TestAskedIdentities(t *testing.T) {
	plain := asking(t, func(*Assumptions) {})
	same := func(what string, got, want, tol float64) {
		t.Helper()
		if !(math.Abs(got-want) <= tol*math.Abs(want)) {
			t.Errorf("%s: %.12g, want %.12g", what, got, want)
		}
	}
	for _, x := range [][2]string{{"station-time", "hover-time"}, {"best-upwind-speed", "best-range-speed"},
		{"range-upwind", "range"}} {
		same(x[0]+" without wind", value(t, plain, x[0]), value(t, plain, x[1]), 0)
	}
	same("out and back without wind", value(t, plain, "range-return"), value(t, plain, "range")/2, 1e-12)
	slow, ok := plain.Level(0.05)
	if !ok {
		t.Fatal("no level flight at a crawl")
	}
	same("power at a crawl", slow.Power, plain.Hover.Power, 2e-3)

	c := asking(t, func(a *Assumptions) { a.Airspeed, a.Wind = plain.Flight.Range.Airspeed, 9 })
	same("range", value(t, c, "airspeed-range"), c.Model.Assume.Airspeed*value(t, c, "airspeed-time"), 1e-12)
	same("range at its best airspeed", value(t, c, "airspeed-range"), value(t, c, "range"), 1e-6)
	up := value(t, c, "best-upwind-speed")
	at := asking(t, func(a *Assumptions) { a.Airspeed, a.Wind = up, 9 })
	same("range upwind", value(t, at, "range-upwind"), (up-9)*value(t, at, "airspeed-time"), 1e-6)
	at = asking(t, func(a *Assumptions) { a.Airspeed, a.Wind = 9, 9 })
	same("time on station", value(t, at, "station-time"), value(t, at, "airspeed-time"), 0)
}

// Past what it keeps up a craft has no such flight, nor a bound that denies one just within.
func TestTooFast(t *testing.T) {
	top := value(t, asking(t, func(*Assumptions) {}), "top-speed")
	names := []string{"airspeed-power", "airspeed-current", "airspeed-time", "airspeed-range", "airspeed-duty",
		"airspeed-tilt", "station-time", "best-upwind-speed", "range-upwind", "range-return"}
	for _, x := range []struct {
		of    float64
		flies bool
	}{{0.5, true}, {0.9, true}, {1.001, false}, {1.5, false}, {4, false}} {
		c := asking(t, func(a *Assumptions) { a.Airspeed, a.Wind = x.of*top, x.of*top })
		for _, name := range names {
			m, _ := LookupMetric(name)
			if v := m.Of(c); math.IsNaN(v) == x.flies {
				t.Errorf("%g of the top speed: %s is %g, flies: %v", x.of, name, v, x.flies)
			}
		}
	}
	// A tilt that is not allowed ends level flight before.
	c := asking(t, func(a *Assumptions) { a.Airspeed, a.TiltLimit = 0.8*top, 0.2 })
	if m, _ := LookupMetric("airspeed-time"); !math.IsNaN(m.Of(c)) {
		t.Errorf("flies %g m/s within a tilt of 0.2 rad, where the top speed is %g", 0.8*top, value(t, c, "top-speed"))
	}
}

// The airspeed of best range against the wind is where a line from the wind's airspeed touches
// the curve of power, so that it rises with the wind, and with it the range falls (J.G.
// Leishman, Principles of Helicopter Aerodynamics, 2006; from memory).
func TestRangeAgainstWind(t *testing.T) {
	var speeds, ranges, returns []float64
	for w := 0.0; w <= 14; w += 2 {
		c := asking(t, func(a *Assumptions) { a.Wind = w })
		V := value(t, c, "best-upwind-speed")
		const h = 0.3
		power := func(V float64) float64 {
			x, ok := c.At(V)
			if !ok {
				t.Fatalf("does not fly %g m/s", V)
			}
			return x.Power
		}
		slope, chord := (power(V+h)-power(V-h))/(2*h), power(V)/(V-w)
		if math.Abs(slope/chord-1) > 0.03 {
			t.Errorf("wind of %g m/s: at %g m/s the power rises by %g W s/m, over ground it is %g W s/m", w, V, slope, chord)
		}
		for k := 0.8; k < 1.2; k += 0.02 {
			if u := w + k*(V-w); u < c.Flight.Top.Airspeed*0.9 && power(u)/(u-w) < chord*(1-2e-3) {
				t.Errorf("wind of %g m/s: %g m/s takes less power over ground than %g m/s", w, u, V)
			}
		}
		speeds, ranges = append(speeds, V), append(ranges, value(t, c, "range-upwind"))
		returns = append(returns, value(t, c, "range-return"))
		// Out and back takes longer than without wind and less than twice upwind; halves of one pack.
		if r := returns[len(returns)-1]; !(r <= returns[0]*1.001 && r < ranges[len(ranges)-1]) {
			t.Errorf("wind of %g m/s: %g m out and back, %g m one way", w, r, ranges[len(ranges)-1])
		}
	}
	if !slices.IsSorted(speeds) || speeds[len(speeds)-1] < speeds[0]+5 {
		t.Errorf("airspeeds of best range upwind %v do not rise", speeds)
	}
	slices.Reverse(ranges)
	slices.Reverse(returns)
	if !slices.IsSorted(ranges) || !slices.IsSorted(returns) {
		t.Errorf("ranges do not fall with the wind: %v, %v", ranges, returns)
	}
}

// A landing reserve shortens times and ranges, by about as much, and nothing else; and the
// usable share of the grade is what is taken where none is stated.
func TestLandingReserve(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 17))
	ask := func(a *Assumptions) { a.Airspeed, a.Wind = 9, 4 }
	plain := newModel(t, ask)
	stated := newModel(t, func(a *Assumptions) { ask(a); a.Usable = 0.8 })
	reserved := newModel(t, func(a *Assumptions) { ask(a); a.LandingReserve = 0.2 })
	shorter := 0
	for range 40 {
		d := randomDesign(r)
		c, err := plain.Evaluate(d)
		if err != nil {
			continue
		}
		same, kept := evaluate(t, stated, d), evaluate(t, reserved, d)
		for _, m := range Metrics {
			v, w, u := m.Of(c), m.Of(kept), m.Of(same)
			if u != v && !(math.IsNaN(u) && math.IsNaN(v)) {
				t.Errorf("%s is %v with a usable share of 80 %%, %v by default", m.Name, u, v)
			}
			kind := m.Kind == unit.Time && m.Cap == 0 && !m.Slow || m.Kind == unit.Length && m.Stage == StageFlight
			switch {
			case math.IsNaN(v) || v == 0:
			case !kind && w != v:
				t.Errorf("%s is %v with a landing reserve, %v without", m.Name, w, v)
			case kind && !(w >= 0.8*v && w <= v):
				t.Errorf("%s is %.3f with a landing reserve of 20 %%, of what it is without", m.Name, w/v)
			case kind && w < 0.87*v:
				shorter++
			}
		}
	}
	if shorter < 100 {
		t.Errorf("%d times and ranges are shorter", shorter)
	}
}
