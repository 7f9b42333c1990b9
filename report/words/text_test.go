package words

import (
	"testing"

	"rotorsieve/report/trial"
	"rotorsieve/sweep"
)

func TestAxisText(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		def        *sweep.AxisDef
		flag, want string
	}{
		{sweep.Diameter, "5in", "5 in"},
		{sweep.Diameter, "3:6:0.25in", "3 in to 6 in in steps of 0.25 in (13 values)"},
		{sweep.Diameter, "3in,4in,6in", "3 in, 4 in, 6 in"},
		{sweep.Stator, "0806,2207,2306.5,2806.5", "0806, 2207, 2306.5, 2806.5"},
		{sweep.Cells, "2,3,4,6", "2S, 3S, 4S, 6S"},
		{sweep.Capacity, "300mAh,450:1300:50mAh", "300 mAh to 1300 mAh (19 values)"},
	} {
		if got := axisText(trial.Axis(t, c.def, c.flag)); got != c.want {
			t.Errorf("%s %s reads %q, want %q", c.def.Name, c.flag, got, c.want)
		}
	}
}

// A class is named by what the user wrote, spaced as weights are, with the limit only
// where that does not say it.
func TestClassName(t *testing.T) {
	t.Parallel()
	for want, k := range map[string]sweep.Class{
		"249 g":               {Label: "249g", Limit: 0.249},
		"249 g (hut)":         {Label: "249g", Note: "hut", Limit: 0.249},
		"1.2 kg":              {Label: "1.2kg", Limit: 1.2},
		"1200 g":              {Label: "1200g", Limit: 1.2},
		"0.550 lb":            {Label: "0.550lb", Limit: 0.55 * 0.45359237},
		"0.55lb (249.48 g)":   {Label: "0.55lb", Limit: 0.24948},
		"heavy (1.2 kg, one)": {Label: "heavy", Note: "one", Limit: 1.2},
	} {
		if got := ClassName(k); got != want {
			t.Errorf("%+v is named %q, want %q", k, got, want)
		}
	}
	for kg, want := range map[float64]string{0.0225: "22.5 g", 0.9999: "999.9 g", 1: "1 kg", 1.25: "1.25 kg"} {
		if got := Mass(kg); got != want {
			t.Errorf("%g kg is told as %q, want %q", kg, got, want)
		}
	}
}
