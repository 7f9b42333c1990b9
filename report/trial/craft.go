package trial

import (
	"testing"

	"rotorsieve/model"
	"rotorsieve/model/motor"
	"rotorsieve/sweep"
)

// Weak is the KV of a design that hovers, but with less thrust than the usual
// reserve.
const Weak = 892

// SomeDesign is an invented one; kv chooses between a good one and one that
// cannot hover.
func SomeDesign(t testing.TB, kv float64) (model.Design, *model.Craft, error) {
	t.Helper()
	d := model.Design{Diameter: 5 * 0.0254, Pitch: 3 * 0.0254, Blades: 3, Stator: sweep.StatorOf(2207),
		KV: kv, Cells: 4, Capacity: 1500 * 3.6, Payload: 0.030}
	a := model.Defaults()
	a.Altitude = 1600
	c, err := Model(t, a).Evaluate(d)
	return d, c, err
}

// HotCraft is a 5 in craft whose motors stand neither full throttle nor top speed for long.
func HotCraft(t *testing.T) *model.Craft {
	t.Helper()
	const in, mAh = 0.0254, 3.6
	c, err := Model(t, model.Defaults()).Evaluate(model.Design{Diameter: 5 * in, Pitch: 4.5 * in, Blades: 3,
		Stator: motor.Stator{Diameter: 0.020, Height: 0.006}, KV: 2300,
		Cells: 6, Capacity: 1500 * mAh, Payload: 0.1})
	if err != nil {
		t.Fatal(err)
	}
	return c
}
