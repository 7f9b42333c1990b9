package report

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"rotorsieve/sweep"
)

// What readers of a study are told of the model's error is what its validation
// has measured.
func TestTrustIsWhatWasMeasured(t *testing.T) {
	b, err := os.ReadFile("../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	for first, c := range map[string]comparison{
		"generic blade: diameter, pitch, blades": bySize,
		"generic blade, chord known":             byChord,
		"generic blade, one static point":        calibrated,
	} {
		text := func(s deviation) string { return fmt.Sprintf("%.1f / %.1f", s.Median, s.Ninety) }
		found := false
		for line := range strings.Lines(string(b)) {
			cells := strings.Split(line, " | ")
			if len(cells) < 7 || cells[0] != "| "+first {
				continue
			}
			found = true
			want := []string{fmt.Sprint(c.Propellers), text(c.CT), text(c.CP), text(c.WindCT), text(c.WindCP)}
			got := []string{cells[1], cells[2], cells[3], cells[5], cells[6]}
			if fmt.Sprint(got) != fmt.Sprint(want) {
				t.Errorf("%s: measured %q, told %q", first, got, want)
			}
		}
		if !found {
			t.Errorf("the table of the validation has no row %q", first)
		}
	}
}

func TestTrustKnowsTheChord(t *testing.T) {
	s := smallStudy(t)
	if got := trust(s); !strings.Contains(got, "165 small propellers known by diameter, pitch and blades, thrust at rest is off by 9.6 % (median; 27.8 %") {
		t.Error(got)
	}
	axes := append([]sweep.Axis(nil), s.Grid.Axes()...)
	for i := range axes {
		if axes[i].Def == sweep.Chord {
			axes[i].Values = []float64{0.2}
		}
	}
	g, err := sweep.NewGrid(axes...)
	if err != nil {
		t.Fatal(err)
	}
	s.Grid = g
	if got := trust(s); !strings.Contains(got, "91 small propellers known by diameter, pitch, blades and chord") {
		t.Error(got)
	}
}
