package words_test

import (
	"testing"

	"rotorsieve/model"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

// A value that breaks its bound by little does not read as the bound.
func TestBreaks(t *testing.T) {
	t.Parallel()
	mass, ok := model.LookupMetric("auw")
	if !ok {
		t.Fatal("no all-up weight")
	}
	for kg, want := range map[float64]string{
		0.2667:    "all-up weight 266.7 g (at most 250 g)",
		0.25003:   "all-up weight 250.03 g (at most 250 g)",
		0.2500004: "all-up weight 250.0004 g (at most 250 g)",
	} {
		s := &sweep.Stead{Craft: &model.Craft{Mass: kg}, Operates: true,
			Broken: []sweep.Requirement{{Metric: mass, Bound: 0.25}}}
		if got := words.Breaks(s); got != want {
			t.Errorf("%v kg: %q, want %q", kg, got, want)
		}
	}
}
