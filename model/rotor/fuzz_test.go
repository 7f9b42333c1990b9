package rotor

import (
	"math"
	"testing"

	"rotorsieve/model/air"
)

// FuzzSolve looks for a rotor, air and state for which the solver returns what
// is no number or no balance of lift and momentum without an error.
func FuzzSolve(f *testing.F) {
	f.Add(0.127, 0.86, 0.18, uint8(3), 0.0, 0.0, 300.0)
	f.Add(0.254, 0.3, 0.1, uint8(2), 5000.0, -0.5, 20.0)
	f.Add(0.02, 2.0, 0.5, uint8(8), 20000.0, 3.0, 1e4)
	f.Add(1.0, 0.1, 0.03, uint8(2), -500.0, 1e6, 1e-3)
	f.Fuzz(func(t *testing.T, D, pitch, chord float64, blades uint8, altitude, J, n float64) {
		a, err := air.Standard(altitude)
		if err != nil {
			return
		}
		b, err := Generic(D, pitch*D, 2, chord)
		if err != nil {
			return
		}
		s, err := New(Geometry{Diameter: D, Blades: int(blades), Blade: b}, a)
		if err != nil {
			return
		}
		var phi inflow
		pt, err := s.solve(J, n, &phi)
		if err != nil {
			if J >= minAdvance && J <= 3 && n > 1e-3 && n < 1e5 {
				t.Errorf("within the range of the solver: %v", err)
			}
			return
		}
		if v := pt.CT + pt.CP; math.IsNaN(v) || math.IsInf(v, 0) {
			t.Fatalf("J = %g, n = %g: %+v", J, n, pt)
		}
		V, Omega := J*n*D, 2*math.Pi*n
		for i := range s.stations {
			e := s.element(&s.stations[i], V, Omega)
			at := e.at(phi[i])
			if R, _ := e.residual(&at); !(math.Abs(R) <= 1e-6*(e.U+math.Abs(V))) {
				t.Errorf("J = %g, n = %g, r/R = %.3f: phi = %g leaves a residual of %g m/s", J, n, e.x, phi[i], R)
			}
		}
	})
}

// FuzzReadBlade looks for text that breaks the reader, or that it takes for a
// blade that is none.
func FuzzReadBlade(f *testing.F) {
	for _, text := range bladeTexts {
		f.Add(text.csv)
	}
	f.Fuzz(func(t *testing.T, text string) {
		b, err := readBlade(text)
		if err != nil {
			return
		}
		const rounding = 1e-12 // of the cubics between stations
		for x := 0.0; x <= 1; x += 0.01 {
			if c, beta := b.At(x); !(c > 0 && c <= 1+rounding && beta >= -30*deg-rounding && beta <= 90*deg+rounding) {
				t.Errorf("at r/R = %g: chord %g, pitch angle %g", x, c, beta)
			}
		}
	})
}

// FuzzReadPoints looks for text that breaks the reader, or that it takes for
// measurements that are none.
func FuzzReadPoints(f *testing.F) {
	for _, c := range pointTexts {
		f.Add(c.csv)
	}
	f.Fuzz(func(t *testing.T, text string) {
		all, err := readPoints(text)
		if err != nil {
			return
		}
		if len(all) == 0 {
			t.Error("no specimen and no error")
		}
		for _, s := range all {
			if !(s.Diameter > 0 && s.Pitch > 0 && s.Blades > 0 && s.Chord >= 0 && len(s.Points) > 0 && s.Place != "") {
				t.Errorf("%+v", s)
			}
			for _, m := range s.Points {
				if !(m.J >= 0 && m.N > 0) || m.J == 0 && !(m.Thrust > 0 && m.Power > 0) || math.IsInf(m.Thrust*m.Power,
					0) {
					t.Errorf("%+v", m)
				}
			}
		}
	})
}
