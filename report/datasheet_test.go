package report

import (
	"bytes"
	"encoding/json"
	"errors"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rotorsieve/model"
	"rotorsieve/model/pack"
	"rotorsieve/model/rotor"
	"rotorsieve/sweep"
)

// someDesign is an invented one; kv chooses between a good one and one that
// cannot hover.
func someDesign(t testing.TB, kv float64) (model.Design, *model.Craft, error) {
	t.Helper()
	d := model.Design{Diameter: 5 * 0.0254, Pitch: 3 * 0.0254, Blades: 3, Stator: sweep.StatorOf(2207),
		KV: kv, Cells: 4, Capacity: 1500 * 3.6, Payload: 0.030}
	a := model.Defaults()
	a.Altitude = 1600
	m, err := model.New(a)
	if err != nil {
		t.Fatal(err)
	}
	c, err := m.Evaluate(d)
	return d, c, err
}

func TestSheet(t *testing.T) {
	d, c, err := someDesign(t, 1750)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range []struct {
		name    string
		why     bool
		require []sweep.Requirement
	}{
		{"sheet.txt", false, append(sweep.DefaultRequirements(), sweep.Requirement{Metric: metric("hover-time"), AtLeast: true, Bound: 3600})},
		{"sheet-why.txt", true, nil},
	} {
		var out bytes.Buffer
		if err := Sheet(&out, d, c, f.why, f.require...); err != nil {
			t.Fatal(err)
		}
		golden(t, f.name, out.Bytes())
		for _, text := range Cautions {
			if !strings.Contains(out.String(), text) {
				t.Errorf("%s does not say %q", f.name, text)
			}
		}
	}
}

// A sheet says which measurements corrected the propeller, and of which none did.
func TestSheetOfMeasured(t *testing.T) {
	a := model.Defaults()
	a.Measured = []model.Measured{{Diameter: 5 * 0.0254, Pitch: 3 * 0.0254, Blades: 3, Points: 2, Correction: rotor.Correction{Pitch: 0.02, Drag: 0.1, Chord: -0.05}}}
	m, err := model.New(a)
	if err != nil {
		t.Fatal(err)
	}
	d, _, err := someDesign(t, 1750)
	if err != nil {
		t.Fatal(err)
	}
	for blades, want := range map[int][]string{
		3: {"Measured propellers", "5×3×3 (2 points): correct those of the same series", "pitch angle +1.1°, drag +10 %, chord -5 %, by 2 points at 5 in", "within the limits of the model"},
		2: {"Propeller correction", " none\n", "! propeller is not corrected"},
	} {
		d.Blades = blades
		c, err := m.Evaluate(d)
		if err != nil {
			t.Fatal(err)
		}
		var out bytes.Buffer
		if err := Sheet(&out, d, c, true); err != nil {
			t.Fatal(err)
		}
		for _, text := range want {
			if !strings.Contains(out.String(), text) {
				t.Errorf("%d blades: the sheet does not say %q:\n%s", blades, text, &out)
			}
		}
	}
}

func TestSheetWithoutOperatingPoint(t *testing.T) {
	d, c, err := someDesign(t, 60)
	if !errors.Is(err, model.ErrNoOperatingPoint) {
		t.Fatalf("error %v, want no operating point", err)
	}
	var out bytes.Buffer
	if err := Sheet(&out, d, c, false, sweep.DefaultRequirements()...); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"No operating point", "NOT KEPT", "All-up weight"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("the sheet does not say %q:\n%s", want, &out)
		}
	}
	for _, not := range []string{"NaN", "Inf", "Hover power"} {
		if strings.Contains(out.String(), not) {
			t.Errorf("the sheet says %q:\n%s", not, &out)
		}
	}
}

func TestSheetJSON(t *testing.T) {
	for _, kv := range []float64{1750, 60} {
		d, c, _ := someDesign(t, kv)
		var out bytes.Buffer
		if err := SheetJSON(&out, d, c); err != nil {
			t.Fatal(err)
		}
		var got map[string]json.RawMessage
		if err := json.Unmarshal(out.Bytes(), &got); err != nil {
			t.Fatal(err)
		}
		if names := slices.Sorted(maps.Keys(got)); !slices.Equal(names, []string{"inputs", "metrics", "warnings"}) {
			t.Errorf("members %q", names)
		}
		want := map[string]quantity{}
		var order []string
		for _, m := range model.Metrics {
			v, symbol := m.Exported(c)
			if math.IsNaN(v) || kv < 100 && m.Stage != model.StageMass {
				continue
			}
			want[m.Name] = quantity{v, symbol}
			order = append(order, m.Name)
		}
		if _, ok := want["class-margin"]; ok {
			t.Error("a craft without a class has a margin")
		}
		var metrics map[string]quantity
		if err := json.Unmarshal(got["metrics"], &metrics); err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(want, metrics); d != "" {
			t.Errorf("metrics (-want +got):\n%s", d)
		}
		last := -1
		for _, name := range order {
			at := bytes.Index(got["metrics"], []byte(`"`+name+`": {`))
			if at < last {
				t.Errorf("%s is out of the registry's order", name)
			}
			last = at
		}
		var inputs map[string]quantity
		if err := json.Unmarshal(got["inputs"], &inputs); err != nil {
			t.Fatal(err)
		}
		for name, want := range map[string]quantity{
			"diameter": {d.Diameter, "m"}, "stator": {2207.0, ""}, "capacity": {5400.0, "As"}, "kv": {kv, "rpm/V"},
			"altitude": {1600.0, "m"}, "pack-grade": {"high-rate", ""}, "charge": {0.9, ""}, "payload": {0.03, "kg"},
		} {
			if d := cmp.Diff(want, inputs[name]); d != "" {
				t.Errorf("input %s (-want +got):\n%s", name, d)
			}
		}
	}
}

// The parts of the all-up weight add up to it, and each names a constant that
// the model has, whatever the pack.
func TestMassesAddUp(t *testing.T) {
	d, c, err := someDesign(t, 1750)
	if err != nil {
		t.Fatal(err)
	}
	for _, g := range pack.Grades {
		a := c.Model.Assume
		a.PackGrade = g
		d.Capacity = 5400
		if q := g.CellCharge(); q > 0 {
			d.Capacity = q
		}
		m, err := model.New(a)
		if err != nil {
			t.Fatal(err)
		}
		c, err := m.Evaluate(d)
		if err != nil {
			t.Fatal(err)
		}
		var sum float64
		for _, part := range masses(c) {
			sum += part.Mass
		}
		if math.Abs(sum-c.Mass) > 1e-12 {
			t.Errorf("%s: parts of %v kg in %v kg", g.Name, sum, c.Mass)
		}
	}
}

func TestExportUnit(t *testing.T) {
	_, c, err := someDesign(t, 1750)
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range model.Metrics {
		v, symbol := m.Exported(c)
		u := exportUnit(m)
		if u.Symbol != symbol {
			t.Errorf("%s is exported in %q, not %q", m.Name, symbol, u.Symbol)
		}
		if got := u.FromSI(m.Of(c)); got != v && !(math.IsNaN(got) && math.IsNaN(v)) {
			t.Errorf("%s is exported as %v, not %v", m.Name, v, got)
		}
	}
}
