package rotor

import (
	"math"
	"strings"
	"testing"
)

// Measurements made up from a corrected rotor lead back to its thrust and power,
// and to its correction as far as the priors let go of it.
func TestCalibrate(t *testing.T) {
	s, _ := fiveInch(t)
	a := s.Air()
	g := s.Geometry()
	truth := g
	truth.Correction = Correction{Pitch: 1.2 * deg, Drag: 0.15, Chord: -0.05}
	ts, err := New(truth, a)
	if err != nil {
		t.Fatal(err)
	}
	D := g.Diameter
	var points []StaticPoint
	for _, n := range []float64{100, 200, 300, 400} {
		p, err := ts.Solve(0, n)
		if err != nil {
			t.Fatal(err)
		}
		q := a.Density * n * n * math.Pow(D, 4)
		points = append(points, StaticPoint{N: n, Thrust: p.CT * q, Power: p.CP * q * n * D})
	}
	c, err := Calibrate(g, a, points)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(c.Pitch-1.2*deg) > 0.5*deg || math.Abs(c.Drag-0.15) > 0.1 || math.Abs(c.Chord+0.05) > 0.05 {
		t.Errorf("correction %+v, made up with %+v", c, truth.Correction)
	}
	g.Correction = c
	fit, err := New(g, a)
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range points {
		p, err := fit.Solve(0, m.N)
		if err != nil {
			t.Fatal(err)
		}
		q := a.Density * m.N * m.N * math.Pow(D, 4)
		if eT, eP := p.CT*q/m.Thrust-1, p.CP*q*m.N*D/m.Power-1; math.Abs(eT) > 0.005 || math.Abs(eP) > 0.005 {
			t.Errorf("at %g rev/s: thrust off by %.4f, power by %.4f after calibration", m.N, eT, eP)
		}
	}
	// What is right already is not corrected, and an old correction is replaced.
	again, err := Calibrate(g, a, points)
	if err != nil {
		t.Fatal(err)
	}
	if again != c {
		t.Errorf("calibration of a calibrated rotor %+v, want %+v as before", again, c)
	}
	// One point leaves three unknowns to the priors and still meets it.
	one, err := Calibrate(g, a, points[1:2])
	if err != nil {
		t.Fatal(err)
	}
	g.Correction = one
	if fit, err = New(g, a); err != nil {
		t.Fatal(err)
	}
	p, err := fit.Solve(0, points[1].N)
	if err != nil {
		t.Fatal(err)
	}
	q := a.Density * points[1].N * points[1].N * math.Pow(D, 4)
	if e := p.CT*q/points[1].Thrust - 1; math.Abs(e) > 0.01 {
		t.Errorf("thrust off by %.4f after calibration with that point", e)
	}
}

// The correction is the most probable one: the posterior falls away from it.
func TestCalibrateIsMinimum(t *testing.T) {
	for _, p := range measurements(t)[:20] {
		a := standard(t)
		g, err := nominal(p, a)
		if err != nil {
			t.Fatal(err)
		}
		c := calibration{g, a, p.static.some(3).onStand(p.diameter, a)}
		best, err := c.fit()
		if err != nil {
			t.Fatalf("%s: %v", p.id, err)
		}
		z := [unknowns]float64{best.Pitch / pitchSpread, math.Log1p(best.Drag) / dragSpread, math.Log1p(best.Chord) / chordSpread}
		r := make([]float64, unknowns+2*len(c.points))
		misfit := func(z [unknowns]float64) float64 {
			if err := c.residuals(z, r); err != nil {
				t.Fatal(err)
			}
			return sumOfSquares(r)
		}
		least := misfit(z)
		for k := range z {
			for _, d := range []float64{-0.01, 0.01} {
				y := z
				y[k] += d
				if misfit(y) < least {
					t.Errorf("%s: the posterior rises along unknown %d", p.id, k)
				}
			}
		}
	}
}

func TestCalibrateErrors(t *testing.T) {
	s, _ := fiveInch(t)
	a, g := s.Air(), s.Geometry()
	p, err := s.Solve(0, 300)
	if err != nil {
		t.Fatal(err)
	}
	q := a.Density * 300 * 300 * math.Pow(g.Diameter, 4)
	T, P := p.CT*q, p.CP*q*300*g.Diameter
	bad := g
	bad.Blades = 0
	for _, c := range []struct {
		g      Geometry
		points []StaticPoint
		want   string
	}{
		{g, nil, "no measurement to calibrate with; want at least one static point"},
		{g, []StaticPoint{{300, -1, P}}, "measurement of 300 rev/s, -1 N,"},
		{g, []StaticPoint{{300, T, math.Inf(1)}}, "+Inf W: want all positive"},
		{g, []StaticPoint{{300, 4 * T, 4 * P}}, "the measurements ask for a pitch angle off by"},
		{g, []StaticPoint{{300, 0.5 * T, 0.5 * P}}, "the measurements ask for a pitch angle off by"},
		{g, []StaticPoint{{300, 0.01 * T, 100 * P}}, "the measurements ask for a pitch angle off by"},
		{bad, []StaticPoint{{300, T, P}}, "0 blades: want 2 to 8"},
	} {
		if got, err := Calibrate(c.g, a, c.points); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%+v: %+v, error %v, want %q", c.points, got, err, c.want)
		}
	}
}
