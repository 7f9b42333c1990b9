package report

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"rotorsieve/report/finding"
	"rotorsieve/report/trial"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

func TestFindingsByPayload(t *testing.T) {
	r := trial.SmallRun(t)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	payloads := r.Values(sweep.Payload)
	some := 0
	for i := range found {
		f := &found[i]
		if len(f.ByPayload) != len(payloads) {
			t.Fatalf("class %s: %d payloads, want %d", f.Class.Label, len(f.ByPayload), len(payloads))
		}
		for n, e := range f.ByPayload {
			if e == nil {
				continue
			}
			some++
			if e.Design.Payload != payloads[n] || e.Craft.Payload != payloads[n] {
				t.Errorf("class %s: the best with %v kg carries %v kg", f.Class.Label, payloads[n], e.Design.Payload)
			}
			for n, o := range f.Ranking {
				if r.Study.Grid.Design(o.Index).Payload == e.Design.Payload && o.Score > e.Score {
					t.Errorf("class %s: rank %d beats the best with %v kg", f.Class.Label, n+1, e.Design.Payload)
				}
			}
		}
		for j, e := range f.First {
			if e.Rank != j+1 || e.Craft.Limit != f.Class.Limit {
				t.Errorf("class %s: rank %d at place %d, judged within %v kg", f.Class.Label, e.Rank, j+1, e.Craft.Limit)
			}
		}
	}
	if some < 3 {
		t.Errorf("%d classes and payloads have a design: too few to test with", some)
	}
}

func TestEdges(t *testing.T) {
	g := trial.SmallStudy(t).Grid // three diameters, KV and capacities; the rest has two values or one
	for _, c := range []struct {
		index uint64
		want  []string
	}{
		{0, []string{"diameter 2.5 in is the lowest", "KV 1750 rpm/V is the lowest", "capacity 450 mAh is the lowest"}},
		{g.Size() - 1, []string{"diameter 5 in is the highest", "KV 4400 rpm/V is the highest", "capacity 1500 mAh is the highest"}},
		{2, []string{"diameter 2.5 in is the lowest", "KV 1750 rpm/V is the lowest"}},
	} {
		if got := words.Each(finding.Edges(g, c.index), words.EdgeText); !slices.Equal(got, c.want) {
			t.Errorf("design %d: %q, want %q", c.index, got, c.want)
		}
	}
	// Beyond the bound of an axis there is no wider grid.
	g, err := sweep.NewGrid(trial.Axis(t, sweep.Diameter, "2in,3in,12in"), trial.Axis(t, sweep.PitchRatio, "0.5,0.6,0.7"), trial.Axis(t, sweep.Blades, "2,3,4"), trial.Axis(t, sweep.Chord, "0,0.2,0.3"),
		trial.Axis(t, sweep.Stator, "1404"), trial.Axis(t, sweep.KV, "1750"), trial.Axis(t, sweep.Cells, "1,2,3"), trial.Axis(t, sweep.Capacity, "450"), trial.Axis(t, sweep.Payload, "0"))
	if err != nil {
		t.Fatal(err)
	}
	for index, want := range map[uint64][]string{
		0:            {"pitch ratio 0.5 is the lowest"},
		g.Size() - 1: {"pitch ratio 0.7 is the highest", "blades 4 is the highest", "chord 0.3 is the highest", "cells 3S is the highest"},
	} {
		if got := words.Each(finding.Edges(g, index), words.EdgeText); !slices.Equal(got, want) {
			t.Errorf("design %d: %q, want %q", index, got, want)
		}
	}
}

// Where the best design is outside the model's validity, the best within it is the
// first of the ranking without a warning.
func TestWithin(t *testing.T) {
	s := *trial.SmallRun(t).Study
	s.Classes = []sweep.Class{{Limit: 0.2, Label: "200g"}, {Limit: 0.249, Label: "249g"}, {Limit: 0.21, Label: "210g"}}
	s.Merit = slices.Clone(s.Merit)
	said := map[string]bool{}
	for _, top := range []int{1, 30} {
		s.Top = top
		result, err := sweep.Run(t.Context(), &s, sweep.Options{Workers: 1})
		if err != nil {
			t.Fatal(err)
		}
		r := &finding.Run{Study: &s, Result: result}
		found, err := r.Findings()
		if err != nil {
			t.Fatal(err)
		}
		for i := range found {
			f := &found[i]
			if f.Best() == nil {
				continue
			}
			rows, err := r.Ranking(t.Context(), f.ClassResult)
			if err != nil {
				t.Fatal(err)
			}
			want := ""
			if rows[0].Marked() {
				want = "within the model's validity: none of the ranked"
				if n := slices.IndexFunc(rows, func(x finding.Row) bool { return !x.Marked() }); n > 0 {
					want = fmt.Sprintf("within the model's validity: rank %d, %g in, %.2g %% less", n+1, math.Round(rows[n].Design.Diameter/0.0254*100)/100, 100*(1-rows[n].Score/rows[0].Score))
				}
			}
			got := words.ValidText(f)
			if got != want {
				t.Errorf("class %s, %d ranked: %q, want %q", f.Class.Label, top, got, want)
			}
			if said[got[:min(len(got), 33)]] = true; want != "" && !slices.Contains(words.DecisionTexts(r, f), want) {
				t.Errorf("class %s: what decides it does not say %q", f.Class.Label, want)
			}
		}
	}
	for _, words := range []string{"", "within the model's validity: rank", "within the model's validity: none"} {
		if !said[words] {
			t.Errorf("nothing is told as %q", words)
		}
	}
}
