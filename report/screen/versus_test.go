package screen

import (
	"bytes"
	"encoding/json"
	"math"
	"strings"
	"testing"

	"rotorsieve/model"
	"rotorsieve/report/finding"
	"rotorsieve/report/trial"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
	"rotorsieve/sweep/decide"
)

// pairOf is two designs that differ in their KV, by the default merit and requirements.
func pairOf(t *testing.T, kv [2]float64, limit float64) *finding.Versus {
	t.Helper()
	v := &finding.Versus{Merit: sweep.DefaultMerit(), Require: sweep.DefaultRequirements()}
	for i := range kv {
		d, c, _ := trial.SomeDesign(t, kv[i])
		if finding.Operates(c) {
			c.Explain()
		}
		c.Limit = limit
		v.Sides[i] = finding.Side{Design: d, Craft: c}
	}
	return v
}

// Two designs side by side read as they should, and the parts of what is told add up.
func TestVersus(t *testing.T) {
	t.Parallel()
	for _, x := range []struct {
		name  string
		kv    [2]float64
		limit float64 // kg
		says  string
	}{
		{"both keep", [2]float64{1750, 2000}, 0, "has the higher merit by the nominal model, "},
		{"the same", [2]float64{1750, 1750}, 0, "A and B have the same merit, "},
		{"too heavy", [2]float64{1750, 2000}, 0.2, "neither keeps all requirements (A: "},
		{"one does not fly", [2]float64{1750, 300}, 0, "A keeps all requirements and B does not (it does not fly)"},
	} {
		v := pairOf(t, x.kv, x.limit)
		if said := words.WhyBetter(v); !strings.Contains(said, x.says) {
			t.Errorf("%s: says %q, want in it %q", x.name, said, x.says)
		}
		m := v.Merits()
		for i := range m {
			sum := 0.0
			for _, term := range v.Terms() {
				sum += term.Gives[i]
			}
			if math.Abs(sum-m[i]) > 1e-12 {
				t.Errorf("%s: terms of %s add up to %g, want its merit of %g", x.name, words.Sides[i], sum, m[i])
			}
		}
		var text, object bytes.Buffer
		if err := PrintVersus(&text, v, 100); err != nil {
			t.Fatal(err)
		}
		if err := PrintVersusJSON(&object, v); err != nil {
			t.Fatal(err)
		}
		var read struct {
			Metrics map[string]struct{ A, B, Difference *float64 }
		}
		if err := json.Unmarshal(object.Bytes(), &read); err != nil {
			t.Fatalf("%s: %v", x.name, err)
		}
		for _, metric := range model.Metrics {
			got, ok := read.Metrics[metric.Name]
			a, b := v.Sides[0].Value(metric), v.Sides[1].Value(metric)
			if want := finding.Finite(a) || finding.Finite(b); ok != want {
				t.Errorf("%s: %s is told %v, want %v", x.name, metric.Name, ok, want)
			} else if ok && finding.Finite(a) && *got.A != finding.ExportUnit(metric).FromSI(a) {
				t.Errorf("%s: %s of A is %g, want %g", x.name, metric.Name, *got.A, a)
			}
			if ok && !strings.Contains(text.String(), metric.Title) {
				t.Errorf("%s: the text lacks %s", x.name, metric.Title)
			}
		}
	}
}

func TestVersusGolden(t *testing.T) {
	t.Parallel()
	v := pairOf(t, [2]float64{1750, 2000}, 0)
	v.Pair = &decide.Pair{Draws: 1024, Seed: 1,
		First: decide.AxisValue{Better: 0.64, Difference: 0.1931, Standard: 0.0094},
		Of:    [2]decide.Build{{Feasible: 0.85, Cautious: 0.302}, {Feasible: 0.28, Filled: true}}}
	var text bytes.Buffer
	if err := PrintVersus(&text, v, 100); err != nil {
		t.Fatal(err)
	}
	trial.Golden(t, "versus.txt", text.Bytes())
}

// A difference has the digits of the larger value, and nothing where they do not show one.
func TestSignedNumber(t *testing.T) {
	t.Parallel()
	for _, x := range []struct {
		d, of float64
		want  string
	}{
		{0.4567, 9.721, "+0.457"}, {-0.25, 950, "-0.2"}, {1e-6, 3, "±0"}, {-9082, 46920, "-9082"},
		{0, 0, "±0"}, {2.5, 3, "+2.5"},
	} {
		if got := signedNumber(x.d, x.of); got != x.want {
			t.Errorf("%g of %g is %q, want %q", x.d, x.of, got, x.want)
		}
	}
}
