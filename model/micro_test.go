package model

import (
	"slices"
	"testing"

	"rotorsieve/model/motor"
)

// Craft of 2 and 2.5 in on joined boards weigh, without pack, what those of the trade do
// (common practice): 60 to 80 g with a digital image link of 15 to 20 g, a flight controller
// of 4.5 g, receiver and antennas.
func TestMicroCraft(t *testing.T) {
	m := newModel(t, func(a *Assumptions) { a.Board, a.Avionics = motor.Joined, 0.023 })
	for _, d := range []Design{
		{Diameter: 2 * in, Pitch: 1.6 * in, Blades: 4, Stator: stator(11, 3), KV: 9300, Cells: 3, Capacity: 450 * 3.6},
		{Diameter: 2 * in, Pitch: 1.6 * in, Blades: 3, Stator: stator(12, 4), KV: 6400, Cells: 4, Capacity: 450 * 3.6},
		{Diameter: 2.5 * in, Pitch: 1.8 * in, Blades: 3, Stator: stator(12, 4), KV: 5200, Cells: 4,
			Capacity: 450 * 3.6},
	} {
		c := evaluate(t, m, d)
		without := c.Mass - c.Powertrain.Drive.Pack.Mass
		t.Logf("%g in: %.3g g without pack, %+v", d.Diameter/in, 1e3*without, c.Masses())
		if !(without > 0.060*0.95 && without < 0.080) {
			t.Errorf("%g in: %.3g g without pack, common practice 60 to 80", d.Diameter/in, 1e3*without)
		}
	}
}

// A joined board is marked where its controllers are larger than boards of the kind have.
func TestJoinedMark(t *testing.T) {
	m := newModel(t, func(a *Assumptions) { a.Board = motor.Joined })
	for _, x := range []struct {
		kv     float64
		marked bool
	}{{1300, false}, {2600, true}} {
		d := freestyle
		d.KV = x.kv
		c := evaluate(t, m, d)
		rating := c.Powertrain.Full.Controller.Rating
		if over := rating > motor.MaxJoined; over != x.marked {
			t.Fatalf("%g rpm/V: a controller of %g A", x.kv, rating)
		}
		if got := slices.ContainsFunc(c.Warnings(),
			func(x Mark) bool { return x.Limit == validJoined }); got != x.marked {
			t.Errorf("%g A: marked %v", rating, got)
		}
	}
}

// The lightest craft that the model builds: the smallest propellers, a joined board, 8 g of
// avionics (flight controller, receiver, analogue camera and video), 1S. It flies with some
// thrust to spare and keeps what its parts stand. Of motors within the regressions it is
// 46 g; of the smallest that are accepted 32 g, marked. With the usual 30 g of avionics the
// first is one of 68 g, and of 72 g with the speed controllers on a board of their own.
func TestLightestCraft(t *testing.T) {
	for _, x := range []struct {
		board    motor.Board
		avionics float64 // kg
		stator   motor.Stator
		kv       float64
		grams    float64
	}{
		{motor.Joined, 0.008, stator(motor.MinDiameter*1e3, motor.MinHeight*1e3), 9900, 46.3},
		{motor.Joined, 0.008, motor.Stator{Diameter: StatorDBound.Min, Height: StatorHBound.Min}, 16300, 32.2},
		{motor.Joined, 0.030, stator(motor.MinDiameter*1e3, motor.MinHeight*1e3), 11000, 68.3},
		{motor.Separate, 0.030, stator(motor.MinDiameter*1e3, motor.MinHeight*1e3), 11000, 72.3},
	} {
		m := newModel(t, func(a *Assumptions) { a.Board, a.Avionics, a.AvionicsPower = x.board, x.avionics, 1 })
		c := evaluate(t, m, Design{Diameter: DiameterBound.Min, Pitch: 1.2 * in, Blades: 2, Stator: x.stator, KV: x.kv,
			Cells: 1, Capacity: 200 * 3.6})
		if g := 1e3 * c.Mass; !(g > x.grams-0.5 && g < x.grams+0.5) {
			t.Errorf("%v board, avionics of %g kg, %+v: %.4g g, said to be %g g", x.board, x.avionics, x.stator, g,
				x.grams)
		}
		for name, holds := range map[string]func(v float64) bool{
			"thrust-to-weight":  func(v float64) bool { return v >= 1.5 },
			"hover-throttle":    func(v float64) bool { return v <= 0.85 },
			"pack-load":         func(v float64) bool { return v <= 1 },
			"voltage-margin":    func(v float64) bool { return v >= 0 },
			"motor-temperature": func(v float64) bool { return v <= motor.ContinuousLimit },
			"hover-time":        func(v float64) bool { return v >= 90 },
		} {
			if v := value(t, c, name); !holds(v) {
				t.Errorf("the craft of %g g: %s is %g", x.grams, name, v)
			}
		}
	}
}
