package figure

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"
	"testing"

	"rotorsieve/report/chart"
	"rotorsieve/report/finding"
	"rotorsieve/report/trial"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
	"rotorsieve/sweep/decide"
)

// decidedAnew is a run without what was found of it, so that its decision is read.
func decidedAnew(t *testing.T, r *finding.Run) *finding.Run {
	t.Helper()
	return &finding.Run{Study: r.Study, Result: r.Result, Decision: r.Decision, Figures: r.Figures, DPI: r.DPI,
		Version: r.Version}
}

// sizesRun is a run over some diameters and blades in classes of some grams, with a decision
// that is made up.
func sizesRun(t *testing.T, diameters, blades string, grams ...float64) *finding.Run {
	t.Helper()
	s := trial.SmallStudy(t)
	var axes []sweep.Axis
	for _, a := range s.Grid.Axes() {
		switch a.Def {
		case sweep.Diameter, sweep.Blades:
			a = trial.Axis(t, a.Def, map[*sweep.AxisDef]string{sweep.Diameter: diameters, sweep.Blades: blades}[a.Def])
		case sweep.PitchRatio, sweep.Payload:
			a.Values = a.Values[:1]
		}
		axes = append(axes, a)
	}
	var err error
	if s.Grid, err = sweep.NewGrid(axes...); err != nil {
		t.Fatal(err)
	}
	s.Classes = nil
	for _, g := range grams {
		s.Classes = append(s.Classes, sweep.Class{Limit: g / 1000, Label: fmt.Sprintf("%gg", g)})
	}
	result, err := sweep.Run(t.Context(), s, sweep.Options{Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	r := &finding.Run{Study: s, Result: result, Version: "test"}
	r.Decision = invented(r)
	return r
}

// unsure is a decision of which no build is feasible in half of the draws.
func unsure(r *finding.Run) *finding.Run {
	for i := range r.Decision.Classes {
		k := &r.Decision.Classes[i]
		for n := range k.Builds {
			k.Builds[n].Feasible *= 0.4
		}
		for n := range k.Line {
			k.Line[n] = decide.LinePoint{Feasible: k.Line[n].Feasible}
		}
	}
	return r
}

// decidedRuns are runs with decisions of every shape, swept once for all tests.
func decidedRuns(t *testing.T) map[string]*finding.Run {
	t.Helper()
	swept.Do(func() { swept.runs = decideRuns(t) })
	if swept.runs == nil {
		t.Fatal("no runs: another test says why")
	}
	out := map[string]*finding.Run{}
	for name, r := range swept.runs {
		out[name] = decidedAnew(t, r)
	}
	return out
}

var swept struct {
	sync.Once
	runs map[string]*finding.Run
}

func decideRuns(t *testing.T) map[string]*finding.Run {
	t.Helper()
	three := trial.MappedRun(t)
	three.Decision = trial.Decided(t, three)
	three.Study.Maps = nil
	return map[string]*finding.Run{
		"three classes": three,
		"one diameter":  sizesRun(t, "4in", "2,3,4", 400, 700),
		"one build":     sizesRun(t, "5in", "3", 600),
		"13 diameters":  sizesRun(t, "2.5:5.5:0.25in", "3", 350),
		"four classes":  sizesRun(t, "2.5:5.5:0.25in", "3", 250, 350, 500, 700),
		"six classes":   sizesRun(t, "2:8:0.25in", "3", 80, 250, 350, 500, 600, 700),
		"unsure":        unsure(sizesRun(t, "3in,4in,5in", "3", 350, 600)),
	}
}

// family gathers the points of a family of lines, areas or points of a panel.
func family(p *chart.Panel, name string) map[float64][]float64 {
	out := map[float64][]float64{}
	for _, l := range p.Lines {
		for k := range l.X {
			if l.Family == name {
				out[l.X[k]] = []float64{l.Y[k]}
			}
		}
	}
	for _, q := range p.Points {
		for k := range q.X {
			if q.Family == name {
				out[q.X[k]] = []float64{q.Y[k]}
			}
		}
	}
	for _, a := range p.Areas {
		for k := range a.At {
			if a.Family == name {
				out[a.At[k]] = []float64{a.From[k], a.To[k]}
			}
		}
	}
	return out
}

// Each value of the first axis has the numbers of its best build, a gap where it has none;
// shares add up to all draws; the recommended one has the star, and the heavy lines cover the
// values that are tied with it and no other.
func TestConfidenceFigure(t *testing.T) {
	t.Parallel()
	for name, r := range decidedRuns(t) {
		found, err := r.Findings()
		if err != nil {
			t.Fatal(err)
		}
		f, lacks, err := confidenceFigure(r, found)
		if err != nil || lacks != "" {
			t.Fatalf("%s: %v %s", name, err, lacks)
		}
		shown, all := choices(found, decidedClasses)
		if len(shown) != min(all, 4) || len(f.Panels)%len(shown) != 0 {
			t.Errorf("%s: %d panels of %d classes", name, len(f.Panels), all)
		}
		if left := all > len(shown); left != strings.Contains(f.Note, "classes are drawn") {
			t.Errorf("%s: note %q of %d of %d classes", name, f.Note, len(shown), all)
		}
		for i, k := range shown {
			c := k.Choice
			a := &c.Axes[0]
			merit, shares := &f.Panels[i], &f.Panels[len(shown)+i]
			tied := c.TiedAlong(a)
			values := 0
			for n, v := range a.Values {
				x := float64(n)
				if len(merit.X.Names) == 0 {
					x = c.Def(a).Shown(v.Value)
				}
				covered := slices.ContainsFunc(shares.Lines, func(l chart.Line) bool {
					return l.Outline && l.X[0] < x && l.X[1] > x
				})
				if covered != tied[n] {
					t.Errorf("%s, %s: a heavy line at %g: %t, want %t", name, k.Class.Label, x, covered, tied[n])
				}
				if !v.Any {
					if len(family(merit, cautiousFamily)[x]) > 0 || len(family(shares, levelFamily)[x]) > 0 {
						t.Errorf("%s, %s: something at %g, where there is no build", name, k.Class.Label, x)
					}
					continue
				}
				values++
				b := &c.Builds[v.Build]
				for of, want := range map[string][]float64{bandFamily: {b.Merit.P10, b.Merit.P90},
					cautiousFamily: {b.Cautious}, nominalFamily: {b.Nominal}} {
					if got := family(merit, of)[x]; !slices.Equal(got, want) {
						t.Errorf("%s, %s: %s at %g is %v, want %v", name, k.Class.Label, of, x, got, want)
					}
				}
				sum := 0.0
				for n, of := range []string{aheadFamily, levelFamily, behindFamily} {
					want := 100 * [...]float64{v.Ahead, v.Level, v.Behind}[n]
					got := family(shares, of)[x]
					if len(got) != 2 || math.Abs(got[1]-got[0]-want) > 1e-9 || math.Abs(got[0]-sum) > 1e-9 {
						t.Errorf("%s, %s: %s at %g is %v, want %g from %g", name, k.Class.Label, of, x, got, want, sum)
					}
					sum += want
				}
			}
			if values == 0 {
				t.Errorf("%s, %s: no value has a build", name, k.Class.Label)
			}
			if m := merit.Markers; len(m) == 0 || m[0].Ring || m[0].Y != c.Recommended().Cautious {
				t.Errorf("%s, %s: stars %v", name, k.Class.Label, m)
			}
			for n, m := range merit.Markers {
				if best := c.At(c.Nominal); n > 0 && (!m.Ring || best == nil || m.Y != best.Nominal) || n > 1 {
					t.Errorf("%s, %s: rings %v", name, k.Class.Label, merit.Markers)
				}
			}
			if sure := words.Probability(c.Recommended().Feasible); !strings.Contains(merit.Title+f.Title, sure) {
				t.Errorf("%s: titles %q and %q do not say %s", name, merit.Title, f.Title, sure)
			}
			if len(f.Rows) < 3 {
				continue
			}
			line := &f.Panels[2*len(shown)+i]
			for _, x := range c.Line {
				got := family(line, cautiousFamily)[100*x.Feasible]
				if want := []float64{x.Cautious}; x.Any && !slices.Equal(got, want) || !x.Any && got != nil {
					t.Errorf("%s, %s: %v at %g, want %v (%t)", name, k.Class.Label, got, x.Feasible, want, x.Any)
				}
			}
		}
		if name == "unsure" && (len(f.Rows) != 2 || !strings.Contains(f.Note, "No build has a P(feasible) of 50 %")) {
			t.Errorf("%s: %d rows, note %q", name, len(f.Rows), f.Note)
		}
	}
}

// What two standard errors are is drawn where a dot does not hide it, with caps, and otherwise left out, which
// the note says.
func TestHiddenErrors(t *testing.T) {
	t.Parallel()
	for standard, drawn := range map[float64]bool{0.001: false, 0.04: true} {
		r := trial.DecidedRun(t)
		for i := range r.Decision.Classes {
			for _, a := range r.Decision.Classes[i].Axes {
				for n := range a.Values {
					a.Values[n].Standard = standard
				}
			}
		}
		found, err := r.Findings()
		if err != nil {
			t.Fatal(err)
		}
		f, lacks, err := confidenceFigure(r, found)
		if err != nil || lacks != "" {
			t.Fatal(err, lacks)
		}
		lines := 0
		for _, p := range f.Panels {
			for _, l := range p.Lines {
				if l.Family != apartFamily {
					continue
				}
				lines++
				if first, last := l.Y[0], l.Y[len(l.Y)-1]; l.X[1] <= l.X[0] || last-first > 4*standard*(1+1e-9) {
					t.Errorf("a bar from %g to %g, with a cap from %g to %g", first, last, l.X[0], l.X[1])
				}
			}
		}
		if lines > 0 != drawn || strings.Contains(f.Note, "; bars about it: ") != drawn ||
			strings.Contains(f.Note, "below the recommended build (0.002 or less, too short to be drawn). A "+
				"band") == drawn {
			t.Errorf("standard error %g: %d bars; note: %s", standard, lines, f.Note)
		}
	}
}

// The title says what is chosen, how sure it is and what is as good.
func TestConfidenceTitle(t *testing.T) {
	t.Parallel()
	r := trial.MappedRun(t)
	r.Decision = trial.Decided(t, r)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	none := make([]string, len(found))
	if got, want := confidenceTitle(found, none),
		"Recommended: 4 in at 249 g, 5 in at 600 g, none at 80 g; "+
			"all requirements kept in 74 to 86 % of draws"; got != want {
		t.Errorf("title %q, want %q", got, want)
	}
	if got, want := confidenceTitle(found[1:2], none),
		"4 in (tied: 2.5 to 4 in); all requirements kept in 86 % of draws"; got != want {
		t.Errorf("title %q, want %q", got, want)
	}
	if got, want := confidenceTitle(found[2:], none), "Only 5 in; all requirements kept in 74 % of draws "+
		"(the rest mostly fail at use of the pack's rating)"; got != want {
		t.Errorf("title %q, want %q", got, want)
	}
}

// ofSource is what a source moves in a class.
func ofSource(c *finding.Choice, of *decide.Sensitivity) *decide.Sensitivity {
	for i := range c.Sensitivities {
		if s := &c.Sensitivities[i]; sameSource(s, of) {
			return s
		}
	}
	return nil
}

// Bars reach from the nominal merit to that of the source, largest first; a build that fails
// and another best size are named.
func TestTornadoFigure(t *testing.T) {
	t.Parallel()
	for name, r := range decidedRuns(t) {
		found, err := r.Findings()
		if err != nil {
			t.Fatal(err)
		}
		f, lacks, err := tornadoFigure(r, found)
		if err != nil || lacks != "" {
			t.Fatalf("%s: %v %s", name, err, lacks)
		}
		shown, _ := choices(found, 2)
		rows := moving(shown)
		n := min(len(rows), mostMoving)
		if len(f.Panels) != len(shown) || len(f.Panels[0].Y.Names) != n {
			t.Errorf("%s: %d panels of %d rows, want %d of %d", name, len(f.Panels), len(f.Panels[0].Y.Names),
				len(shown), n)
			continue
		}
		for i, k := range shown {
			c, p := k.Choice, &f.Panels[i]
			was := c.Recommended().Nominal
			for at, row := range rows[:n] {
				s := ofSource(c, row)
				y := float64(n - 1 - at)
				if text := p.Y.Names[n-1-at]; !strings.HasPrefix(text, words.SourceName(row)) {
					t.Errorf("%s: row %d is %q, want %q", name, at, text, words.SourceName(row))
				}
				bars := map[string]float64{moreFamily: s.High, lessFamily: s.Low}
				if s.Assumption {
					bars = map[string]float64{otherFamily: s.High}
				}
				for of, v := range bars {
					got := family(p, of)[y+map[string]float64{moreFamily: -0.2, lessFamily: 0.2}[of]]
					if want := []float64{was, max(v, p.X.Min)}; !slices.Equal(got, want) {
						t.Errorf("%s, %s: %s of %s is %v, want %v", name, k.Class.Label, of, s.Name, got, want)
					}
					if v == 0 && !strings.Contains(f.Note, "Fails: a requirement breaks") {
						t.Errorf("%s: note %q does not tell of a build that fails", name, f.Note)
					}
				}
			}
			labels := ""
			for _, a := range p.Areas {
				labels += strings.Join(a.Labels, ";")
			}
			for at := range rows[:n] {
				if size := otherSize(k, ofSource(c, rows[at]).HighSize); !strings.Contains(labels, size) {
					t.Errorf("%s: labels %q do not name %s", name, labels, size)
				}
			}
		}
		for k := 1; k < n; k++ {
			most := func(s *decide.Sensitivity) (by float64) {
				for _, k := range shown {
					for i := range k.Choice.Sensitivities {
						if x := &k.Choice.Sensitivities[i]; sameSource(x, s) {
							by = max(by, swing(x, k.Choice.Recommended().Nominal))
						}
					}
				}
				return by
			}
			if most(rows[k]) > most(rows[k-1]) {
				t.Errorf("%s: %s moves more than %s before it", name, rows[k].Name, rows[k-1].Name)
			}
		}
	}
}

// The chart of sizes has heavy strokes over the diameters that the draws tie, and none
// without draws, of which nothing is said then.
func TestTiedLines(t *testing.T) {
	t.Parallel()
	r := sizesRun(t, "2.5:5.5:0.25in", "3", 250, 500)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	f := sized(t, r, found)
	p := &f.Panels[0]
	for i := range found {
		c := found[i].Choice
		has := map[float64]bool{}
		for n, b := range c.Builds {
			if n == 0 || b.Tied {
				has[finding.Inch.FromSI(b.Design.Diameter)] = true
			}
		}
		limit := finding.Gram.FromSI(found[i].Class.Limit)
		for _, v := range p.Field.Y {
			covered := slices.ContainsFunc(p.Lines, func(l chart.Line) bool {
				return l.Outline && math.Abs(l.X[0]-limit) < 5 && l.Y[0] <= v && l.Y[1] >= v
			})
			if covered != has[v] {
				t.Errorf("a stroke over %g in at %g g: %t, want %t", v, limit, covered, has[v])
			}
		}
		if size := finding.Inch.Format(c.Recommended().Design.Diameter, 4); !strings.Contains(f.Title, size) {
			t.Errorf("title %q does not say %s", f.Title, size)
		}
	}
	r.Decision = nil
	r = decidedAnew(t, r)
	if found, err = r.Findings(); err != nil {
		t.Fatal(err)
	}
	f = sized(t, r, found)
	for _, l := range f.Panels[0].Lines {
		if l.Outline {
			t.Errorf("a heavy line %q without draws", l.Family)
		}
	}
	for _, p := range plansOf(t.Context(), r, found) {
		for _, word := range []string{"draws", "tied", "ecommend"} {
			if p.name == sizeName && (strings.Contains(p.caption, word) || strings.Contains(f.Title+f.Note, word)) {
				t.Errorf("of a run without draws it is said: %q", word)
			}
		}
	}
}

// Without draws there is no figure of them, which is said only of one that was asked for.
func TestUndecided(t *testing.T) {
	t.Parallel()
	r := trial.MappedRun(t)
	for _, c := range []struct {
		asked []string
		left  []string
	}{
		{[]string{confidenceName, tornadoName},
			[]string{"confidence: a run without draws", "tornado: a run without draws"}},
		{nil, nil},
	} {
		r.Figures = c.asked
		if c.asked == nil {
			r.Figures = []string{massName}
		}
		figures, err := Draw(t.Context(), r)
		if err != nil {
			t.Fatal(err)
		}
		if !slices.Equal(r.Undrawn, c.left) || (len(figures) > 0) != (c.asked == nil) {
			t.Errorf("asked for %q: %d figures, left out %q", c.asked, len(figures), r.Undrawn)
		}
	}
	r.Decision = &decide.Decision{Classes: make([]decide.Class, len(r.Result.Classes))}
	r.Figures = []string{confidenceName}
	want := []string{"confidence: no feasible design"}
	if _, err := Draw(t.Context(), r); err != nil || !slices.Equal(r.Undrawn, want) {
		t.Errorf("of nothing: %v, left out %q", err, r.Undrawn)
	}
}
