package screen

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"rotorsieve/model/bench"
	"rotorsieve/report/figure"
	"rotorsieve/report/finding"
	"rotorsieve/report/trial"
)

// The table keeps its width, says what it leaves out, and CSV and JSON have all of
// it, whose numbers hang together.
func TestStandTable(t *testing.T) {
	t.Parallel()
	states := trial.StandStates(t, trial.StandRig(t, 11.1))
	for _, width := range []int{90, 110, 160} {
		var out bytes.Buffer
		if err := StandTable(&out, states, width); err != nil {
			t.Fatal(err)
		}
		for line := range strings.Lines(out.String()) {
			if n := utf8.RuneCountInString(strings.TrimSuffix(line, "\n")); n > width {
				t.Errorf("width %d: %d columns: %s", width, n, line)
			}
		}
		if left := strings.Contains(out.String(), "left out at this width: "); left != (width < 160) {
			t.Errorf("width %d:\n%s", width, out.String())
		}
	}
	var out bytes.Buffer
	if err := StandCSV(&out, states); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&out).ReadAll()
	if err != nil || len(rows) != 11 {
		t.Fatalf("%v, %d rows", err, len(rows))
	}
	at := func(row int, name string) float64 {
		for i, h := range rows[0] {
			if h == name {
				v, err := strconv.ParseFloat(rows[row][i], 64)
				if err != nil {
					t.Fatal(err)
				}
				return v
			}
		}
		t.Fatalf("no column %s in %q", name, rows[0])
		return 0
	}
	near := func(what string, got, want float64) {
		t.Helper()
		if !(math.Abs(got-want) <= 1e-6*math.Abs(want)) {
			t.Errorf("%s: %.8g, want %.8g", what, got, want)
		}
	}
	for row := 1; row <= 10; row++ {
		near("power", at(row, "electrical power (W)"), at(row, "voltage (V)")*at(row, "current (A)"))
		near("thrust", at(row, "thrust (N)"), at(row, "thrust (g)")*9.80665e-3)
		near("shaft power", at(row, "shaft power (W)"), at(row, "torque (N m)")*at(row, "speed (rpm)")*math.Pi/30)
		near("efficiency", at(row, "efficiency (g/W)"), at(row, "thrust (g)")/at(row, "electrical power (W)"))
		near("tip Mach", at(row, "tip Mach"), math.Pi*0.127*at(row, "speed (rpm)")/60/340.294)
		near("sag", at(row, "voltage (V)"), 11.1-0.010*at(row, "current (A)"))
	}
	out.Reset()
	if err := StandJSON(&out, states); err != nil {
		t.Fatal(err)
	}
	var all []map[string]any
	if err := json.Unmarshal(out.Bytes(), &all); err != nil || len(all) != 10 || len(all[0]) != len(standColumns)+2 {
		t.Fatalf("%v: %d objects of %d members", err, len(all), len(all[0]))
	}
	near("JSON", all[9]["thrust_g"].(float64), at(10, "thrust (g)"))
}

// The comparison says by how much the model is off, and what a fit makes of it.
func TestStandComparison(t *testing.T) {
	t.Parallel()
	r := trial.StandRig(t, 11.1)
	c := trial.StandMeasured(t, r, true)
	var out bytes.Buffer
	if err := StandComparisonTable(&out, c, 100); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"own.csv: 20 of 20 rows are compared\n",
		"\nthrust 20 +5.3 % 5.3 %",           // 1/0.95
		"\nelectrical power 20 +8.7 % 8.7 %", // 1/0.92
		"\nfitted to 20 rows ",
	} {
		if !strings.Contains(regexp.MustCompile(` +`).ReplaceAllString(out.String(), " "), want) {
			t.Errorf("no %q in\n%s", want, out.String())
		}
	}
	for line := range strings.Lines(out.String()) {
		if n := utf8.RuneCountInString(strings.TrimSuffix(line, "\n")); n > 100 {
			t.Errorf("%d columns: %s", n, line)
		}
	}
	for q := bench.ThrustAtSpeed; q <= bench.PowerAtSpeed; q++ {
		if a, b := bench.Summarise(c.Rows, q), bench.Summarise(c.Fitted, q); !(b.RMS < a.RMS/2) {
			t.Errorf("%v: rms %.3g, fitted %.3g", q, a.RMS, b.RMS)
		}
	}
	out.Reset()
	if err := StandComparisonJSON(&out, c); err != nil {
		t.Fatal(err)
	}
	var all struct {
		Rows []struct {
			Off  float64  `json:"thrust_off_percent"`
			Full *float64 `json:"full_throttle_speed_off_percent"`
		}
		Fit []struct{ Factor float64 }
	}
	if err := json.Unmarshal(out.Bytes(), &all); err != nil || len(all.Rows) != 20 || len(all.Fit) != 6 {
		t.Fatalf("%v: %d rows, %d terms", err, len(all.Rows), len(all.Fit))
	}
	if all.Rows[0].Full != nil || all.Rows[9].Full == nil || math.Abs(all.Rows[0].Off-100*(1/0.95-1)) > 1e-4 {
		t.Errorf("%+v, %+v", all.Rows[0], all.Rows[9])
	}
}

// Differences below those of a stand are no finding, and one row is one.
func TestStandWords(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		v, w float64
		want string
	}{
		{0.004, -0.019, "about as much thrust as measured and takes about as much power"},
		{-0.031, 0.021, "3 % less thrust than measured and takes 2 % more power"},
		{0.05, 0.001, "5 % more thrust than measured and takes about as much power"},
	} {
		if got := figure.MoreOrLess(c.v, "thrust", true) + " and takes " + figure.MoreOrLess(c.w, "power",
			false); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
	r := trial.StandRig(t, 11.1)
	c := trial.StandMeasured(t, r, false)
	c.Used.Rows = c.Used.Rows[9:10]
	one := finding.CompareStand(r, c.Used)
	if err := one.FitTo(r); err != nil {
		t.Fatal(err)
	}
	text := strings.Join(StandComparisonNotes(one), "\n")
	for want, is := range map[string]bool{"fitted to 1 row ": true, "not told by these rows": true,
		"does not fit": false} {
		if strings.Contains(text, want) != is {
			t.Errorf("%q in it: %v\n%s", want, !is, text)
		}
	}
	one.Fit.Misfit = 2.4
	if text := strings.Join(StandComparisonNotes(one), "\n"); !strings.Contains(text,
		"The model does not fit the rows: it is off by 2.4 times their errors (rms).") {
		t.Errorf("%s", text)
	}
}

// No text of the picture covers another or leaves it, and the title says the finding.
func TestStandFigure(t *testing.T) {
	t.Parallel()
	r := trial.StandRig(t, 11.1)
	name := figure.StandCurves{Rig: r, Motor: "2205, 2400 rpm/V", Propeller: "5 × 4 in, 3 blades"}
	for what, want := range map[string]string{
		"plain":    "Full throttle gives ",
		"compared": "At the same speed the model gives 5 % more thrust than measured and takes 9 % more power",
		"fitted":   "At the same speed the model gives 5 % more thrust than measured and takes 9 % more power",
	} {
		s := name
		if what != "plain" {
			s.Comparison = trial.StandMeasured(t, r, what == "fitted")
		}
		f, err := s.Figure()
		if err != nil {
			t.Fatal(err)
		}
		l, err := f.Layout()
		if err != nil {
			t.Fatal(err)
		}
		for _, fault := range l.Faults() {
			t.Errorf("%s: %s", what, fault)
		}
		if !strings.HasPrefix(f.Title, want) {
			t.Errorf("%s: title %q, want %q", what, f.Title, want)
		}
		lines := map[string]int{"plain": 1, "compared": 2, "fitted": 4}[what]
		if got := len(f.Panels[1].Lines); got != lines {
			t.Errorf("%s: %d curves of power, want %d", what, got, lines)
		}
	}
}
