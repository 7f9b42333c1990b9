package finding_test

import (
	"testing"

	"rotorsieve/report/finding"
	"rotorsieve/report/trial"
	"rotorsieve/sweep"
)

// Each line is of one propeller and number of cells, holds what lies near its best and nothing
// else, and no two lines could be one; every design ranked before the best of the last line is
// in some line.
func TestLines(t *testing.T) {
	t.Parallel()
	s := trial.SmallStudy(t)
	var err error
	if s.Grid, err = sweep.NewGrid(
		trial.Axis(t, sweep.Diameter, "5in"), trial.Axis(t, sweep.PitchRatio, "0.6,0.9"),
		trial.Axis(t, sweep.Blades, "2"), trial.Axis(t, sweep.Chord, "0"),
		trial.Axis(t, sweep.Stator, "2207,2306,2806"), trial.Axis(t, sweep.KV, "1500:2500:100"),
		trial.Axis(t, sweep.Cells, "4,6"), trial.Axis(t, sweep.Capacity, "850:1500:50mAh"),
		trial.Axis(t, sweep.Payload, "0,60g"),
	); err != nil {
		t.Fatal(err)
	}
	result, err := sweep.Run(t.Context(), s, sweep.Options{Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	r := &finding.Run{Study: s, Result: result}
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	folded := false
	for i := range found {
		f := &found[i]
		for _, most := range []int{1, 3, 10} {
			lines, err := r.Lines(f, most)
			if err != nil {
				t.Fatal(err)
			}
			if want := min(most, len(f.Ranking)); len(lines) > want || want > 0 && len(lines) == 0 {
				t.Fatalf("%d lines, want up to %d", len(lines), want)
			}
			seen := map[int]bool{}
			for k := range lines {
				a := &lines[k]
				if a.Rank != a.Ranks[0] || a.Index != f.Ranking[a.Rank-1].Index || a.Craft == nil {
					t.Fatalf("a line of rank %d begins with %v", a.Rank, a.Ranks)
				}
				folded = folded || len(a.Ranks) > 1
				for _, n := range a.Ranks {
					if seen[n] {
						t.Errorf("rank %d is in two lines", n)
					}
					seen[n] = true
					d := r.Study.Grid.Design(f.Ranking[n-1].Index)
					if d.Diameter != a.Design.Diameter || d.Pitch != a.Design.Pitch || d.Blades != a.Design.Blades ||
						d.Cells != a.Design.Cells || d.Payload != a.Design.Payload {
						t.Errorf("%+v is in the line of %+v", d, a.Design)
					}
					for _, x := range [][2]float64{{d.KV, a.Design.KV}, {d.Capacity, a.Design.Capacity},
						{d.Stator.Volume(), a.Design.Stator.Volume()}} {
						if hi, lo := max(x[0], x[1]), min(x[0], x[1]); hi > (1+finding.AlikeShare)*lo {
							t.Errorf("%g is in the line of %g", x[0], x[1])
						}
					}
					if d.KV < a.KV.Least || d.KV > a.KV.Most || d.Capacity < a.Capacity.Least ||
						d.Capacity > a.Capacity.Most {
						t.Errorf("%+v lies outside what its line says: %+v", d, a)
					}
				}
			}
			for n := 1; len(lines) > 0 && n < lines[len(lines)-1].Rank; n++ {
				if !seen[n] {
					t.Errorf("rank %d is in no line of %d", n, most)
				}
			}
		}
	}
	if !folded {
		t.Error("no line of more than one design")
	}
}

// What ranks comes first, then what was asked of designs, then the rest, each once.
func TestAsked(t *testing.T) {
	t.Parallel()
	s := *trial.SmallRun(t).Study
	metric := finding.Metric
	s.Merit = sweep.Merit{{Metric: metric("range"), Weight: 1, Best: 1}, {Metric: metric("auw"), Weight: 1, Best: 1}}
	s.Require = []sweep.Requirement{{Metric: metric("tip-mach"), Default: true}, {Metric: metric("payload")},
		{Metric: metric("burst-time")}, {Metric: metric("range")}}
	want := []string{"range", "auw", "burst-time", "hover-time", "thrust-to-weight", "top-speed", "tip-mach",
		"disk-loading"}
	got := finding.Asked(&s)
	if len(got) != len(want) {
		t.Fatalf("%d metrics, want %v", len(got), want)
	}
	for n, m := range got {
		if m.Name != want[n] {
			t.Errorf("metric %d is %s, want %s", n, m.Name, want[n])
		}
	}
}
