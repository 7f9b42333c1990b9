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
func carry(t *testing.T, series bool, lo, hi float64, share func(Correction) Correction) (pairs int, plain, carried result) {
	t.Helper()
	a, all := standard(t), measurements(t)
	corrections := make([]*Correction, len(all))
	for i, p := range all {
		g, err := calibrated(nominal)(p, a)
		if err == nil { // two are too far from the generic blade
			corrections[i] = &g.Correction
		}
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
			if i == j || corrections[j] == nil || p.blades != q.blades || (p.family == q.family) != series || pitch > 0.02 || ratio < lo || ratio > hi {
				continue
			}
			pairs++
			add(&plain, p, Correction{}, a)
			add(&carried, p, share(*corrections[j]), a)
		}
	}
	return pairs, plain, carried
}

// What one size of a series measures helps the next, in part more than in full;
// what a propeller of another series measures does harm.
func TestCarried(t *testing.T) {
	full := func(c Correction) Correction { return c }
	show := func(what string, pairs int, a, b result) {
		t.Logf("%s, %d pairs: CT %.1f/%.1f -> %.1f/%.1f %%, CP %.1f/%.1f -> %.1f/%.1f %%", what, pairs,
			100*a.staticCT.median(), 100*a.staticCT.p90(), 100*b.staticCT.median(), 100*b.staticCT.p90(),
			100*a.staticCP.median(), 100*a.staticCP.p90(), 100*b.staticCP.median(), 100*b.staticCP.p90())
	}
	pairs, plain, part := carry(t, true, 1.001, 1.25, Correction.Carried)
	_, _, whole := carry(t, true, 1.001, 1.25, full)
	far, farPlain, farPart := carry(t, true, 1.25, 2.5, Correction.Carried)
	others, otherPlain, otherPart := carry(t, false, 1, 1.25, Correction.Carried)
	show("same series", pairs, plain, part)
	show("same series, in full", pairs, plain, whole)
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
