package figure

import (
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"rotorsieve/model"
	"rotorsieve/report/chart"
	"rotorsieve/report/finding"
	"rotorsieve/report/sheet"
	"rotorsieve/report/sheet/xlsx"
	"rotorsieve/report/trial"
)

// A best design outside the model's validity is marked in each figure that names
// it, and the note says why.
func TestFiguresMarkOutside(t *testing.T) {
	t.Parallel()
	r := trial.MappedRun(t)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	front := func(r *finding.Run, found []finding.Class) (*chart.Figure, string, error) {
		return frontFigure(t.Context(), r, found)
	}
	draw := func(found []finding.Class) map[string]*chart.Figure {
		out := map[string]*chart.Figure{"size": sized(t, r, found)}
		for name, make := range map[string]func(*finding.Run, []finding.Class) (*chart.Figure, string, error){
			"front": front, "classes": classesFigure, "mass": MassFigure, "envelope": envelopeFigure,
		} {
			if out[name], _, err = make(r, found); err != nil {
				t.Fatal(err)
			}
		}
		return out
	}
	marked := slices.Clone(found)
	best := *marked[2].Best()
	craft, train := *best.Craft, *best.Craft.Powertrain
	train.Full.Controller.Rating = 1000
	craft.Powertrain, best.Craft = &train, &craft
	if len(best.Craft.Warnings()) != 1 || len(marked[2].First) == 0 {
		t.Fatalf("warnings %v", best.Craft.Warnings())
	}
	marked[2].First = append([]finding.Entry{best}, marked[2].First[1:]...)
	const why = "controller rating of 1000 A"
	before, after := draw(found), draw(marked)
	for name, f := range after {
		if strings.Contains(before[name].Note, why) {
			t.Errorf("%s: note of ordinary designs is %q", name, before[name].Note)
		}
		if !strings.Contains(f.Note, "* outside the model's validity: ") || !strings.Contains(f.Note, why) {
			t.Errorf("%s: note %q does not say %q", name, f.Note, why)
		}
		if name != "front" && !strings.Contains(f.Title, " *") {
			t.Errorf("%s: title %q has no mark", name, f.Title)
		}
	}
	for _, m := range after["size"].Panels[0].Markers {
		if at := strings.HasPrefix(m.Lines[0], "600 g"); at != strings.HasSuffix(m.Lines[0], " *") {
			t.Errorf("size: card %q", m.Lines[0])
		}
	}
	if names := after["mass"].Panels[0].X.Names; !strings.HasSuffix(names[1], " *") || strings.HasSuffix(names[0],
		" *") {
		t.Errorf("mass: names %q", names)
	}
}

// A value that stands for all beyond it is shown as such, without a difference.
func TestBeyond(t *testing.T) {
	t.Parallel()
	ceiling, burst := finding.Metric("ceiling"), finding.Metric("burst-time")
	rows := []finding.Row{{Values: make([]float64, len(model.Metrics))}, {Values: make([]float64, len(model.Metrics)),
		Highest: true}}
	for n := range rows {
		rows[n].Values[finding.Place(ceiling)] = 11000
	}
	rows[0].Values[finding.Place(burst)], rows[1].Values[finding.Place(burst)] = burst.Cap, 12
	for _, c := range []struct {
		m      *model.Metric
		beyond int // row
	}{{ceiling, 1}, {burst, 0}} {
		col := sheet.MetricColumn(c.m, rows)
		for n := range rows {
			if got := strings.HasPrefix(col.Look(&rows[n]).Number, `"≥ "`); got != (n == c.beyond) ||
				col.Beyond(&rows[n]) != got {
				t.Errorf("%s of row %d is shown by %q", c.m.Name, n, col.Look(&rows[n]).Number)
			}
		}
	}
	if got := rows[1].AtLeast(); !slices.Equal(got, []string{"ceiling"}) {
		t.Errorf("at least: %q", got)
	}
	b := xlsx.NewBook(t.Context(), t.TempDir(), "a", "test", "")
	b.Do(func() error { _, err := b.F.NewSheet("x"); return err }())
	p := b.NewPage("x", sheet.SideWidths(2)...)
	sheet.SideLine(p, "Ceiling", "m", sheet.MetricColumn(ceiling, rows), true,
		[]sheet.Side{{Row: &rows[0]}, {Row: &rows[1]}})
	if cell := p.Rows[0].Cells[sheet.SideColumn(1)]; cell.(excelize.Cell).Formula != "" {
		t.Errorf("a difference to a value that stands for all beyond it: %v", cell)
	}
}
