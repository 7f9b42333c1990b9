package bench

import (
	"errors"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"

	"rotorsieve/model"
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
	return &Rig{Stand: flight.NewStand(m, &p, 11.1, 0.010), Rotor: s, Use: use, Diameter: D, Pitch: pitch,
		Blades: blades}
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
	truth := [terms]float64{math.Log(1.12), math.Log(1.15), math.Log(0.96), math.Log(1.25), math.Log(1.3),
		math.Log(0.7)}
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
}

// What a fit writes comes, with the priors of those who read it, to the fit again: what
// was learnt is not counted twice with the prior, nor halved by it.
func TestRecordsReadBack(t *testing.T) {
	t.Parallel()
	plain := rig(t)
	for _, c := range []struct {
		what          string
		known, torque bool
		chopping      float64
	}{{"rate known", true, true, 0.7}, {"rate taken", false, true, 0.7}, {"another rate", false, true, 5},
		{"no torque", true, false, 0.7}} {
		r := *plain
		r.RateKnown = c.known
		truth := [terms]float64{math.Log(1.10), math.Log(1.15), math.Log(0.96), math.Log(1.15), math.Log(1.2),
			math.Log(c.chopping)}
		u := measure(t, r.with(truth), rand.New(rand.NewPCG(1, 1)), c.torque)
		got, err := r.Fit(u)
		if err != nil {
			t.Fatalf("%s: %v", c.what, err)
		}
		var text strings.Builder
		if err := record.Write(&text, got.Records()); err != nil {
			t.Fatal(err)
		}
		back, err := record.Read(strings.NewReader(text.String()), "f")
		if err != nil {
			t.Fatalf("%s: %v: %s", c.what, err, text.String())
		}
		e, err := model.NewEvidence(nil, back)
		if err != nil {
			t.Fatalf("%s: %v", c.what, err)
		}
		has := func(q *record.Quantity) bool {
			return slices.ContainsFunc(back, func(r record.Record) bool { return r.Quantity == q })
		}
		near := func(name string, g Term, factor, after float64) {
			t.Helper()
			if d := math.Log(factor/g.Factor) / g.After; math.Abs(d) > 0.1 {
				t.Errorf("%s: %s: %.4f read back, %.4f ± %.4f fitted, %.2f sigma", c.what, name, factor, g.Factor,
					g.After, d)
			}
			if q := after / g.After; math.Abs(q-1) > 0.1 {
				t.Errorf("%s: %s: ±%.4f read back, ±%.4f fitted", c.what, name, after, g.After)
			}
		}
		m := e.Motor(r.Motor.Stator, r.Motor.KV)
		for k, q := range map[int]*record.Quantity{KV: record.KV, Resistance: record.Resistance, Loss: record.Loss,
			Chopping: record.Chopping} {
			if has(q) != got.Terms[k].Known {
				t.Errorf("%s: %s ±%.3f, known %v, recorded %v", c.what, q.Name, got.Terms[k].After, got.Terms[k].Known,
					has(q))
			}
			if f := map[int]model.Factor{KV: m.KV, Resistance: m.Resistance, Loss: m.Loss,
				Chopping: m.Chopping}[k]; has(q) {
				near(q.Name, got.Terms[k], f.Value, f.After)
			}
		}
		f := e.Propeller(r.Diameter, r.Pitch, r.Blades, 0)
		g := r.Rotor.Geometry()
		before, err := r.Rotor.Solve(0, got.n)
		if err != nil {
			t.Fatal(err)
		}
		g.Correction = f.Correction
		s, err := rotor.New(g, r.Rotor.Air())
		if err != nil {
			t.Fatal(err)
		}
		after, err := s.Solve(0, got.n)
		if err != nil {
			t.Fatal(err)
		}
		near("CT", got.Terms[CT], after.CT/before.CT, f.After[0])
		near("CP", got.Terms[CP], after.CP/before.CP, f.After[1])
		t.Logf("%s:\n%s%+v\n%+v", c.what, text.String(), got.Terms, m)
	}
}

// What the model cannot follow widens what is left open, up to the prior, and is said.
func TestFitMisfit(t *testing.T) {
	t.Parallel()
	plain := rig(t)
	u := measure(t, plain, rand.New(rand.NewPCG(4, 1)), false)
	good, err := plain.Fit(u)
	if err != nil {
		t.Fatal(err)
	}
	if good.Misfit > 1.3 {
		t.Errorf("rows with the errors that the fit takes for granted: misfit %.2f", good.Misfit)
	}
	for i := range u.Rows {
		scatter := 1.18
		if i%2 == 0 {
			scatter = 1 / scatter
		}
		u.Rows[i].Thrust *= scatter
		u.Rows[i].Amps /= scatter
	}
	bad, err := plain.Fit(u)
	if err != nil {
		t.Fatal(err)
	}
	if bad.Misfit < MostMisfit {
		t.Errorf("misfit %.2f of rows that scatter by 17 %%", bad.Misfit)
	}
	if q := bad.Terms[CT].After / good.Terms[CT].After; q < 0.8*bad.Misfit {
		t.Errorf("CT is known %.2f times worse, want about %.2f times", q, bad.Misfit)
	}
	for _, g := range bad.Terms {
		if g.After > g.Before {
			t.Errorf("%s: ±%g, before ±%g", g.Name, g.After, g.Before)
		}
	}
}

// What is past belief is refused; a pulse rate that was only taken makes more of a
// chopping loss believable, since the loss goes with its inverse square.
func TestFitUnlikely(t *testing.T) {
	t.Parallel()
	plain := rig(t)
	for _, c := range []struct {
		chopping float64
		known    bool
		want     string
	}{{6, false, ""}, {6, true, "times the chopping loss of the model, which is known to ±40 %; want the true " +
		"stator, KV, propeller and " +
		"units, and the pulse rate"}} {
		r := *plain
		r.RateKnown = c.known
		truth := [terms]float64{Chopping: math.Log(c.chopping)}
		_, err := r.Fit(measure(t, r.with(truth), rand.New(rand.NewPCG(1, 1)), true))
		if c.want == "" && err != nil || c.want != "" && (err == nil || !strings.HasSuffix(err.Error(), c.want)) {
			t.Errorf("%+v: error %v", c, err)
		}
		if e, ok := errors.AsType[*Unlikely](err); err != nil && (!ok || e.Term != Chopping) {
			t.Errorf("%+v: error %#v", c, err)
		}
	}
}

// The likelihoods of two terms, with the prior in matrices, come to their posterior.
func TestLikelihoods(t *testing.T) {
	t.Parallel()
	const together = 0.7
	a := Term{Factor: 1.1, Before: 0.16, After: 0.03}
	b := Term{Factor: 0.9, Before: 0.21, After: 0.06}
	l := likelihoods(&a, &b, together)
	prior := mat.NewSymDense(2, []float64{0.16 * 0.16, together * 0.16 * 0.21, 0, 0.21 * 0.21})
	var P, left mat.Dense
	if err := P.Inverse(prior); err != nil {
		t.Fatal(err)
	}
	var rhs mat.VecDense
	w := []float64{1 / (l[0].sigma * l[0].sigma), 1 / (l[1].sigma * l[1].sigma)}
	P.Set(0, 0, P.At(0, 0)+w[0])
	P.Set(1, 1, P.At(1, 1)+w[1])
	if err := left.Inverse(&P); err != nil {
		t.Fatal(err)
	}
	rhs.MulVec(&left, mat.NewVecDense(2, []float64{w[0] * l[0].ln, w[1] * l[1].ln}))
	for k, want := range []Term{a, b} {
		if mean, sigma := rhs.AtVec(k), math.Sqrt(left.At(k, k)); math.Abs(mean-math.Log(want.Factor)) > 1e-9 ||
			math.Abs(sigma-want.After) > 1e-9 {
			t.Errorf("%d: %g ± %g, want %g ± %g", k, mean, sigma, math.Log(want.Factor), want.After)
		}
	}
	// One that follows the other is not said.
	b = Term{Factor: math.Exp(together * 0.21 / 0.16 * math.Log(a.Factor)), Before: 0.21,
		After: 0.21 * math.Sqrt(1-together*together*(1-0.03*0.03/(0.16*0.16)))}
	if l := likelihoods(&a, &b, together); !l[0].known || l[1].known ||
		math.Abs(l[0].ln-math.Log(1.1)/(1-0.03*0.03/(0.16*0.16))) > 1e-9 {
		t.Errorf("%+v", l)
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
	for _, r := range got.Records() {
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
	for _, q := range []Quantity{ThrustAtSpeed, PowerAtSpeed, FullSpeed, FullCurrent} {
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
