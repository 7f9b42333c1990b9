package words

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"rotorsieve/model"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/report/trial"
	"rotorsieve/sweep"
)

// validationRow finds the row of the table of validation that begins with a cell:
// its other cells.
func validationRow(t *testing.T, first string) []string {
	t.Helper()
	b, err := os.ReadFile("../../DEVELOPERS.md")
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
// has measured, of all propellers, of each size and of each number of blades.
func TestTrustIsWhatWasMeasured(t *testing.T) {
	t.Parallel()
	check := func(first string, c comparison) {
		text := func(s Deviation) string { return fmt.Sprintf("%.1f / %.1f (%+.1f)", s.Median, s.Ninety, s.Bias) }
		cells := validationRow(t, first)
		want := []string{fmt.Sprint(c.Propellers), text(c.CT), text(c.CP), text(c.Hover), text(c.WindCT),
			text(c.WindCP)}
		got := cells[:len(want)]
		for i := range got {
			got[i] = strings.Replace(got[i], "(-0.0)", "(+0.0)", 1)
		}
		if !slices.Equal(got, want) {
			t.Errorf("%s: measured %q, told %q", first, got, want)
		}
	}
	for _, k := range []struct {
		first  string
		all    comparison
		sizes  sized
		blades bladed
	}{
		{"generic blade: diameter, pitch, blades", bySize, bySizeSized, bySizeBladed},
		{"generic blade, chord known", byChord, byChordSized, byChordBladed},
		{"generic blade, one static point", calibrated, calibratedSized, calibratedBladed},
	} {
		check(k.first, k.all)
		part := func(name string, c comparison) int {
			check(k.first+", "+name, c)
			if c.Known != k.all.Known {
				t.Errorf("%s, %s: known of it %q", k.first, name, c.Known)
			}
			return c.Propellers
		}
		bySizes, byBlades := 0, 0
		for i, band := range sizeBands {
			bySizes += part(band.name, k.sizes[i])
		}
		for i, name := range bladeBands {
			byBlades += part(name, k.blades[i])
		}
		if bySizes != k.all.Propellers || byBlades != k.all.Propellers {
			t.Errorf("%s: %d propellers, %d in all sizes, %d with all blades", k.first, k.all.Propellers, bySizes,
				byBlades)
		}
	}
	if n := len(Comparisons()); n != 3*(1+len(sizeBands)+len(bladeBands)) {
		t.Errorf("%d comparisons", n)
	}
}

// What they are told of thrust stands is what the stands' table has.
func TestTrustIsWhatTheStandsShowed(t *testing.T) {
	t.Parallel()
	rows := 0
	for i, first := range []string{"5 in, all", "5 in, 2 blades", "5 in, 3 blades", "5 in, 4 blades (one propeller)",
		"8 and 9.4 in, 2 blades, controller's own readings"} {
		c := Standings()[i]
		text := func(m Misfit) string { return fmt.Sprintf("%+.1f / %.1f", m.Mean, m.RMS) }
		cells := validationRow(t, first)
		got := append(slices.Clone(cells[:5]), strings.TrimSuffix(strings.TrimSpace(cells[6]), " |"))
		if want := []string{fmt.Sprint(c.Rows), text(c.Speed), text(c.Current), text(c.Thrust), text(c.Power),
			text(c.Lift)}; !slices.Equal(got, want) {
			t.Errorf("%s: measured %q, told %q", first, got, want)
		}
		if strings.Contains(first, "5 in, ") && i > 0 {
			rows += c.Rows
		}
	}
	if rows != onStand.Rows || len(Standings()) != 5 {
		t.Errorf("%d rows by blades, %d in all, of %d lines", rows, onStand.Rows, len(Standings()))
	}
	b, err := os.ReadFile("../../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	var model, measured []float64
	for line := range strings.Lines(string(b)) {
		var pitch, m, s float64
		if n, _ := fmt.Sscanf(line, "Three blades over two at 100 to 250 g, pitch %g in: %g %% electrical power, "+
			"measured %g %%.", &pitch, &m, &s); n == 3 {
			model, measured = append(model, m), append(measured, s)
		}
	}
	slices.Sort(model)
	slices.Sort(measured)
	if want := []float64{threeOverTwoModelLow, threeOverTwoModelHigh}; !slices.Equal(model, want) {
		t.Errorf("three blades over two, model %v, told %v", model, want)
	}
	if want := []float64{threeOverTwoLow, threeOverTwoHigh}; !slices.Equal(measured, want) {
		t.Errorf("three blades over two, measured %v, told %v", measured, want)
	}
}

// readmeText is the front page without line breaks.
func readmeText(t *testing.T) string {
	t.Helper()
	b, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	return strings.Join(strings.Fields(string(b)), " ")
}

// The front page says what was measured of propellers known by their size.
func TestReadmeSaysTheErrors(t *testing.T) {
	t.Parallel()
	b, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	_, part, _ := strings.Cut(string(b), "## How far to trust it")
	part, _, _ = strings.Cut(part, "\n## ")
	whole := func(d Deviation) string { return fmt.Sprintf("%.0f %% (%.0f %%)", d.Median, d.Ninety) }
	for i, band := range sizeBands {
		c := bySizeSized[i]
		want := fmt.Sprintf("| %s | %d | %s | %s | %s | %s | %s |\n", band.name, c.Propellers, whole(c.Hover),
			whole(c.CT), whole(c.CP), whole(c.WindCT), whole(c.WindCP))
		if !strings.Contains(part, want) {
			t.Errorf("README.md lacks %q", want)
		}
	}
}

// It says what thrust stands showed, and how far propellers of each size were measured.
func TestReadmeSaysTheStands(t *testing.T) {
	t.Parallel()
	text := readmeText(t)
	three, four := onStandBladed[1], onStandBladed[2]
	var reached []string
	for i := range model.Bands {
		b := &model.Bands[i]
		reached = append(reached, fmt.Sprintf("%.2f (%s)", b.TipMach(), b.Name))
	}
	for _, want := range []string{
		fmt.Sprintf("current at full throttle is off by %.0f %%, thrust by %.1f %%, and electrical power below full "+
			"throttle by %.0f %% (root mean square)",
			onStand.Current.RMS, onStand.Thrust.RMS, onStand.Power.RMS),
		fmt.Sprintf("With three blades thrust at a given speed is off by %.0f %% and electrical power by %.0f %%, "+
			"with four (one propeller) by %.0f and %.0f %%.", three.Lift.RMS, three.Power.RMS, four.Lift.RMS,
			four.Power.RMS),
		fmt.Sprintf("three blades take %.0f to %.0f %% more power than two (the model: %.0f to %.0f %%)",
			threeOverTwoLow, threeOverTwoHigh, threeOverTwoModelLow, threeOverTwoModelHigh),
		fmt.Sprintf("has the model %.0f %% too high in thrust at full throttle", onStandElsewhere.Thrust.Mean),
		"to tip Mach " + texts.JoinAnd(reached),
	} {
		if !strings.Contains(text, want) {
			t.Errorf("README.md lacks %q", want)
		}
	}
}

// withAxis is a study with other values on one axis.
func withAxis(t *testing.T, def *sweep.AxisDef, values ...float64) *sweep.Study {
	t.Helper()
	return changed(t, trial.SmallStudy(t), def, values...)
}

// changed gives a study other values on one axis.
func changed(t *testing.T, s *sweep.Study, def *sweep.AxisDef, values ...float64) *sweep.Study {
	t.Helper()
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
	t.Parallel()
	if got := Trust(trial.SmallStudy(t)); !strings.Contains(got,
		"small propellers, nearly all of two blades, known by diameter, pitch and blades, without calibration "+
			"(median; 90th percentile in brackets): "+
			"below 7 in (23 propellers) thrust at rest is off by 11.5 % (38.8 %) and power by 19.2 % (51.6 %), power "+
			"to "+
			"hover with a given thrust (as CP/CT^1.5) by 11.4 % (31.4 %), thrust and power in axial flight by 15.6 % "+
			"(47.2 %)") {
		t.Error(got)
	}
	if got := Trust(withAxis(t, sweep.Chord, 0.2)); !strings.Contains(got,
		"known by diameter, pitch, blades and chord, ") || !strings.Contains(got, "off by 10.4 % (41.8 %)") {
		t.Error(got)
	}
}

// Errors are told of the sizes that a study has, and of no others.
func TestTrustKnowsTheSizes(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		inches []float64
		want   []int
	}{
		{[]float64{3, 5}, []int{0}}, {[]float64{6.999}, []int{0}}, {[]float64{7}, []int{1}}, {[]float64{10}, []int{1}},
		{[]float64{10.25}, []int{2}},
		{[]float64{5, 7}, []int{0, 1}}, {[]float64{6, 11}, []int{0, 2}}, {[]float64{2, 8, 12}, []int{0, 1, 2}},
	} {
		var v []float64
		for _, D := range c.inches {
			v = append(v, finding.Inch.ToSI(D))
		}
		s := withAxis(t, sweep.Diameter, v...)
		if got := touched(s.Grid); !slices.Equal(got, c.want) {
			t.Errorf("%v in: sizes %v, want %v", c.inches, got, c.want)
		}
		words := Trust(s)
		for k, band := range sizeBands {
			if strings.Contains(words, band.name) != slices.Contains(c.want, k) {
				t.Errorf("%v in: %s", c.inches, words)
			}
		}
	}
	s := withAxis(t, sweep.Diameter, finding.Inch.ToSI(8))
	var err error
	if s.Model.Assume.Evidence, err = model.EvidenceOf(model.Measured{Diameter: finding.Inch.ToSI(8),
		Pitch: finding.Inch.ToSI(5), Blades: 2}); err != nil {
		t.Fatal(err)
	}
	if got := Trust(s); !strings.Contains(got, "as some of this study are, 7 to 10 in thrust at rest is off by 1.5 % "+
		"(6.1 %) and power by 1.9 % (6.5 %), power to hover with a given thrust by 2.5 % (11.2 %).") {
		t.Error(got)
	}
}

// Blades and tip Mach numbers are told of as far as a study has them, and what was not
// measured of them is told.
func TestTrustKnowsTheBlades(t *testing.T) {
	t.Parallel()
	const (
		mostly = ", nearly all of two blades,"
		three  = "; thrust at a given speed and electrical power with 3 blades by -2.3 % (8.6 %) and +3.8 % (12.8 %)"
		four   = "with 4 blades by -5.7 % (8.4 %) and -9.6 % (13.5 %)"
		alone  = "hree and four blades are measured near 5 in alone"
		none   = "ore than four blades are measured at no size"
		chain  = "current at full throttle is off by +2.4 % (11.4 %), thrust by -1.7 % (9.5 %), electrical power " +
			"below it by +1.0 % (12.7 %)"
	)
	for _, c := range []struct {
		inches, blades []float64
		want           []string
		mach           string
	}{
		{[]float64{5}, []float64{2}, []string{chain}, "up to 0.39 (4 to 7 in);"},
		{[]float64{8}, []float64{2}, []string{chain}, "up to 0.29 (7 to 10 in);"},
		{[]float64{5}, []float64{3}, []string{chain, mostly, three}, "up to 0.39 (4 to 7 in);"},
		{[]float64{4, 6}, []float64{2, 3, 4}, []string{chain, mostly, three, four},
			"up to 0.26 (up to 4 in) and 0.39 (4 to 7 in);"},
		{[]float64{5}, []float64{4}, []string{chain, mostly, four}, "up to 0.39 (4 to 7 in);"},
		{[]float64{3}, []float64{2, 3}, []string{chain, mostly, alone}, "up to 0.26 (up to 4 in);"},
		{[]float64{3, 5}, []float64{2, 3}, []string{chain, mostly, three, alone},
			"up to 0.26 (up to 4 in) and 0.39 (4 to 7 in);"},
		{[]float64{5}, []float64{5}, []string{chain, mostly, none}, "up to 0.39 (4 to 7 in);"},
		{[]float64{8, 11}, []float64{3, 6}, []string{chain, mostly, alone, none},
			"up to 0.29 (7 to 10 in) and 0.41 (above 10 in);"},
	} {
		var v []float64
		for _, D := range c.inches {
			v = append(v, finding.Inch.ToSI(D))
		}
		words := Trust(changed(t, withAxis(t, sweep.Diameter, v...), sweep.Blades, c.blades...))
		for _, text := range []string{mostly, three, four, alone, none, chain} {
			if strings.Contains(words, text) != slices.Contains(c.want, text) {
				t.Errorf("%v in, %v blades: %q, want %q in it alone", c.inches, c.blades, words, c.want)
			}
		}
		if !strings.Contains(words, "Tip Mach numbers were measured "+c.mach) {
			t.Errorf("%v in: %q lacks %q", c.inches, words, c.mach)
		}
	}
}
