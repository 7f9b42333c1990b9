package chart

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestTicks(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		axis Axis
		n    int
		want string // the numbers
	}{
		{"linear", Axis{Min: 2, Max: 8}, 6, "2 3 4 5 6 7 8"},
		{"quarters", Axis{Min: 0, Max: 1}, 4, "0.00 0.25 0.50 0.75 1.00"},
		{"across zero", Axis{Min: -1, Max: 1}, 4, "-1.0 -0.5 0.0 0.5 1.0"},
		{"off the round", Axis{Min: 137, Max: 912}, 4, "200 400 600 800"},
		{"large", Axis{Min: 800, Max: 5600}, 5, "1000 2000 3000 4000 5000"},
		{"logarithmic", Axis{Min: 0.5, Max: 300, Log: true}, 9, "0.5 1 2 5 10 20 50 100 200"},
		{"less than a decade", Axis{Min: 4, Max: 6, Log: true}, 4, "4.0 4.5 5.0 5.5 6.0"},
		{"given", Axis{Min: 0, Max: 10, Ticks: []float64{1, 3, 12}}, 4, "1 3"},
		{"names", Axis{Names: []string{"2S", "3S"}}, 4, "2S 3S"},
		{"one value", Axis{Min: 3.5, Max: 3.5}, 4, "3.5"},
	} {
		var got []string
		for _, m := range c.axis.ticks(c.n) {
			if m.text != "" {
				got = append(got, m.text)
			}
		}
		if diff := cmp.Diff(c.want, strings.Join(got, " ")); diff != "" {
			t.Errorf("%s: %s", c.name, diff)
		}
	}
}

func TestUnit(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		axis    Axis
		v, want float64
	}{
		{Axis{Min: 2, Max: 6}, 3, 0.25},
		{Axis{Min: 1, Max: 100, Log: true}, 10, 0.5},
		{Axis{Names: []string{"a", "b", "c", "d"}}, 0, 0.125},
		{Axis{Min: 7, Max: 7}, 7, 0.5},
	} {
		if got := c.axis.unit(c.v); got != c.want {
			t.Errorf("%+v: %g is at %g, want %g", c.axis, c.v, got, c.want)
		}
	}
}

func TestLevels(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		lo, hi float64
		n      int
		want   []float64
	}{
		{0, 1, 10, []float64{0, 0.1, 0.2, 0.30000000000000004, 0.4, 0.5, 0.6000000000000001, 0.7000000000000001, 0.8,
			0.9, 1}},
		{3.2, 17.9, 5, []float64{2.5, 5, 7.5, 10, 12.5, 15, 17.5, 20}},
		{4, 33, 8, []float64{0, 5, 10, 15, 20, 25, 30, 35}},
		{-0.3, 0.3, 3, []float64{-0.4, -0.2, 0, 0.2, 0.4}},
	} {
		if diff := cmp.Diff(c.want, Levels(c.lo, c.hi, c.n)); diff != "" {
			t.Errorf("%g to %g: %s", c.lo, c.hi, diff)
		}
	}
	for _, v := range []float64{4, 0, -2} {
		if got := Levels(v, v, 5); len(got) < 2 || got[0] > v || got[len(got)-1] < v {
			t.Errorf("levels of the single value %g are %v, want a band around it", v, got)
		}
	}
}

// A logarithmic axis of less than a decade has numbers enough to be read by, never more than
// asked for, and all of them round.
func TestLogTicksWithinDecade(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		lo, hi float64
		n      int
		want   []string
	}{
		{1200, 6000, 6, []string{"1500", "2000", "3000", "4000", "6000"}},
		{1200, 6000, 8, []string{"1500", "2000", "2500", "3000", "4000", "5000", "6000"}},
		{400, 1600, 6, []string{"400", "500", "600", "800", "1000", "1500"}},
		{1, 1000, 4, []string{"1", "10", "100", "1000"}},
	} {
		var got []string
		before := 0.0
		for _, m := range (Axis{Min: c.lo, Max: c.hi, Log: true}).ticks(c.n) {
			if m.value <= before {
				t.Errorf("from %g to %g: a mark at %g after %g", c.lo, c.hi, m.value, before)
			}
			if before = m.value; m.text != "" {
				got = append(got, m.text)
			}
		}
		if len(got) > c.n || len(got) < 2 {
			t.Errorf("from %g to %g: %d numbers, want 2 to %d", c.lo, c.hi, len(got), c.n)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("from %g to %g in %d: numbers %q, want %q", c.lo, c.hi, c.n, got, c.want)
		}
	}
}

// Names that have no room side by side lie in several lines where their words fit, and else
// stand; in either case each is there, and none covers another.
func TestNamesWithoutRoom(t *testing.T) {
	t.Parallel()
	for _, names := range [][]string{
		{"north ridge", "south ridge", "east ridge", "west ridge", "far ridge", "near ridge", "low ridge", "high ridge"},
		{"northernmost", "southernmost", "easternmost", "westernmost", "uppermost", "lowermost", "innermost", "outermost",
			"foremost", "hindmost"},
	} {
		f := &Figure{Title: "t", Width: 4, Bar: Bar{Label: "z", Levels: []float64{0, 1}}, Panels: []Panel{{
			X: Axis{Label: "x", Names: names}, Y: Axis{Label: "y", Names: []string{"a"}}, Field: &Field{Y: []float64{0},
				Z: [][]float64{make([]float64, len(names))}}}}}
		for k := range names {
			f.Panels[0].Field.X = append(f.Panels[0].Field.X, float64(k))
		}
		l, err := f.Layout()
		if err != nil {
			t.Fatal(err)
		}
		if faults := l.Faults(); len(faults) > 0 {
			t.Errorf("%q: %v", names[0], faults)
		}
		words := map[string]int{}
		for _, text := range l.Texts {
			for _, word := range strings.Fields(text.Text) {
				words[word]++
			}
		}
		for _, name := range names {
			for _, word := range strings.Fields(name) {
				if words[word] == 0 {
					t.Errorf("%q is not there", word)
				}
			}
		}
	}
}
