package figure

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"rotorsieve/model/rotor"
	"rotorsieve/report/chart"
	"rotorsieve/report/trial"
)

// someCurves are those of a generic 5 in propeller.
func someCurves(t *testing.T, speeds ...float64) RotorCurves {
	t.Helper()
	by := trial.Parameters()
	a, err := by.Air.Offset(0, 0)
	if err != nil {
		t.Fatal(err)
	}
	b, err := by.Rotor.Generic(0.127, 0.109, 3, 0)
	if err != nil {
		t.Fatal(err)
	}
	s, err := rotor.New(rotor.Geometry{Diameter: 0.127, Blades: 3, Blade: b}, a)
	if err != nil {
		t.Fatal(err)
	}
	return RotorCurves{
		Propeller: "5 × 4.3 in, 3 blades", From: "blade-element solution", Air: a, Diameter: 0.127, Speeds: speeds,
		MeasuredTipMach: 0.39,
		At: func(J, n float64) (float64, float64, error) {
			p, err := s.Solve(J, n)
			return p.CT, p.CP, err
		},
	}
}

func drawn(t *testing.T, r *RotorCurves) *chart.Figure {
	t.Helper()
	f, err := r.Figure()
	if err != nil {
		t.Fatal(err)
	}
	l, err := f.Layout()
	if err != nil {
		t.Fatal(err)
	}
	for _, fault := range l.Faults() {
		t.Error(fault)
	}
	if len(l.Dropped) > 0 {
		t.Errorf("no room for %q", l.Dropped)
	}
	return f
}

// Curves run from rest to zero thrust; up to six are drawn, the slowest and the
// fastest among them.
func TestRotorFigure(t *testing.T) {
	t.Parallel()
	r := someCurves(t, 50, 100, 150, 200, 250, 350, 450)
	f := drawn(t, &r)
	if len(f.Panels) != 3 {
		t.Fatalf("%d panels, want 3", len(f.Panels))
	}
	for i, p := range f.Panels {
		if n := len(p.Lines); n != mostRotorSpeeds {
			t.Errorf("panel %s: %d curves, want %d", p.Title, n, mostRotorSpeeds)
		}
		for _, l := range p.Lines {
			last := len(l.X) - 1
			if l.X[0] != 0 || l.X[last] < 0.8 || l.X[last] > 1.1 {
				t.Errorf("panel %s: a curve from J %g to %g", p.Title, l.X[0], l.X[last])
			}
			if i != 1 && l.Y[last] != 0 {
				t.Errorf("panel %s: a curve ends at %g, want zero thrust", p.Title, l.Y[last])
			}
			for _, y := range l.Y {
				if !(y >= 0 && y < p.Y.Max) {
					t.Errorf("panel %s: %g is off the axis to %g", p.Title, y, p.Y.Max)
				}
			}
		}
	}
	if first, last := f.Panels[0].Lines[0].Family, f.Panels[0].Lines[5].Family; first != "3,000 rpm (tip Mach 0.06)" ||
		last != "27,000 rpm (tip Mach 0.53)" {
		t.Errorf("curves from %q to %q", first, last)
	}
	for _, want := range []string{"and 27,000 rpm; static CT is ", " % more than at 3,000 rpm"} {
		if !strings.Contains(f.Title, want) {
			t.Errorf("title %q does not say %q", f.Title, want)
		}
	}
	if !strings.Contains(f.Note, "6 of 7 speeds are drawn") {
		t.Errorf("note %q", f.Note)
	}
}

// The figure says where what was measured of a size ends, if a curve is beyond it.
func TestRotorFigureBeyondMeasurements(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		fastest float64 // rev/s, of 5 in
		want    bool
	}{{300, false}, {332, false}, {334, true}, {450, true}} {
		r := someCurves(t, 100, c.fastest)
		if note := drawn(t, &r).Note; strings.Contains(note,
			"Measured to tip Mach 0.39 at this size; beyond by theory.") != c.want {
			t.Errorf("to %g rev/s: note %q", c.fastest, note)
		}
	}
}

// Measured points stand at their coefficients, with the curve nearest in speed;
// what has no thrust is left out, and at rest there is no efficiency.
func TestRotorFigureMeasured(t *testing.T) {
	t.Parallel()
	r := someCurves(t, 100, 200, 300, 400, 450, 460, 470)
	m := rotor.Specimen{Diameter: r.Diameter, Air: r.Air}
	for _, p := range []struct{ n, J, CT, CP float64 }{{200, 0, 0.2, 0.12}, {215, 0.5, 0.12, 0.1}, {360, 0, 0.21, 0.13},
		{200, 1.1, -0.01, 0.01}} {
		q := r.Air.Density * p.n * p.n * math.Pow(r.Diameter, 4)
		m.Points = append(m.Points, rotor.Measurement{J: p.J, N: p.n, Thrust: p.CT * q,
			Power: p.CP * q * p.n * r.Diameter})
	}
	r.Measured = &m
	f := drawn(t, &r)
	type marks map[string][][2]float64
	middle, fast := r.speedText(200), r.speedText(400)
	for i, want := range []marks{
		{middle: {{0, 0.2}, {0.5, 0.12}}, fast: {{0, 0.21}}},
		{middle: {{0, 0.12}, {0.5, 0.1}}, fast: {{0, 0.13}}},
		{middle: {{0.5, 0.6}}},
	} {
		got := marks{}
		for _, q := range f.Panels[i].Points {
			for k := range q.X {
				got[q.Family] = append(got[q.Family], [2]float64{q.X[k], q.Y[k]})
			}
			if !slices.ContainsFunc(f.Panels[i].Lines, func(l chart.Line) bool { return l.Family == q.Family }) {
				t.Errorf("panel %d: points of %q, which is no curve", i, q.Family)
			}
		}
		if d := cmp.Diff(want, got, cmpopts.EquateApprox(0, 1e-9)); d != "" {
			t.Errorf("panel %d: points differ (-want +got):\n%s", i, d)
		}
	}
	if want := "Marks are measured, at 12,000 to 21,600 rpm, in the colour of the curve nearest in " +
		"speed."; !strings.HasSuffix(f.Note, want) {
		t.Errorf("note %q, want it to end in %q", f.Note, want)
	}
}

// The figure of a craft marks hover and full throttle, together where they
// would cover each other.
func TestCraftRotor(t *testing.T) {
	t.Parallel()
	d, c, err := trial.SomeDesign(t, 1750)
	if err != nil {
		t.Fatal(err)
	}
	r := CraftRotor(d, c)
	f := drawn(t, &r)
	CT, _ := c.Powertrain.Propeller.Table.Static(c.Hover.Speed)
	found := false
	for i, p := range f.Panels[:2] {
		text := ""
		for _, m := range p.Points {
			text += m.Family + "; "
			found = found || i == 0 && m.X[0] == 0 && m.Y[0] == CT && m.Family == "hover"
		}
		if !strings.Contains(text, "hover") || !strings.Contains(text, "full throttle") {
			t.Errorf("panel %s marks %q", p.Title, text)
		}
	}
	if !found {
		t.Errorf("hover is not marked at CT %g: %+v", CT, f.Panels[0].Points)
	}
	one := marked(nil, rotorMark{name: "hover"}, 0.1, 0.01)
	if one = marked(one, rotorMark{name: "full throttle"}, 0.105, 0.01); len(one) != 1 ||
		one[0].Family != "hover, full throttle" {
		t.Errorf("%+v", one)
	}
}

// Speeds are told to three digits: more would pretend to know them.
func TestRpmText(t *testing.T) {
	t.Parallel()
	for n, want := range map[float64]string{0: "0 rpm", 1.25: "75 rpm", 50: "3,000 rpm", 360.9: "21,700 rpm",
		979.88: "58,800 rpm"} {
		if got := rpmText(n); got != want {
			t.Errorf("%g rev/s is told as %q, want %q", n, got, want)
		}
	}
}

func TestRoundUp(t *testing.T) {
	t.Parallel()
	for _, c := range [][2]float64{{0.229, 0.25}, {0.25, 0.25}, {0.251, 0.3}, {0.9, 1}, {1, 1}, {0.081, 0.1},
		{13, 15}} {
		if got := roundUp(c[0]); math.Abs(got-c[1]) > 1e-12 {
			t.Errorf("%g becomes %g, want %g", c[0], got, c[1])
		}
	}
}
