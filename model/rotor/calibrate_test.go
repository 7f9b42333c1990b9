package rotor

import (
	"cmp"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"

	"rotorsieve/model/air"
)

// standPoints returns what a thrust stand would show of a rotor at speeds in rev/s.
func standPoints(t *testing.T, g Geometry, a air.Air, speeds ...float64) []StaticPoint {
	t.Helper()
	s, err := New(g, a)
	if err != nil {
		t.Fatal(err)
	}
	var ms run
	for _, n := range speeds {
		p, err := s.Solve(0, n)
		if err != nil {
			t.Fatal(err)
		}
		ms = append(ms, measured{n: n, CT: p.CT, CP: p.CP})
	}
	return ms.onStand(g.Diameter, a)
}

// givenShape is a geometry with the same blade, but as one whose shape is given.
func givenShape(t *testing.T, g Geometry) Geometry {
	t.Helper()
	c := make([]float64, len(planformX))
	beta := make([]float64, len(c))
	for i, x := range planformX {
		c[i], beta[i] = g.Blade.At(x)
	}
	var err error
	if g.Blade, err = newBlade(planformX[:], c, beta); err != nil {
		t.Fatal(err)
	}
	return g
}

// Measurements made up from the most probable rotor lead back to it: the blade
// as given, and the generic one with the means of its prior.
func TestCalibrateMean(t *testing.T) {
	s, _ := fiveInch(t)
	a, generic := s.Air(), s.Geometry()
	for _, g := range []Geometry{givenShape(t, generic), generic} {
		want := g.Blade.shape.prior.correction([unknowns]float64{})
		truth := g
		truth.Correction = want
		for _, speeds := range [][]float64{{300}, {100, 200, 300, 400}} {
			c, err := Calibrate(g, a, standPoints(t, truth, a, speeds...))
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(c.Pitch-want.Pitch) > 1e-6 || math.Abs(c.Drag-want.Drag) > 1e-5 ||
				math.Abs(c.Chord-want.Chord) > 1e-5 {
				t.Errorf("%d points: correction %+v, made up with %+v", len(speeds), c, want)
			}
		}
	}
	// Measured to be as predicted, the generic blade moves along the line of what
	// meets the point at rest, towards those means.
	c, err := Calibrate(generic, a, standPoints(t, generic, a, 300))
	if err != nil {
		t.Fatal(err)
	}
	moved := generic
	moved.Correction = c
	m, err := New(moved, a)
	if err != nil {
		t.Fatal(err)
	}
	for _, J := range []float64{0, 0.5} {
		was, err1 := s.Solve(J, 300)
		is, err2 := m.Solve(J, 300)
		if err := cmp.Or(err1, err2); err != nil {
			t.Fatal(err)
		}
		t.Logf("J %g: CT by %+.2f %%, CP by %+.2f %%", J, 100*(is.CT/was.CT-1), 100*(is.CP/was.CP-1))
		if J == 0 && (math.Abs(is.CT/was.CT-1) > 0.003 || math.Abs(is.CP/was.CP-1) > 0.003) {
			t.Errorf("measured to be as predicted, CT moves from %g to %g, CP from %g to %g at rest", was.CT, is.CT,
				was.CP, is.CP)
		}
	}
	if c == (Correction{}) {
		t.Error("measured to be as predicted, the generic blade is not corrected, against what is documented")
	}
	if p := generic.Blade.shape.prior; *p == knownPrior || p.mean == knownPrior.mean {
		t.Errorf("the generic blade has the prior %+v of a given one", *p)
	}
}

// Measurements made up from a corrected rotor lead back to its thrust and power,
// and to its correction as far as the priors let go of it.
func TestCalibrate(t *testing.T) {
	s, _ := fiveInch(t)
	a := s.Air()
	g := givenShape(t, s.Geometry())
	truth := g
	truth.Correction = Correction{Pitch: 1.2 * deg, Drag: 0.15, Chord: -0.05}
	D := g.Diameter
	points := standPoints(t, truth, a, 100, 200, 300, 400)
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
		c := newCalibration(g, a, p.static.some(3).onStand(p.diameter, a))
		best, err := c.fit()
		if err != nil {
			t.Fatalf("%s: %v", p.id, err)
		}
		o := best.Correction
		z := [unknowns]float64{o.Pitch, math.Log1p(o.Drag), math.Log1p(o.Chord)}
		for k := range z {
			z[k] = (z[k] - c.prior.mean[k]) / c.prior.spread[k]
		}
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
		{g, []StaticPoint{{N: 300, Thrust: -1, Power: P}}, "measurement of 300 rev/s, -1 N,"},
		{g, []StaticPoint{{N: 300, Thrust: T, Power: math.Inf(1)}}, "+Inf W: want all positive"},
		{g, []StaticPoint{{N: 300, Thrust: 4 * T, Power: 8 * P}}, "the measurements ask for a pitch angle off by"},
		{g, []StaticPoint{{N: 300, Thrust: 4 * T, Power: 4 * P}}, "a figure of merit of 1.23, want it below 1"},
		{g, []StaticPoint{{N: 200, Thrust: T / 2, Power: P / 3}, {N: 300, Thrust: T, PowerSigma: math.Inf(1)},
			{N: 300, Power: P / 2, ThrustSigma: math.Inf(1)}}, "at 18000 rpm the ideal power of"},
		{g, []StaticPoint{{N: 300, Thrust: 0.5 * T, Power: 0.5 * P}}, "the measurements ask for a pitch angle off by"},
		{g, []StaticPoint{{N: 300, Thrust: 0.01 * T, Power: 100 * P}}, "the measurements ask for a pitch angle off by"},
		{bad, []StaticPoint{{N: 300, Thrust: T, Power: P}}, "0 blades: want 2 to 8"},
	} {
		if got, err := Calibrate(c.g, a, c.points); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%+v: %+v, error %v, want %q", c.points, got, err, c.want)
		}
	}
}

// What a measurement leaves uncertain is the curvature of the posterior, a value
// that was not measured says nothing, and one without uncertainty is given back.
func TestInfer(t *testing.T) {
	s, _ := fiveInch(t)
	a, g := s.Air(), s.Geometry()
	truth := g
	truth.Correction = Correction{Pitch: 1 * deg, Drag: 0.2, Chord: 0.05}
	one := standPoints(t, truth, a, 300)
	left := func(p ...StaticPoint) (e Estimate, sigma [2]float64) {
		t.Helper()
		e, err := Infer(g, a, p)
		if err != nil {
			t.Fatal(err)
		}
		precision := mat.NewSymDense(unknowns, nil)
		for i := range unknowns {
			for j := i; j < unknowns; j++ {
				precision.SetSym(i, j, e.Information[i][j])
			}
			precision.SetSym(i, i, e.Information[i][i]+1)
		}
		var ch mat.Cholesky
		if !ch.Factorize(precision) {
			t.Fatal("the information is not positive")
		}
		for q := range sigma {
			v := mat.NewVecDense(unknowns, e.Sensitivity[q][:])
			var x mat.VecDense
			if err := ch.SolveVecTo(&x, v); err != nil {
				t.Fatal(err)
			}
			sigma[q] = math.Sqrt(mat.Dot(v, &x))
		}
		return e, sigma
	}
	usual, sigma := left(one...)
	for q, v := range sigma {
		if !(v > 0.015 && v <= 0.02) {
			t.Errorf("quantity %d: ±%.4f left by a point of 2 %%", q, v)
		}
	}
	stated := one[0]
	stated.ThrustSigma, stated.PowerSigma = StandSpread, StandSpread
	if e, _ := left(stated); e != usual {
		t.Error("2 % stated is another thing than a usual stand")
	}
	sharp := one[0]
	sharp.ThrustSigma, sharp.PowerSigma = 1e-4, 1e-4
	e, sigma := left(sharp)
	fit := g
	fit.Correction = e.Correction
	m, err := New(fit, a)
	if err != nil {
		t.Fatal(err)
	}
	is, err := m.Solve(0, 300)
	if err != nil {
		t.Fatal(err)
	}
	q := a.Density * 300 * 300 * math.Pow(g.Diameter, 4)
	if math.Abs(is.CT*q/sharp.Thrust-1) > 1e-5 || math.Abs(is.CP*q*300*g.Diameter/sharp.Power-1) > 1e-5 ||
		sigma[0] > 2e-4 {
		t.Errorf("thrust %g, measured %g, ±%g", is.CT*q, sharp.Thrust, sigma[0])
	}
	half := StaticPoint{N: 300, Thrust: one[0].Thrust, PowerSigma: math.Inf(1)}
	if e, sigma := left(half); !(sigma[0] < 0.02 && sigma[1] > 0.05) || e.Correction == (Correction{}) {
		t.Errorf("of thrust alone: %+v, ±%v", e.Correction, sigma)
	}
	if _, err := Infer(g, a, []StaticPoint{{N: 300, ThrustSigma: math.Inf(1), PowerSigma: -1}}); err == nil {
		t.Error("a negative uncertainty is taken")
	}
	y := g.Blade.DeviationsOf(truth.Correction)
	if c := g.Blade.CorrectionAt(y); math.Abs(c.Pitch-truth.Correction.Pitch) > 1e-12 || math.Abs(c.Drag-0.2) > 1e-12 ||
		math.Abs(c.Chord-0.05) > 1e-12 {
		t.Errorf("%+v becomes %+v", truth.Correction, c)
	}
}

// A power that was measured at a thrust, of a speed that is only about known, is met at
// that thrust, and says nothing of the thrust at a speed.
func TestCalibrateAtThrust(t *testing.T) {
	s, _ := fiveInch(t)
	a, g := s.Air(), s.Geometry()
	truth := g
	truth.Correction = Correction{Pitch: 0.02, Drag: 0.25, Chord: -0.05}
	m := standPoints(t, truth, a, 300)[0]
	for _, off := range []float64{0.9, 1, 1.1} {
		p := StaticPoint{N: off * m.N, ThrustSigma: math.Inf(1), Power: m.Power, PowerSigma: 1e-4, Lift: m.Thrust}
		e, err := Infer(g, a, []StaticPoint{p})
		if err != nil {
			t.Fatal(err)
		}
		fitted := g
		fitted.Correction = e.Correction
		n := m.N
		for range 20 { // the speed that gives the thrust
			n *= math.Sqrt(m.Thrust / standPoints(t, fitted, a, n)[0].Thrust)
		}
		if got := standPoints(t, fitted, a, n)[0].Power; math.Abs(got/m.Power-1) > 3e-3 {
			t.Errorf("speed stated %g times: %.5g W at that thrust, measured %.5g", off, got, m.Power)
		}
		// What is known is one line of the three unknowns: the power over the thrust's 1.5.
		W := mat.NewSymDense(unknowns, nil)
		for i := range unknowns {
			for j := i; j < unknowns; j++ {
				W.SetSym(i, j, (e.Information[i][j]+e.Information[j][i])/2)
			}
		}
		var eigen mat.EigenSym
		if !eigen.Factorize(W, true) {
			t.Fatal("no eigenvalues")
		}
		if v := eigen.Values(nil); math.Abs(v[1]) > 1e-3*v[2] {
			t.Errorf("information along %v, want one direction", v)
		}
		var u mat.Dense
		eigen.VectorsTo(&u)
		along := [2]float64{}
		for q, S := range e.Sensitivity {
			for k := range unknowns {
				along[q] += S[k] * u.At(k, 0)
			}
		}
		if math.Abs(along[1]-1.5*along[0]) > 0.02 {
			t.Errorf("CT and CP along what is not known: %v, want 1 to 1.5", along)
		}
	}
	// A power below the ideal one of the thrust is refused.
	p := StaticPoint{N: m.N, ThrustSigma: math.Inf(1), Power: m.Power / 3, PowerSigma: 0.05, Lift: m.Thrust}
	if _, err := Infer(g, a, []StaticPoint{p}); err == nil || !strings.Contains(err.Error(), "the ideal power of") {
		t.Errorf("a third of the power: %v", err)
	}
}
