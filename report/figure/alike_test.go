package figure

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	diff "github.com/google/go-cmp/cmp"

	"rotorsieve/model"
	"rotorsieve/report/chart"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/report/trial"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

// finerRun is a run of SmallStudy with more diameters and speed constants.
func finerRun(t *testing.T) *finding.Run {
	t.Helper()
	s := trial.SmallStudy(t)
	var axes []sweep.Axis
	for _, a := range s.Grid.Axes() {
		switch a.Def {
		case sweep.Diameter:
			a = trial.Axis(t, sweep.Diameter, "2.5:6:0.5in")
		case sweep.KV:
			a = trial.Axis(t, sweep.KV, "1500:4200:450")
		case sweep.Blades, sweep.PitchRatio:
			a.Values = a.Values[:1]
		}
		axes = append(axes, a)
	}
	var err error
	if s.Grid, err = sweep.NewGrid(axes...); err != nil {
		t.Fatal(err)
	}
	s.Maps = []sweep.MapSpec{
		{X: sweep.Diameter, Y: sweep.KV}, {X: sweep.KV, Y: sweep.Diameter, Metric: finding.Metric("hover-power")},
		{X: sweep.Cells, Y: sweep.KV}, {X: sweep.Cells, Y: sweep.Stator}, {X: sweep.Diameter, Y: sweep.Payload},
	}
	result, err := sweep.Run(t.Context(), s, sweep.Options{Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	return &finding.Run{Study: s, Result: result, Version: "test"}
}

// The highest steps of a bar of merits are halved and hold all merits, in no more bands
// than can be told apart.
func TestFinerBar(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		lo, hi float64
		want   []float64
	}{
		{0, 0.78, []float64{0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.65, 0.7, 0.75, 0.8}},
		{0, 0.74, []float64{0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.65, 0.7, 0.75}},
		{0.2, 0.79, []float64{0.2, 0.3, 0.4, 0.5, 0.55, 0.6, 0.65, 0.7, 0.75, 0.8}},
		{0.05, 0.83, []float64{0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9}},
		{0.5, 0.5, []float64{0.5, 0.525, 0.55}},
	} {
		b := finerBar("", c.lo, c.hi)
		near := diff.Comparer(func(a, b float64) bool { return math.Abs(a-b) < 1e-9 })
		if d := diff.Diff(c.want, b.Levels, near); d != "" && c.lo != c.hi {
			t.Errorf("from %g to %g: %s", c.lo, c.hi, d)
		}
		if b.Levels[0] > c.lo || b.Levels[len(b.Levels)-1] < c.hi {
			t.Errorf("levels %v do not hold %g to %g", b.Levels, c.lo, c.hi)
		}
	}
	rng := rand.New(rand.NewPCG(1, 1))
	for range 2000 {
		lo := rng.Float64()
		hi := lo + math.Pow(10, -4*rng.Float64())
		for _, b := range []chart.Bar{bar("", lo, hi), finerBar("", lo, hi)} {
			if n := len(b.Levels) - 1; n > chart.MostBands || b.Levels[0] > lo || b.Levels[n] < hi-1e-9 {
				t.Errorf("from %g to %g: levels %v", lo, hi, b.Levels)
			}
		}
	}
}

// What a map tells of other metrics is written into cells that stand for themselves: nothing is
// drawn between the values of an axis that has few, nor lines of what jumps from cell to cell.
func TestOnlyCellsAreWritten(t *testing.T) {
	t.Parallel()
	cells, continua := 0, 0
	for _, r := range []*finding.Run{trial.MappedRun(t), finerRun(t)} {
		found, err := r.Findings()
		if err != nil {
			t.Fatal(err)
		}
		for n, spec := range r.Study.Maps {
			f, err := mapFigure(r, found, n)
			if err != nil {
				t.Fatal(err)
			}
			for i := range f.Panels {
				p := &f.Panels[i]
				for _, a := range []struct {
					axis chart.Axis
					def  *sweep.AxisDef
				}{{p.X, spec.X}, {p.Y, spec.Y}} {
					values := len(finding.AxisValues(r.Study.Grid, a.def))
					if (a.axis.Names == nil) != (a.def.Continuous && values > finding.FewValues) {
						t.Errorf("%s: %d values of %s, drawn as cells: %v", spec.Name(), values, a.def.Name,
							a.axis.Names != nil)
					}
					if a.axis.Names == nil && a.axis.Log != (a.def == sweep.KV) {
						t.Errorf("%s: logarithmic %s: %v", spec.Name(), a.def.Name, a.axis.Log)
					}
				}
				if both := p.X.Names != nil && p.Y.Names != nil; both && len(p.Overlays) > 0 {
					cells++
				} else if !both {
					continua++
					if len(p.Overlays) > 0 {
						t.Errorf("%s: lines of %s", spec.Name(), p.Overlays[0].Name)
					}
				}
			}
		}
	}
	if cells == 0 || continua == 0 {
		t.Errorf("%d panels of cells and %d others, want some of both", cells, continua)
	}
}

// mapOf draws a map of a run.
func mapOf(t testing.TB, r *finding.Run, n int) (*chart.Figure, error) {
	t.Helper()
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	return mapFigure(r, found, n)
}

// Along each axis the title says what the best of the others costs, with its own place on
// the other axis, in the metric that the map ranks by.
func TestMapTitleExtent(t *testing.T) {
	t.Parallel()
	r := finerRun(t)
	for n, rank := range []func(judged) float64{
		func(x judged) float64 { return x.Score },
		func(x judged) float64 { return -finding.Metric("hover-power").Of(x.craft) },
	} {
		f, err := mapOf(t, r, n)
		if err != nil {
			t.Fatal(err)
		}
		if head := []string{"Best: ", "Lowest hover power: "}[n]; !strings.HasPrefix(f.Title, head) {
			t.Errorf("title %q, want it to begin with %q", f.Title, head)
		}
		for _, k := range r.Study.Classes {
			all := feasibleOf(t, r.Study, k)
			if len(all) == 0 {
				if want := "none at " + words.Mass(k.Limit); !strings.Contains(f.Title, want) {
					t.Errorf("title %q does not say %q", f.Title, want)
				}
				continue
			}
			first := func(a, b judged) int {
				return cmp.Or(cmp.Compare(rank(b), rank(a)), cmp.Compare(a.Index, b.Index))
			}
			best := slices.MinFunc(all, first)
			for a, d := range []*sweep.AxisDef{sweep.Diameter, sweep.KV} {
				other := []*sweep.AxisDef{sweep.KV, sweep.Diameter}[a]
				beside := slices.DeleteFunc(slices.Clone(all),
					func(x judged) bool { return d.Of(x.design) == d.Of(best.design) })
				want := "only " + words.Input(d, best.design)
				if len(beside) > 0 {
					next := slices.MinFunc(beside, first)
					want = words.Input(d, best.design) + " (" + words.Input(d, next.design)
					if other.Of(next.design) != other.Of(best.design) {
						want += " with " + words.Input(other, next.design)
					}
					want += " costs " + costText(math.Abs(rank(next)-rank(best))/math.Abs(rank(best)))
				}
				if !strings.Contains(f.Title, want) {
					t.Errorf("title %q does not say %q of %s", f.Title, want, words.Mass(k.Limit))
				}
			}
		}
	}
}

// Along names the title says what the best of the others costs, with its own place on
// the other axis.
func TestMapTitleNext(t *testing.T) {
	t.Parallel()
	r := finerRun(t)
	for _, n := range []int{2, 3} {
		f, err := mapOf(t, r, n)
		if err != nil {
			t.Fatal(err)
		}
		k := r.Study.Classes[2]
		all := feasibleOf(t, r.Study, k)
		first := func(a, b judged) int {
			if finding.Better(a.Ranked, b.Ranked) {
				return -1
			}
			return 1
		}
		best := slices.MinFunc(all, first)
		others := slices.DeleteFunc(slices.Clone(all), func(x judged) bool {
			return x.design.Cells == best.design.Cells && (n == 2 || x.design.Stator == best.design.Stator)
		})
		next := slices.MinFunc(others, first)
		want := fmt.Sprintf("%dS", next.design.Cells)
		if n == 2 && next.design.KV != best.design.KV {
			want += " with " + words.Input(sweep.KV, next.design)
		}
		if n == 3 {
			want += " and " + words.Input(sweep.Stator, next.design)
		}
		want += " costs "
		if share := 100 * (1 - next.Score/best.Score); share < 1 {
			want += "< 1 %"
		} else {
			want += fmt.Sprintf("%.0f %%", share)
		}
		if !strings.Contains(f.Title, want) {
			t.Errorf("title %q does not say %q", f.Title, want)
		}
	}
}

// A map over payload says what carrying the heaviest takes.
func TestMapTitleLaden(t *testing.T) {
	t.Parallel()
	r := finerRun(t)
	f, err := mapOf(t, r, 4)
	if err != nil {
		t.Fatal(err)
	}
	k := r.Study.Classes[2]
	best := func(payload float64) judged {
		all := slices.DeleteFunc(feasibleOf(t, r.Study, k), func(x judged) bool { return x.design.Payload != payload })
		return slices.MinFunc(all, func(a, b judged) int {
			if finding.Better(a.Ranked, b.Ranked) {
				return -1
			}
			return 1
		})
	}
	light, heavy := best(0), best(0.06)
	want := finding.Inch.Format(heavy.design.Diameter, 4)
	if heavy.design.Diameter != light.design.Diameter {
		want += " (0 g: " + finding.Inch.Format(light.design.Diameter, 4) + ")"
	}
	want += fmt.Sprintf(", %.0f %% less merit at ", 100*(1-heavy.Score/light.Score))
	if !strings.HasPrefix(f.Title, "Carrying 60 g: ") || !strings.Contains(f.Title, want) {
		t.Errorf("title %q does not say %q", f.Title, want)
	}
}

// A map of a metric says that its cells have the design that is best by it: in the title, beside the colours,
// in the note and in the caption.
func TestMetricMapSaysWhichBest(t *testing.T) {
	t.Parallel()
	r := trial.MappedRun(t)
	r.Decision = trial.Decided(t, r)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for n, spec := range r.Study.Maps {
		f, err := mapFigure(r, found, n)
		if err != nil {
			t.Fatal(err)
		}
		most, title := "best", ""
		if m := spec.Metric; m != nil {
			most = map[string]string{"hover-time": "longest hover time", "hover-power": "lowest hover power"}[m.Name]
			title = texts.Upper(most)
			seen[m.Name] = true
		}
		if !strings.HasPrefix(f.Title, title) || !strings.Contains(f.Bar.Label, most) ||
			!strings.Contains(f.Note, most) || !strings.Contains(mapCaption(spec), most) {
			t.Errorf("%s: title %q, bar %q, note %q, caption %q: want %q", spec.Name(), f.Title, f.Bar.Label, f.Note,
				mapCaption(spec), most)
		}
	}
	if len(seen) < 2 {
		t.Errorf("maps of %v alone", seen)
	}
}

// What the star lies beside is named: what stops designs, or the end of the grid.
func TestMapTitleWalls(t *testing.T) {
	t.Parallel()
	r := finerRun(t)
	m := r.NewMapper(&r.Result.Classes[2], 0)
	g := r.Study.Grid
	strides := uint64(1)
	for n := len(g.Axes()) - 1; n > finding.MustPlace(g, sweep.Diameter); n-- {
		strides *= uint64(len(g.Axes()[n].Values))
	}
	for _, c := range []struct {
		name   string
		scores [5]float64 // 0 for none
		want   string
	}{
		{"within", [5]float64{0.5, 0.96, 1, 0.97, 0.5}, "3.5 in (4 in costs 3 %)"},
		{"too heavy", [5]float64{0.5, 0.96, 1, 0, 0}, "3.5 in (3 in costs 4 %; above: too heavy)"},
		{"from below", [5]float64{0, 0, 1, 0.5, 0.5}, "3.5 in (4 in costs 50 %; below: too heavy)"},
		{"both", [5]float64{0.3, 0, 1, 0, 0.3}, "3.5 in (2.5 in costs 70 %; above: too heavy)"},
		{"first", [5]float64{1, 0.96, 0.5, 0.5, 0.5}, "2.5 in (3 in costs 4 %; the grid's lowest)"},
		{"last", [5]float64{0.5, 0.5, 0.5, 0.999, 1}, "4.5 in (4 in costs < 1 %; the grid's highest)"},
		{"alone", [5]float64{0, 0, 0, 0, 1}, "only 4.5 in (below: too heavy)"},
	} {
		m.X.N, m.Y.N, m.Best = 5, 1, 0
		m.Cells = make([]sweep.Cell, 5)
		for k, s := range c.scores {
			m.Cells[k].Any = s > 0
			m.Cells[k].Ranked = sweep.Ranked{Index: uint64(k) * strides, Score: s}
			m.Cells[k].Gate = sweep.GateClass
			if s == 1 {
				m.Best = k
			}
		}
		if got := extentText(m); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
	for _, m := range []*finding.Mapper{r.NewMapper(&r.Result.Classes[0], 0), r.NewMapper(&r.Result.Classes[0], 3)} {
		if err := m.Evaluate(); err != nil {
			t.Fatal(err)
		}
		if got := mapTitle([]*finding.Mapper{m}, []string{""}); got != "No design of the grid is feasible at 80 g" {
			t.Errorf("title of nothing: %q", got)
		}
	}
}

// The card of a star says its tip Mach number where lines of it are smoothed, and not
// where the field or the cells say it.
func TestCalloutMach(t *testing.T) {
	t.Parallel()
	r := finerRun(t)
	for _, c := range []struct {
		spec sweep.MapSpec
		told bool
	}{
		{sweep.MapSpec{X: sweep.Diameter, Y: sweep.KV}, true},
		{sweep.MapSpec{X: sweep.Cells, Y: sweep.KV}, true},
		{sweep.MapSpec{X: sweep.Cells, Y: sweep.Stator}, false},
		{sweep.MapSpec{X: sweep.Diameter, Y: sweep.KV, Metric: finding.Metric("tip-mach")}, false},
	} {
		n := slices.IndexFunc(r.Study.Maps, func(m sweep.MapSpec) bool { return m.X == c.spec.X && m.Y == c.spec.Y })
		m := r.NewMapper(&r.Result.Classes[2], n)
		if err := m.Evaluate(); err != nil {
			t.Fatal(err)
		}
		m.Spec = c.spec
		want := fmt.Sprintf(", tip\u00a0M\u00a0%.2f", finding.Metric("tip-mach").Of(m.Craft[m.Best]))
		if got := strings.Join(mapCallout(m, m.Design(), m.Craft[m.Best], ""), "; "); strings.Contains(got, want) != c.told {
			t.Errorf("%s: the card says %q, want %q: %t", c.spec.Name(), got, want, c.told)
		}
		// What the draws recommend has other numbers in them.
		can := words.Reaches(r.Study.Merit, m.Craft[m.Best])
		for head, want := range map[string]string{"recommended: ": "; nominal " + can, "": "; " + can} {
			got := strings.Join(mapCallout(m, m.Design(), m.Craft[m.Best], head), "; ")
			if !strings.Contains(got, want) {
				t.Errorf("the card says %q, want %q", got, want)
			}
		}
	}
}

// What the ends of a range have in common is said once.
func TestInputRange(t *testing.T) {
	t.Parallel()
	of := func(inches, kv, grams, cells, pitch float64) model.Design {
		return model.Design{Diameter: finding.Inch.ToSI(inches), Pitch: finding.Inch.ToSI(pitch),
			KV: sweep.KV.Unit.ToSI(kv), Payload: finding.Gram.ToSI(grams), Cells: int(cells)}
	}
	lo, hi := of(3, 2400, 0, 4, 1.5), of(3.5, 2800, 60, 6, 2.1)
	for _, c := range []struct {
		axis      *sweep.AxisDef
		one, both string
	}{
		{sweep.Diameter, "3 in", "3 to 3.5 in"}, {sweep.KV, "KV 2400", "KV 2400 to 2800"},
		{sweep.Payload, "payload 0 g", "payload 0 to 60 g"},
		{sweep.Cells, "4S", "4S to 6S"}, {sweep.Pitch, "pitch 1.5 in", "pitch 1.5 to 2.1 in"},
		{sweep.PitchRatio, "P/D 0.5", "P/D 0.5 to 0.6"},
	} {
		if one, both := words.InputRange(c.axis, lo, lo), words.InputRange(c.axis, lo, hi); one != c.one ||
			words.Input(c.axis, lo) != one || both != c.both {
			t.Errorf("%s: %q and %q, want %q and %q", c.axis.Name, one, both, c.one, c.both)
		}
	}
}

// The named airspeeds lie on the lines of tip Mach number.
func TestEnvelopeMachMarks(t *testing.T) {
	t.Parallel()
	r := trial.MappedRun(t)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	f, _, err := envelopeFigure(r, found)
	if err != nil {
		t.Fatal(err)
	}
	p := &f.Panels[2]
	if len(p.Lines) == 0 || len(p.Points) != 3*len(p.Lines) {
		t.Fatalf("%d marks of %d lines, want 3 of each", len(p.Points), len(p.Lines))
	}
	for n, q := range p.Points {
		l := &p.Lines[n/3]
		i := min(max(1, slices.IndexFunc(l.X, func(V float64) bool { return V >= q.X[0]-1e-9 })), len(l.X)-1)
		y := l.Y[i-1] + (q.X[0]-l.X[i-1])/(l.X[i]-l.X[i-1])*(l.Y[i]-l.Y[i-1])
		if math.Abs(q.Y[0]/y-1) > 0.01 {
			t.Errorf("%s of %s is at Mach %g, its line at %g", q.Family, l.Family, q.Y[0], y)
		}
	}
}
