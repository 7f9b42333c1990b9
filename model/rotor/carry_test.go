package rotor

import (
	"math"
	"testing"

	"rotorsieve/model/air"
)

// carry compares errors of static CT and CP without correction and with that of
// another propeller, calibrated by one static point and carried over, on all
// ordered pairs with the same number of blades and a pitch ratio equal to 2 %
// whose diameters differ by a factor from lo to hi.
func carry(t *testing.T, series bool, lo, hi float64, share func(c Correction, from, to propeller) Correction) (pairs int, plain, carried result) {
	t.Helper()
	a, all := standard(t), measurements(t)
	corrections := make([]Correction, len(all))
	for i, p := range all {
		g, err := calibrated(nominal)(p, a)
		if err != nil {
			t.Fatalf("%s: %v", p.id, err)
		}
		corrections[i] = g.Correction
	}
	add := func(r *result, p propeller, c Correction, a air.Air) {
		g, err := nominal(p, a)
		if err != nil {
			t.Fatal(err)
		}
		g.Correction = c
		s, err := New(g, a)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range p.static.some(3) {
			pt, err := s.Solve(0, m.n)
			if err != nil {
				t.Fatal(err)
			}
			r.staticCT = append(r.staticCT, pt.CT/m.CT-1)
			r.staticCP = append(r.staticCP, pt.CP/m.CP-1)
		}
	}
	for i, p := range all {
		for j, q := range all {
			ratio := math.Exp(math.Abs(math.Log(p.diameter / q.diameter)))
			pitch := math.Abs(math.Log(p.pitch / p.diameter / (q.pitch / q.diameter)))
			if i == j || p.blades != q.blades || (p.family == q.family) != series || pitch > 0.02 || ratio < lo || ratio > hi {
				continue
			}
			pairs++
			add(&plain, p, Correction{}, a)
			add(&carried, p, share(corrections[j], q, p), a)
		}
	}
	return pairs, plain, carried
}

// What one size of a series measures helps the next, in part more than in full;
// what a propeller of another series measures does harm.
func TestCarried(t *testing.T) {
	full := func(c Correction, _, _ propeller) Correction { return c }
	inPart := func(c Correction, _, _ propeller) Correction { return c.Carried() }
	// As the comment of Carried says of it, towards the means of the prior.
	towardsMean := func(c Correction, from, to propeller) Correction {
		p := prior{mean: genericPrior(to.diameter, false).mean}
		z := [unknowns]float64{c.Pitch, math.Log1p(c.Drag), math.Log1p(c.Chord)}
		for k, m := range genericPrior(from.diameter, false).mean {
			p.mean[k] += carriedShare * (z[k] - m)
		}
		return p.correction([unknowns]float64{})
	}
	show := func(what string, pairs int, a, b result) {
		t.Logf("%s, %d pairs: CT %.1f/%.1f -> %.1f/%.1f %%, CP %.1f/%.1f -> %.1f/%.1f %%", what, pairs,
			100*a.staticCT.median(), 100*a.staticCT.p90(), 100*b.staticCT.median(), 100*b.staticCT.p90(),
			100*a.staticCP.median(), 100*a.staticCP.p90(), 100*b.staticCP.median(), 100*b.staticCP.p90())
	}
	pairs, plain, part := carry(t, true, 1.001, 1.25, inPart)
	_, _, whole := carry(t, true, 1.001, 1.25, full)
	far, farPlain, farPart := carry(t, true, 1.25, 2.5, inPart)
	others, otherPlain, otherPart := carry(t, false, 1, 1.25, inPart)
	show("same series", pairs, plain, part)
	show("same series, in full", pairs, plain, whole)
	_, _, mean := carry(t, true, 1.001, 1.25, towardsMean)
	show("same series, towards the means", pairs, plain, mean)
	for k, c := range [2]struct {
		e    errorSet
		said [2]float64
	}{{mean.staticCT, [2]float64{7.0, 17.3}}, {mean.staticCP, [2]float64{11.0, 25.2}}} {
		if m, q := 100*c.e.median(), 100*c.e.p90(); math.Abs(m-c.said[0]) > 0.06 || math.Abs(q-c.said[1]) > 0.06 {
			t.Errorf("towards the means: quantity %d: median error %.2f %%, 90th percentile %.2f %%, said %g", k, m, q, c.said)
		}
	}
	show("same series, further", far, farPlain, farPart)
	show("other series", others, otherPlain, otherPart)
	if pairs < 25 {
		t.Errorf("%d pairs, want at least 25", pairs)
	}
	if a, b, c := plain.staticCT, part.staticCT, whole.staticCT; !(b.p90() < 0.8*a.p90() && b.median() < a.median()+0.005 && b.median() < c.median()) {
		t.Error("carried in part does not improve CT, or less than in full")
	}
	if a, b, c := plain.staticCP, part.staticCP, whole.staticCP; !(b.p90() < a.p90() && b.median() < 0.9*a.median() && b.median() < c.median()) {
		t.Error("carried in part does not improve CP, or less than in full")
	}
	if !(otherPart.staticCT.median() > otherPlain.staticCT.median() && otherPart.staticCP.median() > otherPlain.staticCP.median()) {
		t.Error("carried to other series it does no harm, against what is documented")
	}
}

func TestCarriedKeepsNothing(t *testing.T) {
	if c := (Correction{}).Carried(); c != (Correction{}) {
		t.Errorf("no correction becomes %+v", c)
	}
	c := Correction{Pitch: 0.02, Drag: 0.3, Chord: -0.1}
	if k := c.Carried(); !(k.Pitch > 0 && k.Pitch < c.Pitch && k.Drag > 0 && k.Drag < c.Drag && k.Chord < 0 && k.Chord > c.Chord) {
		t.Errorf("%+v becomes %+v, want it nearer to none", c, k)
	}
}
