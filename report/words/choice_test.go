package words_test

import (
	"slices"
	"strings"
	"sync"
	"testing"

	"rotorsieve/report/finding"
	"rotorsieve/report/trial"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
	"rotorsieve/sweep/decide"
)

// drawnClasses are those of the invented decision, made once.
var drawnClasses = struct {
	sync.Once
	found []finding.Class
}{}

// chosen is the choice of a class of the invented decision, whose numbers may be changed.
func chosen(t *testing.T, at int) *finding.Choice {
	t.Helper()
	drawnClasses.Do(func() {
		var err error
		if drawnClasses.found, err = trial.DecidedRun(t).Findings(); err != nil {
			t.Fatal(err)
		}
	})
	if drawnClasses.found[0].Choice != nil {
		t.Fatal("a class without a design has a choice")
	}
	out := *drawnClasses.found[at].Choice
	k := *out.Class
	k.Axes = slices.Clone(k.Axes)
	for n := range k.Axes {
		k.Axes[n].Values = slices.Clone(k.Axes[n].Values)
	}
	k.Builds, k.Line, k.Worth = slices.Clone(k.Builds), slices.Clone(k.Line), slices.Clone(k.Worth)
	k.Builds[0].Fails = slices.Clone(k.Builds[0].Fails)
	out.Class = &k
	return &out
}

func TestProbability(t *testing.T) {
	t.Parallel()
	for p, want := range map[float64]string{0: "0 %", 0.004: "< 1 %", 0.005: "1 %", 0.831: "83 %", 0.994: "99 %",
		0.996: "> 99 %", 1: "100 %"} {
		if got := words.Probability(p); got != want {
			t.Errorf("%g is told as %q, want %q", p, got, want)
		}
	}
}

// Shares that add up to 1 are told in whole per cent that add up to 100, none off by one.
func TestHundred(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		shares []float64
		want   []int
	}{
		{[]float64{0.324, 0.392, 0.284}, []int{33, 39, 28}},
		{[]float64{1.0 / 3, 1.0 / 3, 1 - 2.0/3}, []int{34, 33, 33}},
		{[]float64{0, 1, 0}, []int{0, 100, 0}},
		{[]float64{0.29, 0.57, 0.14}, []int{29, 57, 14}}, // whose products with 100 are not whole
		{[]float64{0.005, 0.99, 0.005}, []int{1, 99, 0}},
	} {
		if got := words.Hundred(c.shares...); !slices.Equal(got, c.want) {
			t.Errorf("%v are told as %v, want %v", c.shares, got, c.want)
		}
	}
}

// A build is named without its pack; the chord where it is not the usual one.
func TestBuildName(t *testing.T) {
	t.Parallel()
	d := chosen(t, 1).Builds[5].Design
	if got, want := words.Build(d), "4×2.4×2, 1404 4400KV, 2S, payload 60 g"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got, want := words.BuildName(d, " x "), "4 x 2.4 x 2, 1404 4400KV, 2S"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	d.Chord = sweep.Chord.Usual(&d)
	if got := words.BuildName(d, "×"); strings.Contains(got, "chord") {
		t.Errorf("of the usual chord: %q", got)
	}
	d.Chord = 0.25
	if got, want := words.BuildName(d, "×"), "4×2.4×2, 1404 4400KV, 2S, chord 0.25 of R"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// otherBy lets the best builds of other diameters have so much more cautious merit.
func otherBy(c *finding.Choice, more float64) {
	a := c.Along(sweep.Diameter)
	for n := range a.Values {
		if v := &a.Values[n]; v.Any && v.Build != 0 {
			v.Difference, v.Standard = more, 0.005
		}
	}
}

// What is said of a class follows from its numbers.
func TestChoice(t *testing.T) {
	t.Parallel()
	rivals := func(c *finding.Choice) string { return words.Rivals(c, 6) }
	for name, c := range map[string]struct {
		alter func(c *finding.Choice)
		say   func(c *finding.Choice) string
		want  string
	}{
		"recommended": {nil, words.Recommended, "4×2.4×2, 1404 4400KV, 2S: keeps all requirements in 86 % of the " +
			"draws, cautious merit 0.176, merit 0.000 to 0.243 (P10 to P90) with a median of 0.211, expected regret " +
			"0.021, pack bought 850 to 1500 mAh"},
		"costs": {nil, words.Price, "28 % less nominal merit than the nominal best (0.217 instead of 0.299); in " +
			"return all requirements are kept in 86 % of the draws instead of 46 %, and the cautious merit is 0.176 " +
			"instead of 0.092 (medians: hover time -6 %, thrust to " +
			"weight -31 %)"},
		"the same": {func(c *finding.Choice) { c.Nominal = 0 }, words.Price, "none: the nominal best is recommended"},
		"not drawn": {func(c *finding.Choice) { c.Nominal = -1 }, words.Price,
			"the nominal best was not among what was drawn"},
		"fails": {nil, words.FailsBoth, "most often at the weight limit, in 13 % of the draws; the " +
			"nominal best there too, in 49 %"},
		"fails elsewhere": {func(c *finding.Choice) { c.Builds[0].Fails[len(c.Gates)-1] = 0.136 },
			words.FailsBoth, "most often at motor temperature in cruise, in 14 % of the draws; the nominal best most " +
				"often at the weight limit, in 49 % of the draws"},
		"counted first": {func(c *finding.Choice) { c.Nominal, c.Builds[0].Fails = 0, nil }, words.FailsBoth,
			"most often first at the weight limit, in 13 % of the draws"},
		"never": {func(c *finding.Choice) {
			c.Nominal = 0
			clear(c.Builds[0].Fails)
		}, words.FailsBoth, "in no draw"},
		"tied": {nil, words.Ties, "with 4×2.4×3, 1404 4400KV, 2S; 2.5×2.25×3, 1404 4400KV, 4S; by the best of each " +
			"size: anything from 2.5 to 4 in"},
		"many": {func(c *finding.Choice) { c.Builds[3].Tied = true }, words.Ties, "with 4×2.4×3, 1404 4400KV, 2S; " +
			"2.5×2.25×3, 1404 4400KV, 4S; 1 more; by the best of each size: anything from 2.5 to 4 in"},
		"apart": {func(c *finding.Choice) {
			a := c.Along(sweep.Diameter).Values
			a[1].Build, a[2].Build, a[2].Any = len(c.Builds)-1, 0, true
		}, words.TiedRange, "2.5 in or 5 in"},
		"a lesser build": {func(c *finding.Choice) { // of 2.5 in is tied, the best of it is not
			a := c.Along(sweep.Diameter)
			b := c.Builds[a.Values[0].Build]
			b.Cautious, b.Tied = b.Cautious+0.001, false
			c.Builds = append(c.Builds, b)
			a.Values[0].Build = len(c.Builds) - 1
		}, words.TiedRange, "only 4 in"},
		"alone": {func(c *finding.Choice) {
			for n := range c.Builds {
				c.Builds[n].Tied = false
			}
		}, words.Ties, "with no other build that is told of"},
		"line": {nil, words.Line, "best cautious merit by P(feasible): at 50 to 80 % 0.176 (4 in), at 90 % 0.168 " +
			"(2.5 in, tied); best median 0.211 at 50 %, 0.201 at 90 %"},
		"none sure": {func(c *finding.Choice) {
			c.Line[3].Any, c.Line[4].Any, c.Builds[2].Feasible = false, false, 0.78
		}, words.Line, "best cautious merit by P(feasible): at 50 to 70 % 0.176 (4 in), from 80 % on none; best " +
			"median 0.211 at 50 %, 0.211 at 70 %; the surest, 2.5×2.25×3, 1404 4400KV, 4S, keeps all requirements in " +
			"78 % and fails most often at use of the stator's torque, in 6 % of the draws"},
		"never kept": {func(c *finding.Choice) { c.Builds[2].Feasible = 0 }, words.Surest,
			"no build keeps all requirements in any draw"},
		"sizes": {nil, rivals, "4 in against 2.5 in: ahead in 33 %, level in 39 %, behind in 28 % of the draws " +
			"(cautious merit +0.008 ± 0.010: tied)"},
		"more sizes": {func(c *finding.Choice) {
			a := c.Along(sweep.Diameter)
			v := &a.Values[2]
			*v = decide.AxisValue{Value: v.Value, Any: true, Build: 5, Ahead: 0.1, Level: 0.25, Behind: 0.65,
				Difference: -0.1, Standard: 0.004}
		}, rivals, "4 in against 2.5 in: ahead in 33 %, level in 39 %, behind in 28 % of the draws (cautious merit " +
			"+0.008 ± 0.010: tied); against 5 in 65, 25 and 10 % (+0.100 ± 0.008)"},
		"a better size": {func(c *finding.Choice) { otherBy(c, 0.02) }, rivals, "4 in against 2.5 in: ahead in 33 %, " +
			"level in 39 %, behind in 28 % of the draws (cautious merit -0.020 ± 0.010: the other does better in the " +
			"fresh draws)"},
		"a size ahead": {func(c *finding.Choice) { otherBy(c, 0.004) }, rivals, "4 in against 2.5 in: ahead in 33 %, " +
			"level in 39 %, behind in 28 % of the draws (cautious merit -0.004 ± 0.010: the other does better in the " +
			"fresh draws, not told apart)"},
		"overtaken": {func(c *finding.Choice) { otherBy(c, 0.004) }, words.Overtaken,
			"the draws that chose put 4 in first, the fresh ones 2.5 in, not told apart"},
		"overtaken for sure": {func(c *finding.Choice) { otherBy(c, 0.02) }, words.Overtaken,
			"the draws that chose put 4 in first, the fresh ones 2.5 in"},
		"first in both":       {nil, words.Overtaken, ""},
		"level as it is told": {func(c *finding.Choice) { otherBy(c, 0.0004) }, words.Overtaken, ""},
		"one size":            {func(c *finding.Choice) { c.Axes = nil }, rivals, ""},
		"moves": {nil, words.Sensitivities, "the widest spans of merit from -1 to +1 sigma, or of another assumption, " +
			"first: pack resistance +1 sigma: merit -0.044; frame mass +1 sigma: it fails, " +
			"nominal best then 2.5 in; thrust coefficient -1 sigma: merit -0.012"},
		"assumption": {nil, func(c *finding.Choice) string { return words.Sensitivity(c, &c.Sensitivities[3]) },
			"pack grade (standard in place of high-rate): merit -0.006"},
		"nothing to measure": {func(c *finding.Choice) {
			c.Worth = []decide.Worth{{What: decide.MotorCooling}}
		}, words.Measures, "nothing that would move the choice by more than noise"},
		"not looked at": {func(c *finding.Choice) { c.Worth = nil }, words.Measures, ""},
		"loosened": {nil, func(c *finding.Choice) string { return words.Loosened(c, &c.Loosened[0]) },
			"all-up weight at most 273.9 g: best merit +0.017"},
		"loosened in vain": {nil, func(c *finding.Choice) string { return words.Loosened(c, &c.Loosened[1]) },
			"use of the pack's rating at most 176 %: best merit ±0.000"},
		"weights": {nil, func(c *finding.Choice) string { return words.WeightRange(c, &c.Weights[0]) },
			"the choice stands with hover time at 34 to 100 % of the merit (50 % asked); below it 2.5×2.25×3, 1404 " +
				"4400KV, 4S"},
		"draws": {nil, func(c *finding.Choice) string { return words.Draws(c.Of) },
			"256 for every build that keeps up, more for the best, and 1,024 fresh ones that tell of them, seed 1"},
	} {
		k := chosen(t, 1)
		if c.alter != nil {
			c.alter(k)
		}
		if got := c.say(k); got != c.want {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
}

// What to measure is named, with its worth, the speed of rotation in hover of a propeller, and
// the best pair.
func TestMeasuresNamed(t *testing.T) {
	t.Parallel()
	r := trial.DecidedRun(t)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	k := found[1].Choice
	if got, want := words.Measures(k), "the pack's resistance gains 0.012 of merit, 5.7 % of the build's median "+
		"(large); the frame, weighed 0.006, 2.8 % (some); the propeller's thrust on a stand at "; !strings.HasPrefix(got,
		want) {
		t.Errorf("%q, want %q", got, want)
	}
	single, pair := k.Measures()
	if pair == nil || len(single) != 5 {
		t.Fatalf("%d things, %v", len(single), pair)
	}
	c, err := r.Evaluator.Craft(k.Builds[2].Index, r.Result.Classes[1].Class)
	if err != nil {
		t.Fatal(err)
	}
	if rpm := finding.Metric("hover-rpm").Unit.FromSI(c.Hover.Speed); single[2].RPM != rpm || rpm < 5000 {
		t.Errorf("measured at %g rpm, want %g", single[2].RPM, rpm)
	}
	if got, want := words.Measures(k), " rpm (of 2.5×2.25×3, 1404 4400KV, 4S) 0.005, 2.4 % (some); as a pair the "+
		"pack's resistance and the frame, weighed 0.017, 8.1 %"; !strings.HasSuffix(got, want) {
		t.Errorf("%q, want it to end with %q", got, want)
	}
}

// Every thing that can be measured has a name of its own.
func TestMeasurables(t *testing.T) {
	t.Parallel()
	seen := map[string]bool{}
	for m := decide.FrameMass; m <= decide.HoverPower; m++ {
		s := words.Measurable(m)
		if seen[s] || s == words.Measurable(-1) {
			t.Errorf("%d is named %q", m, s)
		}
		seen[s] = true
	}
}
