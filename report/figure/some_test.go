package figure

import (
	"fmt"
	"strings"
	"testing"

	"rotorsieve/report/chart"
	"rotorsieve/report/finding"
	"rotorsieve/report/trial"
)

// A figure with a panel for each class has nine at most, the lightest and the widest class among
// them, and says so, however many classes there are.
func TestPanelsAreBounded(t *testing.T) {
	t.Parallel()
	r := trial.MappedRun(t)
	own := *r.Result
	r.Result = &own
	own.Classes = nil
	for range 16 {
		own.Classes = append(own.Classes, trial.MappedRun(t).Result.Classes...)
	}
	for i := range own.Classes {
		own.Classes[i].Class.Limit += 1e-6 * float64(i)
	}
	study := *r.Study
	r.Study, study.Classes = &study, nil
	for i := range own.Classes {
		study.Classes = append(study.Classes, own.Classes[i].Class)
	}
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	some, left := someClasses(found)
	if len(some) != mostPanels || some[0].ClassResult != found[0].ClassResult ||
		some[mostPanels-1].ClassResult != found[len(found)-1].ClassResult || left != " 9 of 48 classes are drawn." {
		t.Errorf("%d classes are drawn, and %q is said", len(some), left)
	}
	if all, left := someClasses(found[:mostPanels]); len(all) != mostPanels || left != "" {
		t.Errorf("of %d classes %d are drawn, and %q is said", mostPanels, len(all), left)
	}
	masses, _, err := MassFigure(r, found)
	if err != nil {
		t.Fatal(err)
	}
	m, err := mapFigure(r, found, 0)
	if err != nil {
		t.Fatal(err)
	}
	for name, f := range map[string]struct {
		panels, most int
		note         string
	}{
		"why-not": {len(whyNotFigure(r, found).Panels), mostPanels, whyNotFigure(r, found).Note},
		"mass":    {len(masses.Panels), (mostPanels + massesAbreast - 1) / massesAbreast, masses.Note},
		"map":     {len(m.Panels), mostPanels, m.Note},
	} {
		if f.panels > f.most || !strings.Contains(f.note, "9 of 48 classes are drawn.") {
			t.Errorf("%s has %d panels, want %d at most, and says %q", name, f.panels, f.most, f.note)
		}
	}
}

// Of values that lack room in many cells a kind is left out everywhere, and said of none.
func TestValuesWithoutRoom(t *testing.T) {
	t.Parallel()
	const n = 30
	for _, rows := range []int{3, 16, n} { // two lines have room, one has, none has
		name := func(at int) string { return fmt.Sprint(at) }
		var x, y []string
		z := finding.Blank(6, rows)
		for j := range rows {
			y = append(y, name(j))
			for i := range 6 {
				z[j][i] = float64(i+j) / (2 * n)
			}
		}
		for i := range 6 {
			x = append(x, name(i))
		}
		at := func(n int) (out []float64) {
			for k := range n {
				out = append(out, float64(k))
			}
			return out
		}
		f := &chart.Figure{Title: "t", Bar: bar("z", 0, 1), Panels: []chart.Panel{{X: chart.Axis{Names: x},
			Y:     chart.Axis{Names: y},
			Field: &chart.Field{X: at(6), Y: at(rows), Z: z, Gate: blankNames(6, rows)},
			Overlays: []chart.Overlay{{Name: "first", Format: "M %.2f", Z: z},
				{Name: "second", Format: "%.2f g", Z: z}}}}}
		p, err := place(f)
		if err != nil {
			t.Fatal(err)
		}
		want := map[int]int{3: 2, 16: 1, n: 0}[rows]
		if got := len(f.Panels[0].Overlays); got != want {
			t.Errorf("%d rows of cells have %d values each, want %d", rows, got, want)
		}
		if note := placed(f, &p.Layout); strings.Contains(note, "No room to write") {
			t.Errorf("%d rows: note %q", rows, note)
		}
	}
}
