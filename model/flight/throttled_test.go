package flight

import (
	"math"
	"testing"
)

// Full throttle that is held back gives what the propeller gives at that speed, by the
// chain of hover, and comes to full throttle as the speed does, but for what is switched.
func TestThrottled(t *testing.T) {
	t.Parallel()
	p := propulsor(t, 0.127)
	d := drive(t, 1750, 6, 1300)
	full := d.Static(&p)
	if full.Duty != 1 || full.Chopping != 0 {
		t.Errorf("full throttle at a duty of %g, chopping %g W", full.Duty, full.Chopping)
	}
	if near := d.Throttled(&p, &full, full.Speed*(1-1e-9)); math.Abs(near.Thrust/full.Thrust-1) > 1e-6 ||
		math.Abs(near.Torque/full.Torque-1) > 1e-6 || math.Abs(near.Current/full.Current-1) > 1e-6 ||
		near.PackCurrent < full.PackCurrent || near.PackCurrent > 1.03*full.PackCurrent || near.Duty < 0.97 {
		t.Errorf("just below full throttle %+v, at it %+v", near, full)
	}
	was := full
	for part := 0.95; part > 0.3; part -= 0.05 {
		at := d.Throttled(&p, &full, part*full.Speed)
		T, Q := p.static(at.Speed)
		h := d.Turn(full.Controller, d.RestedTop, at.Speed, at.Torque)
		if !at.OK || at.Thrust != T || at.Torque != Q || at.PackCurrent != h.PackCurrent || at.Chopping != h.Chopping ||
			at.Controller != full.Controller {
			t.Fatalf("at %.2f of the speed %+v", part, at)
		}
		if at.PackCurrent >= was.PackCurrent || at.PackVoltage <= was.PackVoltage || at.Duty >= was.Duty {
			t.Errorf("less throttle: %+v, after %+v", at, was)
		}
		if d.Keeps(&at) {
			t.Error("a throttle that is held back is taken for full duty")
		}
		was = at
	}
}
