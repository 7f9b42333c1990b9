package report

import (
	"strings"
	"testing"

	"rotorsieve/sweep"
)

func TestDecisions(t *testing.T) {
	r := smallRun(t)
	found, err := r.findings()
	if err != nil {
		t.Fatal(err)
	}
	if got := r.decisions(&found[0]); got != nil {
		t.Errorf("a class without a design is decided by %q", got)
	}
	f := &found[1]
	text := strings.Join(r.decisions(f), "; ")
	next := 0.0 // by hand, from the leaders of the result
	for i, b := range f.Leaders {
		if b.Any && r.values(sweep.Diameter)[i] != f.Best().Design.Diameter {
			next = max(next, b.Score)
		}
	}
	if next == 0 || f.secondDiameter().Score != next {
		t.Errorf("the next diameter scores %v, want %v", f.secondDiameter().Score, next)
	}
	for _, want := range []string{
		"4 in leads 2.5 in, the next diameter, by ", " % in merit; closest bounds: all-up weight 243.3 g of 249 g",
		"; of the designs light enough, most fail at thrust to weight (",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("%q does not say %q", text, want)
		}
	}
	// A bound set just at the design is the closest.
	s := *r.Study
	q := sweep.Requirement{Metric: metric("hover-time"), AtLeast: true, Bound: f.Best().Craft.HoverTime * 0.999}
	s.Require = []sweep.Requirement{q}
	other := *r
	other.Study = &s
	result := *r.Result
	result.Gates = s.Gates()
	other.Result = &result
	if got := other.closest(f, f.Best()); len(got) != 2 || !strings.HasPrefix(got[0], "hover time ") || !strings.HasPrefix(got[1], "all-up weight ") {
		t.Errorf("closest bounds %q", got)
	}
}
