package model

import (
	"math"
	"slices"
	"sync"
	"testing"

	"rotorsieve/model/motor"
	"rotorsieve/model/pack"
	"rotorsieve/model/record"
	"rotorsieve/model/rotor"
)

func ensemble(t testing.TB, m *Model, draws int) *Ensemble {
	t.Helper()
	e, err := NewEnsemble(m, 1, draws)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

func nominalModel(t testing.TB, evidence *Evidence) *Model {
	t.Helper()
	a := Defaults()
	a.Evidence = evidence
	m, err := New(a)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func fiveInch() Design {
	return Design{Diameter: 5 * inch, Pitch: 4.3 * inch, Blades: 3, Stator: motor.Stator{Diameter: .022, Height: .007},
		KV: 1750, Cells: 6, Capacity: 1.3 * 3600}
}

// evaluated is a design in the draw of a model, on a propeller of the nominal one.
func evaluated(t testing.TB, m *Model, p *Propeller, d Design) *Craft {
	t.Helper()
	c, err := m.Complete(m.Vary(p), d)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// A shift of nothing changes no metric but those of flight, and those by what a blend of
// envelopes rounds.
func TestNoShift(t *testing.T) {
	t.Parallel()
	m := nominalModel(t, nil)
	d := fiveInch()
	p, err := m.Propeller(d.Diameter, d.Pitch, d.Blades, d.Chord)
	if err != nil {
		t.Fatal(err)
	}
	want := evaluated(t, m, p, d)
	for i := range m.Sources() {
		s, err := m.Shifted(i, 0)
		if err != nil {
			t.Fatal(err)
		}
		got := evaluated(t, s, p, d)
		for _, q := range Metrics {
			x, y := q.Of(want), q.Of(got)
			if x != y && !(math.Abs(x-y) <= 1e-9*math.Abs(x)) && !(x != x && y != y) {
				t.Errorf("%s: %s is %g, want %g", m.Sources()[i].Name, q.Name, y, x)
			}
		}
	}
}

// Every source moves some metric of some craft, by its sigma and no more than it says.
func TestShift(t *testing.T) {
	t.Parallel()
	m := nominalModel(t, nil)
	d := fiveInch()
	p, err := m.Propeller(d.Diameter, d.Pitch, d.Blades, d.Chord)
	if err != nil {
		t.Fatal(err)
	}
	small := d
	small.Diameter, small.Pitch, small.KV, small.Cells = 2.5*inch, 2*inch, 3800, 4
	small.Stator, small.Capacity = motor.Stator{Diameter: .014, Height: .004}, 0.45*3600
	q, err := m.Propeller(small.Diameter, small.Pitch, small.Blades, 0)
	if err != nil {
		t.Fatal(err)
	}
	names := map[string]bool{}
	for i, s := range m.Sources() {
		if s.Sigma == 0 && slices.Contains(looked, s.Name) && s.Meaning != "" {
			continue // the same in every draw
		}
		if names[s.Name] || s.Meaning == "" || s.From == "" || !(s.Sigma > 0) {
			t.Errorf("source %+v is doubled or incomplete", s)
		}
		names[s.Name] = true
		up, err := m.Shifted(i, 1)
		if err != nil {
			t.Fatal(err)
		}
		moved := false
		for _, x := range []struct {
			p *Propeller
			d Design
		}{{p, d}, {q, small}} {
			a, b := evaluated(t, m, x.p, x.d), evaluated(t, up, x.p, x.d)
			for _, metric := range Metrics {
				v, w := metric.Of(a), metric.Of(b)
				moved = moved || v != w && v == v && w == w
				if math.Abs(math.Log(w/v)) > 3 && metric.Cap == 0 {
					t.Errorf("%s takes %s from %g to %g", s.Name, metric.Name, v, w)
				}
			}
		}
		idle := map[string]bool{"E arm": true, "sigma arm": true, "pack leads Li-ion": true, "controller joined": true,
			"V_w scale": true} // of other frames, packs and boards, or of a mark
		if !moved && !idle[s.Name] {
			t.Errorf("%s moves nothing", s.Name)
		}
	}
}

// spread is the standard deviation of the logarithm of something over the draws.
func spread(e *Ensemble, of func(m *Model) float64) (mean, sigma float64) {
	n := float64(e.Draws())
	ln := make([]float64, e.Draws())
	for k := range ln {
		ln[k] = math.Log(of(e.Model(k)))
		mean += ln[k] / n
	}
	for _, v := range ln {
		sigma += (v - mean) * (v - mean) / n
	}
	return mean, math.Sqrt(sigma)
}

// What is drawn has the spreads that are stated, about the nominal model.
func TestEnsembleSpreads(t *testing.T) {
	t.Parallel()
	m := nominalModel(t, nil)
	e := ensemble(t, m, 1024)
	d := fiveInch()
	p, err := m.Propeller(d.Diameter, d.Pitch, d.Blades, d.Chord)
	if err != nil {
		t.Fatal(err)
	}
	n := 0.35 * m.Air.SoundSpeed / (math.Pi * d.Diameter)
	want, _, err := StaticSpread(p.Geometry, m.Air, n)
	if err != nil {
		t.Fatal(err)
	}
	static := func(q int) func(m *Model) float64 {
		return func(m *Model) float64 {
			v := m.Vary(p)
			h, torque, _ := v.Hold(2)
			if q == 0 {
				return 1 / (h * h * v.Density * v.Installed)
			}
			return torque / (h * h * v.Density)
		}
	}
	mot := func(of func(motor.Motor) float64) func(*Model) float64 {
		return func(m *Model) float64 { return of(m.Motor(d.Stator, d.KV)) }
	}
	for _, c := range []struct {
		what  string
		of    func(*Model) float64
		sigma float64
	}{
		{"CT", static(0), want[0]},
		{"CP", static(1), want[1]},
		{"KV", mot(func(m motor.Motor) float64 { return m.EffectiveKV() }), motorSpread[record.KV]},
		{"resistance", mot(func(m motor.Motor) float64 { return m.R }), motorSpread[record.Resistance]},
		{"motor mass", mot(func(m motor.Motor) float64 { return m.Mass }), motorSpread[record.Mass]},
		{"frame", func(m *Model) float64 { return m.Airframe(d.Diameter, 3).Frame }, math.Hypot(0.20, 0.08)},
		{"air", func(m *Model) float64 { return m.Air.Density }, 0.03},
	} {
		mean, sigma := spread(e, c.of)
		base := math.Log(c.of(m))
		if math.Abs(sigma/c.sigma-1) > 0.1 || math.Abs(mean-base) > 0.15*c.sigma {
			t.Errorf("%s: spread %.4f about %+.4f, want %.4f", c.what, sigma, mean-base, c.sigma)
		}
	}
}

// A larger ensemble begins with a smaller one, and any order of asking gives the same.
func TestEnsembleOrder(t *testing.T) {
	t.Parallel()
	m := nominalModel(t, nil)
	small, large := ensemble(t, m, 8), ensemble(t, m, 32)
	var group sync.WaitGroup
	for k := 31; k >= 0; k-- {
		group.Go(func() { large.Model(k).Motor(fiveInch().Stator, 1800) })
	}
	group.Wait()
	for k := range 8 {
		a, b := small.Model(k), large.Model(k)
		if a.parameters != b.parameters || a.Motor(fiveInch().Stator, 1800) == (motor.Motor{}) {
			t.Errorf("draw %d has other parameters", k)
		}
		x, y := a.Motor(fiveInch().Stator, 1800), b.Motor(fiveInch().Stator, 1800)
		if x.R != y.R || x.Mass != y.Mass {
			t.Errorf("draw %d has another motor", k)
		}
	}
	if _, err := NewEnsemble(small.Model(0), 1, 2); err == nil {
		t.Error("an ensemble of a draw is not refused")
	}
	if _, err := NewEnsemble(m, 1, 0); err == nil {
		t.Error("no draws are not refused")
	}
}

// What was measured exactly is the same in every draw, a neighbour is surer than before,
// and what is far away is as unsure as ever.
func TestEnsembleMeasured(t *testing.T) {
	t.Parallel()
	d := fiveInch()
	const rpm = 20000
	records := []record.Record{
		{Subject: record.Subject{Kind: record.Propeller, Diameter: d.Diameter, Pitch: d.Pitch, Blades: 3},
			Quantity: record.CT, At: record.Conditions{N: rpm / 60.0}, Value: 0.17, Sigma: 0.17e-5},
		{Subject: record.Subject{Kind: record.Propeller, Diameter: d.Diameter, Pitch: d.Pitch, Blades: 3},
			Quantity: record.CP, At: record.Conditions{N: rpm / 60.0}, Value: 0.10, Sigma: 0.10e-5},
		{Subject: record.Subject{Kind: record.Motor, Stator: 2207, KV: 1750},
			Quantity: record.Resistance, Value: 0.075, Sigma: 1e-7},
		{Subject: record.Subject{Kind: record.Frame, Diameter: d.Diameter}, Quantity: record.FrameMass, Value: 0.1,
			Sigma: 1e-7},
		{Subject: record.Subject{Kind: record.Pack, Cells: d.Cells, Capacity: d.Capacity},
			Quantity: record.PackResistance, Value: 0.05, Sigma: 1e-7},
	}
	ev, err := NewEvidence(nil, records)
	if err != nil {
		t.Fatal(err)
	}
	m := nominalModel(t, ev)
	e := ensemble(t, m, 256)
	ct := func(diameter, pitch float64) func(*Model) float64 {
		p, err := m.Propeller(diameter, pitch, 3, 0)
		if err != nil {
			t.Fatal(err)
		}
		return func(m *Model) float64 {
			v := m.Vary(p)
			n, _, _ := v.Hold(2)
			return 1 / (n * n * v.Density * v.Installed)
		}
	}
	_, own := spread(e, ct(d.Diameter, d.Pitch))
	_, near := spread(e, ct(5.1*inch, 4.3*inch))
	_, far := spread(e, ct(10*inch, 4.5*inch))
	if own > 0.004 || !(near < 0.8*far) || near < own {
		t.Errorf("CT spreads %.4f where it was measured, %.4f nearby, %.4f far off", own, near, far)
	}
	r := func(stator motor.Stator, kv float64) func(*Model) float64 {
		return func(m *Model) float64 { mot := m.Motor(stator, kv); return mot.ColdResistance() }
	}
	mean, own := spread(e, r(d.Stator, d.KV))
	_, near = spread(e, r(d.Stator, d.KV*1.1))
	_, far = spread(e, r(motor.Stator{Diameter: .014, Height: .004}, 3800))
	if own > 1e-4 || math.Abs(math.Exp(mean)/0.075-1) > 1e-4 || !(near < 0.8*far) || near < own {
		t.Errorf("resistance %.5f spreads %.4f where it was measured, %.4f nearby, %.4f far off", math.Exp(mean), own,
			near, far)
	}
}

// A measured value of no uncertainty reproduces itself, by the nominal model and in every
// draw.
func TestMeasuredWithoutUncertainty(t *testing.T) {
	t.Parallel()
	d := fiveInch()
	motorOf := record.Subject{Kind: record.Motor, Stator: 2207, KV: 1750}
	packOf := record.Subject{Kind: record.Pack, Cells: d.Cells, Capacity: d.Capacity}
	propeller := record.Subject{Kind: record.Propeller, Diameter: d.Diameter, Pitch: d.Pitch, Blades: 3}
	const n = 20000 / 60.0
	bought := func(of func(*pack.Pack) float64) func(*Model) float64 {
		return func(m *Model) float64 {
			k, err := m.Pack(d.Cells, d.Capacity)
			if err != nil {
				t.Fatal(err)
			}
			return of(&k)
		}
	}
	for _, c := range []struct {
		record.Record
		of func(*Model) float64 // nil for a propeller, whose curve is not a number of a draw
	}{
		{record.Record{Subject: motorOf, Quantity: record.Resistance, Value: 0.075},
			func(m *Model) float64 { x := m.Motor(d.Stator, d.KV); return x.ColdResistance() }},
		{record.Record{Subject: record.Subject{Kind: record.Frame, Diameter: d.Diameter}, Quantity: record.FrameMass,
			Value: 0.1}, func(m *Model) float64 { return m.Airframe(d.Diameter, 3).Frame }},
		{record.Record{Subject: packOf, Quantity: record.PackMass, Value: 0.2},
			bought(func(k *pack.Pack) float64 { return k.Mass })},
		{record.Record{Subject: propeller, Quantity: record.CT, At: record.Conditions{N: n}, Value: 0.17}, nil},
	} {
		ev, err := NewEvidence(nil, []record.Record{c.Record})
		if err != nil {
			t.Fatal(err)
		}
		m := nominalModel(t, ev)
		if c.of == nil {
			p, err := m.Propeller(d.Diameter, d.Pitch, 3, 0)
			if err != nil {
				t.Fatal(err)
			}
			if CT, _ := p.Table.At(0, n); math.Abs(CT/c.Value-1) > 1e-3 { // of the table
				t.Errorf("CT is %.6g, measured %g", CT, c.Value)
			}
			continue
		}
		if got := c.of(m); math.Abs(got/c.Value-1) > 1e-6 {
			t.Errorf("%s is %.9g, measured %g", c.Quantity.Name, got, c.Value)
		}
		mean, spreads := spread(ensemble(t, m, 64), c.of)
		if spreads > 1e-4 || math.Abs(math.Exp(mean)/c.Value-1) > 1e-4 {
			t.Errorf("%s is %.9g ± %.2g over draws, measured %g", c.Quantity.Name, math.Exp(mean), spreads, c.Value)
		}
	}
}

// What was measured of frames and packs is so in every draw, and says what all of their
// kind err by.
func TestEnsembleMeasuredSizes(t *testing.T) {
	t.Parallel()
	d := fiveInch()
	ev, err := NewEvidence(nil, []record.Record{
		{Subject: record.Subject{Kind: record.Frame, Diameter: d.Diameter}, Quantity: record.FrameMass, Value: 0.1,
			Sigma: 1e-7},
		{Subject: record.Subject{Kind: record.Pack, Cells: d.Cells, Capacity: d.Capacity},
			Quantity: record.PackResistance, Value: 0.05, Sigma: 1e-7},
	})
	if err != nil {
		t.Fatal(err)
	}
	m := nominalModel(t, ev)
	e := ensemble(t, m, 512)
	frame := func(diameter float64) func(*Model) float64 {
		return func(m *Model) float64 { return m.Airframe(diameter, 3).Frame }
	}
	resistance := func(cells int, capacity float64) func(*Model) float64 {
		return func(m *Model) float64 {
			k, err := m.Pack(cells, capacity)
			if err != nil {
				t.Fatal(err)
			}
			return k.R
		}
	}
	for _, c := range []struct {
		what       string
		own, far   func(*Model) float64
		value      float64
		exact, all float64 // spreads where it was measured, and of what is far
	}{
		{"frame", frame(d.Diameter), frame(11 * inch), 0.1, 1e-4, 0.11},
		{"pack resistance", resistance(d.Cells, d.Capacity), resistance(4, 3*d.Capacity), 0.05, 0.01, 0.15},
	} {
		mean, own := spread(e, c.own)
		_, far := spread(e, c.far)
		if own > c.exact || math.Abs(math.Exp(mean)/c.value-1) > c.exact || math.Abs(far/c.all-1) > 0.35 {
			t.Errorf("%s: %.5g, spreads %.4f where it was measured, %.4f far off", c.what, math.Exp(mean), own, far)
		}
		if got := c.own(m); math.Abs(got/c.value-1) > 1e-3 {
			t.Errorf("%s: %.5g by the nominal model", c.what, got)
		}
	}
	still, err := m.Shifted(0, 0)
	if err != nil {
		t.Fatal(err)
	}
	for _, of := range []func(*Model) float64{frame(d.Diameter), frame(7 * inch), resistance(4, 3000)} {
		if a, b := of(m), of(still); math.Abs(a/b-1) > 1e-9 {
			t.Errorf("a shift of nothing gives %g, want %g", b, a)
		}
	}
}

// Scaling a propeller stands for solving its blade anew: the power of hover and the thrust
// at full throttle, for errors of the blade as they are drawn.
func TestVaryAgainstSolving(t *testing.T) {
	t.Parallel()
	m := nominalModel(t, nil)
	e := ensemble(t, m, 40)
	var sum [3]float64
	n := 0.0
	for _, d := range []Design{fiveInch(), {Diameter: 3 * inch, Pitch: 2.5 * inch, Blades: 3,
		Stator: motor.Stator{Diameter: .014, Height: .004}, KV: 3800, Cells: 4, Capacity: .65 * 3600}} {
		p, err := m.Propeller(d.Diameter, d.Pitch, d.Blades, 0)
		if err != nil {
			t.Fatal(err)
		}
		errs := p.errs()
		for k := range e.Draws() {
			v := e.Model(k).variation
			only := *m
			only.variation = &variation{shared: e.shared, density: 1}
			var y rotor.Deviations
			for q := range y {
				only.variation.fields[bladePitch+q] = v.fields[bladePitch+q]
				y[q] = v.fields[bladePitch+q].at(errs.blade.basis)
			}
			g := p.Geometry
			g.Correction = g.Blade.CorrectionAt(y)
			solved, err := m.PropellerOf(g)
			if err != nil {
				t.Fatal(err)
			}
			a, errA := m.Complete(solved, d)
			b, errB := m.Complete(only.Vary(p), d)
			if errA != nil || errB != nil {
				continue
			}
			n++
			for i, of := range []func(*Craft) float64{
				func(c *Craft) float64 { return c.Hover.Power },
				func(c *Craft) float64 { return c.Powertrain.Full.Thrust },
				func(c *Craft) float64 { return c.Flight.Top.Airspeed },
			} {
				off := math.Log(of(b) / of(a))
				sum[i] += off * off
			}
		}
	}
	for i, bar := range []float64{0.04, 0.03, 0.06} {
		rms := math.Sqrt(sum[i] / n)
		t.Logf("%s: %.2g %% rms of %g", [...]string{"hover power", "full thrust", "top speed"}[i], 100*rms, n)
		if !(rms < bar) {
			t.Errorf("quantity %d is off by %.3g", i, rms)
		}
	}
}

func BenchmarkVary(b *testing.B) {
	m := nominalModel(b, nil)
	d := fiveInch()
	p, err := m.Propeller(d.Diameter, d.Pitch, d.Blades, d.Chord)
	if err != nil {
		b.Fatal(err)
	}
	k := ensemble(b, m, 1).Model(0)
	for b.Loop() {
		k.Vary(p)
	}
}

func BenchmarkDrawnMotor(b *testing.B) {
	k := ensemble(b, nominalModel(b, nil), 1).Model(0)
	for b.Loop() {
		k.Motor(fiveInch().Stator, 1750)
	}
}

func BenchmarkEnsemble(b *testing.B) {
	m := nominalModel(b, nil)
	for b.Loop() {
		e := ensemble(b, m, 64)
		for k := range 64 {
			e.Model(k)
		}
	}
}
