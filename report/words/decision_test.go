package words_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"rotorsieve/model/flight"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/report/trial"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

func TestDecisions(t *testing.T) {
	t.Parallel()
	r := trial.SmallRun(t)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	if got := words.Decisions(r, &found[0]); got != nil {
		t.Errorf("a class without a design is decided by %q", got)
	}
	f := &found[1]
	text := strings.Join(words.Decisions(r, f), "; ")
	next := 0.0 // by hand, from the leaders of the result
	for i, b := range f.Leaders {
		if b.Any && r.Values(sweep.Diameter)[i] != f.Best().Design.Diameter {
			next = max(next, b.Score)
		}
	}
	if next == 0 || f.SecondDiameter().Score != next {
		t.Errorf("the next diameter scores %v, want %v", f.SecondDiameter().Score, next)
	}
	most := 1 // by hand: the gate after that of weight which rejects most
	for n := range f.Rejected {
		if n > 0 && f.Rejected[n] > f.Rejected[most] {
			most = n
		}
	}
	for _, want := range []string{
		"4 in leads 2.5 in, the next best diameter (", " % in nominal merit: no verdict, which --draws gives; " +
			"closest bounds: all-up weight " + words.WeightOf(f.Best().Craft.Mass, 0.249),
		fmt.Sprintf("; of the designs light enough, %.3g %% have no hover or full throttle, the commonest "+
			"failure",
			100*float64(f.Rejected[most])/float64(r.Result.Done-f.Rejected[0])),
	} {
		if !strings.Contains(text, want) {
			t.Errorf("%q does not say %q", text, want)
		}
	}
	// A bound set just at the design is the closest.
	s := *r.Study
	q := sweep.Requirement{Metric: finding.Metric("hover-time"), AtLeast: true, Bound: f.Best().Craft.HoverTime * 0.999}
	s.Require = []sweep.Requirement{q}
	other := *r
	other.Study = &s
	result := *r.Result
	result.Gates = s.Gates()
	other.Result = &result
	if got := words.Each(other.Closest(f, f.Best()), words.Closest); len(got) != 2 || !strings.HasPrefix(got[0],
		"hover time ") || !strings.HasPrefix(got[1], "all-up weight ") {
		t.Errorf("closest bounds %q", got)
	}
}

// Bounds are named that a design has within a twentieth of them, nearest first, and
// where none is so near the nearest alone.
func TestClosest(t *testing.T) {
	t.Parallel()
	r := trial.SmallRun(t)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	f := found[1]
	e := f.Best()
	wide := *f.ClassResult
	wide.Class.Limit = 10 * e.Craft.Mass // out of the way
	f.ClassResult = &wide
	study, result := *r.Study, *r.Result
	r.Study, r.Result = &study, &result
	names := []string{"hover-time", "thrust-to-weight", "pack-load"}
	for _, c := range []struct {
		slack [3]float64 // over the bound
		want  []int
	}{
		{[3]float64{0.04, 0.049, 0.06}, []int{0, 1}},
		{[3]float64{0.051, 0.03, 0.045}, []int{1, 2}},
		{[3]float64{0.12, 0.08, 0.051}, nil},
		{[3]float64{0.02, 0.01, 0.04}, []int{1, 0, 2}},
	} {
		study.Require = nil
		for i, name := range names {
			q := sweep.Requirement{Metric: finding.Metric(name), AtLeast: name != "pack-load"}
			if v := q.Metric.Of(e.Craft); q.AtLeast {
				q.Bound = v / (1 + c.slack[i])
			} else {
				q.Bound = v / (1 - c.slack[i])
			}
			study.Require = append(study.Require, q)
		}
		result.Gates = study.Gates()
		got := words.Each(r.Closest(&f, e), words.Closest)
		same := len(got) == len(c.want)
		for n := range min(len(got), len(c.want)) {
			same = same && strings.HasPrefix(got[n], texts.Lower(finding.Metric(names[c.want[n]]).Title)+" ")
		}
		if !same {
			t.Errorf("by %v over the bounds on %v: %q, want those at %v", c.slack, names, got, c.want)
		}
	}
}

// What holds the top speed is told where something other than the throttle does and
// the study asks for top speed.
func TestHeldTopSpeed(t *testing.T) {
	t.Parallel()
	r := trial.SmallRun(t)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	f := found[1]
	e := *f.Best()
	c := *e.Craft
	e.Craft = &c
	f.First = []finding.Entry{e}
	asked := *r
	study, result := *r.Study, *r.Result
	asked.Study, asked.Result = &study, &result
	const wording = "top speed is held by pack current or voltage"
	told := func() bool { return slices.Contains(words.Held(asked.Held(&f, f.Best())), wording) }
	c.Flight.Limit = flight.ByPack
	if told() {
		t.Error("told though top speed is not asked for")
	}
	study.Merit = append(slices.Clone(study.Merit), sweep.Term{Metric: finding.Metric("top-speed"), Weight: 1,
		Best: 50})
	if !told() {
		t.Errorf("%q does not say it where top speed ranks", words.Held(asked.Held(&f, f.Best())))
	}
	c.Flight.Limit = flight.ByThrottle
	if told() {
		t.Error("told of a top speed at full throttle")
	}
	c.Flight.Limit = flight.ByPack
	study.Merit = r.Study.Merit
	study.Require = append(slices.Clone(study.Require), sweep.Requirement{Metric: finding.Metric("top-speed"),
		AtLeast: true, Bound: 10})
	result.Gates = study.Gates()
	if !told() {
		t.Errorf("%q does not say it where top speed is required", words.Held(asked.Held(&f, f.Best())))
	}
}

// The commonest failure of the designs light enough is told by its gate.
func TestSieve(t *testing.T) {
	t.Parallel()
	r := trial.SmallRun(t)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range map[int]string{
		1: "have no hover or full throttle, the commonest failure",
		2: "have no hover or full throttle, the commonest failure",
	} {
		k, most := &found[i], 1 // by hand
		for g := range k.Rejected[1:] {
			if k.Rejected[g+1] > k.Rejected[most] {
				most = g + 1
			}
		}
		want = fmt.Sprintf("of the designs light enough, %.3g %% %s",
			100*float64(k.Rejected[most])/float64(r.Result.Done-k.Rejected[0]), want)
		if got := words.Sieve(*r.Sieve(&found[i])); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	k := *found[1].ClassResult
	k.Rejected = make([]uint64, len(k.Rejected))
	f := finding.Class{ClassResult: &k}
	if got := r.Sieve(&f); got != nil {
		t.Errorf("where none fails: %+v", got)
	}
}

// Without draws a lead is a bare difference; with them it says how often it holds.
func TestLead(t *testing.T) {
	t.Parallel()
	r := trial.SmallRun(t)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	f := found[1]
	for score, want := range map[float64]string{
		0.99995: "by less than 0.1 % in nominal merit: no verdict, which --draws gives",
		0.8:     "by 20 % in nominal merit: no verdict, which --draws gives",
	} {
		next := *f.SecondDiameter()
		next.Score = score * f.Best().Score
		g := f
		g.ByDiameter = []*finding.Entry{&next, f.Best()}
		if got := words.Lead(r.Study.Merit, g.Lead()); !strings.HasSuffix(got, want) {
			t.Errorf("a share of %g is told as %q, want %q", score, got, want)
		}
	}
	drawn, err := trial.DecidedRun(t).Findings()
	if err != nil {
		t.Fatal(err)
	}
	if got, want := words.Lead(r.Study.Merit, drawn[1].Lead()),
		"against the strongest other diameter, 4 in against 2.5 in: ahead in 33 %, level in 39 %, behind in 28 % of "+
			"the draws (cautious merit +0.008 ± 0.010: tied)"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	f.ByDiameter = []*finding.Entry{f.Best()}
	if got := words.Lead(r.Study.Merit, f.Lead()); got != "no other diameter has a feasible design" {
		t.Errorf("alone it is told as %q", got)
	}
	at := func(inches, share float64) *finding.Entry {
		e := finding.Entry{Ranked: sweep.Ranked{Score: share * found[1].Best().Score}}
		e.Design.Diameter = finding.Inch.ToSI(inches)
		return &e
	}
	none := *f.Best()
	none.Score = 0
	f.First, f.ByDiameter = []finding.Entry{none}, []*finding.Entry{at(2, 0), &none}
	if got := words.Lead(r.Study.Merit, f.Lead()); !strings.Contains(got, "a merit of 0") {
		t.Errorf("merits of 0 are told as %q", got)
	}
}

// Why weight is left unused follows from all designs near the limit.
func TestUnused(t *testing.T) {
	t.Parallel()
	all := func(s sweep.Study) (*finding.Run, []finding.Class) {
		s.Top = int(s.Grid.Size())
		result, err := sweep.Run(t.Context(), &s, sweep.Options{Workers: 1})
		if err != nil {
			t.Fatal(err)
		}
		r := &finding.Run{Study: &s, Result: result}
		found, err := r.Findings()
		if err != nil {
			t.Fatal(err)
		}
		return r, found
	}
	s := *trial.SmallRun(t).Study
	told := map[string]bool{}
	for _, c := range []struct {
		load   float64 // of the pack's rating
		limits []float64
	}{{0.25, []float64{0.26, 0.3, 0.34, 0.38, 0.42, 0.47, 0.52, 0.6}}, {2, []float64{0.36, 0.54}},
		{2, []float64{0.05, 2.4}}} {
		s.Classes = nil
		for _, limit := range c.limits {
			s.Classes = append(s.Classes, sweep.Class{Limit: limit, Label: words.Mass(limit)})
		}
		s.Require = slices.Clone(s.Require)
		for n, q := range s.Require {
			if q.Metric.Name == "pack-load" {
				s.Require[n].Bound = c.load
			}
		}
		s.Model = trial.Model(t, sweep.Limited(s.Model.Assume, s.Require))
		r, found := all(s)
		for i := range found {
			f := &found[i]
			if f.Best() == nil {
				continue
			}
			rows, err := r.Ranking(t.Context(), f.ClassResult)
			if err != nil {
				t.Fatal(err)
			}
			got := words.Unused(r.Unused(f))
			if f.Best().Craft.Mass >= 0.9*f.Class.Limit {
				if got != "" {
					t.Errorf("%s: %q of a design near the limit", f.Class.Label, got)
				}
				continue
			}
			var want *finding.Row // by hand: the first of the ranking that is heavy enough
			for n := range rows {
				if rows[n].Values[finding.Place(finding.Metric("auw"))] >= f.Heaviest.Least {
					want = &rows[n]
					break
				}
			}
			for _, words := range []string{" scores ", "is feasible; the furthest fail at use of the pack's rating",
				"the grid has no design of 2160 g or more"} {
				told[words] = told[words] || strings.Contains(got, words)
			}
			switch {
			case f.Heaviest.Least < 0.9*f.Class.Limit-1e-9 || f.Heaviest.Least > 0.9*f.Class.Limit+f.Size.Width:
				t.Errorf("%s: near the limit begins at %g kg", f.Class.Label, f.Heaviest.Least)
			case (want == nil) != (f.Heaviest.Best == nil) || want != nil && want.Index != f.Heaviest.Best.Index:
				t.Errorf("%s: the best near the limit is %+v, want %+v", f.Class.Label, f.Heaviest.Best, want)
			case want != nil && !strings.Contains(got,
				finding.Gram.Format(want.Values[finding.Place(finding.Metric("auw"))],
					3)+") scores "+words.Less(f.Best().Score, want.Score)+" less"):
				t.Errorf("%s: told as %q", f.Class.Label, got)
			}
		}
	}
	r := trial.SmallRun(t)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	r.Result.Complete = false
	if got, want := words.Unused(r.Unused(&found[2])), "of 600 g only "+finding.Gram.Format(found[2].Best().Craft.Mass,
		3)+" is used"; got != want {
		t.Errorf("of a run that is not finished: %q, want %q", got, want)
	}
	for words, said := range told {
		if !said {
			t.Errorf("nothing is told as %q", words)
		}
	}
}

// A class is held against the next lighter one that has a design.
func TestGain(t *testing.T) {
	t.Parallel()
	r := trial.SmallRun(t)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	if k := r.Before(&found[1]); k != nil {
		t.Errorf("the lightest class with a design is held against %s", k.Class.Label)
	}
	k := r.Before(&found[2])
	if k == nil || k.Class.Limit != found[1].Class.Limit {
		t.Fatalf("600g is held against %v", k)
	}
	for i, want := range []string{"", "no lighter class has a feasible design", words.Gain(r.Gain(k, &found[2]))} {
		if got := words.Against(r, &found[i]); got != want {
			t.Errorf("class %s: %q, want %q", found[i].Class.Label, got, want)
		}
	}
	hover := finding.Metric("hover-time")
	want := fmt.Sprintf("against the best at 249 g: hover time %+.0f %%",
		100*(hover.Of(found[2].Best().Craft)/hover.Of(found[1].Best().Craft)-1))
	if got := words.Gain(r.Gain(k, &found[2])); !strings.HasPrefix(got, want) {
		t.Errorf("the gain is told as %q, want %q", got, want)
	}
	if got := words.Gain(r.Gain(k, k)); !strings.HasPrefix(got, "the same design as at 249 g") {
		t.Errorf("the same design is told as %q", got)
	}
}

// The answer names every part of the design and what it reaches.
func TestAnswer(t *testing.T) {
	t.Parallel()
	r := trial.SmallRun(t)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	f := &found[1]
	e := f.Best()
	got := words.Answer(r, f.Best())
	for _, want := range []string{finding.Inch.Format(e.Design.Pitch, 4), words.Stator(e.Design) + " motors",
		fmt.Sprintf("KV %.4g", e.Design.KV),
		fmt.Sprintf("%dS ", e.Design.Cells), fmt.Sprintf("%.3g g", 1e3*e.Craft.Mass),
		fmt.Sprintf("hovers %.1f min", e.Craft.HoverTime/60),
		fmt.Sprintf("thrust to weight %.2g", finding.Metric("thrust-to-weight").Of(e.Craft))} {
		if !strings.Contains(got, want) {
			t.Errorf("%q does not say %q", got, want)
		}
	}
	// Times that the motors stand go with what they stand, unless it is an hour.
	s := *r.Study
	s.Merit = append(slices.Clone(s.Merit), sweep.Term{Metric: finding.Metric("top-speed"), Weight: 1, Best: 50})
	fast := *r
	fast.Study = &s
	hot, first := *f, *f.Best()
	first.Craft = trial.HotCraft(t)
	hot.First, f = []finding.Entry{first}, &hot
	c := first.Craft
	burst, dash := finding.Metric("burst-time").Of(c), finding.Metric("top-speed-time").Of(c)
	got = words.Answer(&fast, f.Best())
	for _, want := range []string{fmt.Sprintf("thrust to weight %.2g (windings at 120 °C after %.2g s)",
		finding.Metric("thrust-to-weight").Of(c), burst),
		fmt.Sprintf("top speed %.3g m/s, held %.2g s before the windings reach 120 °C",
			finding.Metric("top-speed").Of(c), dash)} {
		if !(burst < 3600 && dash < 3600) || !strings.Contains(got, want) {
			t.Errorf("%q does not say %q", got, want)
		}
	}
}
