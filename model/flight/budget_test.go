package flight

import (
	"math"
	"testing"

	"rotorsieve/model/motor"
)

// The parts of the power of a point add up to it, from idling to nearly full duty, of
// motors of much and little reactance.
func TestBudget(t *testing.T) {
	t.Parallel()
	p := propulsor(t, 0.127)
	points := 0
	for _, kv := range []float64{700, 1750, 3500} {
		d := drive(t, kv, 6, 1100)
		for _, c := range []motor.Controller{motors.Rated(12), rated} {
			for thrust := 0.05; thrust < 20; thrust *= 1.5 {
				h := d.Hover(&p, c, thrust)
				if !h.OK {
					break
				}
				points++
				b := d.Budget(c, &h)
				if math.Abs(b.Sum()-h.Power) > 1e-9*h.Power {
					t.Errorf("KV %g, %g N: the parts make %.12g W, the pack gives %.12g W: %+v", kv, thrust, b.Sum(),
						h.Power, b)
				}
				if !(b.Shaft > 0 && b.Friction > 0 && b.Winding > 0 && b.Leads > 0 && b.Board > 0 && b.Chopping > 0) {
					t.Errorf("KV %g, %g N: %+v", kv, thrust, b)
				}
			}
		}
	}
	if points < 40 {
		t.Errorf("%d points", points)
	}
}
