package report

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"rotorsieve/model"
	"rotorsieve/sweep"
)

// validationRow finds the row of the table of validation that begins with a cell:
// its other cells.
func validationRow(t *testing.T, first string) []string {
	t.Helper()
	b, err := os.ReadFile("../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(string(b)) {
		if cells := strings.Split(line, " | "); len(cells) > 6 && cells[0] == "| "+first {
			return cells[1:]
		}
	}
	t.Fatalf("the table of the validation has no row %q", first)
	return nil
}

// What readers of a study are told of the model's error is what its validation
// has measured, of all propellers and of each size.
func TestTrustIsWhatWasMeasured(t *testing.T) {
	check := func(first string, c comparison) {
		text := func(s deviation) string { return fmt.Sprintf("%.1f / %.1f (%+.1f)", s.Median, s.Ninety, s.Bias) }
		cells := validationRow(t, first)
		want := []string{fmt.Sprint(c.Propellers), text(c.CT), text(c.CP), text(c.Hover), text(c.WindCT), text(c.WindCP)}
		got := cells[:len(want)]
		if !slices.Equal(got, want) {
			t.Errorf("%s: measured %q, told %q", first, got, want)
		}
	}
	for _, k := range []struct {
		first string
		all   comparison
		bands sized
	}{
		{"generic blade: diameter, pitch, blades", bySize, bySizeSized},
		{"generic blade, chord known", byChord, byChordSized},
		{"generic blade, one static point", calibrated, calibratedSized},
	} {
		check(k.first, k.all)
		propellers := 0
		for i, band := range sizeBands {
			check(k.first+", "+band.Name, k.bands[i])
			propellers += k.bands[i].Propellers
			if k.bands[i].Known != k.all.Known {
				t.Errorf("%s, %s: known of it %q", k.first, band.Name, k.bands[i].Known)
			}
		}
		if propellers != k.all.Propellers {
			t.Errorf("%s: %d propellers in all sizes, %d in each", k.first, k.all.Propellers, propellers)
		}
	}
	if n := len(comparisons()); n != 3*(1+len(sizeBands)) {
		t.Errorf("%d comparisons", n)
	}
}

// The front page says what was measured of propellers known by their size.
func TestReadmeSaysTheErrors(t *testing.T) {
	b, err := os.ReadFile("../README.md")
	if err != nil {
		t.Fatal(err)
	}
	_, part, _ := strings.Cut(string(b), "## How far to trust it")
	part, _, _ = strings.Cut(part, "\n## ")
	whole := func(d deviation) string { return fmt.Sprintf("%.0f %% (%.0f %%)", d.Median, d.Ninety) }
	for i, band := range sizeBands {
		c := bySizeSized[i]
		want := fmt.Sprintf("| %s | %d | %s | %s | %s | %s | %s |\n", band.Name, c.Propellers, whole(c.Hover), whole(c.CT), whole(c.CP), whole(c.WindCT), whole(c.WindCP))
		if !strings.Contains(part, want) {
			t.Errorf("README.md lacks %q", want)
		}
	}
}

// withAxis is a study with other values on one axis.
func withAxis(t *testing.T, def *sweep.AxisDef, values ...float64) *sweep.Study {
	t.Helper()
	s := smallStudy(t)
	axes := slices.Clone(s.Grid.Axes())
	for i := range axes {
		if axes[i].Def == def {
			axes[i].Values = values
		}
	}
	g, err := sweep.NewGrid(axes...)
	if err != nil {
		t.Fatal(err)
	}
	s.Grid = g
	return s
}

func TestTrustKnowsTheChord(t *testing.T) {
	if got := trust(smallStudy(t)); !strings.Contains(got, "known by diameter, pitch and blades, without calibration (median; 90th percentile in brackets): "+
		"below 7 in (23 propellers) thrust at rest is off by 16.7 % (43.1 %) and power by 21.7 % (49.3 %), power to hover with a given thrust (as CP/CT^1.5) by 9.4 % (29.7 %), thrust and power in axial flight by 24.0 % (59.8 %)") {
		t.Error(got)
	}
	if got := trust(withAxis(t, sweep.Chord, 0.2)); !strings.Contains(got, "known by diameter, pitch, blades and chord, ") || !strings.Contains(got, "off by 10.4 % (41.8 %)") {
		t.Error(got)
	}
}

// Errors are told of the sizes that a study has, and of no others.
func TestTrustKnowsTheSizes(t *testing.T) {
	for _, c := range []struct {
		inches []float64
		want   []int
	}{
		{[]float64{3, 5}, []int{0}}, {[]float64{6.999}, []int{0}}, {[]float64{7}, []int{1}}, {[]float64{10}, []int{1}}, {[]float64{10.25}, []int{2}},
		{[]float64{5, 7}, []int{0, 1}}, {[]float64{6, 11}, []int{0, 2}}, {[]float64{2, 8, 12}, []int{0, 1, 2}},
	} {
		var v []float64
		for _, D := range c.inches {
			v = append(v, inch.ToSI(D))
		}
		s := withAxis(t, sweep.Diameter, v...)
		if got := touched(s.Grid); !slices.Equal(got, c.want) {
			t.Errorf("%v in: sizes %v, want %v", c.inches, got, c.want)
		}
		words := trust(s)
		for k, band := range sizeBands {
			if strings.Contains(words, band.Name) != slices.Contains(c.want, k) {
				t.Errorf("%v in: %s", c.inches, words)
			}
		}
	}
	s := withAxis(t, sweep.Diameter, inch.ToSI(8))
	var err error
	if s.Model.Assume.Evidence, err = model.EvidenceOf(model.Measured{Diameter: inch.ToSI(8), Pitch: inch.ToSI(5), Blades: 2}); err != nil {
		t.Fatal(err)
	}
	if got := trust(s); !strings.Contains(got, "as some of this study are, 7 to 10 in thrust at rest is off by 1.5 % (6.1 %) and power by 1.9 % (6.5 %), power to hover with a given thrust by 2.5 % (11.2 %).") {
		t.Error(got)
	}
}
