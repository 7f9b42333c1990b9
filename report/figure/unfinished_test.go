package figure

import (
	"math"
	"strings"
	"testing"

	"rotorsieve/report/trial"
)

// Of an unfinished run figures name the best so far and hatch nothing that was not judged
// whole; what rests on the best alone is left out, and that is said.
func TestUnfinished(t *testing.T) {
	t.Parallel()
	r := trial.UnfinishedRun(t, 0.6)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	plain, cells := 0, 0
	for _, p := range plansOf(t.Context(), r, found) {
		if p.rests() {
			continue
		}
		f, lacks, err := p.draw()
		if err != nil {
			t.Fatal(err)
		}
		if lacks != "" || f == nil {
			continue // a figure of a decision
		}
		if !strings.HasPrefix(f.Subtitle, "INCOMPLETE: ") || !strings.Contains(f.Title, "so far") {
			t.Errorf("%s: %q, from %q", p.name, f.Title, f.Subtitle)
		}
		for _, claim := range []string{"is best", "costs", "Carrying", "the grid's", "is feasible at", "none at"} {
			if strings.Contains(f.Title, claim) {
				t.Errorf("%s: an unfinished run claims %q", p.name, f.Title)
			}
		}
		open := false
		for _, panel := range f.Panels {
			if panel.Field == nil {
				continue
			}
			for j, row := range panel.Field.Gate {
				for i, gate := range row {
					switch {
					case !math.IsNaN(panel.Field.Z[j][i]):
					case gate == notJudged:
						open = true
						cells++
					default:
						plain++
					}
				}
			}
		}
		if open != f.Plain || open && f.Infeasible != plainGround {
			t.Errorf("%s: ground that was not judged whole: %v, left plain: %v, %q", p.name, open, f.Plain, f.Infeasible)
		}
	}
	if cells == 0 || plain == 0 {
		t.Errorf("%d cells were not judged whole and have nothing feasible, %d were: want some of both", cells, plain)
	}
	r.Figures = []string{All}
	pictures, err := Draw(t.Context(), r)
	if err != nil {
		t.Fatal(err)
	}
	for _, k := range pictures {
		if !strings.HasPrefix(k.Caption, soFarTold) {
			t.Errorf("%s: caption %q", k.Name, k.Caption)
		}
	}
	left := strings.Join(r.Undrawn, "; ")
	for _, name := range []string{frontName, classesName, massName, envelopeName, rotorName} {
		if !strings.Contains(left, name+": "+unfinished) {
			t.Errorf("left out are %q, want %s among them", left, name)
		}
	}
	for _, k := range pictures {
		if k.Name == File(sizeName) || k.Name == File(r.Study.Maps[0].Name()) {
			k.Name = strings.Replace(k.Name, "figures/", "figures/unfinished-", 1)
			trial.CheckGolden(t, k)
		}
	}
}
