package chart

import (
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
