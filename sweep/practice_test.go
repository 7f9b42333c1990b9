package sweep

import (
	"context"
	"math"
	"testing"

	"rotorsieve/model"
	"rotorsieve/model/motor"
	"rotorsieve/model/pack"
)

// quarterKilo is a coarse study of 250 g craft.
func quarterKilo(t *testing.T) *Study {
	s := study(t, small(t, map[*AxisDef]string{
		Diameter: "3:3.5:0.25in,5in", PitchRatio: "0.5,0.7", Blades: "2,3", Stator: "1103,1204,1303,1404,1507",
		KV: "1400:4600:400", Cells: "3,4,6", Capacity: "300:1000:50mAh", Payload: "0",
	}))
	s.Classes = []Class{{Limit: 0.25, Label: "250g"}}
	return s
}

func best(t *testing.T, s *Study) (*ClassResult, func(Best, string) float64) {
	t.Helper()
	r, err := Run(context.Background(), s, Options{})
	if err != nil {
		t.Fatal(err)
	}
	c := &r.Classes[0]
	e := NewEvaluator(s)
	return c, func(b Best, name string) float64 {
		t.Helper()
		if !b.Any {
			t.Fatal("no feasible design")
		}
		craft, err := e.Craft(b.Index, c.Class)
		if err != nil {
			t.Fatal(err)
		}
		return metric(t, name).Of(craft)
	}
}

// Large propellers at a small weight starve motor and pack (common practice):
// the best 250 g craft on 5 in has less thrust to weight, a lower full-throttle
// tip Mach number and a lower disk loading than the best on 3 to 3.5 in.
func TestLargePropellersStarve(t *testing.T) {
	c, of := best(t, quarterKilo(t))
	five := c.Leaders[3]
	for d := range 3 {
		for _, name := range []string{"thrust-to-weight", "tip-mach", "disk-loading"} {
			if a, b := of(five, name), of(c.Leaders[d], name); !(a < b) {
				t.Errorf("%s of the best on 5 in is %.4g, on the smaller size %d %.4g", name, a, d, b)
			}
		}
	}
}

// Full-throttle tip speeds of well-matched small craft sit near 200 m/s, Mach
// 0.45 to 0.65 (common practice): the best craft of three classes, ranked by time
// and thrust. The pitches are those that are flown, 0.6 to 0.9 diameters; hover
// and static thrust alone would take flatter ones, which turn faster.
func TestWellMatchedTipMach(t *testing.T) {
	for _, c := range []struct {
		limit                                   float64
		diameter, stator, kv, capacity, payload string
	}{
		{0.249, "3:4:0.25in", "1103,1204,1404,1507", "1600:4000:200", "400:1000:50mAh", "0"},
		{0.5, "4.5:6:0.5in", "1404,1507,1804,2004", "1200:2600:200", "800:2000:100mAh", "0"},
		{0.9, "6.5:8:0.5in", "2004,2207,2806", "800:1600:100", "1600:3600:200mAh", "0"},
	} {
		s := study(t, small(t, map[*AxisDef]string{
			Diameter: c.diameter, PitchRatio: "0.6:0.9:0.1", Blades: "2,3", Stator: c.stator, KV: c.kv, Cells: "4,6",
			Capacity: c.capacity, Payload: c.payload,
		}))
		s.Classes = []Class{{Limit: c.limit, Label: "limit"}}
		s.Merit = Merit{{Metric: metric(t, "hover-time"), Weight: 0.5, Worst: 180, Best: 1800},
			{Metric: metric(t, "thrust-to-weight"), Weight: 0.5, Worst: 2, Best: 10}}
		r, of := best(t, s)
		top, _ := r.Best()
		if m := of(Best{Ranked: top, Any: true}, "tip-mach"); m < 0.45 || m > 0.65 {
			t.Errorf("%g kg: tip Mach number of the best design is %.3g, want 0.45 to 0.65", c.limit, m)
		}
	}
}

// Time is bought with battery: the best design by hover time carries the larger
// battery fraction than the best by thrust to weight.
func TestTimeIsBattery(t *testing.T) {
	fraction := func(name string, worst, best_ float64) float64 {
		s := quarterKilo(t)
		s.Merit = Merit{{Metric: metric(t, name), Weight: 1, Worst: worst, Best: best_}}
		c, of := best(t, s)
		top, _ := c.Best()
		return of(Best{Ranked: top, Any: true}, "battery-fraction")
	}
	long, strong := fraction("hover-time", 0, 3600), fraction("thrust-to-weight", 0, 20)
	if !(long > strong) {
		t.Errorf("battery fraction is %.3g by hover time and %.3g by thrust to weight", long, strong)
	}
}

// The default requirements name metrics that exist, and bound each once.
func TestDefaults(t *testing.T) {
	seen := map[*model.Metric]bool{}
	for _, r := range DefaultRequirements() {
		if seen[r.Metric] || !r.Default {
			t.Errorf("default requirement on %s", r.Metric.Name)
		}
		seen[r.Metric] = true
	}
	if len(DefaultMerit()) == 0 {
		t.Error("no default merit")
	}
}

// The craft of common practice, the same that TestCommonCraft of package model holds against
// bands, keep the default requirements; what nobody flies breaks them: a motor of 6 g that
// gives half a kilogram of thrust for seconds, and windings that no stator of the size has.
func TestPracticeRequirements(t *testing.T) {
	const in, mAh = 0.0254, 3.6
	stator := func(d, h float64) motor.Stator { return motor.Stator{Diameter: d * 1e-3, Height: h * 1e-3} }
	for _, c := range []struct {
		name     string
		design   model.Design
		grade    string
		frame    float64
		avionics float64            // kg
		link     float64            // W
		breaks   map[string]float64 // metric, and its value in the unit in which it is shown
	}{
		{"3 in 250 g freestyle", model.Design{Diameter: 3 * in, Pitch: 2.5 * in, Blades: 3, Stator: stator(14, 4),
			KV: 3800, Cells: 4, Capacity: 650 * mAh, Payload: 0.026},
			"high-rate", 1.3, 0.035, 3, nil},
		{"4 in 249 g cruiser", model.Design{Diameter: 4 * in, Pitch: 2.5 * in, Blades: 2, Stator: stator(14, 4),
			KV: 3100, Cells: 2, Capacity: 2800 * mAh, Payload: 0.010},
			"18650-power", 0.85, 0.025, 3, nil},
		{"5 in 660 g freestyle", model.Design{Diameter: 5 * in, Pitch: 4.5 * in, Blades: 3, Stator: stator(22, 7),
			KV: 1850, Cells: 6, Capacity: 1080 * mAh, Payload: 0.145},
			"high-rate", 1.3, 0.035, 12, nil},
		{"7 in 1.0 kg cruiser", model.Design{Diameter: 7 * in, Pitch: 5 * in, Blades: 2, Stator: stator(28, 6.5),
			KV: 850, Cells: 6, Capacity: 4200 * mAh, Payload: 0.10},
			"21700-power", 1, 0.040, 12, nil},
		{"10 in 2.5 kg load carrier", model.Design{Diameter: 10 * in, Pitch: 5.5 * in, Blades: 2,
			Stator: stator(28, 12), KV: 580, Cells: 6, Capacity: 7000 * mAh, Payload: 0.60},
			"middle", 1.3, 0.050, 12, nil},
		{"3 in on motors of 6 g", model.Design{Diameter: 3 * in, Pitch: 2 * in, Blades: 2, Stator: stator(11, 3),
			KV: 7000, Cells: 4, Capacity: 650 * mAh},
			"high-rate", 1, 0.030, 3, map[string]float64{"winding-load": 0, "torque-load": 0, "pack-load": 0,
				"burst-time": 0}},
	} {
		g, err := pack.ParseGrade(c.grade)
		if err != nil {
			t.Fatal(err)
		}
		a := model.Defaults()
		a.PackGrade, a.FrameFactor, a.Avionics, a.AvionicsPower = g, c.frame, c.avionics, c.link
		m, err := model.New(a)
		if err != nil {
			t.Fatal(err)
		}
		craft, err := m.Evaluate(c.design)
		if err != nil {
			t.Fatal(err)
		}
		found := 0
		for _, r := range DefaultRequirements() {
			v := r.Metric.Unit.FromSI(r.Metric.Of(craft))
			want, broken := c.breaks[r.Metric.Name]
			if broken {
				found++
			}
			if r.Kept(r.Metric.Of(craft)) == broken {
				t.Errorf("%s: %s of %.3g is kept %v, the table says %v", c.name, r.Metric.Name, v, broken, !broken)
			}
			if broken && want != 0 && math.Abs(v-want) > 0.05*math.Abs(want) {
				t.Errorf("%s: %s is %.3g, the table says %.3g", c.name, r.Metric.Name, v, want)
			}
		}
		if found != len(c.breaks) {
			t.Errorf("%s: the table has %v, of which %d are default requirements", c.name, c.breaks, found)
		}
	}
}
