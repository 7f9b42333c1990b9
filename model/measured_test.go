package model

import (
	"math"
	"slices"
	"strings"
	"testing"

	"rotorsieve/model/air"
	"rotorsieve/model/rotor"
)

// bench measures a propeller that differs from the generic one by a correction.
func bench(t *testing.T, D, pitch float64, blades int, truth rotor.Correction, a air.Air) rotor.Specimen {
	t.Helper()
	b, err := rotor.Generic(D, pitch, 2, 0)
	if err != nil {
		t.Fatal(err)
	}
	s, err := rotor.New(rotor.Geometry{Diameter: D, Blades: blades, Blade: b, Correction: truth}, a)
	if err != nil {
		t.Fatal(err)
	}
	out := rotor.Specimen{Diameter: D, Pitch: pitch, Blades: blades, Air: a}
	for _, n := range []float64{150, 250, 350} {
		p, err := s.Solve(0, n)
		if err != nil {
			t.Fatal(err)
		}
		q := a.Density * n * n * math.Pow(D, 4)
		out.Points = append(out.Points, rotor.Measurement{N: n, Thrust: p.CT * q, Power: p.CP * q * n * D})
	}
	return out
}

// A model that is given measurements, here from a hill, gives them back.
func TestMeasuredPropeller(t *testing.T) {
	hill, err := air.At(1200, 300)
	if err != nil {
		t.Fatal(err)
	}
	s := bench(t, 5*in, 4.3*in, 3, rotor.Correction{Pitch: 0.02, Drag: 0.15, Chord: 0.05}, hill)
	seen, err := Calibrate(s)
	if err != nil {
		t.Fatal(err)
	}
	if seen.Points != 3 {
		t.Errorf("%d points at rest, want 3", seen.Points)
	}
	m := newModel(t, func(a *Assumptions) { a.Altitude, a.Temperature, a.Measured = 1200, 300, []Measured{seen} })
	p, err := m.Propeller(5*in, 4.3*in, 3, 0)
	if err != nil {
		t.Fatal(err)
	}
	plain, err := newModel(t, func(a *Assumptions) { a.Altitude, a.Temperature = 1200, 300 }).Propeller(5*in, 4.3*in, 3, 0)
	if err != nil {
		t.Fatal(err)
	}
	for _, k := range s.Points {
		CT, CP := s.Coefficients(k)
		T, P := p.Table.Static(k.N)
		if math.Abs(T/CT-1) > 0.01 || math.Abs(P/CP-1) > 0.01 {
			t.Errorf("at %g rev/s: CT off by %.3f, CP by %.3f", k.N, T/CT-1, P/CP-1)
		}
		if T, P := plain.Table.Static(k.N); math.Abs(T/CT-1) < 0.05 || math.Abs(P/CP-1) < 0.05 {
			t.Errorf("at %g rev/s: CT off by %.3f, CP by %.3f without correction: nothing to correct", k.N, T/CT-1, P/CP-1)
		}
	}
}

func TestFitOf(t *testing.T) {
	five := Measured{Diameter: 5 * in, Pitch: 4 * in, Blades: 2, Points: 1, Correction: rotor.Correction{Pitch: 0.02}}
	six := Measured{Diameter: 6 * in, Pitch: 4.8 * in, Blades: 2, Points: 1, Correction: rotor.Correction{Pitch: 0.01}}
	wide := Measured{Diameter: 5 * in, Pitch: 4 * in, Blades: 2, Chord: 0.25, Points: 1, Correction: rotor.Correction{Pitch: 0.03}}
	all := []Measured{six, five, wide}
	for _, c := range []struct {
		what      string
		D, ratio  float64 // in, pitch ratio
		blades    int
		chord     float64
		from      *Measured
		factor    float64
		corrected rotor.Correction
	}{
		{"the same", 5, 0.8, 2, 0, &all[1], 1, five.Correction},
		{"the same, its pitch rounded", 5, 0.81, 2, 0, &all[1], 1, five.Correction},
		{"another pitch", 5, 0.85, 2, 0, nil, 0, rotor.Correction{}},
		{"another number of blades", 5, 0.8, 3, 0, nil, 0, rotor.Correction{}},
		{"nearer to 5 in", 5.4, 0.8, 2, 0, &all[1], 1.08, five.Correction.Carried()},
		{"nearer to 6 in", 5.6, 0.8, 2, 0, &all[0], 6 / 5.6, six.Correction.Carried()},
		{"far", 10, 0.8, 2, 0, &all[0], 10.0 / 6, six.Correction.Carried()},
		{"the usual chord, stated", 5, 0.8, 2, rotor.DefaultChord(5*in, 2), &all[1], 1, five.Correction},
		{"wide", 5, 0.8, 2, 0.24, &all[2], 1, wide.Correction},
		{"a chord between", 5, 0.8, 2, 0.21, nil, 0, rotor.Correction{}},
	} {
		f := FitOf(all, c.D*in, c.ratio*c.D*in, c.blades, c.chord)
		if f.From != c.from || math.Abs(f.Ratio-c.factor) > 1e-12 || f.Correction != c.corrected {
			t.Errorf("%s: %+v, want correction %+v at a factor %g", c.what, f, c.corrected, c.factor)
		}
	}
	if f := FitOf(nil, 5*in, 4*in, 2, 0); f != (Fit{}) {
		t.Errorf("without measurements: %+v", f)
	}
}

// Where there are measurements, designs that they do not reach are marked.
func TestMeasuredMarks(t *testing.T) {
	at := func(D, ratio float64) []string {
		t.Helper()
		m := newModel(t, func(a *Assumptions) {
			a.Measured = []Measured{{Diameter: 4 * in, Pitch: 2.4 * in, Blades: 2, Points: 1}}
		})
		c, err := m.Evaluate(Design{Diameter: D * in, Pitch: ratio * D * in, Blades: 2, Stator: stator(14, 7), KV: 2000, Cells: 4, Capacity: 850 * 3.6})
		if err != nil {
			t.Fatal(err)
		}
		return c.Warnings()
	}
	says := func(w []string, text string) bool {
		return slices.ContainsFunc(w, func(s string) bool { return strings.Contains(s, text) })
	}
	for _, D := range []float64{4, 5} {
		if w := at(D, 0.6); says(w, "correct") {
			t.Errorf("%g in: marked %q", D, w)
		}
	}
	if w := at(5.5, 0.6); !says(w, "propeller is corrected by measurements at 4 in, a factor 1.38 away: they carry to 1.25") {
		t.Errorf("5.5 in: marked %q", w)
	}
	if w := at(4, 0.7); !says(w, "propeller is not corrected: none was measured with its blades, pitch ratio and chord") {
		t.Errorf("another pitch: marked %q", w)
	}
}

func TestCalibrateErrors(t *testing.T) {
	sea, err := air.Standard(0)
	if err != nil {
		t.Fatal(err)
	}
	s := bench(t, 5*in, 4.3*in, 3, rotor.Correction{}, sea)
	for i := range s.Points {
		s.Points[i].J = 0.2
	}
	if _, err := Calibrate(s); err == nil || !strings.Contains(err.Error(), "at least one static point") {
		t.Errorf("nothing at rest: %v", err)
	}
	s.Pitch = 3
	if _, err := Calibrate(s); err == nil || !strings.Contains(err.Error(), "pitch") {
		t.Errorf("pitch of 3 m: %v", err)
	}
}
