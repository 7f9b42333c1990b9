package unit_test

import (
	"math"
	"slices"
	"testing"

	"rotorsieve/model/unit"
)

func FuzzParse(f *testing.F) {
	for i, s := range []string{"5in", "249g", "-40degF", "4S", "22x7", "2306.5", "1e-5m", "85%", "NaN", "1e350", ""} {
		f.Add(i, s)
	}
	f.Fuzz(func(t *testing.T, kind int, text string) {
		k := unit.Kinds[abs(kind)%len(unit.Kinds)]
		v, err := k.Parse(text)
		if err != nil {
			return
		}
		if math.IsNaN(v) || math.IsInf(v, 0) {
			t.Fatalf("%s %q = %v", k.Name(), text, v)
		}
		if back, err := k.Parse(k.Text(v)); err != nil || back != v {
			t.Fatalf("%s %q = %v prints as %q, which reads as %v (%v)", k.Name(), text, v, k.Text(v), back, err)
		}
		axis, err := unit.ParseAxis(k, text)
		if err != nil || len(axis) != 1 || axis[0] != v {
			t.Fatalf("%s %q = %v, but as an axis %v (%v)", k.Name(), text, v, axis, err)
		}
	})
}

func FuzzParseAxis(f *testing.F) {
	for i, s := range []string{"3:6:0.25in", "300mAh,450:1300:50mAh", "2204:2208:1", "3,4,5mm", "0:1:1e-7", "1:2:3:4",
		",", "-1:1:1e-1"} {
		f.Add(i, s)
	}
	f.Fuzz(func(t *testing.T, kind int, text string) {
		k := unit.Kinds[abs(kind)%len(unit.Kinds)]
		axis, err := unit.ParseAxis(k, text)
		if err != nil {
			return
		}
		if len(axis) == 0 || len(axis) > unit.MaxAxis {
			t.Fatalf("%s %q has %d values", k.Name(), text, len(axis))
		}
		slices.Sort(axis)
		for i, v := range axis {
			if math.IsNaN(v) || math.IsInf(v, 0) || i > 0 && v <= axis[i-1] {
				t.Fatalf("%s %q: value %v at %d", k.Name(), text, v, i)
			}
		}
	})
}

func abs(i int) int {
	if i < 0 {
		return -(i + 1)
	}
	return i
}
