package words

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"rotorsieve/report/finding"
	"rotorsieve/sweep"
)

// What a run recommends is said in place of what the first does, class by class; a merit is told where
// all rank by the same.
func TestReordered(t *testing.T) {
	t.Parallel()
	const limit = 0.25
	type build struct {
		name               string
		cautious, feasible float64
	}
	run := func(name string, b *build, design bool) *finding.Finished {
		k := finding.FinishedClass{Class: sweep.Class{Limit: limit, Label: "250g"}}
		if design {
			k.Best = &finding.Row{}
		}
		if b != nil {
			k.Chosen = &finding.Chosen{DecisionRecord: &finding.DecisionRecord{Recommended: &finding.BuildRecord{
				Build: b.name, Cautious: b.cautious, Feasible: b.feasible}}}
		}
		return &finding.Finished{Name: name, Classes: []finding.FinishedClass{k}}
	}
	four := &build{"4 x 2.8 x 2, 1507 3800KV, 3S", 0.3126, 0.881}
	three := &build{"3.5 x 2.45 x 2, 1404 3600KV, 3S, payload 30 g", 0.2194, 0.9}
	later := &build{four.name, 0.4, 0.7}
	elsewhere := run("d", four, true)
	elsewhere.Classes[0].Class.Limit = 0.5
	otherMerit := run("e", three, true)
	otherMerit.Merit = sweep.Merit{{Metric: finding.Metric("hover-time"), Weight: 1, Best: 60}}
	for _, c := range []struct {
		what string
		runs []*finding.Finished
		want []string
	}{
		{"another build", []*finding.Finished{run("a", four, true), run("b", three, true)},
			[]string{"4×2.8×2, 1507 3800KV, 3S becomes 3.5×2.45×2, 1404 3600KV, 3S, payload 30 g; cautious merit " +
				"0.313 to 0.219, P(feasible) 88 % to 90 %"}},
		{"the same build", []*finding.Finished{run("a", four, true), run("b", later, true)},
			[]string{"4×2.8×2, 1507 3800KV, 3S stays; cautious merit 0.313 to 0.400, P(feasible) 88 % to 70 %"}},
		{"nothing", []*finding.Finished{run("a", four, true), run("b", nil, false)},
			[]string{"4×2.8×2, 1507 3800KV, 3S becomes nothing feasible"}},
		{"no draws", []*finding.Finished{run("a", four, true), run("b", nil, true)}, nil},
		{"no draws at all", []*finding.Finished{run("a", nil, true), run("b", nil, true)}, nil},
		{"not asked", []*finding.Finished{run("a", four, true), elsewhere}, nil},
		{"another merit", []*finding.Finished{run("a", four, true), otherMerit},
			[]string{"4×2.8×2, 1507 3800KV, 3S becomes 3.5×2.45×2, 1404 3600KV, 3S, payload 30 g; P(feasible) 88 % " +
				"to 90 %"}},
		{"three", []*finding.Finished{run("a", four, true), run("b", later, true), run("c", nil, false)},
			[]string{"b: 4×2.8×2, 1507 3800KV, 3S stays; cautious merit 0.313 to 0.400, P(feasible) 88 % to 70 %",
				"c: 4×2.8×2, 1507 3800KV, 3S becomes nothing feasible"}},
	} {
		if d := cmp.Diff(c.want, Reordered(&finding.Comparison{Runs: c.runs}, limit)); d != "" {
			t.Errorf("%s: %s", c.what, d)
		}
	}
}
