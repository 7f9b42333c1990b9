package report

import (
	"testing"

	"rotorsieve/sweep"
)

func TestAxisText(t *testing.T) {
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
		if got := axisText(axis(t, c.def, c.flag)); got != c.want {
			t.Errorf("%s %s reads %q, want %q", c.def.Name, c.flag, got, c.want)
		}
	}
}

func TestCounts(t *testing.T) {
	for n, want := range map[uint64]string{0: "0", 999: "999", 1000: "1,000", 1234567: "1,234,567"} {
		if got := grouped(n); got != want {
			t.Errorf("%d reads %q, want %q", n, got, want)
		}
	}
	for _, c := range []struct {
		n, of uint64
		want  string
	}{{0, 10, "0 %"}, {10, 10, "100 %"}, {1, 1e9, "< 0.001 %"}, {1, 3, "33.3 %"}, {99999, 100000, "> 99.9 %"}, {1, 1000, "0.1 %"}, {84, 1000, "8.4 %"}} {
		if got := shareText(c.n, c.of); got != c.want {
			t.Errorf("%d of %d reads %q, want %q", c.n, c.of, got, c.want)
		}
	}
}

func TestRankingSheets(t *testing.T) {
	var found []finding
	for _, label := range []string{"250g", "250G", "a/b", "a\\b", "0.55lb", "'", "", "a label of more than thirty-one characters", "a label of more than thirty-one characters!", "日本語日本語日本語日本語日本語日本語🛩🛩🛩🛩🛩🛩🛩🛩"} {
		found = append(found, finding{ClassResult: &sweep.ClassResult{Class: sweep.Class{Label: label}}})
	}
	names := rankingSheets(found)
	if names[0] != "Ranking 250g" || names[1] != "Ranking 250G (2)" || names[2] != "Ranking a-b" || names[3] != "Ranking a-b (2)" {
		t.Errorf("names %q", names)
	}
	checkSheetNames(t, names)
}

func TestHarmless(t *testing.T) {
	for in, want := range map[string]string{"249g": "249g", "=1": "'=1", "+1": "'+1", "-1": "'-1", "@a": "'@a", "\t=1": "' =1", "a\nb": "a b", "": ""} {
		if got := harmless(in); got != want {
			t.Errorf("%q becomes %q, want %q", in, got, want)
		}
	}
}

func TestDecimals(t *testing.T) {
	for v, want := range map[float64]int{25000: 0, 249: 1, 20: 1, 19.9: 2, 2: 2, 1.5: 3, 0.6: 3, 0.05: 4, 0: 4} {
		if got := decimals(v); got != want {
			t.Errorf("%v takes %d decimals, want %d", v, got, want)
		}
	}
}

func TestWrappedLines(t *testing.T) {
	for _, c := range []struct {
		text  string
		width float64
		least int
	}{{"", 10, 1}, {"short", 10, 1}, {"two words here", 6, 2}, {"averyveryveryverylongword", 6, 3}} {
		if got := wrappedLines(c.text, c.width, true); got < c.least {
			t.Errorf("%q takes %d lines in %v, want at least %d", c.text, got, c.width, c.least)
		}
	}
}

// A class is named by what the user wrote, with the limit only where that does
// not say it.
func TestClassName(t *testing.T) {
	for want, k := range map[string]sweep.Class{
		"249g":                {Label: "249g", Limit: 0.249},
		"249g (hut)":          {Label: "249g", Note: "hut", Limit: 0.249},
		"1.2kg":               {Label: "1.2kg", Limit: 1.2},
		"1200g":               {Label: "1200g", Limit: 1.2},
		"0.55lb (249.48 g)":   {Label: "0.55lb", Limit: 0.24948},
		"heavy (1.2 kg, one)": {Label: "heavy", Note: "one", Limit: 1.2},
	} {
		if got := className(k); got != want {
			t.Errorf("%+v is named %q, want %q", k, got, want)
		}
	}
	for kg, want := range map[float64]string{0.0225: "22.5 g", 0.9999: "999.9 g", 1: "1 kg", 1.25: "1.25 kg"} {
		if got := mass(kg); got != want {
			t.Errorf("%g kg is told as %q, want %q", kg, got, want)
		}
	}
}
