package model

import (
	"errors"
	"math"
	"testing"

	"rotorsieve/model/flight"
)

// A craft without an operating point says why; one that has both says nothing.
func TestLacking(t *testing.T) {
	m := newModel(t, nil)
	plain := Design{Diameter: 5 * in, Pitch: 4 * in, Blades: 3, Stator: stator(22, 7), KV: 1050, Cells: 3,
		Capacity: 1300 * 3.6}
	heavy, slow, wild, huge := plain, plain, plain, plain
	heavy.Payload = 1.5
	slow.KV, slow.Cells = 60, 1
	wild.KV, wild.Cells, wild.Capacity, wild.Diameter, wild.Pitch, wild.Blades = 9000, 8, 2000*3.6, 3*in, 1*in, 2
	huge.Payload = 20
	const still = false
	for _, x := range []struct {
		name string
		d    Design
		want []Lack
	}{
		{"plain", plain, nil},
		{"too heavy", heavy, []Lack{{Hover: true, Why: flight.PastDuty, Duty: 2.07, ThrustToWeight: 0.293}}},
		{"too slow", slow, []Lack{{Hover: still, Why: flight.TooSlow, Speed: 1023.0 / 60},
			{Hover: true, Why: flight.PastDuty}}},
		{"too fast", wild, []Lack{{Hover: still, Why: flight.TooFast, Speed: 85290.0 / 60, TipMach: 1}}},
		{"far too heavy", huge, []Lack{{Hover: true, Why: flight.TooFast}}},
	} {
		c, err := m.Evaluate(x.d)
		if errors.Is(err, ErrNoOperatingPoint) != (len(x.want) > 0) || err != nil &&
			!errors.Is(err, ErrNoOperatingPoint) {
			t.Fatalf("%s: %v", x.name, err)
		}
		got := c.Lacking()
		if len(got) != len(x.want) {
			t.Errorf("%s: %+v, want %+v", x.name, got, x.want)
			continue
		}
		near := func(v, want float64) bool { return want == 0 || math.Abs(v/want-1) < 3e-3 }
		for i, want := range x.want {
			if g := got[i]; g.Hover != want.Hover || g.Why != want.Why || !near(g.Speed, want.Speed) ||
				!near(g.TipMach, want.TipMach) ||
				!near(g.Duty, want.Duty) || !near(g.ThrustToWeight, want.ThrustToWeight) {
				t.Errorf("%s: %+v, want %+v", x.name, g, want)
			}
		}
	}
}
