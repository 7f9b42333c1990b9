package main

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rotorsieve/model/unit"
	"rotorsieve/sweep"
)

func TestQuantityOr(t *testing.T) {
	var kelvin float64
	q := newQuantityOr("standard", 0, &kelvin, unit.Temperature, unit.Range{Min: 223.15, Max: 333.15}, "standard")
	for _, c := range []struct {
		text   string
		want   float64
		prints string
	}{
		{"35degC", 308.15, "35degC"}, {" standard ", 0, "standard"}, {"-10", 263.15, "-10degC"},
	} {
		if err := q.Set(c.text); err != nil {
			t.Error(err)
		} else if kelvin != c.want || q.String() != c.prints {
			t.Errorf("%q sets %v and prints %q, want %v, %q", c.text, kelvin, q, c.want, c.prints)
		}
	}
	for _, c := range []struct{ text, want string }{
		{"warm", `"warm": no number, want a temperature such as 35degC or 308.15K, or standard`},
		{"90degC", `"90degC": 90degC is out of bounds, want -50degC to 60degC`},
	} {
		if err := q.Set(c.text); err == nil || err.Error() != c.want {
			t.Errorf("%q:\n got %v\nwant %s", c.text, err, c.want)
		}
	}
	if kelvin != 263.15 || q.String() != "-10degC" {
		t.Errorf("an error changed the value to %v, %q", kelvin, q)
	}
}

// What a quantity prints is read as the same, and its unit does not depend on the
// flag.
func TestQuantityTexts(t *testing.T) {
	for _, c := range []struct {
		kind         *unit.Kind
		text, prints string
	}{
		{unit.Area, "0cm2", "0cm2"}, {unit.Area, "3", "3cm2"}, {unit.Area, "3in2", "3in2"},
		{unit.Length.WithDefault("m"), "2000", "2000m"},
		{unit.Ratio, "0.9", "0.9"}, {unit.Ratio, "90%", "90%"}, {unit.Time, "2.5e-3", "2.5e-3min"},
		{unit.Mass, "1 kg", "1 kg"},
	} {
		var v, again float64
		q := newQuantity(&v, c.kind, unbounded, c.text)
		if q.String() != c.prints {
			t.Errorf("%s %q prints %q, want %q", c.kind.Name(), c.text, q, c.prints)
		}
		if newQuantity(&again, c.kind, unbounded, q.String()); again != v {
			t.Errorf("%q is read again as %v, want %v", q, again, v)
		}
	}
}

func TestAxisCheck(t *testing.T) {
	var values []float64
	even := func(v float64) error {
		if int(v)%2 != 0 {
			return fmt.Errorf("%g cells is odd", v)
		}
		return nil
	}
	a := newAxis(&values, unit.Cells, even, "4S")
	if err := a.Set("2,6S"); err != nil {
		t.Fatal(err)
	}
	if err := a.Set("2:5:1S"); err == nil || err.Error() != `"2:5:1S": 3 cells is odd` {
		t.Errorf("got %v", err)
	}
	if diff := cmp.Diff([]float64{2, 6}, values); diff != "" || a.String() != "2,6S" {
		t.Errorf("an error changed the axis to %q (-want +got):\n%s", a, diff)
	}
}

func TestWrongDefaultPanics(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("a default of 5g was taken for a length")
		}
	}()
	newQuantity(new(float64), unit.Length, unbounded, "5g")
}

func TestClasses(t *testing.T) {
	var got []sweep.Class
	l := newClasses(&got)
	for _, text := range []string{"249g=hut scout, 500", "0.55lb = as in the rules"} {
		if err := l.Set(text); err != nil {
			t.Fatal(err)
		}
	}
	want := []sweep.Class{
		{Limit: 0.249, Label: "249g", Note: "hut scout"},
		{Limit: 0.5, Label: "500g"},
		{Limit: 0.2494758035, Label: "0.55lb", Note: "as in the rules"},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("classes (-want +got):\n%s", diff)
	}
	if s := l.String(); s != "249g=hut scout,500,0.55lb = as in the rules" {
		t.Errorf("prints %q", s)
	}
}

// Requirements of a later source refine those before by metric and side: what is kept,
// what is said of it, and that the statements make the same again.
func TestRequirements(t *testing.T) {
	file, line := &source{file: "a.flags"}, new(source)
	for _, c := range []struct {
		name       string
		file, line []string
		want       string // those of the study that are no untouched defaults
		said       string
	}{
		{"one source", nil, []string{"hover-time >= 6, auw<=240g", "battery-fraction<=0.4"},
			"hover-time>=6min auw<=240g battery-fraction<=40%", ""},
		{"in place of the file's", []string{"hover-time>=6min", "auw<=240g"}, []string{"hover-time>=8min"},
			"hover-time>=8min auw<=240g",
			"requirements: hover-time>=8min in place of hover-time>=6min; as in a.flags stand auw<=240g"},
		{"beside the file's", []string{"hover-time>=6min"}, []string{"hover-time<=8min"},
			"hover-time>=6min hover-time<=8min",
			"requirements: hover-time<=8min added; as in a.flags stand hover-time>=6min"},
		{"one of the file's dropped", []string{"hover-time>=6min", "auw<=240g"}, []string{"hover-time>=none"},
			"auw<=240g", "requirements: hover-time>=6min dropped; as in a.flags stand auw<=240g"},
		{"all of the file's dropped", []string{"hover-time>=6min", "auw<=240g"}, []string{"none", "range>=3km"},
			"range>=3km", "requirements: hover-time>=6min, auw<=240g dropped; range>=3km added"},
		{"in place of a default", nil, []string{"tip-mach<=0.75"}, "tip-mach<=0.75",
			"requirements: tip-mach<=0.75 in place of the default tip-mach<=0.7"},
		{"a default dropped", nil, []string{"tip-mach<=none"}, "tip-mach<=none",
			"requirements: the default tip-mach<=0.7 dropped"},
		{"the file's default dropped", []string{"tip-mach<=none"}, nil, "tip-mach<=none", ""},
		{"the same again", []string{"hover-time>=6min"}, []string{"hover-time>=6min"}, "hover-time>=6min", ""},
	} {
		var q requirements
		set := func(from *source, texts []string) {
			for _, text := range texts {
				q.reads(argument{text: "--require", from: from})
				if err := q.Set(text); err != nil {
					t.Fatalf("%s: %v", c.name, err)
				}
			}
		}
		set(file, c.file)
		set(line, c.line)
		all, err := q.study()
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		var got []string
		for _, r := range all {
			if !r.Default {
				got = append(got, requirementText(r))
			}
		}
		got = append(got, q.liftedDefaults()...)
		if text := strings.Join(got, " "); text != c.want {
			t.Errorf("%s: %s, want %s", c.name, text, c.want)
		}
		if said := q.refined(); said != c.said {
			t.Errorf("%s: says %q, want %q", c.name, said, c.said)
		}
		var again requirements
		again.reads(argument{from: line})
		for _, text := range q.GetSlice() {
			if err := again.Set(text); err != nil {
				t.Fatalf("%s: %v", c.name, err)
			}
		}
		if second, err := again.study(); err != nil && !strings.Contains(err.Error(), "no such bound") ||
			err == nil && !cmp.Equal(fmt.Sprint(second), fmt.Sprint(all)) {
			t.Errorf("%s: from its own texts %v, want %v, error %v", c.name, second, all, err)
		}
	}
}

func TestMerit(t *testing.T) {
	var got sweep.Merit
	l := newMerit(&got, "hover-time:1:4min:12min")
	if err := l.Set("hover-time:0.4:240s:12, auw:60%:1kg:100g"); err != nil {
		t.Fatal(err)
	}
	var texts []string
	for _, m := range got {
		texts = append(texts, fmt.Sprint(m.Metric.Name, " ", m.Weight, " ", m.Worst, " ", m.Best))
	}
	want := []string{"hover-time 0.4 240 720", "auw 0.6 1 0.1"}
	if diff := cmp.Diff(want, texts); diff != "" {
		t.Errorf("merit (-want +got):\n%s", diff)
	}
}

func TestMaps(t *testing.T) {
	var got []sweep.MapSpec
	l := newMaps(&got)
	for _, text := range []string{"diameter,kv", "diameter, kv : hover-time"} {
		if err := l.Set(text); err != nil {
			t.Fatal(err)
		}
	}
	var names []string
	for _, m := range got {
		names = append(names, m.Name())
	}
	if diff := cmp.Diff([]string{"diameter-kv", "diameter-kv-hover-time"}, names); diff != "" {
		t.Errorf("maps (-want +got):\n%s", diff)
	}
}

// What values gives makes the same list again: a run can be repeated from it.
func TestListValuesRoundTrip(t *testing.T) {
	var a, b []sweep.MapSpec
	for _, texts := range [][]string{{"diameter,kv", "cells,kv:hover-time"}, {}} {
		first, second := newMaps(&a, texts...), newMaps(&b, "diameter,payload")
		for _, text := range first.GetSlice() {
			if err := second.Set(text); err != nil {
				t.Fatal(err)
			}
		}
		if diff := cmp.Diff(fmt.Sprint(first), fmt.Sprint(second)); diff != "" || len(a) != len(b) {
			t.Errorf("%v maps became %v: %s", a, b, diff)
		}
	}
}

func TestListErrors(t *testing.T) {
	set := map[string]func(string) error{
		"class":       newClasses(new([]sweep.Class)).Set,
		"requirement": new(requirements).Set,
		"merit":       newMerit(new(sweep.Merit)).Set,
		"map":         newMaps(new([]sweep.MapSpec)).Set,
	}
	for _, c := range []struct{ flag, text, want string }{
		{"class", "", `"": nothing between two commas or at an end, want a class there`},
		{"class", "249g,", `"249g,": nothing between two commas or at an end, want a class there`},
		{"class", "249g=", `"249g=": no name after =, want a class such as 249g or 249g=scout`},
		{"class", "0g", `"0g": a limit of 0g, want 10g to 100000g`},
		{"class", "5in", `"5in": in is a unit of length, want a mass such as 249g or 1.2kg`},
		{"class", "none", `"none": no number, want a mass such as 249g or 1.2kg`},
		{"class", "249g,249g=scout", `"249g=scout" beside "249g": the same limit twice, want each class once`},
		{"requirement", "hover-time", `"hover-time": neither >= nor <=, want METRIC>=VALUE or METRIC<=VALUE, such as ` +
			`hover-time>=6min, in quotes on a command line`},
		{"requirement", "hover-tme>=6min", `no metric "hover-tme", did you mean hover-time?`},
		{"requirement", "hover-time>=6m", `hover-time: "6m": m is a unit of length, want a time such as 8min or 30s`},
		{"requirement", "hover-time>=", `hover-time: "": empty, want a time such as 8min or 30s`},
		{"requirement", "auw<=200g,auw<=240g", `"auw<=240g" beside "auw<=200g": the same bound twice, want each once`},
		{"requirement", "auw>=240g,auw<=200g", `"auw<=200g" beside "auw>=240g": no value keeps both bounds`},
		{"requirement", "auw<=240g,none", `"auw<=240g,none": none beside others, want it alone`},
		{"merit", "hover-time:0.4", `"hover-time:0.4": not four parts, want METRIC:WEIGHT:WORST:BEST, such as ` +
			`hover-time:0.4:4min:12min`},
		{"merit", "hover-time:0:4min:12min", `weight of hover-time: "0" is not above 0, want a number such as 0.4`},
		{"merit", "hover-time:x:4min:12min", `weight of hover-time: "x": no number, want a number such as 0.85 or 85%`},
		{"merit", "hover-time:1:4g:12min", `worst of hover-time: "4g": g is a unit of mass, want a time such as 8min ` +
			`or 30s`},
		{"merit", "hover-time:1:4min:", `best of hover-time: "": empty, want a time such as 8min or 30s`},
		{"merit", "hover-time:1:60s:1min", `"hover-time:1:60s:1min": worst and best of hover-time are the same, want ` +
			`two values`},
		{"merit", "hover-time:1:12min:4min", `"hover-time:1:12min:4min": of hover-time higher is better, want worst ` +
			`before best`},
		{"merit", "auw:1:100g:1kg", `"auw:1:100g:1kg": of auw lower is better, want worst before best`},
		{"merit", "auw:1:2kg:1kg,auw:1:3kg:1kg", `"auw:1:3kg:1kg" beside "auw:1:2kg:1kg": the same metric twice, ` +
			`want each once`},
		{"map", "diameter", `"diameter": not two axes, want AXIS,AXIS or AXIS,AXIS:METRIC, such as ` +
			`diameter,kv:hover-time`},
		{"map", "diameter,kv,cells", `"diameter,kv,cells": not two axes, want AXIS,AXIS or AXIS,AXIS:METRIC, such as ` +
			`diameter,kv:hover-time`},
		{"map", "diametr,kv", `no axis "diametr", did you mean diameter?`},
		{"map", "wingspan,kv", `no axis "wingspan", want one of diameter, pitch, pitch-ratio, blades, chord, stator, ` +
			`kv, cells, capacity, payload, propeller, frame, board, motor, pack`},
		{"map", "kv,kv", `"kv,kv": the same axis twice, want two axes such as diameter,kv`},
		{"map", "kv,cells:hover-tim", `no metric "hover-tim", did you mean hover-time?`},
	} {
		err := set[c.flag](c.text)
		if err == nil {
			t.Errorf("%s %q: no error, want %s", c.flag, c.text, c.want)
		} else if err.Error() != c.want {
			t.Errorf("%s %q:\n got %s\nwant %s", c.flag, c.text, err, c.want)
		}
	}
}
