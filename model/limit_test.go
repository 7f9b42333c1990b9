package model

import (
	"math"
	"testing"

	"rotorsieve/model/flight"
)

// A craft whose pack limits it flies faster where more may be drawn, up to full throttle,
// and slower where less may; at its top speed the pack gives what it may. One that full
// throttle limits flies the same until the limit comes down to it.
func TestLimitsOfFlight(t *testing.T) {
	// A racing craft on a small pack, as in TestCommonCraft.
	d := Design{Diameter: 5 * in, Pitch: 5.2 * in, Blades: 3, Stator: stator(22, 7), KV: 1700,
		Cells: 6, Capacity: 1080 * 3.6, Payload: 0.145}
	fly := func(load, margin float64) *Craft {
		return evaluate(t, newModel(t, func(a *Assumptions) { a.PackLoad, a.CellMargin = load, margin }), d)
	}
	last := 0.0
	for _, load := range []float64{0, 0.02, 0.6, 0.8, 1, 1.2} {
		c := fly(load, 0)
		k, top := &c.Powertrain.Drive.Pack, &c.Flight.Top
		if c.Flight.Limit != flight.ByPack {
			t.Fatalf("at %g of the burst current top speed is held by %v", load, c.Flight.Limit)
		}
		if load <= 0.02 { // not enough to hover
			if top.Airspeed != 0 {
				t.Errorf("at %g of the burst current it flies %g m/s", load, top.Airspeed)
			}
			continue
		}
		if !(top.Airspeed > last) {
			t.Errorf("at %g of the burst current %g m/s, %g with less", load, top.Airspeed, last)
		}
		if use := top.PackCurrent / k.BurstLimit(); math.Abs(use-load) > 2e-3*load {
			t.Errorf("at top speed the pack gives %.4g of its burst current, want %g", use, load)
		}
		if required := c.TopLimit().Required; required != (load != UsualPackLoad) {
			t.Errorf("at %g of the burst current: %+v", load, c.TopLimit())
		}
		last = top.Airspeed
	}
	free := fly(10, -10)
	if free.Flight.Limit == flight.ByPack || !(free.Flight.Top.Airspeed > last) {
		t.Errorf("without limits of the pack %g m/s, held by %+v", free.Flight.Top.Airspeed, free.TopLimit())
	}
	for _, margin := range []float64{0.3, 0.5} {
		c := fly(10, margin)
		k, top := &c.Powertrain.Drive.Pack, &c.Flight.Top
		left := (top.PackVoltage - k.Floor) / float64(k.Cells)
		if c.Flight.Limit != flight.ByPack || math.Abs(left-margin) > 2e-3 {
			t.Errorf("%.4g V above the floor at top speed by %+v, want %g V", left, c.TopLimit(), margin)
		}
	}
	// Metrics at rest are of the pack, not of what may be drawn.
	for _, name := range []string{"pack-load", "voltage-margin", "thrust-to-weight", "hover-time"} {
		if a, b := value(t, fly(1, 0), name), value(t, fly(0.7, 0.2), name); a != b {
			t.Errorf("%s is %g, and %g by another limit of flight", name, a, b)
		}
	}
	for _, bad := range []struct{ load, margin float64 }{{-0.1, 0}, {math.NaN(), 0}, {1, math.NaN()}} {
		a := Defaults()
		a.PackLoad, a.CellMargin = bad.load, bad.margin
		if _, err := New(a); err == nil {
			t.Errorf("limits of %+v are accepted", bad)
		}
	}
}
