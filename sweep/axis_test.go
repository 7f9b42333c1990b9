package sweep

import (
	"cmp"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"rotorsieve/model"
	"rotorsieve/model/pack"
	"rotorsieve/model/unit"
)

// The places that code names are those of the table, what a propeller is built of comes
// first, and what the loops of a block run over last.
func TestAxisPlaces(t *testing.T) {
	for at, d := range map[int]*AxisDef{axDiameter: Diameter, axPitch: Pitch, axKV: KV, axCells: Cells,
		axCapacity: Capacity, axPayload: Payload} {
		if axisTable[at] != d || d.place != at {
			t.Errorf("%s stands at %d and says %d, want %d", d.Name, slices.Index(axisTable[:], d), d.place, at)
		}
	}
	ended := false
	for at, d := range axisTable {
		if d.propeller && (ended || at >= axKV) {
			t.Errorf("a propeller is built for each %s, which stands among what changes without it", d.Name)
		}
		ended = ended || !d.propeller
		if o := d.Or; o != nil && (o.place != at || o.propeller != d.propeller || o.Other() != d || d.Other() != o) {
			t.Errorf("%s does not stand where %s does", o.Name, d.Name)
		}
	}
	names := map[string]bool{}
	for i, d := range AxisDefs {
		if names[d.Name] || d.Title == "" || d.Symbol == "" || d.Meaning == "" || d.Kind == nil || d.field.of == nil {
			t.Errorf("axis %q is there twice or says too little", d.Name)
		}
		names[d.Name] = true
		if i > 0 && d.place < AxisDefs[i-1].place {
			t.Errorf("%s is listed after %s", d.Name, AxisDefs[i-1].Name)
		}
	}
}

// Every axis has values of its own by default, which it accepts, or stands in the place
// of one that has.
func TestAxisDefaults(t *testing.T) {
	for _, d := range AxisDefs {
		if d.Or != nil {
			if d.Swept != "" || d.Single != "" || d.Or.Swept == "" {
				t.Errorf("%s and %s: the values of which are the default?", d.Name, d.Or.Name)
			}
			continue
		}
		for _, single := range []bool{false, true} {
			v, err := unit.ParseAxis(d.Kind, d.Default(single))
			if err != nil || single && len(v) != 1 {
				t.Errorf("%s: by default %q, %v", d.Name, d.Default(single), err)
			}
			for _, x := range v {
				if err := d.Check(x); err != nil {
					t.Error(err)
				}
			}
		}
	}
	for _, g := range pack.Grades {
		want := ""
		if g.CellCharge() > 0 {
			want = unit.Charge.Text(g.CellCharge())
		}
		if got := Capacity.Under(&model.Assumptions{PackGrade: g}); got != want {
			t.Errorf("%s: a capacity of %q by default, want %q", g.Name, got, want)
		}
	}
}

// Every field of a design is that of one axis, or of one and its ratio, which reads back
// what it has put there; no axis touches another's.
func TestAxisFields(t *testing.T) {
	base := model.Design{Diameter: 0.1, Pitch: 0.08, Blades: 2, Chord: 0.2, Stator: StatorOf(1404), KV: 2000, Cells: 4,
		Capacity: 3600, Payload: 0.01}
	fields := map[string]*AxisDef{}
	for _, d := range AxisDefs {
		v, err := unit.ParseAxis(d.Kind, cmp.Or(d.Single, "5in"))
		if err != nil {
			t.Fatal(err)
		}
		to := base
		want := v[0]
		if want == 0 { // which may stand for another value
			want = 0.1
		}
		d.Apply(&to, want)
		if got := d.Of(to); math.Abs(got-want) > 1e-12*want {
			t.Errorf("%s: %v is read back as %v", d.Name, want, got)
		}
		var changed []string
		for n := range reflect.TypeFor[model.Design]().NumField() {
			if reflect.ValueOf(base).Field(n).Interface() != reflect.ValueOf(to).Field(n).Interface() {
				changed = append(changed, reflect.TypeFor[model.Design]().Field(n).Name)
			}
		}
		if len(changed) != 1 || fields[changed[0]] != nil && fields[changed[0]] != d.Other() {
			t.Errorf("%s changes the fields %v", d.Name, changed)
			continue
		}
		fields[changed[0]] = d
	}
	for n := range reflect.TypeFor[model.Design]().NumField() {
		if name := reflect.TypeFor[model.Design]().Field(n).Name; fields[name] == nil && name != "Parts" { // see parts_test.go
			t.Errorf("no axis sweeps %s", name)
		}
	}
	if base.Chord = 0; Chord.Of(base) != Chord.Usual(&base) || !(Chord.Of(base) > 0.05) {
		t.Errorf("the usual chord is %v", Chord.Of(base))
	}
}

// A stator's code comes back to the bit, whatever its height.
func TestStatorCode(t *testing.T) {
	for d := 5.0; d <= 60; d++ {
		for h := 2.0; h <= 40; h += 0.125 {
			code := 100*d + h
			if got := Stator.Of(model.Design{Stator: StatorOf(code)}); got != code {
				t.Fatalf("%v is read back as %v", code, got)
			}
		}
	}
}

// What an axis does not accept is refused by its name and value, NaN included.
func TestAxisChecks(t *testing.T) {
	for _, d := range AxisDefs {
		if d.refuse != nil {
			continue
		}
		b := d.Bound()
		wide := b.Max - b.Min
		for _, v := range []float64{b.Min - wide/100, b.Max + wide/100, math.NaN()} {
			want := fmt.Sprintf("%s %s is outside %s to %s", d.Name, d.Text(v), d.Text(b.Min), d.Text(b.Max))
			if err := d.Check(v); err == nil || err.Error() != want {
				t.Errorf("%v, want %s", err, want)
			}
		}
		if d.Check(b.Min) != nil || d.Check(b.Max) != nil {
			t.Errorf("%s refuses an end of its bound", d.Name)
		}
	}
	for _, c := range []struct {
		d    *AxisDef
		v    float64
		want string
	}{
		{Pitch, 0, "pitch 0 in is not above 0"},
		{Pitch, math.NaN(), "pitch NaN in is not above 0"},
		{Pitch, 0.1, ""},
		{Chord, 0, ""},
		{Chord, 0.049, "chord 0.049 is outside 0.05 to 0.4 of the radius"},
		{Chord, math.NaN(), "chord NaN is outside 0.05 to 0.4 of the radius"},
		{Stator, 2207, ""},
		{Stator, 2201, "stator 2201 is outside 5 to 60 mm by 2 to 40 mm"},
		{Stator, 407, "stator 0407 is outside 5 to 60 mm by 2 to 40 mm"},
	} {
		got := ""
		if err := c.d.Check(c.v); err != nil {
			got = err.Error()
		}
		if got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

// A grid has each axis once, whichever of two statements it is.
func TestGridAxes(t *testing.T) {
	all := axesOf(t, nil)
	for i, a := range all {
		_, err := NewGrid(slices.Delete(slices.Clone(all), i, i+1)...)
		if want := fmt.Sprintf("axis %s is missing", axisTable[a.Def.place].Name); err == nil || err.Error() != want {
			t.Errorf("%v, want %s", err, want)
		}
		_, err = NewGrid(append(slices.Clone(all), a)...)
		if want := "twice, or beside " + a.Def.Name; err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want %s", err, want)
		}
	}
	_, err := NewGrid(append(all, axis(t, Pitch, "4in"))...)
	if want := "axis pitch is given twice, or beside pitch-ratio"; err == nil || err.Error() != want {
		t.Errorf("%v, want %s", err, want)
	}
}
