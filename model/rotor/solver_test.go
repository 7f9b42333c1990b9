package rotor

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"rotorsieve/model/air"
)

func standard(t testing.TB) air.Air {
	t.Helper()
	a, err := air.Standard(0)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// random returns a generic rotor within the range of the product.
func random(t testing.TB, rng *rand.Rand) Geometry {
	t.Helper()
	D := inch * (2 + 10*rng.Float64())
	b, err := Generic(D, D*(0.3+1.0*rng.Float64()), 2, 0.1+0.15*rng.Float64())
	if err != nil {
		t.Fatal(err)
	}
	return Geometry{Diameter: D, Blades: 2 + rng.IntN(4), Blade: b}
}

// At constant tip speed and blade shape, with the effects of Reynolds and Mach
// number off, torque grows as D³ and power as D²: common practice, and
// dimensional analysis.
func TestScaling(t *testing.T) {
	p := section
	p.nl, p.nd = 0, 0
	a := standard(t)
	a.SoundSpeed = 1e9
	solve := func(D, tip float64) (torque, power float64) {
		b, err := Generic(D, 0.8*D, 2, 0.16)
		if err != nil {
			t.Fatal(err)
		}
		s, err := newSolver(Geometry{Diameter: D, Blades: 3, Blade: b}, a, &p)
		if err != nil {
			t.Fatal(err)
		}
		n := tip / (math.Pi * D)
		pt, err := s.Solve(0, n)
		if err != nil {
			t.Fatal(err)
		}
		power = pt.CP * a.Density * math.Pow(n, 3) * math.Pow(D, 5)
		return power / (2 * math.Pi * n), power
	}
	for _, D := range []float64{3 * inch, 7 * inch, 12 * inch} {
		Q1, P1 := solve(2*inch, 170)
		Q2, P2 := solve(D, 170)
		k := math.Log(D / (2 * inch))
		if e := math.Log(Q2/Q1) / k; math.Abs(e-3) > 0.01 {
			t.Errorf("torque grows as D^%.3f to %.3g m, want D^3", e, D)
		}
		if e := math.Log(P2/P1) / k; math.Abs(e-2) > 0.01 {
			t.Errorf("power grows as D^%.3f to %.3g m, want D^2", e, D)
		}
	}
	// And power with the cube of tip speed at one size.
	_, P1 := solve(5*inch, 100)
	_, P2 := solve(5*inch, 200)
	if math.Abs(P2/P1-8) > 1e-6 {
		t.Errorf("power at twice the speed grows by %.6f, want 8", P2/P1)
	}
}

// No rotor takes less power than momentum theory allows: T (V/2 + sqrt(V²/4 +
// T/(2 rho A))), which at rest is a figure of merit below 1 (Leishman,
// Principles of Helicopter Aerodynamics).
func TestMomentumBound(t *testing.T) {
	a := standard(t)
	rng := rand.New(rand.NewPCG(1, 1))
	best := 0.0
	for range 300 {
		s, err := New(random(t, rng), a)
		if err != nil {
			t.Fatal(err)
		}
		n := math.Pow(10, 1.5+1.2*rng.Float64())
		pt, err := s.Solve(0, n)
		if err != nil {
			t.Fatal(err)
		}
		// The figure of merit: the ideal power of hover over the power taken
		// (Leishman, Principles of Helicopter Aerodynamics, 2006).
		FM := pt.CT * math.Sqrt(2*pt.CT/math.Pi) / pt.CP
		best = max(best, FM)
		if !(FM > 0.1 && FM < 1) {
			t.Errorf("%+v at %g rev/s: figure of merit %.3f, want below 1", s.Geometry(), n, FM)
		}
		J := rng.Float64()
		if pt, err = s.Solve(J, n); err != nil {
			t.Fatal(err)
		}
		if pt.CT > 0 {
			ideal := pt.CT * (J/2 + math.Sqrt(J*J/4+2*pt.CT/math.Pi))
			if pt.CP < ideal {
				t.Errorf("%+v at %g rev/s, J = %.2f: CP %.4f, less than the ideal %.4f", s.Geometry(), n, J, pt.CP,
					ideal)
			}
			if eta := Eta(J, pt.CT, pt.CP); eta >= 1 {
				t.Errorf("efficiency %.3f", eta)
			}
		}
	}
	if best < 0.5 {
		t.Errorf("the best figure of merit is %.2f, want some rotor above 0.5", best)
	}
}

// Thrust grows a little faster than with the square of speed: lift slope with
// Reynolds number and, higher, with Mach number. The wind tunnel shows it too.
func TestThrustWithSpeed(t *testing.T) {
	a := standard(t)
	rng := rand.New(rand.NewPCG(2, 1))
	for range 100 {
		g := random(t, rng)
		s, err := New(g, a)
		if err != nil {
			t.Fatal(err)
		}
		n := 0.1 * a.SoundSpeed / (math.Pi * g.Diameter)
		for range 8 {
			p1, err1 := s.Solve(0, n)
			p2, err2 := s.Solve(0, n*1.25)
			if err1 != nil || err2 != nil {
				t.Fatal(err1, err2)
			}
			if e := math.Log(p2.CT/p1.CT) / math.Log(1.25); !(e > 0 && e < 1) {
				t.Errorf("%.3g m, tip Mach %.2f: CT grows with speed to the power %.3f, want above 0", g.Diameter,
					s.TipMach(n), e)
			}
			n *= 1.25
		}
	}
	var model, tunnel errorSet
	for _, p := range measurements(t) {
		g, err := nominal(p, a)
		if err != nil {
			t.Fatal(err)
		}
		s, err := New(g, a)
		if err != nil {
			t.Fatal(err)
		}
		lo, hi := p.static[0], p.static[len(p.static)-1]
		if hi.n < 1.5*lo.n {
			continue
		}
		p1, err1 := s.Solve(0, lo.n)
		p2, err2 := s.Solve(0, hi.n)
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		L := math.Log(hi.n / lo.n)
		model = append(model, math.Log(p2.CT/p1.CT)/L)
		tunnel = append(tunnel, math.Log(hi.CT/lo.CT)/L)
	}
	if m, w := model.bias(), tunnel.bias(); len(model) < 100 || m <= 0 || math.Abs(m-w) > 0.05 {
		t.Errorf("median d ln CT/d ln n of %d propellers: %.3f, in the wind tunnel %.3f; want above 0 and within 0.05",
			len(model), m, w)
	}
}

// From hover to past zero thrust, and back to J = -0.2, there is always an
// answer for every propeller of the wind tunnel and for rotors beyond them.
func TestConvergence(t *testing.T) {
	a := standard(t)
	var all []Geometry
	for _, p := range measurements(t) {
		g, err := nominal(p, a)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, g)
		if p.scanned {
			g.Blade = p.blade
			all = append(all, g)
		}
	}
	rng := rand.New(rand.NewPCG(3, 1))
	for range 100 {
		all = append(all, random(t, rng))
	}
	for _, g := range all {
		s, err := New(g, a)
		if err != nil {
			t.Fatal(err)
		}
		n := (0.05 + 0.8*rng.Float64()) * a.SoundSpeed / (math.Pi * g.Diameter)
		Jz, err := s.zeroThrust(n)
		if err != nil {
			t.Fatal(err)
		}
		previous := math.Inf(1)
		for J := -0.2; J < 1.2*Jz; J += Jz / 12 {
			pt, err := s.Solve(J, n)
			if err != nil {
				t.Fatal(err)
			}
			if J > 0.3*Jz && pt.CT > previous {
				t.Errorf("%.3g m, n = %.4g: CT rises to %.4f at J = %.2f", g.Diameter, n, pt.CT, J)
			}
			previous = pt.CT
		}
		if previous > 0 {
			t.Errorf("CT %.3f past zero thrust", previous)
		}
	}
}

// The strips are fine enough: 300 of them change the answer by less than 0.1 %.
func TestStations(t *testing.T) {
	a := standard(t)
	rng := rand.New(rand.NewPCG(4, 1))
	for range 20 {
		g := random(t, rng)
		s, err := New(g, a)
		if err != nil {
			t.Fatal(err)
		}
		n := 0.4 * a.SoundSpeed / (math.Pi * g.Diameter)
		pt, err := s.Solve(0, n)
		if err != nil {
			t.Fatal(err)
		}
		const many = 300
		var T, Q float64
		for i := range many {
			cut := func(i int) float64 {
				return bladeRoot + (1-bladeRoot)*(1-math.Pow(1-float64(i)/many, 1.5))
			}
			st := s.station(cut(i), cut(i+1))
			e := s.element(&st, 0, 2*math.Pi*n)
			var phi float64
			at, err := e.solve(&phi)
			if err != nil {
				t.Fatal(err)
			}
			dT, dQ := e.force(&at)
			T += dT
			Q += dQ
		}
		B, D := float64(g.Blades), g.Diameter
		CT := B * T / (n * n * math.Pow(D, 4))
		CP := 2 * math.Pi * B * Q / (n * n * math.Pow(D, 5))
		if math.Abs(pt.CT/CT-1) > 1e-3 || math.Abs(pt.CP/CP-1) > 1e-3 {
			t.Errorf("%.3g m: CT %+.2e, CP %+.2e off %d strips", D, pt.CT/CT-1, pt.CP/CP-1, many)
		}
	}
}

// More drag costs power and little thrust; more pitch and chord give thrust.
func TestCorrection(t *testing.T) {
	a := standard(t)
	solve := func(c Correction) Point {
		t.Helper()
		s, _ := fiveInch(t)
		g := s.Geometry()
		g.Correction = c
		s, err := New(g, a)
		if err != nil {
			t.Fatal(err)
		}
		pt, err := s.Solve(0.2, 300)
		if err != nil {
			t.Fatal(err)
		}
		return pt
	}
	base := solve(Correction{})
	if p := solve(Correction{Drag: 0.2}); !(p.CP > base.CP && p.CT < base.CT && p.CT > 0.97*base.CT) {
		t.Errorf("20 %% more drag: %+v from %+v", p, base)
	}
	if p := solve(Correction{Pitch: 1 * deg}); !(p.CP > base.CP && p.CT > base.CT) {
		t.Errorf("1° more pitch: %+v from %+v", p, base)
	}
	if p := solve(Correction{Chord: 0.1}); !(p.CP > base.CP && p.CT > base.CT) {
		t.Errorf("10 %% more chord: %+v from %+v", p, base)
	}
}

func TestSolverErrors(t *testing.T) {
	a := standard(t)
	b, err := Generic(5*inch, 4*inch, 2, 0)
	if err != nil {
		t.Fatal(err)
	}
	good := Geometry{Diameter: 5 * inch, Blades: 3, Blade: b}
	for _, c := range []struct {
		change func(*Geometry, *air.Air)
		want   string
	}{
		{func(g *Geometry, _ *air.Air) { g.Diameter = 0.01 }, "diameter 0.01 m: want 0.02 to 1 m"},
		{func(g *Geometry, _ *air.Air) { g.Diameter = math.NaN() }, "diameter NaN m"},
		{func(g *Geometry, _ *air.Air) { g.Blades = 1 }, "1 blades: want 2 to 8"},
		{func(g *Geometry, _ *air.Air) { g.Blade = Blade{} }, "no blade shape: want one from Generic or ReadBlade"},
		{func(g *Geometry, _ *air.Air) { g.Correction.Drag = -0.95 },
			"correction of pitch +0°, drag -95 %, chord +0 %: want within 15°, -90 to 500 % and -60 to 200 %"},
		{func(_ *Geometry, a *air.Air) { a.Density = 0 }, "air of density 0 kg/m³"},
	} {
		g, a := good, a
		c.change(&g, &a)
		if _, err := New(g, a); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("error %v, want %q", err, c.want)
		}
	}
	s, err := New(good, a)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		J, n float64
		want string
	}{
		{0, 0, "J = 0 at n = 0 rev/s: want a finite advance ratio, -0.5 or more, and a positive speed"},
		{math.NaN(), 100, "J = NaN"},
		{0, math.Inf(1), "n = +Inf"},
		{-0.6, 100, "J = -0.6"},
	} {
		if pt, err := s.Solve(c.J, c.n); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("Solve(%g, %g) = %+v, %v, want error %q", c.J, c.n, pt, err, c.want)
		}
	}
}

// A station without an answer is named, not passed over.
func TestLostStation(t *testing.T) {
	s, _ := fiveInch(t)
	s.stations[3].chord = math.NaN()
	s.stations[3].sigma = math.NaN()
	if pt, err := s.Solve(0.3, 300); err == nil || !strings.Contains(err.Error(),
		"J = 0.3, n = 300 rev/s: station r/R = 0.329: no inflow angle balances") {
		t.Errorf("%+v, error %v, want one that names the station", pt, err)
	}
	if _, err := NewTable(s); err == nil {
		t.Error("a table of a solver that fails")
	}
}

func TestNumbers(t *testing.T) {
	// 5 in at 25 000 rpm: 166.2 m/s, Mach 0.49 (by hand).
	s, _ := fiveInch(t)
	n := 25000.0 / 60
	if v := TipSpeed(5*inch, n); math.Abs(v-166.2) > 0.05 {
		t.Errorf("tip speed %.2f m/s, want 166.2", v)
	}
	if M := s.TipMach(n); math.Abs(M-0.49) > 0.005 {
		t.Errorf("tip Mach %.3f, want 0.49", M)
	}
	// Re = rho 0.75 Vtip c/mu with c = 0.18 x 63.5 mm.
	want := 1.225 * 0.75 * TipSpeed(5*inch, n) * 0.18 * 2.5 * inch / s.Air().Viscosity
	if Re := s.Reynolds(n); math.Abs(Re/want-1) > 1e-4 {
		t.Errorf("Reynolds number %.0f, want %.0f", Re, want)
	}
}
