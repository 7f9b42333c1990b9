package model

import (
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"
)

// Every default is within its range, and the text that flags take for it is read back
// to the very same bits.
func TestAssumptionDefaults(t *testing.T) {
	if _, err := New(Defaults()); err != nil {
		t.Fatal(err)
	}
	for _, d := range AssumptionDefs {
		q, ok := d.Form.(*Quantity)
		if !ok {
			continue
		}
		if q.Text() == q.Word {
			continue
		}
		if v, err := q.Kind.Parse(q.Text()); err != nil || v != q.Preset {
			t.Errorf("%s: %q is read as %v, %v, want %v", d.Name, q.Text(), v, err, q.Preset)
		}
	}
}

// Every field of Assumptions is that of one entry, but for what other things state.
func TestAssumptionFields(t *testing.T) {
	elsewhere := []string{"PackLoad", "CellMargin", "Evidence"} // by requirements, by records
	fields := map[string]string{}
	for _, d := range AssumptionDefs {
		usual, a := Defaults(), Defaults()
		switch f := d.Form.(type) {
		case *Quantity:
			*f.At(&a)++
		case *Choice:
			f.Set(&a, f.Options[1])
		case *Switch:
			*f.At(&a) = true
		case *Liking:
			f.At(&a).Roll = 1
		}
		if !d.Form.Stands(&usual, &usual) || d.Form.Stands(&usual, &a) {
			t.Errorf("%s: a change is not told from the default", d.Name)
		}
		var changed []string
		for n := range reflect.TypeFor[Assumptions]().NumField() {
			if reflect.ValueOf(usual).Field(n).Interface() != reflect.ValueOf(a).Field(n).Interface() {
				changed = append(changed, reflect.TypeFor[Assumptions]().Field(n).Name)
			}
		}
		if len(changed) != 1 || fields[changed[0]] != "" {
			t.Errorf("%s changes the fields %v", d.Name, changed)
			continue
		}
		fields[changed[0]] = d.Name
	}
	for n := range reflect.TypeFor[Assumptions]().NumField() {
		name := reflect.TypeFor[Assumptions]().Field(n).Name
		if (fields[name] == "") != slices.Contains(elsewhere, name) {
			t.Errorf("field %s is stated by %q", name, fields[name])
		}
	}
}

// The rows of outputs are the flags' assumptions, each where it says.
func TestAssumptionRows(t *testing.T) {
	rows := AssumptionRows()
	if len(rows) != len(AssumptionDefs) {
		t.Fatalf("%d rows of %d", len(rows), len(AssumptionDefs))
	}
	for i, d := range AssumptionDefs {
		at := assumptionAt(rows, d.Name)
		if at < 0 || rows[at] != d {
			t.Fatalf("%s has no row of its own", d.Name)
		}
		switch {
		case d.Below != "" && (at == 0 || rows[at-1].Name != d.Below):
			t.Errorf("the row of %s is %d, want it below %s", d.Name, at, d.Below)
		case d.Below == "" && i > 0 && at < assumptionAt(rows, AssumptionDefs[i-1].Name):
			t.Errorf("the row of %s is %d, above %s", d.Name, at, AssumptionDefs[i-1].Name)
		}
		if d.Title == "" || d.Help == "" || !strings.HasPrefix(d.Title, strings.ToUpper(d.Title[:1])) {
			t.Errorf("%s: title %q, help %q", d.Name, d.Title, d.Help)
		}
	}
}

// What lies outside its range is refused by its name, without one of a flag.
func TestAssumptionRanges(t *testing.T) {
	refused := func(what, want string, change func(*Assumptions)) {
		a := Defaults()
		change(&a)
		_, err := New(a)
		if err == nil || !strings.HasPrefix(err.Error(), want) || strings.Contains(err.Error(), "--") {
			t.Errorf("%s: %v, want %s", what, err, want)
		}
	}
	for _, d := range AssumptionDefs {
		if q, ok := d.Form.(*Quantity); ok {
			wide := q.Bound.Max - q.Bound.Min
			for _, v := range []float64{q.Bound.Min - wide/100, q.Bound.Max + wide/100, math.NaN()} {
				refused(d.Name, strings.ToLower(d.Title)+": ", func(a *Assumptions) { *q.At(a) = v })
			}
		}
	}
	refused("grade", "pack grade: none is given, want one of high-rate, ", func(a *Assumptions) { a.PackGrade = nil })
	refused("build", "frame build: none is given, want one of regression, beam",
		func(a *Assumptions) { a.FrameBuild = 7 })
	refused("pulse rate", "pulse rate: 1 kHz is outside 20 to 200 kHz", func(a *Assumptions) { a.PulseRate = 1e3 })
	refused("pack load", "level flight to -1 of the burst current", func(a *Assumptions) { a.PackLoad = -1 })
}
