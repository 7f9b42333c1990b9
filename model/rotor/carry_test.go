package rotor

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mat"

	"rotorsieve/model/air"
	"rotorsieve/model/field"
)

// seen is a propeller with the errors of the generic blade at rest and what one
// static point says of it.
type seen struct {
	propeller
	off      [2]float64 // ln(measured/model) of CT and CP at the middle speed
	blade    Blade
	estimate Estimate
}

// allSeen calibrates each propeller by its middle static point.
func allSeen(t *testing.T) (out []seen) {
	t.Helper()
	a := standard(t)
	for _, p := range measurements(t) {
		g, err := nominal(p, a)
		if err != nil {
			t.Fatal(err)
		}
		s, err := New(g, a)
		if err != nil {
			t.Fatal(err)
		}
		m := p.static[p.static.middle()]
		q, err := s.Solve(0, m.n)
		if err != nil {
			t.Fatal(err)
		}
		e, err := Infer(g, a, run{m}.onStand(p.diameter, a))
		if err != nil {
			t.Fatalf("%s: %v", p.id, err)
		}
		out = append(out, seen{p, [2]float64{math.Log(m.CT / q.CT), math.Log(m.CP / q.CP)}, g.Blade, e})
	}
	return out
}

func (p *seen) point() field.Point { return field.At(p.diameter, p.pitch, p.blades, 1) }

// apart is the distance of two propellers over ln D and P/D.
func apart(p, q *seen) (size, pitch float64) {
	return math.Log(p.diameter / q.diameter), p.pitch/p.diameter - q.pitch/q.diameter
}

// pair is two propellers with as many blades, the first of which is to be told by
// the second.
type pair struct{ p, q *seen }

// pairs lists those of one series or of two that are at most a distance apart, over
// the lengths of the field.
func pairs(all []seen, series bool, least, most float64) (out []pair) {
	for i := range all {
		for j := range all {
			p, q := &all[i], &all[j]
			size, pitch := apart(p, q)
			d := math.Hypot(size/field.LengthDiameter, pitch/field.LengthPitch)
			if i != j && p.blades == q.blades && (p.family == q.family) == series && d >= least && d < most {
				out = append(out, pair{p, q})
			}
		}
	}
	return out
}

// carryRule is how errors are carried: a share, fading over two lengths.
type carryRule struct{ share, size, pitch float64 }

func (r carryRule) at(k pair) float64 {
	size, pitch := apart(k.p, k.q)
	return r.share * math.Exp(-(size*size/(r.size*r.size)+pitch*pitch/(r.pitch*r.pitch))/2)
}

// losses are the mean absolute errors of ln CT and CP of each family that a rule
// leaves, each quantity over its mean over all propellers. A family counts as the
// root of its members, as where the prior is learnt.
func losses(all []seen, ks []pair, r carryRule) map[string]float64 {
	var scale [2]float64
	members := map[string]float64{}
	for i := range all {
		members[all[i].family]++
		for q, v := range all[i].off {
			scale[q] += math.Abs(v) / float64(len(all))
		}
	}
	of := map[string]float64{}
	for _, k := range ks {
		m := members[k.p.family]
		for q := range scale {
			of[k.p.family] += math.Abs(k.p.off[q]-r.at(k)*k.q.off[q]) / scale[q] / (m * math.Sqrt(m))
		}
	}
	return of
}

func total(of map[string]float64, without string) (sum float64) {
	for f, v := range of {
		if f != without {
			sum += v
		}
	}
	return sum
}

// TestFieldLearnt estimates share and lengths of the field from what propellers of
// one series have in common, with the standard errors of a jackknife over families,
// and holds the constants to them. Learnt without a family they help it too.
func TestFieldLearnt(t *testing.T) {
	all := allSeen(t)
	ks := pairs(all, true, 0, 3)
	type tried struct {
		carryRule
		of map[string]float64
	}
	var grid []tried
	for _, share := range []float64{0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1} {
		for _, size := range []float64{0.15, 0.25, 0.35, 0.5, 0.7, 1, 1.4, 2} {
			for _, pitch := range []float64{0.1, 0.15, 0.2, 0.25, 0.35, 0.5, 0.7, 1} {
				r := carryRule{share, size, pitch}
				grid = append(grid, tried{r, losses(all, ks, r)})
			}
		}
	}
	learn := func(without string) tried {
		return slices.MinFunc(grid, func(a, b tried) int {
			switch x, y := total(a.of, without), total(b.of, without); {
			case x < y:
				return -1
			case x > y:
				return 1
			}
			return 0
		})
	}
	best := learn("")
	none := losses(all, ks, carryRule{0, 1, 1})
	constants := carryRule{field.SeriesShare, field.LengthDiameter, field.LengthPitch}
	of := losses(all, ks, constants)
	// What is within one standard error of the best cannot be told from it.
	within := func(o map[string]float64) bool {
		n := float64(len(none))
		var d, dd float64
		for f := range none {
			x := o[f] - best.of[f]
			d += x
			dd += x * x
		}
		return d <= math.Sqrt(n/(n-1)*(dd-d*d/n))
	}
	var lo, hi carryRule
	lo = best.carryRule
	hi = lo
	for _, g := range grid {
		if within(g.of) {
			lo = carryRule{min(lo.share, g.share), min(lo.size, g.size), min(lo.pitch, g.pitch)}
			hi = carryRule{max(hi.share, g.share), max(hi.size, g.size), max(hi.pitch, g.pitch)}
		}
	}
	t.Logf("%d pairs of %d families: best %+v, one standard error %+v to %+v; loss over none %.3f, of the constants "+
		"%.3f, of 0.6, 0.25, 0.2 %.3f", len(ks), len(none),
		best.carryRule, lo, hi, total(best.of, "")/total(none, ""), total(of, "")/total(none, ""),
		total(losses(all, ks, carryRule{0.6, 0.25, 0.2}), "")/total(none, ""))
	if lo != (carryRule{0.5, 0.25, 0.2}) || hi != (carryRule{1, 2, 1}) {
		t.Errorf("one standard error is %+v to %+v, package field says otherwise", lo, hi)
	}
	if !within(of) {
		t.Errorf("the constants %+v are further than one standard error from the best, %+v", constants, best.carryRule)
	}
	held, helped := 0.0, 0
	for f := range none {
		o := learn(f).of[f]
		held += o
		if o < none[f] {
			helped++
		}
	}
	t.Logf("families held out: loss over none %.3f, %d of %d families gain", held/total(none, ""), helped, len(none))
	if !(held < 0.9*total(none, "") && 2*helped > len(none)) {
		t.Error("learnt without a family, the field does not help it")
	}
	// Of another series nothing is carried.
	others := pairs(all, false, 0, 1)
	least, at := math.Inf(1), 0.0
	for _, share := range []float64{-0.3, -0.2, -0.1, 0, 0.1, 0.2, 0.3, 0.5} {
		l := total(losses(all, others, carryRule{share, field.LengthDiameter, field.LengthPitch}), "")
		if l < least {
			least, at = l, share
		}
	}
	t.Logf("%d pairs of other series: best share %.1f", len(others), at)
	if math.Abs(at-field.OtherShare) > 0.1 {
		t.Errorf("of other series a share of %g is best, want %g", at, float64(field.OtherShare))
	}
}

// carried gathers the errors of propellers, each corrected as a rule says.
func carried(t *testing.T, of []pair, rule func(k pair) Correction) *result {
	t.Helper()
	a := standard(t)
	sum := &result{}
	for _, k := range of {
		c := rule(k)
		r, err := validate([]propeller{{id: k.p.id, blades: k.p.blades, diameter: k.p.diameter, pitch: k.p.pitch,
			static: k.p.static.some(3), wind: k.p.wind.some(8)}},
			&setting{rotor: func(p propeller, _ air.Air) (Geometry, error) {
				g, err := nominal(p, a)
				g.Correction = c
				return g, err
			}})
		if err != nil {
			t.Fatal(err)
		}
		sum.add(r)
	}
	return sum
}

// conditional is the correction of p that the field has, given what was measured of
// others.
func conditional(t *testing.T, p *seen, others []*seen) Correction {
	t.Helper()
	K := mat.NewSymDense(len(others), nil)
	var given []field.Given
	k := make([]float64, len(others))
	for i, o := range others {
		for j := i; j < len(others); j++ {
			K.SetSym(i, j, field.Covariance(o.point(), others[j].point()))
		}
		k[i] = field.Covariance(p.point(), o.point())
		w := mat.NewSymDense(Unknowns, nil)
		for r := range Unknowns {
			for s := r; s < Unknowns; s++ {
				w.SetSym(r, s, (o.estimate.Information[r][s]+o.estimate.Information[s][r])/2)
			}
		}
		given = append(given, field.Given{Mean: o.estimate.Mean[:], Estimate: o.estimate.Offset[:], Information: w})
	}
	c, err := field.Condition(K, given)
	if err != nil {
		t.Fatal(err)
	}
	y, _ := c.At(k)
	return p.blade.CorrectionAt(Deviations(y))
}

// shareOf is a share of a correction.
func shareOf(c Correction, k float64) Correction {
	return Correction{Pitch: k * c.Pitch, Drag: math.Pow(1+c.Drag, k) - 1, Chord: math.Pow(1+c.Chord, k) - 1}
}

// TestFieldCarries compares the errors of propellers that others tell of: without
// correction, by six tenths of that of the same pitch ratio to 2 % and up to a
// factor of 1.25 in diameter, as was done before there was a field, and by the
// field.
func TestFieldCarries(t *testing.T) {
	t.Parallel()
	all := allSeen(t)
	none := func(pair) Correction { return Correction{} }
	before := func(k pair) Correction {
		size, _ := apart(k.p, k.q)
		if math.Abs(math.Log(k.p.pitch/k.p.diameter/(k.q.pitch/k.q.diameter))) <= 0.02 &&
			math.Abs(size) <= math.Log(1.25) {
			return shareOf(k.q.estimate.Correction, 0.6)
		}
		return Correction{}
	}
	now := func(k pair) Correction { return conditional(t, k.p, []*seen{k.q}) }
	thin := func(of []pair, most int) (out []pair) { // as most of them tell the same
		for i := 0; i < len(of); i += 1 + len(of)/most {
			out = append(out, of[i])
		}
		return out
	}
	var same []pair
	for _, k := range pairs(all, true, 0, 9) {
		if before(k) != (Correction{}) && k.p.diameter != k.q.diameter {
			same = append(same, k)
		}
	}
	type said map[string][2]float64 // median and 90th percentile in per cent
	for _, c := range []struct {
		what   string
		of     []pair
		most   float64 // by which median and 90th percentile together may grow over none, a share
		better bool    // than before
		said   said    // of the errors now
	}{
		{"of one series and pitch ratio", same, 0.03, false, nil},
		{"of one series, near", pairs(all, true, 0, 1), 0, true,
			said{"static CT": {7.0, 18.8}, "static CP": {8.8, 21.0}}},
		{"of one series, further", pairs(all, true, 1, 2), 0.03, false, nil},
		{"of one series, far", pairs(all, true, 2.5, 9), 0.02, false, nil},
		{"of other series, near", thin(pairs(all, false, 0, 1), 300), 0.2, false, said{"static CP": {11.9, 29.6}}},
		{"of other series, far", thin(pairs(all, false, 2.5, 9), 200), 0.02, false, nil},
	} {
		if testing.Short() && !c.better {
			continue // the others in the long form
		}
		a, b, d := carried(t, c.of, none), carried(t, c.of, before), carried(t, c.of, now)
		for _, q := range []struct {
			name    string
			a, b, d errorSet
		}{{"static CT", a.staticCT, b.staticCT, d.staticCT}, {"static CP", a.staticCP, b.staticCP, d.staticCP},
			{"CT in wind", a.windCT, b.windCT, d.windCT}, {"CP in wind", a.windCP, b.windCP, d.windCP}} {
			t.Logf("%s, %d pairs: %s %.1f/%.1f %% without, %.1f/%.1f before, %.1f/%.1f now", c.what, len(c.of), q.name,
				100*q.a.median(), 100*q.a.p90(), 100*q.b.median(), 100*q.b.p90(), 100*q.d.median(), 100*q.d.p90())
			both := func(e errorSet) float64 { return e.median() + e.p90() }
			if both(q.d) > (1+c.most)*both(q.a) {
				t.Errorf("%s: %s: worse than without correction", c.what, q.name)
			}
			if c.better && both(q.d) > both(q.b) {
				t.Errorf("%s: %s: worse than before there was a field", c.what, q.name)
			}
			if s, ok := c.said[q.name]; ok && (math.Abs(100*q.d.median()-s[0]) > 0.06 ||
				math.Abs(100*q.d.p90()-s[1]) > 0.06) {
				t.Errorf("%s: %s: %.2f/%.2f %%, said %v", c.what, q.name, 100*q.d.median(), 100*q.d.p90(), s)
			}
		}
	}
}

// TestFieldJoins tells each propeller by all others of its series together: that is
// better than by nothing, and than by the one that is nearest in diameter.
func TestFieldJoins(t *testing.T) {
	t.Parallel()
	all := allSeen(t)
	var of []pair
	corrections := map[string]Correction{}
	nearest := map[string]Correction{}
	for i := range all {
		p := &all[i]
		var others []*seen
		for j := range all {
			if o := &all[j]; i != j && o.family == p.family {
				others = append(others, o)
			}
		}
		if len(others) < 2 {
			continue
		}
		of = append(of, pair{p, others[0]})
		corrections[p.id] = conditional(t, p, others)
		ratio := math.Log(1.25)
		for _, o := range others {
			size, _ := apart(p, o)
			if p.blades == o.blades && math.Abs(math.Log(p.pitch/p.diameter/(o.pitch/o.diameter))) <= 0.02 &&
				math.Abs(size) <= ratio {
				ratio = math.Abs(size)
				nearest[p.id] = shareOf(o.estimate.Correction, 0.6)
			}
		}
	}
	a := carried(t, of, func(pair) Correction { return Correction{} })
	b := carried(t, of, func(k pair) Correction { return nearest[k.p.id] })
	d := carried(t, of, func(k pair) Correction { return corrections[k.p.id] })
	for _, q := range []struct {
		name    string
		a, b, d errorSet
	}{{"static CT", a.staticCT, b.staticCT, d.staticCT}, {"static CP", a.staticCP, b.staticCP, d.staticCP},
		{"CT in wind", a.windCT, b.windCT, d.windCT}, {"CP in wind", a.windCP, b.windCP, d.windCP}} {
		t.Logf("%d propellers: %s %.1f/%.1f %% without, %.1f/%.1f by the nearest, %.1f/%.1f by all", len(of), q.name,
			100*q.a.median(), 100*q.a.p90(), 100*q.b.median(), 100*q.b.p90(), 100*q.d.median(), 100*q.d.p90())
		if q.d.median() > q.b.median() || q.d.p90() > q.b.p90() {
			t.Errorf("%s: no better by all of the series than by the nearest", q.name)
		}
	}
}
