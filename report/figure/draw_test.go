package figure

import (
	"bytes"
	"context"
	"image/png"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rotorsieve/model"
	"rotorsieve/report/chart"
	"rotorsieve/report/finding"
	"rotorsieve/report/trial"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

// judged is a design as brute force judges it.
type judged struct {
	sweep.Ranked
	design model.Design
	craft  *model.Craft
}

// feasibleOf evaluates every design of the grid in one class.
func feasibleOf(t testing.TB, s *sweep.Study, k sweep.Class) []judged {
	t.Helper()
	e := sweep.NewEvaluator(s)
	var out []judged
next:
	for index := range s.Grid.Size() {
		c, err := e.Craft(index, k)
		if err != nil || c.Mass > k.Limit {
			continue
		}
		for _, q := range s.Require {
			if !q.Kept(q.Metric.Of(c)) {
				continue next
			}
		}
		out = append(out, judged{sweep.Ranked{Index: index, Score: s.Merit.Of(c)}, s.Grid.Design(index), c})
	}
	return out
}

func TestFigures(t *testing.T) {
	t.Parallel()
	decided := func() *finding.Run {
		r := trial.MappedRun(t)
		r.Decision = trial.Decided(t, r)
		return r
	}
	r := decided()
	figures, err := Draw(t.Context(), r)
	if err != nil {
		t.Fatal(err)
	}
	again, err := Draw(t.Context(), decided())
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for k, f := range figures {
		names = append(names, f.Name)
		m, err := png.Decode(bytes.NewReader(f.PNG))
		if err != nil {
			t.Fatalf("%s: %v", f.Name, err)
		}
		if size := m.Bounds().Size(); size.X != f.Width || size.Y != f.Height {
			t.Errorf("%s is %v dots, said to be %d by %d", f.Name, size, f.Width, f.Height)
		}
		if f.Title == "" || f.Caption == "" {
			t.Errorf("%s has title %q and caption %q", f.Name, f.Title, f.Caption)
		}
		if !bytes.Equal(f.PNG, again[k].PNG) {
			t.Errorf("%s differs between two runs of one study", f.Name)
		}
	}
	want := []string{"figures/confidence.png", "figures/size.png", "figures/diameter-kv.png",
		"figures/cells-kv-hover-power.png",
		"figures/diameter-stator-hover-time.png", "figures/cells-stator-disk-loading.png",
		"figures/payload-pitch-ratio.png",
		"figures/front.png", "figures/classes.png", "figures/mass.png",
		"figures/envelope.png", "figures/why-not.png"}
	if d := cmp.Diff(want, names); d != "" {
		t.Error(d)
	}
}

// Each text of each figure has its place, and can be read.
func TestFiguresLayout(t *testing.T) {
	t.Parallel()
	r := trial.MappedRun(t)
	for name, f := range allFigures(t, r) {
		l, err := f.Layout()
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		for _, fault := range l.Faults() {
			t.Errorf("%s: %s", name, fault)
		}
		for _, text := range l.Texts {
			if text.Size < 7 {
				t.Errorf("%s: %q is %g points high, want at least 7", name, text.Text, text.Size)
			}
		}
		if !strings.Contains(f.Subtitle, r.Study.Name) {
			t.Errorf("%s: subtitle %q does not name the study", name, f.Subtitle)
		}
	}
	r.Result.Complete = false
	r.Result.Done /= 2
	for name, f := range allFigures(t, r) {
		if !strings.HasPrefix(f.Subtitle, "INCOMPLETE") {
			t.Errorf("%s: subtitle of an unfinished run is %q", name, f.Subtitle)
		}
	}
}

// allFigures makes every figure that the run has, by name.
func allFigures(t *testing.T, r *finding.Run) map[string]*chart.Figure {
	t.Helper()
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	all := map[string]*chart.Figure{}
	for _, p := range plansOf(t.Context(), r, found) {
		f, lacks, err := p.draw()
		if err != nil || lacks != "" {
			t.Fatalf("%s: %v %s", p.name, err, lacks)
		}
		if f == nil && r.Decision == nil && (p.name == confidenceName || p.name == tornadoName) {
			continue
		}
		all[p.name] = f
	}
	return all
}

// sized is the figure of sizes.
func sized(t *testing.T, r *finding.Run, found []finding.Class) *chart.Figure {
	t.Helper()
	f, err := sizeFigure(r, found)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// The size chart holds at each weight and diameter the best design no heavier,
// as brute force finds it, and its title says whose diameter is best.
func TestSizeFigure(t *testing.T) {
	t.Parallel()
	r := trial.MappedRun(t)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	f := sized(t, r, found)
	field := f.Panels[0].Field
	widest := r.Study.Classes[2]
	all := feasibleOf(t, r.Study, widest)
	some := false
	for j, d := range field.Y {
		for i, grams := range field.X {
			want := math.NaN()
			for _, x := range all {
				if rowOf(f.Panels[0].Y, x.design.Diameter) == d &&
					finding.Gram.FromSI(x.craft.Mass) < grams && !(x.Score <= want) {
					want = x.Score
				}
			}
			some = some || !math.IsNaN(want)
			if got := field.Z[j][i]; got != want && !(math.IsNaN(got) && math.IsNaN(want)) {
				t.Errorf("at %g g and %g in the best merit is %g, want %g", grams, d, got, want)
			}
			if math.IsNaN(field.Z[j][i]) == (field.Gate[j][i] == "") {
				t.Errorf("at %g g and %g in merit is %g and the gate %q", grams, d, field.Z[j][i], field.Gate[j][i])
			}
		}
	}
	if !some {
		t.Fatal("no feasible design to compare")
	}
	var want []string
	for _, k := range r.Study.Classes {
		x := feasibleOf(t, r.Study, k)
		if len(x) == 0 {
			want = append(want, "none at "+words.Mass(k.Limit))
			continue
		}
		best := slices.MinFunc(x, func(a, b judged) int {
			if finding.Better(a.Ranked, b.Ranked) {
				return -1
			}
			return 1
		})
		want = append(want, finding.Inch.Format(best.design.Diameter, 4)+" ", words.Mass(k.Limit))
	}
	for _, w := range want {
		if !strings.Contains(f.Title, w) {
			t.Errorf("title %q does not say %q", f.Title, w)
		}
	}
}

// Points on a line of constant disk loading have that loading, by the metric's
// own account of a craft.
func TestLoadingLines(t *testing.T) {
	t.Parallel()
	r := trial.MappedRun(t)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	p := sized(t, r, found).Panels[0]
	if lines := loadingLines(p.X, p.Y, p.Field, found); len(lines) > 0 {
		t.Errorf("%d lines over diameters that are cells", len(lines))
	}
	p.Y, p.Field.Y = mapAxis(sizeAxis(r), true)
	lines := loadingLines(p.X, p.Y, p.Field, found)
	if len(lines) == 0 {
		t.Fatal("no lines")
	}
	best := found[2].Best()
	si := finding.Metric("disk-loading").Of(best.Craft) // N/m2
	for _, l := range lines {
		for k := range l.X {
			// Loading goes with weight over the square of diameter.
			here := si * l.X[k] / finding.Gram.FromSI(best.Craft.Mass) *
				math.Pow(finding.Inch.FromSI(best.Design.Diameter)/l.Y[k], 2)
			if want := diskLoading.Format(here, 3); !strings.HasPrefix(l.Label, want+" ") {
				t.Fatalf("line %q has %s at %g g and %g in", l.Label, want, l.X[k], l.Y[k])
			}
		}
	}
}

// Each cell of a map holds the best value that brute force finds there.
func TestMapPanels(t *testing.T) {
	t.Parallel()
	r := trial.MappedRun(t)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	for n, spec := range r.Study.Maps {
		f, err := mapFigure(r, found, n)
		if err != nil {
			t.Fatal(err)
		}
		axes := r.Study.Grid.Axes()
		ax, ay := finding.MustPlace(r.Study.Grid, spec.X), finding.MustPlace(r.Study.Grid, spec.Y)
		for k, class := range r.Study.Classes {
			want := finding.Blank(len(axes[ax].Values), len(axes[ay].Values))
			merit := finding.Blank(len(axes[ax].Values), len(axes[ay].Values))
			for _, x := range feasibleOf(t, r.Study, class) {
				i, j := r.Study.Grid.At(x.Index, ax), r.Study.Grid.At(x.Index, ay)
				v, score := x.Score, x.Score
				if spec.Metric != nil {
					v = spec.Metric.Unit.FromSI(spec.Metric.Of(x.craft))
					switch spec.Metric.Better {
					case model.Higher:
						score = v
					case model.Lower:
						score = -v
					}
				}
				if !(score <= merit[j][i]) {
					want[j][i], merit[j][i] = v, score
				}
			}
			if d := cmp.Diff(want, f.Panels[k].Field.Z, trial.NanEqual); d != "" {
				t.Errorf("map %s of class %s: %s", spec.Name(), class.Label, d)
			}
			if got := len(f.Panels[k].Markers); got != 1 && anyOf(want) || got != 0 && !anyOf(want) {
				t.Errorf("map %s of class %s has %d stars", spec.Name(), class.Label, got)
			}
		}
	}
}

func anyOf(z [][]float64) bool {
	lo, hi := bounds(z, math.Inf(1), math.Inf(-1))
	return lo <= hi
}

// A map with more values than a panel can show keeps the best of those merged.
func TestMapMerges(t *testing.T) {
	t.Parallel()
	a := sweep.Axis{Def: sweep.KV}
	for k := range 250 {
		a.Values = append(a.Values, 1000+10*float64(k))
	}
	m := finding.NewMerging(a)
	if m.Stride != 3 || m.N != 84 {
		t.Fatalf("250 values are merged by %d to %d, want by 3 to 84", m.Stride, m.N)
	}
	shown, at := mergedPlaces(m)
	if at[0] != 1010 || at[83] != 3490 || shown.Min != 1010 || shown.Max != 3490 {
		t.Errorf("merged values lie from %g to %g on an axis from %g to %g, want 1010 to 3490", at[0], at[83],
			shown.Min, shown.Max)
	}
	names := sweep.Axis{Def: sweep.Stator, Values: make([]float64, 250)}
	if m := finding.NewMerging(names); m.Stride != 1 {
		t.Errorf("stators are merged by %d", m.Stride)
	}

	s := trial.SmallStudy(t)
	var axes []sweep.Axis
	for _, a := range s.Grid.Axes() {
		switch a.Def {
		case sweep.Diameter:
			a = trial.Axis(t, sweep.Diameter, "4in,5in")
		case sweep.KV:
			a = trial.Axis(t, sweep.KV, "1500:3500:10")
		default:
			a.Values = a.Values[:1]
		}
		axes = append(axes, a)
	}
	g, err := sweep.NewGrid(axes...)
	if err != nil {
		t.Fatal(err)
	}
	s.Grid = g
	s.Maps = []sweep.MapSpec{{X: sweep.Diameter, Y: sweep.KV}}
	result, err := sweep.Run(context.Background(), s, sweep.Options{Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	r := &finding.Run{Study: s, Result: result}
	k := &result.Classes[2]
	mapper := r.NewMapper(k, 0)
	some := false
	for n, got := range mapper.Cells {
		var want sweep.Best
		for y := 3 * (n / 2); y < min(3*(n/2)+3, 201); y++ {
			if c := k.Maps[0].Cells[2*y+n%2]; c.Any && (!want.Any || finding.Better(c.Ranked, want.Ranked)) {
				want = c.Best
			}
		}
		some = some || want.Any
		if got.Best != want {
			t.Errorf("merged cell %d holds %v, want %v", n, got.Best, want)
		}
	}
	if best, _ := k.Best(); !some || mapper.Cells[mapper.Best].Ranked != best {
		t.Errorf("the best of the map is %v, of the class %v", mapper.Cells[mapper.Best].Ranked, best)
	}
	if got := mergedText(mapper); got != " (and over 3 neighbouring values of KV)" {
		t.Errorf("the note says %q", got)
	}
}

func TestGathered(t *testing.T) {
	t.Parallel()
	best, none := gathered([]finds{{"3 in", "249 g"}, {"", "80 g"}, {"5 in", "500 g"}, {"3 in", "300 g"}, {"", "90 g"}})
	if d := cmp.Diff([]string{"3 in at 249 g and 300 g", "5 in at 500 g"}, words.Each(best, gathering.at)); d != "" {
		t.Error(d)
	}
	if got, want := best[0].bestAt()+", "+best[1].of(), "3 in is best at 249 g and 300 g, 5 in (500 g)"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if none != "80 g or 90 g" {
		t.Errorf("nothing was found at %q, want 80 g or 90 g", none)
	}
}

// The figures of a small study, drawn at the same time.
func BenchmarkFigures(b *testing.B) {
	for b.Loop() {
		r := trial.MappedRun(b)
		if _, err := Draw(b.Context(), r); err != nil {
			b.Fatal(err)
		}
	}
}
