package model

import (
	"errors"
	"strings"
	"testing"
)

// A craft without an operating point says why; one that has both says nothing.
func TestLacking(t *testing.T) {
	m := newModel(t, nil)
	plain := Design{Diameter: 5 * in, Pitch: 4 * in, Blades: 3, Stator: stator(22, 7), KV: 1050, Cells: 3, Capacity: 1300 * 3.6}
	heavy, slow, wild, huge := plain, plain, plain, plain
	heavy.Payload = 1.5
	slow.KV, slow.Cells = 60, 1
	wild.KV, wild.Cells, wild.Capacity, wild.Diameter, wild.Pitch, wild.Blades = 9000, 8, 2000*3.6, 3*in, 1*in, 2
	huge.Payload = 20
	for _, x := range []struct {
		name string
		d    Design
		want []string // what each line says
	}{
		{"plain", plain, nil},
		{"too heavy", heavy, []string{"hover would need 207 % duty at the pack's mean voltage; static thrust to weight is 0.293"}},
		{"too slow", slow, []string{"full throttle at rest does not turn the propellers faster than 1023 rpm, where the rotor model begins", " % duty at the pack's mean voltage"}},
		{"too fast", wild, []string{"full throttle at rest would turn the propellers past 85290 rpm, tip Mach 1, where the rotor model ends"}},
		{"far too heavy", huge, []string{"hover asks for "}},
	} {
		c, err := m.Evaluate(x.d)
		if errors.Is(err, ErrNoOperatingPoint) != (len(x.want) > 0) || err != nil && !errors.Is(err, ErrNoOperatingPoint) {
			t.Fatalf("%s: %v", x.name, err)
		}
		got := c.Lacking()
		if len(got) != len(x.want) {
			t.Errorf("%s: %q, want %q", x.name, got, x.want)
			continue
		}
		for i, want := range x.want {
			if !strings.Contains(got[i], want) {
				t.Errorf("%s: %q, want %q", x.name, got[i], want)
			}
		}
	}
}
