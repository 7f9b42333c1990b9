package model

import (
	"errors"
	"math/rand/v2"
	"slices"
	"testing"

	"rotorsieve/model/motor"
)

// Every warning is of a limit that is listed, and every limit that is listed warns.
func TestValidities(t *testing.T) {
	t.Parallel()
	warned := map[*Validity]bool{}
	note := func(m *Model, d Design) {
		t.Helper()
		c, err := m.Evaluate(d)
		if errors.Is(err, ErrNoOperatingPoint) {
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		for _, kind := range []struct {
			marks        []Mark
			extrapolated bool
		}{{c.Warnings(), false}, {c.Extrapolations(), true}} {
			for _, x := range kind.marks {
				if !slices.Contains(Validities, x.Limit) || x.Limit.Extrapolated != kind.extrapolated {
					t.Errorf("%+v is of no limit of its kind that is listed", x)
				}
				warned[x.Limit] = true
			}
		}
	}
	plain := newModel(t, nil)
	r := rand.New(rand.NewPCG(31, 32))
	for range 60 {
		note(plain, randomDesign(r))
	}
	tiny := Design{Diameter: 2 * in, Pitch: 1 * in, Blades: 2, Chord: 0.06, Stator: stator(9, 3), KV: 22000, Cells: 1,
		Capacity: 450 * 3.6}
	note(newModel(t, func(a *Assumptions) { a.Temperature, a.PackTemperature, a.Avionics = 253.15, 253.15, 0.005 }),
		tiny)
	far, err := EvidenceOf(Measured{Diameter: 10 * in, Pitch: 10 * in, Blades: 2, Points: 1})
	if err != nil {
		t.Fatal(err)
	}
	note(newModel(t, func(a *Assumptions) { a.Evidence = far }), freestyle)
	hot := freestyle
	hot.Stator, hot.Payload = stator(11, 3), 1
	note(plain, hot)
	tall := freestyle
	tall.Stator = stator(28, 20)
	note(plain, tall)
	hard := freestyle
	hard.KV = 2600
	note(newModel(t, func(a *Assumptions) { a.Board = motor.Joined }), hard)
	wide := freestyle
	wide.Diameter, wide.Pitch, wide.Stator = 12*in, 5*in, stator(28, 10)
	note(plain, wide)
	for _, v := range Validities {
		if v.What == "" || v.Range == "" {
			t.Errorf("a limit says nothing: %+v", v)
		}
		if !warned[v] {
			t.Errorf("%s, %s: no craft was warned of it", v.What, v.Range)
		}
	}
	ordinary, err := plain.Evaluate(freestyle)
	if err != nil {
		t.Fatal(err)
	}
	if w := ordinary.Warnings(); len(w) > 0 {
		t.Errorf("an ordinary craft is warned of %+v", w)
	}
	// Just past a limit there is a warning, just within there is none.
	heavy := *ordinary
	for _, side := range []struct {
		mass float64
		want bool
	}{{ValidMass.Max * 0.999, false}, {ValidMass.Max * 1.001, true}} {
		heavy.Mass = side.mass
		if got := slices.ContainsFunc(heavy.Warnings(),
			func(x Mark) bool { return x.Limit == validMass }); got != side.want {
			t.Errorf("%g kg: marked %v", side.mass, got)
		}
	}
}
