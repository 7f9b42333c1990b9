package model

import (
	"math"
	"slices"
	"strings"
	"testing"

	"rotorsieve/model/air"
	"rotorsieve/model/motor"
	"rotorsieve/model/record"
	"rotorsieve/model/rotor"
)

// bench measures a propeller that differs from the generic one by a correction.
func bench(t *testing.T, D, pitch float64, blades int, truth rotor.Correction, a air.Air) rotor.Specimen {
	t.Helper()
	b, err := rotor.Generic(D, pitch, blades, 0)
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
	seen, err := NewEvidence([]rotor.Specimen{s}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if n := seen.Propellers()[0].Points; n != 3 {
		t.Errorf("%d points at rest, want 3", n)
	}
	m := newModel(t, func(a *Assumptions) { a.Altitude, a.Temperature, a.Evidence = 1200, 300, seen })
	p, err := m.Propeller(5*in, 4.3*in, 3, 0)
	if err != nil {
		t.Fatal(err)
	}
	plain, err := newModel(t, func(a *Assumptions) { a.Altitude, a.Temperature = 1200, 300 }).Propeller(5*in, 4.3*in, 3,
		0)
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
			t.Errorf("at %g rev/s: CT off by %.3f, CP by %.3f without correction: nothing to correct", k.N, T/CT-1,
				P/CP-1)
		}
	}
	for q, what := range []string{"thrust", "power"} {
		if f := p.Fit; !(f.Before[q] > 0.08 && f.Before[q] < 0.5 && f.After[q] < 0.03) {
			t.Errorf("%s: ±%.3f before, ±%.3f after", what, f.Before[q], f.After[q])
		}
	}
}

// A propeller of less thrust than the model's pulls down the thrust of its
// neighbours, less with distance, without a step: a study cannot step aside.
func TestMeasuredNeighbours(t *testing.T) {
	sea, err := air.Standard(0)
	if err != nil {
		t.Fatal(err)
	}
	const D, ratio, n = 5 * in, 0.7, 300.0
	thrust := func(D, ratio float64, c rotor.Correction) float64 {
		b, err := genericBlade(D, ratio*D, 3, 0)
		if err != nil {
			t.Fatal(err)
		}
		s, err := rotor.New(rotor.Geometry{Diameter: D, Blades: 3, Blade: b, Correction: c}, sea)
		if err != nil {
			t.Fatal(err)
		}
		p, err := s.Solve(0, n)
		if err != nil {
			t.Fatal(err)
		}
		return p.CT
	}
	s := bench(t, D, ratio*D, 3, rotor.Correction{}, sea)
	s.Points = s.Points[1:2]
	s.Points[0].Thrust *= 0.74
	s.Points[0].ThrustSigma, s.Points[0].PowerSigma = 1e-4, 1e-4
	e, err := NewEvidence([]rotor.Specimen{s}, nil)
	if err != nil {
		t.Fatal(err)
	}
	lost := func(D, ratio float64) float64 {
		return 1 - thrust(D, ratio, e.Propeller(D, ratio*D, 3, 0).Correction)/thrust(D, ratio, rotor.Correction{})
	}
	n0 := s.Points[0].N
	b, err := genericBlade(D, ratio*D, 3, 0)
	if err != nil {
		t.Fatal(err)
	}
	own, err := rotor.New(rotor.Geometry{Diameter: D, Blades: 3, Blade: b,
		Correction: e.Propeller(D, ratio*D, 3, 0).Correction}, sea)
	if err != nil {
		t.Fatal(err)
	}
	if p, err := own.Solve(0, n0); err != nil || math.Abs(p.CT/mustCT(s)-1) > 1e-4 {
		t.Errorf("at the point itself CT is %g, measured %g, error %v", p.CT, mustCT(s), err)
	}
	for name, at := range map[string]func(x float64) float64{
		"larger":       func(x float64) float64 { return lost(D*math.Exp(x), ratio) },
		"smaller":      func(x float64) float64 { return lost(D*math.Exp(-x), ratio) },
		"higher pitch": func(x float64) float64 { return lost(D, ratio+x) },
		"lower pitch":  func(x float64) float64 { return lost(D, ratio-x) },
	} {
		const step = 0.01
		last := at(0)
		if math.Abs(last-0.26) > 0.02 {
			t.Errorf("%s: %.3f of thrust lost at no distance, want 0.26", name, last)
		}
		for x := step; x < 0.55; x += step {
			now := at(x)
			if now > last+0.004 || last-now > 0.02 {
				t.Errorf("%s: %.4f of thrust lost at %.2f, %.4f a step before", name, now, x, last)
			}
			last = now
		}
		if near := at(0.1); near < 0.1 {
			t.Errorf("%s: %.3f of thrust lost at 0.1, want the neighbour to fall as well", name, near)
		}
		if last > 0.15 {
			t.Errorf("%s: still %.3f of thrust lost far away", name, last)
		}
	}
}

func mustCT(s rotor.Specimen) float64 {
	CT, _ := s.Coefficients(s.Points[0])
	return CT
}

// What is said of a propeller depends on how near measured ones are.
func TestEvidencePropeller(t *testing.T) {
	five := Measured{Diameter: 5 * in, Pitch: 4 * in, Blades: 2, Points: 1, Correction: rotor.Correction{Pitch: 0.02,
		Drag: 0.1}}
	nine := Measured{Diameter: 9 * in, Pitch: 5.4 * in, Blades: 2, Points: 2,
		Correction: rotor.Correction{Pitch: -0.01}}
	e, err := EvidenceOf(five, nine)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		what     string
		D, ratio float64 // in, pitch ratio
		blades   int
		chord    float64
		from     float64 // in
		least    float64 // of the share
		most     float64
		said     string
	}{
		{"the same", 5, 0.8, 2, 0, 5, 0.999, 1, "pitch angle +1.1°, drag +10 %, chord +0 %, by 1 point of 5x4x2"},
		{"its pitch rounded", 5, 0.804, 2, 0, 5, 0.99, 1, "by 1 point of 5x4x2"},
		{"the other", 9, 0.6, 2, 0, 9, 0.999, 1, "by 2 points of 9x5.4x2"},
		{"another pitch", 5, 0.7, 2, 0, 5, 0.6, 0.7, "by 1 point of 5x4x2 to a share of 0.6"},
		{"another number of blades", 5, 0.8, 3, 0, 5, 0.3, 0.4, "by 1 point of 5x4x2 to a share of 0.37"},
		{"between", 7, 0.7, 2, 0, 9, 0.4, 0.7, "by 2 points of 9x5.4x2 to a share of"},
		{"the usual chord, stated", 5, 0.8, 2, rotor.DefaultChord(5*in, 2), 5, 0.999, 1, "by 1 point of 5x4x2"},
		{"wide", 5, 0.8, 2, 0.24, 5, 0.6, 0.65, "by 1 point of 5x4x2 to a share of 0.6"},
		{"far", 2, 1.5, 6, 0, 0, 0, 0, "none"},
	} {
		f := e.Propeller(c.D*in, c.ratio*c.D*in, c.blades, c.chord)
		if (f.From == nil) != (c.from == 0) || f.From != nil && math.Abs(f.From.Diameter-c.from*in) > 1e-9 {
			t.Errorf("%s: from %+v, want that of %g in", c.what, f.From, c.from)
		}
		if f.Share < c.least-1e-9 || f.Share > c.most+1e-9 || !strings.Contains(f.String(), c.said) {
			t.Errorf("%s: share %.3f, %q; want %g to %g, %q", c.what, f.Share, f, c.least, c.most, c.said)
		}
	}
	if f := e.Propeller(5*in, 4*in, 2, 0); math.Abs(f.Correction.Pitch-0.02) > 1e-6 ||
		math.Abs(f.Correction.Drag-0.1) > 1e-6 {
		t.Errorf("the propeller itself: %+v", f.Correction)
	}
	var none *Evidence
	if f := none.Propeller(5*in, 4*in, 2, 0); f != (Fit{}) {
		t.Errorf("without measurements: %+v", f)
	}
}

// Where there are measurements, designs that they say little of are marked.
func TestMeasuredMarks(t *testing.T) {
	e, err := EvidenceOf(Measured{Diameter: 4 * in, Pitch: 2.4 * in, Blades: 2, Points: 1})
	if err != nil {
		t.Fatal(err)
	}
	m := newModel(t, func(a *Assumptions) { a.Evidence = e })
	for _, c := range []struct {
		D, ratio float64
		marked   bool
		share    float64
	}{
		{4, 0.6, false, 0},
		{5, 0.6, false, 0},
		{4, 0.7, false, 0},
		{7, 0.6, true, 0.32},
		{10, 1.5, true, 0}, // none that was measured is near it
	} {
		craft, err := m.Evaluate(Design{Diameter: c.D * in, Pitch: c.ratio * c.D * in, Blades: 2, Stator: stator(14, 7),
			KV: 1500, Cells: 4, Capacity: 850 * 3.6})
		if err != nil {
			t.Fatal(err)
		}
		at := slices.IndexFunc(craft.Warnings(), func(x Mark) bool { return x.Of == OfCorrection })
		switch {
		case (at >= 0) != c.marked, at >= 0 && math.Abs(craft.Warnings()[at].Value-c.share) > 0.005:
			t.Errorf("%g in, %g: marked %+v, want a share of %g", c.D, c.ratio, craft.Warnings(), c.share)
		}
	}
}

// Records of a propeller are what its points are, of which one may lack the half.
func TestRecordsAreSpecimens(t *testing.T) {
	sea, err := air.Standard(0)
	if err != nil {
		t.Fatal(err)
	}
	s := bench(t, 5*in, 4*in, 3, rotor.Correction{Pitch: 0.01, Drag: 0.1}, sea)
	key := record.Subject{Kind: record.Propeller, Diameter: 5 * in, Pitch: 4 * in, Blades: 3}
	var forces, coefficients []record.Record
	for _, p := range s.Points {
		at := record.Conditions{N: p.N}
		CT, CP := s.Coefficients(p)
		forces = append(forces, record.Record{Subject: key, Quantity: record.Thrust, At: at, Value: p.Thrust,
			Sigma: 0.02 * p.Thrust},
			record.Record{Subject: key, Quantity: record.ShaftPower, At: at, Value: p.Power, Sigma: 0.02 * p.Power})
		coefficients = append(coefficients, record.Record{Subject: key, Quantity: record.CP, At: at, Value: CP,
			Sigma: 0.02 * CP},
			record.Record{Subject: key, Quantity: record.CT, At: at, Value: CT, Sigma: 0.02 * CT})
	}
	want, err := NewEvidence([]rotor.Specimen{s}, nil)
	if err != nil {
		t.Fatal(err)
	}
	for what, records := range map[string][]record.Record{"forces": forces, "coefficients": coefficients} {
		got, err := NewEvidence(nil, records)
		if err != nil {
			t.Fatal(err)
		}
		if n := len(got.Propellers()); n != 1 {
			t.Fatalf("%s: %d propellers", what, n)
		}
		a, b := got.Propellers()[0], want.Propellers()[0]
		if a.Points != b.Points || math.Abs(a.Correction.Pitch-b.Correction.Pitch) > 1e-9 ||
			math.Abs(a.Correction.Drag-b.Correction.Drag) > 1e-9 ||
			math.Abs(a.Correction.Chord-b.Correction.Chord) > 1e-9 {
			t.Errorf("%s: %+v, want %+v", what, a, b)
		}
	}
	half, err := NewEvidence(nil, forces[:1]) // thrust alone
	if err != nil {
		t.Fatal(err)
	}
	f := half.Propeller(5*in, 4*in, 3, 0)
	if !(f.After[0] < 0.03 && f.After[1] > 0.08 && f.After[1] < f.Before[1]) {
		t.Errorf("of thrust alone: ±%.3f and ±%.3f left, want power less known than thrust", f.After[0], f.After[1])
	}
	// More of the same is worth more, and a measurement of less uncertainty, too.
	coarse := slices.Clone(forces[:2])
	for i := range coarse {
		coarse[i].Sigma *= 4
	}
	g := func(r ...record.Record) Fit {
		e, err := NewEvidence(nil, r)
		if err != nil {
			t.Fatal(err)
		}
		return e.Propeller(5*in, 4*in, 3, 0)
	}
	if a, b, c := g(coarse...), g(slices.Concat(coarse, coarse)...),
		g(forces[:2]...); !(a.After[0] > b.After[0] && b.After[0] > c.After[0]) {
		t.Errorf("±%.3f coarse, ±%.3f twice, ±%.3f fine", a.After[0], b.After[0], c.After[0])
	}
}

// What cannot be is named by its place, in one line.
func TestEvidenceErrors(t *testing.T) {
	const head = "kind,key,quantity,value,unit,sigma\n"
	for _, c := range []struct{ what, text, want string }{
		{"beyond belief", "propeller,5x4x3,thrust at 20000rpm,2000,g,2 %\npropeller,5x4x3,shaft-power at " +
			"20000rpm,900,W,2 %\n",
			"f:2: propeller 5 x 4 in, 3 blades: rotor: the measurements ask for a pitch angle off by"},
		{"below the ideal power", "propeller,5x4x3,thrust at 20000rpm,2000,g,2 %\npropeller,5x4x3,shaft-power at " +
			"20000rpm,400,W,2 %\n",
			"f:2: propeller 5 x 4 in, 3 blades: rotor: at 20000 rpm the ideal power of 19.61 N is"},
		{"one speed twice", "propeller,5x4x3,CT at 20000rpm,0.15,1,1 %\npropeller,5x4x3,thrust at 20000rpm,300,g,1 %\n",
			"f:3: thrust of 2.942 N at 20000 rpm, but thrust of"},
		{"neighbours", "propeller,5x4x3,CT at 20000rpm,0.16,1,1 %\npropeller,5x4x3,CP at 20000rpm,0.09,1,1 %\n" +
			"propeller,5.02x4x3,CT at 20000rpm,0.14,1,1 %\npropeller,5.02x4x3,CP at 20000rpm,0.09,1,1 %\n",
			"f:4: 5.02x4x3 asks for"},
		{"hot air", "propeller,5x4x3,CT at 20000rpm 200degC,0.16,1,1 %\n", "f:2: air: temperature"},
		{"a motor of another size", "motor,2207 1750KV,mass,330,g,1\n",
			"f:2: motor 2207 1750KV: the mass asks for 9.98 times"},
		{"motors that differ", "motor,2207 1750KV,resistance,40,mohm,1\nmotor,2207 1800KV,resistance,80,mohm,1\n",
			"f:3: motor 2207 1800KV asks for"},
		{"stalled", "motor,2207 1750KV,idle-current at 1V,40,A,1\n",
			"f:2: motor 2207 1750KV: 40 A at 1 V do not turn it"},
	} {
		records, err := record.Read(strings.NewReader(head+c.text), "f")
		if err != nil {
			t.Errorf("%s: %v", c.what, err)
			continue
		}
		if _, err := NewEvidence(nil, records); err == nil || !strings.HasPrefix(err.Error(), c.want) ||
			strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: error %v, want %s", c.what, err, c.want)
		}
	}
	sea, err := air.Standard(0)
	if err != nil {
		t.Fatal(err)
	}
	s := bench(t, 5*in, 4.3*in, 3, rotor.Correction{}, sea)
	for i := range s.Points {
		s.Points[i].J = 0.2
	}
	if _, err := NewEvidence([]rotor.Specimen{s}, nil); err == nil || !strings.Contains(err.Error(),
		"at least one static point") {
		t.Errorf("nothing at rest: %v", err)
	}
	s.Pitch = 3
	if _, err := NewEvidence([]rotor.Specimen{s}, nil); err == nil || !strings.Contains(err.Error(), "pitch") {
		t.Errorf("pitch of 3 m: %v", err)
	}
}

// A measured motor is as measured, another winding of its stator nearly so, and one
// of another size hardly.
func TestEvidenceMotor(t *testing.T) {
	s := stator(22, 7)
	nominal := motor.New(s, 1750, motor.Use{Winding: 293.15, PulseRate: 24e3})
	key := record.Subject{Kind: record.Motor, Stator: 2207, KV: 1750}
	of := func(q *record.Quantity, value, share float64) record.Record {
		return record.Record{Subject: key, Quantity: q, Value: value, Sigma: share * value}
	}
	idle := of(record.IdleCurrent, 1, 0.02)
	idle.At.Voltage = 10
	chop := of(record.Chopping, 0.7, 0.05)
	chop.At.PulseRate = 24e3
	e, err := NewEvidence(nil, []record.Record{
		of(record.Resistance, 1.25*nominal.R, 1e-4), of(record.KV, 1650, 1e-4), of(record.Mass, 0.9*nominal.Mass, 1e-4),
		chop, idle,
	})
	if err != nil {
		t.Fatal(err)
	}
	m := newModel(t, func(a *Assumptions) { a.Evidence, a.Winding = e, 293.15 })
	own, plain := m.Motor(s, 1750), newModel(t, func(a *Assumptions) { a.Winding = 293.15 }).Motor(s, 1750)
	if math.Abs(own.R/plain.R-1.25) > 1e-3 || math.Abs(own.Mass/plain.Mass-0.9) > 1e-3 ||
		math.Abs(own.EffectiveKV()/plain.EffectiveKV()*1750-1650) > 0.5 {
		t.Errorf("R %g, mass %g, KV %g", own.R, own.Mass, own.EffectiveKV())
	}
	// The current without a propeller is the one that was measured.
	_, n := own.IdleLoss(1, 10)
	if i := own.Current(0, n); math.Abs(i-1) > 0.01 {
		t.Errorf("idle current %g A, measured 1 A", i)
	}
	f := e.Motor(s, 1750)
	for name, c := range map[string]struct {
		f           Factor
		before, all float64
	}{"KV": {f.KV, 0.04, 1e-3}, "resistance": {f.Resistance, 0.2, 1e-3}, "loss": {f.Loss, 0.3, 0.021},
		"chopping": {f.Chopping, math.Hypot(0.3, 0.8), 0.051}, "mass": {f.Mass, 0.1, 1e-3}} {
		if c.f.Before != c.before || c.f.After > c.all || math.Abs(c.f.Share-1) > 1e-6 {
			t.Errorf("%s: %+v", name, c.f)
		}
	}
	last := 2.0
	for _, c := range []struct {
		s           motor.Stator
		kv          float64
		least, most float64 // of the share
	}{
		{s, 1750, 1, 1}, {s, 1950, 0.78, 0.85}, {s, 2400, 0.75, 0.8}, {stator(23, 7), 2400, 0.7, 0.77},
		{stator(22, 12), 1200, 0.3, 0.5}, {stator(28, 7), 1750, 0, 0.3},
	} {
		g := e.Motor(c.s, c.kv).Resistance
		if g.Share < c.least-1e-6 || g.Share > c.most+1e-6 || g.Share > last ||
			math.Abs(math.Log(g.Value)-g.Share*math.Log(1.25)) > 1e-3 {
			t.Errorf("%+v, %g KV: %+v, want a share of %g to %g", c.s, c.kv, g, c.least, c.most)
		}
		last = g.Share
	}
	for _, want := range []string{"motor 2207 1750KV: resistance 1.25 times that of the model, ±0.01 %, was ±20 %",
		"motor 2207 1750KV: chopping at 24kHz 0.701 times that of the model"} {
		if !slices.ContainsFunc(e.Learnt(), func(s string) bool { return strings.HasPrefix(s, want) }) {
			t.Errorf("learnt %q, want %q", e.Learnt(), want)
		}
	}
	// A chopping loss is a factor on that of the craft's own pulse rate.
	for _, rate := range []float64{24e3, 48e3} {
		of := func(e *Evidence) motor.Motor {
			return newModel(t, func(a *Assumptions) { a.Evidence, a.PulseRate = e, rate }).Motor(s, 1750)
		}
		with, without := of(e), of(nil)
		if got := with.ChopScale(8) / without.ChopScale(8); math.Abs(got/f.Chopping.Value-1) > 1e-9 {
			t.Errorf("at %g Hz %g times the chopping loss, want %g", rate, got, f.Chopping.Value)
		}
	}
	var none *Evidence
	if none.Motor(s, 1750).Scale() != motor.NoScale || m.Motor(s, 1750) == plain {
		t.Error("without measurements a motor is scaled, or with them none is")
	}
}

// One propeller measured on two days in two airs is one that was measured twice.
func TestEvidenceOfTwoAirs(t *testing.T) {
	hill, err := air.At(1200, 300)
	if err != nil {
		t.Fatal(err)
	}
	sea, err := air.Standard(0)
	if err != nil {
		t.Fatal(err)
	}
	truth := rotor.Correction{Pitch: 0.02, Drag: 0.15, Chord: 0.05}
	a, b := bench(t, 5*in, 4*in, 3, truth, hill), bench(t, 5*in, 4*in, 3, truth, sea)
	one, err := NewEvidence([]rotor.Specimen{a}, nil)
	if err != nil {
		t.Fatal(err)
	}
	both, err := NewEvidence([]rotor.Specimen{a, b}, nil)
	if err != nil {
		t.Fatal(err)
	}
	f, g := one.Propeller(5*in, 4*in, 3, 0), both.Propeller(5*in, 4*in, 3, 0)
	if math.Abs(f.Correction.Pitch-g.Correction.Pitch) > 0.002 || math.Abs(g.Share-1) > 1e-6 ||
		!(g.After[0] < f.After[0]) {
		t.Errorf("one day %+v, two %+v", f, g)
	}
}
