package figure

import (
	"strings"
	"testing"

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
