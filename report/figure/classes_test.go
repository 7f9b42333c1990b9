package figure

import (
	"slices"
	"strings"
	"testing"

	"rotorsieve/model"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/report/trial"
	"rotorsieve/report/words"
)

// The star of a recommended build bears the mark of the line of its payload and stands beside
// that line's point, within the axes, before the range of the draws.
func TestClassesStars(t *testing.T) {
	t.Parallel()
	r := trial.MappedRun(t)
	r.Decision = trial.Decided(t, r)
	r = decidedAnew(t, r)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	f, lacks, err := classesFigure(r, found)
	if err != nil || lacks != "" {
		t.Fatal(err, lacks)
	}
	stars := 0
	for i := range found {
		e := found[i].Planned
		if e == nil {
			continue
		}
		limit := finding.Gram.FromSI(found[i].Class.Limit)
		for _, p := range f.Panels {
			m := p.Markers[stars]
			if want := "payload " + words.Mass(e.Design.Payload); m.Family != want || m.Tag != "" || m.Ring {
				t.Errorf("%s, %s: marker %+v, want a star of %q", p.Title, found[i].Class.Label, m, want)
			}
			if width := p.X.Max - p.X.Min; m.X <= limit || m.X > limit+0.06*width || m.X >= p.X.Max {
				t.Errorf("%s, %s: star at %g g of %g to %g", p.Title, found[i].Class.Label, m.X, p.X.Min, p.X.Max)
			}
			want := found[i].Choice.Recommended().Merit
			switch {
			case strings.Contains(p.Title, "diameter"): // which no draw changes
				if len(p.Areas) > 0 {
					t.Errorf("%s has ranges", p.Title)
				}
				continue
			case !strings.Contains(p.Title, "merit"):
				ranking := found[i].Choice.Ranking()
				metric := ranking[slices.IndexFunc(ranking, func(m *model.Metric) bool {
					return strings.HasPrefix(p.Title, texts.Lower(m.Title))
				})]
				want = drawnOf(found[i].Choice, metric)
			}
			if a := p.Areas[0]; a.At[stars] != m.X || a.From[stars] != want.P10 || a.To[stars] != want.P90 {
				t.Errorf("%s, %s: range %+v, want %v at %g", p.Title, found[i].Class.Label, a, want, m.X)
			}
		}
		stars++
	}
	if stars == 0 {
		t.Error("no recommended build to look at")
	}
}
