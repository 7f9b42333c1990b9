package figure

import (
	"math"
	"slices"
	"testing"

	"rotorsieve/report/chart"
	"rotorsieve/report/trial"
	"rotorsieve/report/words"
)

// The pieces of an answer add up to its merit, each as its term gives.
func TestSharesFigure(t *testing.T) {
	t.Parallel()
	r := trial.MappedRun(t)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	f, lacks, err := sharesFigure(r, found)
	if err != nil || lacks != "" {
		t.Fatal(err, lacks)
	}
	bars := 0
	for _, k := range found {
		if k.Best() == nil {
			continue
		}
		p := f.Panels[slices.IndexFunc(f.Panels, func(p chart.Panel) bool { return p.Title == words.ClassName(k.Class) })]
		entries, _, err := answersOf(r, &k)
		if err != nil {
			t.Fatal(err)
		}
		if len(entries) != len(p.Stacks) {
			t.Fatalf("%s: %d bars of %d answers", p.Title, len(p.Stacks), len(entries))
		}
		for n, e := range entries {
			sum, weights := 0.0, 0.0
			for _, q := range p.Stacks[n].Pieces {
				sum += q.Length
			}
			if want := r.Study.Merit.Of(e.Craft); math.Abs(sum-want) > 1e-12 {
				t.Errorf("%s: pieces add up to %g, want %g", p.Title, sum, want)
			}
			for _, term := range r.Study.Merit {
				weights += term.Weight
			}
			for t0, term := range r.Study.Merit {
				want := term.Weight / weights * term.Score(term.Metric.Of(e.Craft))
				if got := p.Stacks[n].Pieces[t0].Length; math.Abs(got-want) > 1e-12 {
					t.Errorf("%s: %s gives %g, want %g", p.Title, term.Metric.Name, got, want)
				}
			}
			bars++
		}
	}
	if bars < 5 {
		t.Errorf("%d bars, want some to compare", bars)
	}
}
