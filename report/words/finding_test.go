package words_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"rotorsieve/report/finding"
	"rotorsieve/report/trial"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

func TestEdges(t *testing.T) {
	t.Parallel()
	g := trial.SmallStudy(t).Grid // three diameters, KV and capacities; the rest has two values or one
	for _, c := range []struct {
		index uint64
		want  []string
	}{
		{0, []string{"diameter 2.5 in is the lowest", "KV 1750 rpm/V is the lowest", "capacity 450 mAh is the lowest"}},
		{g.Size() - 1, []string{"diameter 5 in is the highest", "KV 4400 rpm/V is the highest",
			"capacity 1500 mAh is the highest"}},
		{2, []string{"diameter 2.5 in is the lowest", "KV 1750 rpm/V is the lowest"}},
	} {
		if got := words.Each(finding.Edges(g, c.index, 0.4), words.Edge); !slices.Equal(got, c.want) {
			t.Errorf("design %d: %q, want %q", c.index, got, c.want)
		}
	}
	// Beyond the bound of an axis there is no wider grid.
	g, err := sweep.NewGrid(trial.Axis(t, sweep.Diameter, "2in,3in,12in"),
		trial.Axis(t, sweep.PitchRatio, "0.5,0.6,0.7"), trial.Axis(t, sweep.Blades, "2,3,4"),
		trial.Axis(t, sweep.Chord, "0,0.2,0.3"),
		trial.Axis(t, sweep.Stator, "1404"), trial.Axis(t, sweep.KV, "1750"), trial.Axis(t, sweep.Cells, "1,2,3"),
		trial.Axis(t, sweep.Capacity, "450"), trial.Axis(t, sweep.Payload, "0"))
	if err != nil {
		t.Fatal(err)
	}
	for index, want := range map[uint64][]string{
		0: {"pitch ratio 0.5 is the lowest"},
		g.Size() - 1: {"pitch ratio 0.7 is the highest", "blades 4 is the highest", "chord 0.3 is the highest",
			"cells 3S is the highest"},
	} {
		if got := words.Each(finding.Edges(g, index, 0.4), words.Edge); !slices.Equal(got, want) {
			t.Errorf("design %d: %q, want %q", index, got, want)
		}
	}
}

// More cells than builders take at a weight are not advised, nor fewer.
func TestEdgesOfPractice(t *testing.T) {
	for _, c := range []struct {
		cells           string
		kg              float64
		lowest, highest bool
	}{
		{"2,3,4", 0.249, false, false}, // 6S at 249 g is not built
		{"2,3,4", 0.26, false, true},   // nor 1S, even less
		{"1,2,3", 0.249, false, true},
		{"1,2,3", 0.06, false, false},
		{"3,4,6", 0.249, true, false},
		{"4,5,6", 0.6, true, false},
		{"4,5,6", 2, false, true},
		{"6,8,12", 4, false, true},
	} {
		g, err := sweep.NewGrid(trial.Axis(t, sweep.Diameter, "5in"), trial.Axis(t, sweep.PitchRatio, "0.8"),
			trial.Axis(t, sweep.Blades, "2"),
			trial.Axis(t, sweep.Chord, "0"), trial.Axis(t, sweep.Stator, "1404"), trial.Axis(t, sweep.KV, "1750"),
			trial.Axis(t, sweep.Cells, c.cells), trial.Axis(t, sweep.Capacity, "450"),
			trial.Axis(t, sweep.Payload, "0"))
		if err != nil {
			t.Fatal(err)
		}
		if n := len(finding.Edges(g, 0, c.kg)); (n == 1) != c.lowest {
			t.Errorf("cells %s at %g kg: %d advices to take fewer, want some: %v", c.cells, c.kg, n, c.lowest)
		}
		if n := len(finding.Edges(g, 2, c.kg)); (n == 1) != c.highest {
			t.Errorf("cells %s at %g kg: %d advices to take more, want some: %v", c.cells, c.kg, n, c.highest)
		}
	}
}

// Where the best design is outside the model's validity, the best within it is the
// first of the ranking without a warning.
func TestWithin(t *testing.T) {
	t.Parallel()
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
					want = fmt.Sprintf("within the model's validity: rank %d, %g in, %.2g %% less", n+1,
						math.Round(rows[n].Design.Diameter/0.0254*100)/100, 100*(1-rows[n].Score/rows[0].Score))
				}
			}
			got := words.Within(f)
			if got != want {
				t.Errorf("class %s, %d ranked: %q, want %q", f.Class.Label, top, got, want)
			}
			if said[got[:min(len(got), 33)]] = true; want != "" && !slices.Contains(words.Decisions(r, f), want) {
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

func TestFindingsSayHowAClassWasMissed(t *testing.T) {
	t.Parallel()
	r := trial.SmallRun(t)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	if best := found[0].Best(); best != nil {
		t.Fatalf("class 80g has a feasible design %d", best.Index)
	}
	for _, want := range []string{"2.5 × 1.5 in", "over the limit of 80 g"} {
		if !strings.Contains(words.Miss(found[0].Missed), want) {
			t.Errorf("the miss %q does not say %q", words.Miss(found[0].Missed), want)
		}
	}
	// A bound that nothing reaches is named with value, bound and difference.
	s := *r.Study
	s.Require = []sweep.Requirement{{Metric: finding.Metric("hover-time"), AtLeast: true, Bound: 3600}}
	result, err := sweep.Run(t.Context(), &s, sweep.Options{Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	other := &finding.Run{Study: &s, Result: result}
	if found, err = other.Findings(); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"hover time of ", ", where at least 60 min is required (short by "} {
		if !strings.Contains(words.Miss(found[2].Missed), want) {
			t.Errorf("the miss %q does not say %q", words.Miss(found[2].Missed), want)
		}
	}
}
