package report

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math"
	"slices"
	"testing"

	"rotorsieve/model"
	"rotorsieve/model/rotor"
	"rotorsieve/report/chart"
	"rotorsieve/sweep"
)

// everyFigure makes one of each kind that is ever drawn: those of a run of three
// classes and of four, whose panels stand in rows,
// and the figures of one design and one propeller.
func everyFigure(t *testing.T) map[string]*chart.Figure {
	t.Helper()
	all := allFigures(t, mappedRun(t))
	four := mappedRun(t)
	four.Study.Classes = append(slices.Clone(four.Study.Classes), sweep.Class{Limit: 1.2, Label: "1.2kg"})
	result, err := sweep.Run(t.Context(), four.Study, sweep.Options{Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	four.Result = result
	for name, f := range allFigures(t, four) {
		all["four classes: "+name] = f
	}
	r := someCurves(t, 100, 200, 300, 400)
	r.Measured = &rotor.Specimen{Diameter: r.Diameter, Air: r.Air}
	q := r.Air.Density * 200 * 200 * math.Pow(r.Diameter, 4)
	r.Measured.Points = []rotor.Measurement{{J: 0.5, N: 200, Thrust: 0.12 * q, Power: 0.1 * q * 200 * r.Diameter}}
	all["rotor, measured"] = drawn(t, &r)
	return all
}

// Every text of every kind of figure can be read as drawn and as the workbook prints it.
func TestEveryFigureIsLegible(t *testing.T) {
	t.Parallel()
	for name, f := range everyFigure(t) {
		legible(t, name, f, printedScale)
	}
}

// legible says where a text of a figure does not stand within it, or over another, is
// less than 7 points high as drawn or as it is printed at a scale of its size in points,
// stands upside down, or stands out from its ground by less than 4.5 : 1.
func legible(t *testing.T, name string, f *chart.Figure, scale func(width, height float64) float64) {
	t.Helper()
	g := *f
	g.DPI = 100
	var b bytes.Buffer
	l, err := g.Draw(&b)
	if err != nil {
		t.Errorf("%s: %v", name, err)
		return
	}
	m, err := png.Decode(&b)
	if err != nil {
		t.Fatal(err)
	}
	for _, fault := range l.Faults() {
		t.Errorf("%s: %s", name, fault)
	}
	for k, a := range l.Texts { // heads and labels of neighbouring panels
		for _, b := range l.Texts[:k] {
			const apart = 8
			if a.Size >= 9 && a.Size == b.Size && a.Corners[0][1] == b.Corners[0][1] && a.Corners[0][1] == a.Corners[1][1] &&
				a.Corners[0][0] < b.Corners[1][0]+apart && b.Corners[0][0] < a.Corners[1][0]+apart {
				t.Errorf("%s: %q and %q nearly touch", name, a.Text, b.Text)
			}
		}
	}
	printed := scale(l.Width, l.Height)
	for _, text := range l.Texts {
		if text.Size < 7 || text.Size*printed < 6.99 {
			t.Errorf("%s: %q is %g points high and printed at %.2f, want at least 7", name, text.Text, text.Size, text.Size*printed)
		}
		if a, b := text.Corners[0], text.Corners[1]; b[0] < a[0]-1e-9 || math.Abs(b[0]-a[0]) < 1e-9 && b[1] < a[1] {
			t.Errorf("%s: %q is upside down", name, text.Text)
		}
		ground := text.Halo
		if ground == nil {
			ground = groundOf(m, text, l.Height)
		}
		if c := chart.Contrast(text.Ink, ground); c < 4.5 {
			t.Errorf("%s: %q has a contrast of %.1f, want at least 4.5", name, text.Text, c)
		}
	}
}

// groundOf is the colour of most dots of a text's box.
func groundOf(m image.Image, text chart.TextBox, height float64) color.Color {
	scale := float64(m.Bounds().Dy()) / height
	a, b, d := text.Corners[0], text.Corners[1], text.Corners[3]
	count := map[color.Color]int{}
	var most color.Color
	const steps = 60
	for i := range steps {
		for j := range steps / 4 {
			u, v := float64(i)/(steps-1), float64(j)/(steps/4-1)
			x := a[0] + u*(b[0]-a[0]) + v*(d[0]-a[0])
			y := a[1] + u*(b[1]-a[1]) + v*(d[1]-a[1])
			c := m.At(int(x*scale), int((height-y)*scale))
			if count[c]++; most == nil || count[c] > count[most] {
				most = c
			}
		}
	}
	return most
}

// The overlay of a comparison is as it is kept, and can be read.
func TestCompareFigureGolden(t *testing.T) {
	_, _, dirs := twoRuns(t)
	c, err := Compare(dirs...)
	if err != nil {
		t.Fatal(err)
	}
	f, err := overlayOf(c)
	if err != nil {
		t.Fatal(err)
	}
	legible(t, "size-overlay", f, printedScale)
	f.DPI = 72
	p, err := picture("size-overlay", compareCaption, f)
	if err != nil {
		t.Fatal(err)
	}
	checkGolden(t, p)
}

// The title of a comparison says first where the runs agree.
func TestCompareTitle(t *testing.T) {
	run := func(name string, inches ...float64) *Finished {
		f := &Finished{Name: name}
		for k, d := range inches {
			limit := 0.25 * float64(k+1)
			x := FinishedClass{Class: sweep.Class{Limit: limit, Label: mass(limit)}}
			if d > 0 {
				x.Best = &row{Design: model.Design{Diameter: inch.ToSI(d)}}
			}
			f.Classes = append(f.Classes, x)
		}
		return f
	}
	for _, c := range []struct {
		runs []*Finished
		want string
	}{
		{[]*Finished{run("low", 3, 4), run("high", 3, 4.5)}, "In both runs 3 in is best at 250 g; best at 500 g: 4 in (low), 4.5 in (high)"},
		{[]*Finished{run("a", 3, 3, 5), run("b", 3, 3, 5), run("c", 3, 3, 5)}, "In all runs 3 in is best at 250 g and 500 g and 5 in at 750 g"},
		{[]*Finished{run("a", 3), run("b", 0)}, "Best at 250 g: 3 in (a)"},
		{[]*Finished{run("a", 0), run("b", 0)}, "No run has a feasible design"},
	} {
		if got := overlayTitle((&Comparison{Runs: c.runs})); got != c.want {
			t.Errorf("title %q, want %q", got, c.want)
		}
	}
}
