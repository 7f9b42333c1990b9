package sheet

import (
	"strings"
	"testing"

	"rotorsieve/model"
	"rotorsieve/report/finding"
	"rotorsieve/report/trial"
	"rotorsieve/report/words"
)

// Every point of a craft that flies has a temperature, or says why it is not
// steady; that of least power is the metric's.
func TestPointTemperatures(t *testing.T) {
	t.Parallel()
	c := trial.HotCraft(t)
	all := words.Points(c)
	if len(all) != 5 {
		t.Fatalf("%d points, want 5", len(all))
	}
	for i := range all {
		if p := &all[i]; finding.Finite(p.Temperature) == (p.Heat != "") {
			t.Errorf("%s: %g K and %q", p.Title, p.Temperature, p.Heat)
		}
	}
	if want := finding.Metric("cruise-motor-temperature").Of(c); all[2].Temperature != want {
		t.Errorf("%s: %g K, want %g", all[2].Title, all[2].Temperature, want)
	}
	if !(all[3].Temperature > c.Model.Air.Temperature) {
		t.Errorf("%s %g K, air %g K", all[3].Title, all[3].Temperature, c.Model.Air.Temperature)
	}
	// More current at about the same cooling is hotter, here than can be held: for
	// longer than full throttle at rest, which draws more in less of a wind.
	burst, dash := finding.Metric("burst-time"), finding.Metric("top-speed-time")
	if !(dash.Of(c) > burst.Of(c) && dash.Of(c) < dash.Cap) {
		t.Errorf("the motors stand %g s of full throttle and %g s of top speed", burst.Of(c), dash.Of(c))
	}
	for i, m := range map[int]*model.Metric{1: burst, 4: dash} {
		if want := m.Unit.Format(m.Of(c), 3) + " to 120 °C"; !strings.Contains(all[i].Heat, want) {
			t.Errorf("%s: %q does not say %q", all[i].Title, all[i].Heat, want)
		}
	}
}
