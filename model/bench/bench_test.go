package bench

import (
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"rotorsieve/model/air"
	"rotorsieve/model/flight"
	"rotorsieve/model/motor"
	"rotorsieve/model/record"
	"rotorsieve/model/rotor"
)

// rig is a 2205 of 2400 KV with 5 x 4 in and three blades, in the standard
// atmosphere.
func rig(t testing.TB) *Rig {
	t.Helper()
	const D, pitch, blades = 0.127, 0.1016, 3
	a, err := air.Standard(0)
	if err != nil {
		t.Fatal(err)
	}
	b, err := rotor.Generic(D, pitch, blades, 0)
	if err != nil {
		t.Fatal(err)
	}
	s, err := rotor.New(rotor.Geometry{Diameter: D, Blades: blades, Blade: b}, a)
	if err != nil {
		t.Fatal(err)
	}
	tab, err := rotor.NewTable(s)
	if err != nil {
		t.Fatal(err)
	}
	p := flight.NewPropulsor(tab, D, a.Density, 1)
	use := motor.Use{Winding: 333.15, PulseRate: 24e3}
	m := motor.New(motor.Stator{Diameter: 0.022, Height: 0.005}, 2400, use)
	return &Rig{Stand: flight.NewStand(m, &p, 11.1, 0.010), Rotor: s, Use: use, Diameter: D, Pitch: pitch, Blades: blades}
}

// measure is what a stand shows of a rig on supplies of some voltages, with errors of
// a standard deviation in speed-independent scale and from point to point.
func measure(t testing.TB, r *Rig, random *rand.Rand, torque bool) *Used {
	t.Helper()
	u := &Used{Turns: true, Name: "synthetic.csv"}
	scale := [4]float64{}
	for k := range scale {
		scale[k] = math.Exp(calibration * random.NormFloat64())
	}
	noise := func(k int) float64 { return scale[k] * math.Exp(perPoint*random.NormFloat64()) }
	for _, volts := range []float64{7.4, 11.1} {
		s := r.Stand
		s.Volts = volts
		for d := 0.2; d < 1.05; d += 0.1 {
			p, ok := s.AtDuty(min(d, 1))
			if !ok {
				t.Fatalf("no state at %g V, duty %g", volts, d)
			}
			row := unknownRow()
			row.Line, row.Throttle, row.Volts = len(u.Rows)+2, p.Duty, p.Voltage
			row.Speed = p.Speed
			row.Thrust, row.Amps = p.Thrust*noise(0), p.Current*noise(1)
			if torque {
				row.Torque = p.Torque * noise(2)
			}
			if row.Full() {
				row.Speed *= scale[3]
			}
			u.Rows = append(u.Rows, row)
		}
	}
	return u
}

// Motors and propellers of known deviations, drawn from the priors and measured with
// the errors that the fit takes for granted, are recovered: over all of them the
// estimates lie around the truth as the posterior says.
func TestFitRecovers(t *testing.T) {
	t.Parallel()
	plain := rig(t)
	random := rand.New(rand.NewPCG(3, 5))
	f, err := newFitting(plain, measure(t, plain, random, true))
	if err != nil {
		t.Fatal(err)
	}
	const draws = 30
	var off [terms]float64
	beyond, all := 0, 0
	for range draws {
		z := make([]float64, terms)
		for k := range z {
			z[k] = max(-1.5, min(random.NormFloat64(), 1.5))
		}
		truth := f.logs(z)
		u := measure(t, plain.with(truth), random, true)
		got, err := plain.Fit(u)
		if err != nil {
			t.Fatal(err)
		}
		for k, g := range got.Terms {
			d := (math.Log(g.Factor) - truth[k]) / g.After
			off[k] += d * d / draws
			if all++; math.Abs(d) > 2 {
				beyond++
			}
			if g.After > g.Before {
				t.Errorf("%s: ±%g after, ±%g before", g.Name, g.After, g.Before)
			}
		}
	}
	// Of 180 estimates 5 % lie beyond 2 sigma; truncated draws make it fewer.
	if beyond > 18 {
		t.Errorf("%d of %d estimates lie beyond 2 sigma of the truth", beyond, all)
	}
	for k, v := range off {
		if rms := math.Sqrt(v); rms > 1.45 {
			t.Errorf("%s: off by %.2f sigma (rms) over %d draws", termNames[k], rms, draws)
		}
	}
}

// One motor and propeller with deviations that are written here.
func TestFitOne(t *testing.T) {
	t.Parallel()
	plain := rig(t)
	truth := [terms]float64{math.Log(1.12), math.Log(1.15), math.Log(0.96), math.Log(1.25), math.Log(1.3), math.Log(0.7)}
	u := measure(t, plain.with(truth), rand.New(rand.NewPCG(1, 1)), false)
	got, err := plain.Fit(u)
	if err != nil {
		t.Fatal(err)
	}
	for k, g := range got.Terms {
		if d := math.Abs(math.Log(g.Factor)-truth[k]) / g.After; d > 2 {
			t.Errorf("%s: %.3f, want %.3f ± %.3f", g.Name, g.Factor, math.Exp(truth[k]), g.After)
		}
	}
	if !got.Terms[CT].Known || !got.Terms[KV].Known {
		t.Errorf("CT ±%g, KV ±%g after the fit", got.Terms[CT].After, got.Terms[KV].After)
	}
	// Records say the same, in the units of the trade, and are read back.
	all := got.Records(u)
	var text strings.Builder
	if err := record.Write(&text, all); err != nil {
		t.Fatal(err)
	}
	if back, err := record.Read(strings.NewReader(text.String()), "f"); err != nil || len(back) != len(all) {
		t.Errorf("%v: %s", err, text.String())
	}
	for _, r := range all {
		// The record is of the KV that stands in the label's place, the fit of that under load.
		kv := got.Rig.Motor.EffectiveKV() / plain.Motor.EffectiveKV() * plain.Motor.KV
		if r.Quantity == record.KV && math.Abs(r.Value/kv-1) > 1e-3 {
			t.Errorf("KV %g in the record, %g fitted", r.Value, kv)
		}
		if r.Quantity == record.CT {
			CT0, _ := plain.Propulsor.Table.Static(r.At.N)
			if math.Abs(r.Value/(CT0*got.Terms[CT].Factor)-1) > 1e-3 {
				t.Errorf("CT %g in the record, times %g fitted of %g", r.Value, got.Terms[CT].Factor, CT0)
			}
		}
	}
}

// Rows below full duty alone say nothing of KV: it is not known, and not recorded.
func TestFitSaysWhatIsOpen(t *testing.T) {
	t.Parallel()
	plain := rig(t)
	u := measure(t, plain, rand.New(rand.NewPCG(2, 1)), false)
	part := *u
	part.Rows = nil
	for _, row := range u.Rows {
		if !row.Full() {
			part.Rows = append(part.Rows, row)
		}
	}
	got, err := plain.Fit(&part)
	if err != nil {
		t.Fatal(err)
	}
	if k := got.Terms[KV]; k.Known {
		t.Errorf("KV without a row of full throttle: ±%g, was ±%g", k.After, k.Before)
	}
	for _, r := range got.Records(&part) {
		if r.Quantity == record.KV {
			t.Error("a KV that nothing is known of is recorded")
		}
	}
}

// Measurements of others, see testdata/SOURCES.md: the fit brings the model to them.
func TestFitMeasured(t *testing.T) {
	t.Parallel()
	in, err := os.Open("testdata/stand.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	f, err := Read(in, "stand.csv")
	if err != nil {
		t.Fatal(err)
	}
	r := rig(t)
	u, err := f.Of(r)
	if err != nil || len(u.Rows) != len(f.Rows) {
		t.Fatalf("%v, %d rows", err, len(u.Rows))
	}
	if odd := r.Odd(u); len(odd) != 0 {
		t.Errorf("odd: %+v", odd)
	}
	got, err := r.Fit(u)
	if err != nil {
		t.Fatal(err)
	}
	before, after := r.Compare(u), got.Rig.Compare(u)
	sum := 0.0
	for _, q := range []Quantity{ThrustAtSpeed, PowerAtSpeed, FullSpeed} {
		a, b := Summarise(before, q), Summarise(after, q)
		t.Logf("%s: %d points, mean %+.1f %% rms %.1f %%, fitted %+.1f %% %.1f %%", q, a.Points, 100*a.Mean, 100*a.RMS,
			100*b.Mean, 100*b.RMS)
		sum += b.RMS*b.RMS - a.RMS*a.RMS
		if b.RMS > 0.08 {
			t.Errorf("%s: rms %.1f %% after the fit", q, 100*b.RMS)
		}
	}
	if sum >= 0 {
		t.Error("the fit does not reduce the differences")
	}
	for _, g := range got.Terms {
		t.Logf("%s: %.3f ± %.3f (%.2f)", g.Name, g.Factor, g.After, g.Before)
	}
}
