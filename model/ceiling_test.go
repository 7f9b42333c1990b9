package model

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Every craft that operates has a ceiling or is told why it has none, and thrust to
// weight at the ceiling is the reserve where that sets it.
func TestCeiling(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(41, 42))
	seen := map[CeilingLimit]int{}
	for _, place := range []struct {
		altitude, temperature float64 // K, 0 for the standard's
	}{{0, 0}, {1600, 0}, {0, 238.15}, {3000, 313.15}} {
		set := func(a *Assumptions) { a.Altitude, a.Temperature = place.altitude, place.temperature }
		m := newModel(t, set)
		for range 20 {
			d := randomDesign(r)
			c, err := m.Evaluate(d)
			if err != nil {
				continue
			}
			c.Explain()
			h, by := c.findCeiling()
			seen[by]++
			if got := value(t, c, "ceiling"); got != h && !(math.IsNaN(got) && math.IsNaN(h)) {
				t.Errorf("the metric says %g m, the search %g m", got, h)
			}
			if c.CeilingLimit() != by {
				t.Errorf("ceiling by %d, told as by %d", by, c.CeilingLimit())
			}
			if least := by == ByAltitude || by == ByAir || by == ByRotor; c.CeilingIsLeast() != least {
				t.Errorf("ceiling by %d: at least so high is %v", by, c.CeilingIsLeast())
			}
			switch reserve := m.Assume.ThrustReserve; by {
			case NoCeiling:
				if !math.IsNaN(h) || c.thrustToWeight >= reserve {
					t.Errorf("no ceiling, but %g m and thrust to weight %g", h, c.thrustToWeight)
				}
			case ByReserve:
				if (h > place.altitude+1) != (c.thrustToWeight > reserve) && math.Abs(h-place.altitude) > 1 {
					t.Errorf("ceiling at %g m with a thrust to weight of %g at %g m", h, c.thrustToWeight,
						place.altitude)
				}
			default:
				if !(h >= place.altitude && h <= AltitudeBound.Max) || c.thrustToWeight < reserve {
					t.Errorf("ceiling at %g m, limit %d, thrust to weight %g", h, by, c.thrustToWeight)
				}
			}
		}
	}
	t.Log(seen)
	for _, by := range []CeilingLimit{ByReserve, ByAltitude, ByAir, NoCeiling} {
		if seen[by] == 0 {
			t.Errorf("no craft is limited by %d", by)
		}
	}
}

// A ceiling below the place where the craft is judged is found, and one that the
// rotor model ends is said to be so.
func TestCeilingLimits(t *testing.T) {
	m := newModel(t, func(a *Assumptions) { liIon(a); a.Altitude = 1600 })
	c := evaluate(t, m, cruiser)
	reserve := c.thrustToWeight * 1.06
	m.Assume.ThrustReserve = reserve
	h, by := c.findCeiling()
	if by != ByReserve || !(h > -500 && h < 1600) {
		t.Fatalf("ceiling at %g m by %d, want one below 1600 m", h, by)
	}
	if low := evaluate(t, newModel(t, func(a *Assumptions) { liIon(a); a.Altitude = h }),
		cruiser); math.Abs(low.thrustToWeight/reserve-1) > 1e-3 {
		t.Errorf("thrust to weight at %g m is %g, want %g", h, low.thrustToWeight, reserve)
	}
	c.Explain()
	if got := c.CeilingLimit(); got != ByReserve {
		t.Errorf("ceiling by %d", got)
	}

	fast := Design{Diameter: 5 * in, Pitch: 1.5 * in, Blades: 2, Chord: 0.08, Stator: stator(28, 12), KV: 2400,
		Cells: 6, Capacity: 3000 * 3.6}
	c = evaluate(t, newModel(t, nil), fast)
	c.Model.Assume.ThrustReserve = 1
	if M := value(t, c, "tip-mach"); M < 0.8 {
		t.Fatalf("tip Mach number %g, want a craft near the end of the rotor model", M)
	}
	c.Explain()
	if h, by := c.ceiling, c.ceilingBy; by != ByRotor || !(h > 0 && h < AltitudeBound.Max) ||
		c.CeilingLimit() != ByRotor {
		t.Errorf("ceiling at %g m by %d, full throttle at tip Mach %.3g: %d", h, by, value(t, c, "tip-mach"),
			c.CeilingLimit())
	}
}
