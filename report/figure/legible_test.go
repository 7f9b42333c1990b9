package figure

import (
	"math"
	"slices"
	"testing"

	"rotorsieve/model"
	"rotorsieve/model/rotor"
	"rotorsieve/report/chart"
	"rotorsieve/report/finding"
	"rotorsieve/report/sheet"
	"rotorsieve/report/trial"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

// everyFigure makes one of each kind that is ever drawn: those of a run of three
// classes and of four, whose panels stand in rows,
// and the figures of one design and one propeller.
func everyFigure(t *testing.T) map[string]*chart.Figure {
	t.Helper()
	all := allFigures(t, trial.MappedRun(t))
	four := trial.MappedRun(t)
	four.Study.Classes = append(slices.Clone(four.Study.Classes), sweep.Class{Limit: 1.2, Label: "1.2kg"})
	result, err := sweep.Run(t.Context(), four.Study, sweep.Options{Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	four.Result = result
	for name, f := range allFigures(t, four) {
		all["four classes: "+name] = f
	}
	for name, r := range decidedRuns(t) {
		found, err := r.Findings()
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range plansOf(t.Context(), r, found) {
			if slices.Contains([]string{confidenceName, tornadoName, sizeName}, p.name) {
				f, lacks, err := p.draw()
				if err != nil || lacks != "" {
					t.Fatalf("%s, %s: %v %s", name, p.name, err, lacks)
				}
				all[name+": "+p.name] = f
			}
		}
	}
	r := someCurves(t, 100, 200, 300, 400)
	r.Measured = &rotor.Specimen{Diameter: r.Diameter, Air: r.Air}
	q := r.Air.Density * 200 * 200 * math.Pow(r.Diameter, 4)
	r.Measured.Points = []rotor.Measurement{{J: 0.5, N: 200, Thrust: 0.12 * q, Power: 0.1 * q * 200 * r.Diameter}}
	all["rotor, measured"] = drawn(t, &r)
	return all
}

// Every text of every kind of figure can be read as drawn and as the workbook prints it.
func TestEveryFigureIsLegible(t *testing.T) {
	t.Parallel()
	for name, f := range everyFigure(t) {
		trial.Legible(t, name, f, sheet.PrintedScale)
	}
}

// The title of a comparison says first where the runs agree.
func TestCompareTitle(t *testing.T) {
	t.Parallel()
	run := func(name string, inches ...float64) *finding.Finished {
		f := &finding.Finished{Name: name}
		for k, d := range inches {
			limit := 0.25 * float64(k+1)
			x := finding.FinishedClass{Class: sweep.Class{Limit: limit, Label: words.Mass(limit)}}
			if d > 0 {
				x.Best = &finding.Row{Design: model.Design{Diameter: finding.Inch.ToSI(d)}}
			}
			f.Classes = append(f.Classes, x)
		}
		return f
	}
	for _, c := range []struct {
		runs []*finding.Finished
		want string
	}{
		{[]*finding.Finished{run("low", 3, 4), run("high", 3, 4.5)},
			"In both runs 3 in is best at 250 g; best at 500 g: 4 in (low), 4.5 in (high)"},
		{[]*finding.Finished{run("a", 3, 3, 5), run("b", 3, 3, 5), run("c", 3, 3, 5)},
			"In all runs 3 in is best at 250 g and 500 g and 5 in at 750 g"},
		{[]*finding.Finished{run("a", 3), run("b", 0)}, "Best at 250 g: 3 in (a)"},
		{[]*finding.Finished{run("a", 0), run("b", 0)}, "No run has a feasible design"},
	} {
		if got := overlayTitle((&finding.Comparison{Runs: c.runs})); got != c.want {
			t.Errorf("title %q, want %q", got, c.want)
		}
	}
}
