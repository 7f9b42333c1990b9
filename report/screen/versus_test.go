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

// Over scenarios the merit is the mean of those in all, or the least of them, split by term all the
// same; requirements are told in the first scenario that breaks one.
func TestVersusOverScenarios(t *testing.T) {
	t.Parallel()
	high := model.Defaults()
	high.Altitude = 4000
	models := []*model.Model{trial.Model(t, model.Defaults()), trial.Model(t, high)}
	for _, over := range sweep.Overs {
		v := &finding.Versus{Merit: sweep.DefaultMerit(), Require: sweep.DefaultRequirements()}
		var want [2]float64
		for i, kv := range []float64{1750, 2000} {
			s := &sweep.Study{Model: models[0], Others: models[1:], Over: over, Merit: v.Merit, Require: v.Require}
			d, _, _ := trial.SomeDesign(t, kv)
			var crafts []*model.Craft
			var built *model.Powertrain
			for _, m := range models {
				c, err := m.EvaluateAs(d, built)
				if err != nil {
					t.Fatal(err)
				}
				c.Explain()
				crafts = append(crafts, c)
				built = crafts[0].Powertrain
			}
			if want[i] = min(v.Merit.Of(crafts[0]), v.Merit.Of(crafts[1])); over == sweep.Mean {
				want[i] = (v.Merit.Of(crafts[0]) + v.Merit.Of(crafts[1])) / 2
			}
			v.Sides[i] = finding.Side{Design: d, Craft: crafts[s.Telling(crafts)],
				Scenarios: finding.ScenariosOf(s, crafts)}
		}
		for i, m := range v.Merits() {
			sum := 0.0
			for _, term := range v.Terms() {
				sum += term.Gives[i]
			}
			if math.Abs(sum-m) > 1e-12 || math.Abs(want[i]-m) > 1e-12 {
				t.Errorf("%s: merit %g of terms that add up to %g, want %g", over, m, sum, want[i])
			}
		}
		var text, object bytes.Buffer
		if err := PrintVersus(&text, v, 200); err != nil {
			t.Fatal(err)
		}
		told := strings.Contains(text.String(), "the merit, its terms and their metrics are the mean of all scenarios")
		if told != (over == sweep.Mean) {
			t.Errorf("%s: the mean is told %v:\n%s", over, told, text.String())
		}
		if err := PrintVersusJSON(&object, v); err != nil {
			t.Fatal(err)
		}
		var read struct {
			A struct {
				Scenarios struct {
					Over   string
					Merits []float64
				}
			}
			Merit struct{ A float64 }
		}
		if err := json.Unmarshal(object.Bytes(), &read); err != nil {
			t.Fatal(err)
		}
		if of := read.A.Scenarios; of.Over != over.String() || len(of.Merits) != 2 || of.Merits[0] <= of.Merits[1] ||
			math.Abs(read.Merit.A-want[0]) > 1e-12 {
			t.Errorf("%s: the object has %+v, want merit %g", over, read, want[0])
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
