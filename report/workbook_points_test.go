package report

import (
	"strings"
	"testing"

	"rotorsieve/model"
	"rotorsieve/model/motor"
)

// hotCraft is a 5 in craft whose motors stand neither full throttle nor top speed for long.
func hotCraft(t *testing.T) *model.Craft {
	t.Helper()
	m, err := model.New(model.Defaults())
	if err != nil {
		t.Fatal(err)
	}
	const in, mAh = 0.0254, 3.6
	c, err := m.Evaluate(model.Design{Diameter: 5 * in, Pitch: 4.5 * in, Blades: 3, Stator: motor.Stator{Diameter: 0.020, Height: 0.006}, KV: 2300,
		Cells: 6, Capacity: 1500 * mAh, Payload: 0.1})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// Every point of a craft that flies has a temperature, or says why it is not
// steady; that of least power is the metric's.
func TestPointTemperatures(t *testing.T) {
	c := hotCraft(t)
	all := points(c)
	if len(all) != 5 {
		t.Fatalf("%d points, want 5", len(all))
	}
	for i := range all {
		if p := &all[i]; finite(p.Temperature) == (p.Heat != "") {
			t.Errorf("%s: %g K and %q", p.Title, p.Temperature, p.Heat)
		}
	}
	if want := metric("cruise-motor-temperature").Of(c); all[2].Temperature != want {
		t.Errorf("%s: %g K, want %g", all[2].Title, all[2].Temperature, want)
	}
	if !(all[3].Temperature > c.Model.Air.Temperature) {
		t.Errorf("%s %g K, air %g K", all[3].Title, all[3].Temperature, c.Model.Air.Temperature)
	}
	// More current at about the same cooling is hotter, here than can be held: for
	// longer than full throttle at rest, which draws more in less of a wind.
	burst, dash := metric("burst-time"), metric("top-speed-time")
	if !(dash.Of(c) > burst.Of(c) && dash.Of(c) < dash.Cap) {
		t.Errorf("the motors stand %g s of full throttle and %g s of top speed", burst.Of(c), dash.Of(c))
	}
	for i, m := range map[int]*model.Metric{1: burst, 4: dash} {
		if want := m.Unit.Format(m.Of(c), 3) + " to 120 °C"; !strings.Contains(all[i].Heat, want) {
			t.Errorf("%s: %q does not say %q", all[i].Title, all[i].Heat, want)
		}
	}
}

// A finished run knows again that a ceiling is at least its value.
func TestFinishedAtLeast(t *testing.T) {
	first, _, dirs := twoRuns(t)
	f, err := ReadFinished(dirs[0])
	if err != nil {
		t.Fatal(err)
	}
	found, err := first.findings()
	if err != nil {
		t.Fatal(err)
	}
	known := 0
	for i := range found {
		e := found[i].Best()
		if e == nil {
			continue
		}
		x := e.row(&found[i].Class)
		if got := f.Classes[i].Best.highest; got != x.highest {
			t.Errorf("%s: read back as %v, want %v", found[i].Class.Label, got, x.highest)
		}
		if x.highest {
			known++
		}
	}
	if known == 0 {
		t.Fatal("no ceiling of the study is bounded by the model")
	}
}
