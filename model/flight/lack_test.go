package flight

import (
	"testing"
)

// Each reason why a point is lacking, by a craft that gives it; with none a point
// exists.
func TestLack(t *testing.T) {
	p := propulsor(t, 0.127)
	for _, x := range []struct {
		name   string
		kv     float64
		cells  int
		mAh    float64
		thrust float64 // N
		change func(*Drive)
		full   Lack
		hover  Lack
	}{
		{name: "an ordinary craft", kv: 1750, cells: 4, mAh: 1500, thrust: 1.5},
		{name: "a craft too heavy for its volts", kv: 900, cells: 3, mAh: 1300, thrust: 4.7, hover: PastDuty},
		{name: "a craft too heavy for its pack", kv: 1750, cells: 2, mAh: 100, thrust: 6, hover: PastPower},
		{name: "a craft too heavy for its propellers", kv: 1750, cells: 4, mAh: 1500, thrust: 1e3, hover: TooFast},
		{name: "a craft too light for its propellers", kv: 1750, cells: 4, mAh: 1500, thrust: 1e-4, hover: TooSlow},
		{name: "motors too fast for the model", kv: 4000, cells: 14, mAh: 9000, thrust: 1.5, full: TooFast,
			change: func(d *Drive) { d.Motor.R, d.Pack.R = 1e-5, 1e-5 }},
		{name: "motors too slow for the model", kv: 60, cells: 1, mAh: 1500, thrust: 1.5, full: TooSlow,
			hover: PastDuty},
		{name: "a pack too weak for its avionics", kv: 1750, cells: 1, mAh: 60, thrust: 0.1, full: PastPower,
			hover:  PastPower,
			change: func(d *Drive) { d.Avionics = 500 }},
	} {
		d := drive(t, x.kv, x.cells, x.mAh)
		if x.change != nil {
			x.change(&d)
		}
		f := d.Static(&p)
		if got := d.StaticLack(&p, &f); got != x.full || f.OK != (x.full == NoLack) {
			t.Errorf("%s: full throttle lacks %d, want %d (%+v)", x.name, got, x.full, f)
		}
		h := d.Hover(&p, rated, x.thrust)
		got, duty := d.HoverLack(&p, rated, x.thrust)
		if got != x.hover || h.OK != (x.hover == NoLack) {
			t.Errorf("%s: hover lacks %d, want %d (%+v)", x.name, got, x.hover, h)
		}
		if (got == PastDuty) != (duty > 1) {
			t.Errorf("%s: hover lacks %d at a duty of %g", x.name, got, duty)
		}
	}
}

// Hover ends where its duty reaches 1, and nowhere before.
func TestHoverEndsAtFullDuty(t *testing.T) {
	p := propulsor(t, 0.127)
	d := drive(t, 1000, 3, 1300)
	last := Point{}
	for thrust := 0.5; ; thrust *= 1.001 {
		h := d.Hover(&p, rated, thrust)
		if !h.OK {
			if !(last.Duty > 0.995 && h.Duty > 1 && h.Duty < 1.005) {
				t.Errorf("hover ends between the duties %g and %g", last.Duty, h.Duty)
			}
			break
		}
		last = h
	}
}
