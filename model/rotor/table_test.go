package rotor

import (
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"sync"
	"testing"

	"rotorsieve/model/air"
)

// TestTableAccuracy compares the table with the solver at random points of
// random generic rotors and of the scanned blades, in different airs: within
// 0.1 % of static CT and CP from J = -0.2 to past zero thrust, tip Mach 0.1 to
// 0.85.
func TestTableAccuracy(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(1, 2))
	var rotors []Geometry
	for range 40 {
		rotors = append(rotors, random(t, rng))
	}
	for i, p := range measurements(t) {
		if p.scanned && i%4 == 0 {
			rotors = append(rotors, Geometry{Diameter: p.diameter, Blades: p.blades, Blade: p.blade})
		}
	}
	worstT, worstP := 0.0, 0.0
	for k, g := range rotors {
		a, err := air.Offset([]float64{0, 1600, 4000}[k%3], []float64{-20, 0, 20}[k/3%3])
		if err != nil {
			t.Fatal(err)
		}
		s, err := New(g, a)
		if err != nil {
			t.Fatal(err)
		}
		tb, err := NewTable(s)
		if err != nil {
			t.Fatal(err)
		}
		Jmin, Jmax := tb.AdvanceRange()
		for range 250 {
			J := Jmin + (Jmax-Jmin)*rng.Float64()
			n := 0.1 * math.Pow(8.5, rng.Float64()) * a.SoundSpeed / (math.Pi * g.Diameter)
			p, err := s.Solve(J, n)
			if err != nil {
				t.Fatal(err)
			}
			p0, err := s.Solve(0, n)
			if err != nil {
				t.Fatal(err)
			}
			CT, CP := tb.At(J, n)
			eT, eP := math.Abs(CT-p.CT)/p0.CT, math.Abs(CP-p.CP)/p0.CP
			worstT, worstP = max(worstT, eT), max(worstP, eP)
			if eT > 1e-3 || eP > 1e-3 {
				t.Errorf("rotor %d, %.3g m, %d blades, J = %.3f, tip Mach %.3f: CT off by %.2e, CP by %.2e of static",
					k, g.Diameter, g.Blades, J, s.TipMach(n), eT, eP)
			}
		}
	}
	t.Logf("%d rotors: worst error of CT %.2e, of CP %.2e", len(rotors), worstT, worstP)
}

func TestTable(t *testing.T) {
	s, tb := fiveInch(t)
	nMin, nMax := tb.SpeedRange()
	Jmin, Jmax := tb.AdvanceRange()
	if M0, M1 := s.TipMach(nMin), s.TipMach(nMax); math.Abs(M0-0.02) > 1e-12 || math.Abs(M1-1) > 1e-12 {
		t.Errorf("tip Mach from %g to %g, want 0.02 to 1", M0, M1)
	}
	if CT, _ := tb.At(Jmax, 300); Jmin != -0.2 || CT >= 0 || CT < -0.2 {
		t.Errorf("J from %g to %g, where CT = %.3f; want -0.2 to just past zero thrust", Jmin, Jmax, CT)
	}
	rng := rand.New(rand.NewPCG(1, 3))
	for range 2000 {
		n := nMin * math.Pow(nMax/nMin, 1.2*rng.Float64()-0.1)
		CT, CP := tb.Static(n)
		if CT0, CP0 := tb.At(0, n); CT0 != CT || CP0 != CP {
			t.Errorf("n = %g: At(0) = %g, %g; Static = %g, %g", n, CT0, CP0, CT, CP)
		}
		// Next to J = 0 it goes on without a step.
		for _, J := range []float64{-1e-9, 1e-9} {
			if CT0, CP0 := tb.At(J, n); math.Abs(CT0-CT) > 1e-8 || math.Abs(CP0-CP) > 1e-8 {
				t.Errorf("n = %g: At(%g) = %g, %g; Static = %g, %g", n, J, CT0, CP0, CT, CP)
			}
		}
		CT1, dCT, CP1, dCP := tb.StaticSlope(n)
		if CT1 != CT || CP1 != CP {
			t.Errorf("n = %g: StaticSlope gives %g, %g, Static %g, %g", n, CT1, CP1, CT, CP)
		}
		if n < nMin || n > nMax {
			if dCT != 0 || dCP != 0 {
				t.Errorf("n = %g, outside the range: slopes %g, %g", n, dCT, dCP)
			}
			continue
		}
		const h = 1e-5
		if n*(1-h) < nMin || n*(1+h) > nMax {
			continue
		}
		CTa, CPa := tb.Static(n * math.Exp(-h))
		CTb, CPb := tb.Static(n * math.Exp(h))
		if a, b := (CTb-CTa)/(2*h), (CPb-CPa)/(2*h); math.Abs(a-dCT) > 1e-6 || math.Abs(b-dCP) > 1e-6 {
			t.Errorf("n = %g: slopes %g, %g, by differences %g, %g", n, dCT, dCP, a, b)
		}
	}
}

// Outside its range the table is clamped in speed and linear in advance ratio,
// and what is no number stays none.
func TestTableOutside(t *testing.T) {
	_, tb := fiveInch(t)
	nMin, nMax := tb.SpeedRange()
	Jmin, Jmax := tb.AdvanceRange()
	for _, c := range [][2]float64{{nMin / 3, nMin}, {nMax * 3, nMax}, {math.Inf(1), nMax}, {0, nMin}} {
		CT0, CP0 := tb.At(0.3, c[0])
		if CT1, CP1 := tb.At(0.3, c[1]); CT0 != CT1 || CP0 != CP1 {
			t.Errorf("n = %g: %g, %g; at the end of the range %g, %g", c[0], CT0, CP0, CT1, CP1)
		}
	}
	for _, edge := range []float64{Jmin, Jmax} {
		out := math.Copysign(0.1, edge)
		T0, P0 := tb.At(edge, 300)
		T1, P1 := tb.At(edge+out, 300)
		T2, P2 := tb.At(edge+2*out, 300)
		Tin, Pin := tb.At(edge-out*1e-5, 300)
		if math.Abs(T2-2*T1+T0) > 1e-12 || math.Abs(P2-2*P1+P0) > 1e-12 {
			t.Errorf("beyond J = %g: CT %g, %g, %g, CP %g, %g, %g; want straight lines", edge, T0, T1, T2, P0, P1, P2)
		}
		if a, b := (T0-Tin)*1e5, T1-T0; math.Abs(a-b) > 1e-3*math.Abs(b)+1e-6 {
			t.Errorf("slope of CT at J = %g: %g inside, %g outside", edge, a, b)
		}
		if a, b := (P0-Pin)*1e5, P1-P0; math.Abs(a-b) > 1e-3*math.Abs(b)+1e-6 {
			t.Errorf("slope of CP at J = %g: %g inside, %g outside", edge, a, b)
		}
	}
	for _, c := range [][2]float64{{math.NaN(), 300}, {0.3, math.NaN()}, {0, math.NaN()}, {-0.1, math.NaN()}} {
		if CT, CP := tb.At(c[0], c[1]); !math.IsNaN(CT) || !math.IsNaN(CP) {
			t.Errorf("At(%g, %g) = %g, %g", c[0], c[1], CT, CP)
		}
	}
	if CT, _ := tb.At(1e300, 300); !(CT < 0) {
		t.Errorf("far beyond zero thrust CT = %g", CT)
	}
}

// The same rotor and air give the same table, also when many are built at once.
func TestTableDeterminism(t *testing.T) {
	s, tb := fiveInch(t)
	var wg sync.WaitGroup
	for range 4 {
		wg.Go(func() {
			other, err := NewTable(s)
			if err != nil {
				t.Error(err)
			} else if !reflect.DeepEqual(tb, other) {
				t.Error("two tables of one rotor differ")
			}
		})
	}
	wg.Wait()
}

func TestTableErrors(t *testing.T) {
	a := standard(t)
	for _, c := range []struct {
		beta []float64 // degrees at r/R 0.15, 0.4, 0.7, 1
		want string
	}{
		{[]float64{-5, -5, -5, -5}, "static CT is -0.004796: want a blade that gives thrust at rest"},
		{[]float64{60, 30, -10, -30}, "static CT is -0."},
		{[]float64{70, 70, 70, 70}, "no advance ratio of zero thrust: want a blade whose pitch angle at 75 % radius, " +
			"now 70.0°, lies between about 0 and 60°"},
		{[]float64{80, 80, 80, 80}, "no advance ratio of zero thrust"},
	} {
		var pitch []float64
		for _, b := range c.beta {
			pitch = append(pitch, b*deg)
		}
		b, err := newBlade([]float64{0.15, 0.4, 0.7, 1}, []float64{0.15, 0.15, 0.15, 0.1}, pitch)
		if err != nil {
			t.Fatal(err)
		}
		s, err := New(Geometry{Diameter: 5 * inch, Blades: 2, Blade: b}, a)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := NewTable(s); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("pitch angles %v: error %v, want %q", c.beta, err, c.want)
		}
	}
}

// What a sweep calls in its inner loops does not allocate.
func TestAllocations(t *testing.T) {
	s, tb := fiveInch(t)
	for name, f := range map[string]func(){
		"Solve":          func() { _, _ = s.Solve(0.2, 300) },
		"At":             func() { tb.At(0.2, 300) },
		"Static":         func() { tb.Static(300) },
		"StaticSlope":    func() { tb.StaticSlope(300) },
		"Inclined":       func() { tb.Inclined(Flow{3, 10}, 300) },
		"InclinedThrust": func() { tb.InclinedThrust(Flow{3, 10}, 2) },
	} {
		if n := testing.AllocsPerRun(100, f); n != 0 {
			t.Errorf("%s allocates %g times", name, n)
		}
	}
}
