package rotor

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"sync"
	"testing"

	"gonum.org/v1/gonum/mat"

	"rotorsieve/model/air"
)

// best returns what fits all measurements of a propeller best, at rest and in
// the wind: the offset of the pitch angle and the logarithms of drag and chord,
// for an error of 4 % of CT and CP at rest and next to no prior, by the
// Gauss-Newton method.
func best(p propeller, g Geometry, a air.Air) (y [unknowns]float64, err error) {
	const noise, h = 0.04, 1e-3
	loose := prior{spread: [unknowns]float64{5 * deg, 0.6, 0.5}}
	var wind run
	for _, m := range p.wind {
		if m.CT > 0.2*p.static.nearest(m.n).CT {
			wind = append(wind, m)
		}
	}
	points := slices.Concat(p.static.some(6), wind.some(14))
	rows := unknowns + 2*len(points)
	residuals := func(z [unknowns]float64) (r []float64, err error) {
		g.Correction = loose.correction(z)
		s, err := New(g, a)
		if err != nil {
			return nil, err
		}
		r = append(r, z[:]...)
		for _, m := range points {
			q, err := s.Solve(m.J, m.n)
			if err != nil {
				return nil, err
			}
			rest := p.static.nearest(m.n)
			r = append(r, (q.CT-m.CT)/(noise*rest.CT), (q.CP-m.CP)/(noise*rest.CP))
		}
		return r, nil
	}
	var z [unknowns]float64
	r, err := residuals(z)
	if err != nil {
		return y, err
	}
	for moved, k := true, 0; moved && k < 25; k++ {
		A := mat.NewDense(rows, unknowns, nil)
		for j := range z {
			up := z
			up[j] += h
			next, err := residuals(up)
			if err != nil {
				return y, err
			}
			for i := range next {
				A.Set(i, j, (next[i]-r[i])/h)
			}
		}
		var step mat.VecDense
		if err := step.SolveVec(A, mat.NewVecDense(rows, r)); err != nil {
			return y, err
		}
		moved = false
		for t := 1.0; t > 1e-3 && !moved; t /= 2 {
			trial := z
			for j := range trial {
				trial[j] -= t * step.AtVec(j)
			}
			if next, err := residuals(trial); err == nil && sumOfSquares(next) < sumOfSquares(r)-1e-6 {
				z, r, moved = trial, next, true
			}
		}
	}
	for k := range y {
		y[k] = z[k] * loose.spread[k]
	}
	return y, nil
}

// sample is a propeller with what fits it best on the generic blade.
type sample struct {
	propeller
	L    float64 // as in genericPrior
	best [unknowns]float64
}

// size is L.
func size(p propeller) float64 {
	return math.Log(math.Max(genericSmallest, math.Min(p.diameter, genericLargest)) / genericSize)
}

// samples are on the blade of the label, statedSamples on that of the pitch as sold
// and the mean chord of the scans.
var (
	samples       = sync.OnceValues(func() ([]sample, error) { return sampled(nominal) })
	statedSamples = sync.OnceValues(func() ([]sample, error) {
		return sampled(func(p propeller, _ air.Air) (Geometry, error) {
			b, err := Generic(p.diameter, p.pitch, p.blades, nominalSet.Chord*math.Pow(p.diameter/chordDiameter,
				chordPower))
			return Geometry{Diameter: p.diameter, Blades: p.blades, Blade: b}, err
		})
	})
)

func sampled(of func(propeller, air.Air) (Geometry, error)) ([]sample, error) {
	all, err := propellers()
	if err != nil {
		return nil, err
	}
	a, err := air.Standard(0)
	if err != nil {
		return nil, err
	}
	out := make([]sample, len(all))
	errs := make([]error, len(all))
	var wg sync.WaitGroup
	for i, p := range all {
		wg.Go(func() {
			g, err := of(p, a)
			if err != nil {
				errs[i] = err
				return
			}
			y, err := best(p, g, a)
			out[i] = sample{p, size(p), y}
			errs[i] = err
		})
	}
	wg.Wait()
	return out, cmp.Or(errs...)
}

// line is a + b L with the spread about it.
type line struct{ a, b, spread float64 }

// learn returns the weighted median regression of each unknown on L over some
// samples, by least squares weighted anew, and 1.4826 times the weighted median
// of its residuals, the spread of a normal distribution.
func learn(from []sample) (lines [unknowns]line) {
	members := map[string]float64{}
	for _, s := range from {
		members[s.family]++
	}
	weight := func(s sample) float64 { return 1 / math.Sqrt(members[s.family]) }
	for k := range lines {
		l := &lines[k]
		off := func(s sample) float64 { return math.Abs(s.best[k] - l.a - l.b*s.L) }
		for try := range 50 {
			var w, wx, wy, wxx, wxy float64
			for _, s := range from {
				v := weight(s)
				if try > 0 {
					v /= math.Max(off(s), 1e-3)
				}
				w += v
				wx += v * s.L
				wy += v * s.best[k]
				wxx += v * s.L * s.L
				wxy += v * s.L * s.best[k]
			}
			l.b = (w*wxy - wx*wy) / (w*wxx - wx*wx)
			l.a = (wy - l.b*wx) / w
		}
		sorted := slices.SortedFunc(slices.Values(from), func(a, b sample) int { return cmp.Compare(off(a), off(b)) })
		var all, sum float64
		for _, s := range from {
			all += weight(s)
		}
		for _, s := range sorted {
			if sum += weight(s); sum >= all/2 {
				l.spread = 1.4826 * off(s)
				break
			}
		}
	}
	return lines
}

// TestPriorLearnt derives the priors of the generic blade from the wind-tunnel
// data and compares their constants.
func TestPriorLearnt(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		what       string
		from       func() ([]sample, error)
		chordKnown bool
	}{{"label", samples, false}, {"chord stated", statedSamples, true}} {
		all, err := c.from()
		if err != nil {
			t.Fatal(err)
		}
		got := learn(all)
		// The constants, as the priors of two sizes have them.
		p, q := genericPrior(8*inch, 2, c.chordKnown), genericPrior(16*inch, 2, c.chordKnown)
		for k, name := range []string{"pitch", "ln drag", "ln chord"} {
			g := got[k]
			w := line{p.mean[k], (q.mean[k] - p.mean[k]) / math.Log(2), p.spread[k]}
			if k == 2 && c.chordKnown {
				w.spread = g.spread // a chord is stated better than it is guessed
			}
			t.Logf("%s, %s: %.4f %+.4f L ± %.4f, as constants %.4f %+.4f L ± %.4f", c.what, name, g.a, g.b, g.spread,
				w.a, w.b, w.spread)
			// Rounding of the constants: 0.1 of the spread in the mean, 0.15 in itself.
			if math.Abs(g.a-w.a) > 0.1*w.spread || math.Abs(g.b-w.b) > 0.1*w.spread ||
				math.Abs(g.spread/w.spread-1) > 0.15 {
				t.Errorf("%s, %s: learnt %+v, constants %+v", c.what, name, g, w)
			}
		}
		for _, D := range []float64{1, 3, 19, 30} { // no further than the sizes that were measured
			a, b := genericPrior(D*inch, 2, c.chordKnown), genericPrior(min(max(D, 3), 19)*inch, 2, c.chordKnown)
			if *a != *b {
				t.Errorf("%s, %g in: prior %+v, at the nearest size measured %+v", c.what, D, *a, *b)
			}
		}
	}
}

// withPrior calibrates the blades of a setting by one static point with a prior.
func withPrior(of func(propeller, air.Air) (Geometry, error), prior func(propeller) *prior) func(propeller,
	air.Air) (Geometry, error) {
	return func(p propeller, a air.Air) (Geometry, error) {
		g, err := of(p, a)
		if err != nil {
			return g, err
		}
		c := newCalibration(g, a, p.static[p.static.middle():][:1].onStand(p.diameter, a))
		c.prior = prior(p)
		e, err := c.fit()
		g.Correction = e.Correction
		return g, err
	}
}

// heldOut calibrates each group of families by one point, with the means of the
// prior learnt from all others, and with the prior of a given blade. It gathers
// the errors of all groups, and how many have smaller medians in the wind.
func heldOut(t *testing.T, all []sample, groups [][]string, of func(propeller, air.Air) (Geometry, error),
	chordKnown bool) (learnt, given result, better int) {
	t.Helper()
	add := func(sum *result, held []propeller, prior func(propeller) *prior) *result {
		r, err := validate(held, &setting{rotor: withPrior(of, prior), held: true})
		if err != nil {
			t.Fatal(err)
		}
		sum.add(r)
		return r
	}
	for _, group := range groups {
		var held []propeller
		var from []sample
		for _, s := range all {
			switch {
			case !slices.Contains(group, s.family):
				from = append(from, s)
			case s.scanned || !chordKnown:
				held = append(held, s.propeller)
			}
		}
		if len(held) == 0 {
			continue
		}
		lines := learn(from)
		a := add(&learnt, held, func(p propeller) *prior {
			q := *genericPrior(p.diameter, p.blades, chordKnown)
			for k, l := range lines {
				q.mean[k] = l.a + l.b*size(p)
			}
			return &q
		})
		b := add(&given, held, func(propeller) *prior { return &knownPrior })
		if a.windCT.median() < b.windCT.median() && a.windCP.median() < b.windCP.median() {
			better++
		}
	}
	return learnt, given, better
}

// TestPriorHeldOut holds out families one by one and in halves by lot. Held out,
// the prior must keep to the bars, and do better than that of a given blade.
func TestPriorHeldOut(t *testing.T) {
	t.Parallel()
	all, err := samples()
	if err != nil {
		t.Fatal(err)
	}
	var families []string
	for _, s := range all {
		if !slices.Contains(families, s.family) {
			families = append(families, s.family)
		}
	}
	slices.Sort(families)
	show := func(what string, a, b *result) {
		t.Logf("%s: in the wind CT %.1f/%.1f -> %.1f/%.1f %%, CP %.1f/%.1f -> %.1f/%.1f %%", what,
			100*b.windCT.median(), 100*b.windCT.p90(), 100*a.windCT.median(), 100*a.windCT.p90(),
			100*b.windCP.median(), 100*b.windCP.p90(), 100*a.windCP.median(), 100*a.windCP.p90())
	}

	var singly [][]string
	for _, f := range families {
		singly = append(singly, []string{f})
	}
	a, b, _ := heldOut(t, all, singly, nominal, false)
	show("families held out singly", &a, &b)
	bars := settings[len(settings)-1].bars
	for _, c := range []struct {
		name string
		e    errorSet
		bar  [2]float64
	}{
		{"static CT", a.staticCT, bars.staticCT}, {"static CP", a.staticCP, bars.staticCP},
		{"CT in wind", a.windCT, bars.windCT}, {"CP in wind", a.windCP, bars.windCP},
	} {
		const half = 0.25 // of the unit the bars are stated to
		if m, q := 100*c.e.median(), 100*c.e.p90(); !(m <= c.bar[0]+half && q <= c.bar[1]+half) {
			t.Errorf("held out: %s: median error %.2f %%, 90th percentile %.2f %%, bar %g and %g", c.name, m, q,
				c.bar[0], c.bar[1])
		}
	}
	if testing.Short() {
		return // the other divisions in the long form
	}
	a, b, _ = heldOut(t, all, singly, chordKnown, true)
	show("families held out singly, chord known", &a, &b)
	if !(a.windCT.median() < b.windCT.median() && a.windCP.median() < b.windCP.median()) {
		t.Error("chord known: no better in the wind")
	}

	const divisions = 2
	rng := rand.New(rand.NewPCG(7, 70))
	for division := range divisions {
		rng.Shuffle(len(families), func(i, j int) { families[i], families[j] = families[j], families[i] })
		half := len(families) / 2
		a, b, better := heldOut(t, all, [][]string{families[:half], families[half:]}, nominal, false)
		show(fmt.Sprintf("division %d", division), &a, &b)
		if better != 2 {
			t.Errorf("division %d: %d of 2 halves are better in the wind", division, better)
		}
	}
}

// TestPriorMeanUncalibrated holds what the comment of Generic says of carrying the
// means of the prior without a measurement, learnt from the other families.
func TestPriorMeanUncalibrated(t *testing.T) {
	if testing.Short() {
		t.Skip("solves every propeller that was measured many times")
	}
	t.Parallel()
	all, err := samples()
	if err != nil {
		t.Fatal(err)
	}
	a := standard(t)
	lines := map[string][unknowns]line{} // learnt without a family
	for _, s := range all {
		if _, done := lines[s.family]; !done {
			lines[s.family] = learn(slices.DeleteFunc(slices.Clone(all),
				func(o sample) bool { return o.family == s.family }))
		}
	}
	type sets struct{ CP, hover, wind errorSet } // at rest, at rest, CT in the wind
	measure := func(of func(propeller, air.Air) (Geometry, error), mean func(sample) Correction,
		largest float64) (e sets) {
		for _, s := range all {
			g, err := of(s.propeller, a)
			if err == errUnknown || s.diameter > largest*inch+1e-9 {
				continue
			} else if err != nil {
				t.Fatal(err)
			}
			g.Correction = mean(s)
			r, err := validate([]propeller{s.propeller},
				&setting{rotor: func(propeller, air.Air) (Geometry, error) { return g, nil }})
			if err != nil {
				t.Fatal(err)
			}
			e.CP = append(e.CP, r.staticCP...)
			e.wind = append(e.wind, r.windCT...)
			e.hover = append(e.hover, r.hover...)
		}
		return e
	}
	none := func(sample) Correction { return Correction{} }
	means := func(known int) func(sample) Correction {
		return func(s sample) Correction {
			p := prior{}
			for k, l := range lines[s.family] {
				if k < known {
					p.mean[k] = l.a + l.b*s.L
				}
			}
			return p.correction([unknowns]float64{})
		}
	}
	now, with := measure(nominal, none, 99), measure(nominal, means(unknowns), 99)
	nowSmall, withSmall := measure(nominal, none, 10), measure(nominal, means(unknowns), 10)
	nowChord, withChord := measure(chordKnown, none, 99), measure(chordKnown, means(2), 99)
	for _, c := range []struct {
		what      string
		now, with errorSet
		helps     bool // said of the means, learnt from the other families
	}{
		{"CT in wind", now.wind, with.wind, true},
		{"static CP", now.CP, with.CP, false},
		{"power to hover", now.hover, with.hover, false},
		{"power to hover to 10 in", nowSmall.hover, withSmall.hover, false},
		{"static CP, chord known", nowChord.CP, withChord.CP, false},
	} {
		a, b := 100*c.now.median(), 100*c.with.median()
		t.Logf("%s: median error %.1f %%, with the means of the prior %.1f %%", c.what, a, b)
		if (b < a) != c.helps {
			t.Errorf("%s: the means of the prior take the median error from %.2f %% to %.2f %%, helpful said %v",
				c.what, a, b, c.helps)
		}
	}
}

// TestTrendSpread compares the spread that a calibration allows the trends of CT
// and CP with what is left of them after a calibration by one point.
func TestTrendSpread(t *testing.T) {
	a := standard(t)
	for name, of := range map[string]func(propeller, air.Air) (Geometry, error){"scanned": calibrated(scanned),
		"generic": calibrated(nominal)} {
		var sum [2]float64
		n := 0.0
		for _, p := range measurements(t) {
			g, err := of(p, a)
			if err == errUnknown {
				continue
			} else if err != nil {
				t.Fatal(err)
			}
			s, err := New(g, a)
			if err != nil {
				t.Fatal(err)
			}
			var xx float64
			var xy [2]float64
			for _, m := range p.static {
				q, err := s.Solve(0, m.n)
				if err != nil {
					t.Fatal(err)
				}
				x := math.Log(m.n / p.static[p.static.middle()].n)
				xx += x * x
				xy[0] += x * math.Log(q.CT/m.CT)
				xy[1] += x * math.Log(q.CP/m.CP)
			}
			for k := range sum {
				sum[k] += xy[k] / xx * xy[k] / xx
			}
			n++
		}
		T, P := math.Sqrt(sum[0]/n), math.Sqrt(sum[1]/n)
		t.Logf("%s: root mean square error of d ln CT/d ln n %.3f, of d ln CP/d ln n %.3f", name, T, P)
		if mean := (T + P) / 2; math.Abs(mean/trendSpread-1) > 0.15 {
			t.Errorf("%s: errors of the trends %.3f and %.3f, a calibration allows %g", name, T, P, trendSpread)
		}
	}
}

// TestCalibrateMany calibrates with all static points of each propeller: none is
// refused, and in the wind it keeps to the bars of one point.
func TestCalibrateMany(t *testing.T) {
	if testing.Short() {
		t.Skip("calibrates on every point of all propellers")
	}
	t.Parallel()
	for _, c := range []struct {
		set *setting
		of  func(propeller, air.Air) (Geometry, error)
	}{{&settings[len(settings)-2], scanned}, {&settings[len(settings)-1], nominal}} {
		r, err := validate(measurements(t), &setting{rotor: func(p propeller, a air.Air) (Geometry, error) {
			g, err := c.of(p, a)
			if err != nil {
				return g, err
			}
			g.Correction, err = Calibrate(g, a, p.static.onStand(p.diameter, a))
			return g, err
		}})
		if err != nil {
			t.Errorf("%s: %v", c.set.name, err)
			continue
		}
		for name, e := range map[string]struct {
			e   errorSet
			bar [2]float64
		}{"CT": {r.windCT, c.set.bars.windCT}, "CP": {r.windCP, c.set.bars.windCP}} {
			m, q := 100*e.e.median(), 100*e.e.p90()
			t.Logf("%s, but all points: %s in wind: median error %.2f %%, 90th percentile %.2f %%", c.set.name, name, m,
				q)
			if !(m <= e.bar[0]+0.25 && q <= e.bar[1]+0.25) {
				t.Errorf("%s, but all points: %s in wind: median error %.2f %%, 90th percentile %.2f %%, bar %g and %g",
					c.set.name, name, m, q, e.bar[0], e.bar[1])
			}
		}
	}
}

// What is on sale with more than two blades is known less: its chord by as much more as
// the law of the default chord says.
func TestPriorByBlades(t *testing.T) {
	t.Parallel()
	two, three := genericPrior(5*inch, 2, false), genericPrior(5*inch, 3, false)
	if want := math.Hypot(0.15, 0.10); math.Abs(three.spread[2]-want) > 1e-12 || three.spread[2] <= two.spread[2] ||
		three.mean != two.mean {
		t.Errorf("priors %+v with two blades, %+v with three, want a spread of %.3f in ln chord", *two, *three, want)
	}
	if a, b := genericPrior(5*inch, 2, true), genericPrior(5*inch, 3, true); *a != *b {
		t.Errorf("with the chord stated %+v and %+v", *a, *b)
	}
}
