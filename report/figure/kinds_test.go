package figure

import (
	"bytes"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rotorsieve/model"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/report/trial"
	"rotorsieve/report/words"
)

// The pictures of the small study are those that are kept, within a tolerance.
func TestFiguresGolden(t *testing.T) {
	t.Parallel()
	r := trial.MappedRun(t)
	r.DPI = 72
	r.Figures = []string{All}
	figures, err := Draw(t.Context(), r)
	if err != nil {
		t.Fatal(err)
	}
	r.Decision = trial.Decided(t, r)
	r.Figures = []string{confidenceName, tornadoName, whyNotName}
	decided, err := Draw(t.Context(), decidedAnew(t, r))
	if err != nil {
		t.Fatal(err)
	}
	if len(decided) != 3 {
		t.Fatalf("%d figures of a decision, want 3", len(decided))
	}
	for k := range decided {
		if decided[k].Name == File(whyNotName) {
			decided[k].Name = File("decided-" + whyNotName)
		}
	}
	for _, f := range append(figures, decided...) {
		trial.CheckGolden(t, f)
	}
}

// Only what is asked for is drawn, and what is left out is said.
func TestFiguresAskedFor(t *testing.T) {
	t.Parallel()
	r := trial.MappedRun(t)
	for k := range r.Study.Maps {
		r.Study.Maps[k].Implied = true
	}
	names := Names(r.Study)
	if n := len(r.Study.Maps) + 10; len(names) != n || names[0] != "confidence" || !slices.Contains(names,
		"payload-pitch-ratio") {
		t.Errorf("figures to ask for are %q, want %d", names, n)
	}
	for _, c := range []struct {
		asked, drawn, left []string
	}{
		{[]string{}, nil, nil},
		{[]string{"mass", "payload-pitch-ratio"}, []string{"payload-pitch-ratio", "mass"}, nil},
	} {
		r.Figures = c.asked
		figures, err := Draw(t.Context(), r)
		if err != nil {
			t.Fatal(err)
		}
		var drawn []string
		for _, f := range figures {
			drawn = append(drawn, strings.TrimSuffix(filepath.Base(f.Name), ".png"))
		}
		if d := cmp.Diff(c.drawn, drawn); d != "" {
			t.Errorf("asked for %q: %s", c.asked, d)
		}
		if d := cmp.Diff(c.left, r.Undrawn); d != "" {
			t.Errorf("asked for %q, left out: %s", c.asked, d)
		}
	}

	r.Figures = nil
	plans := plansOf(t.Context(), r, nil)
	lacks := make([]string, len(plans))
	lacks[slices.IndexFunc(plans, func(p plan) bool { return p.name == "mass" })] = "no feasible design"
	want := []string{"mass: no feasible design", "by name or all: why-not, rotor, tornado and 3 other maps"}
	if d := cmp.Diff(want, leftOutOf(r, plans, lacks)); d != "" {
		t.Error(d)
	}

	r.Figures = []string{All}
	if got := leftOutOf(r, plans, lacks); len(got) != 1 {
		t.Errorf("of all, left out are %q", got)
	}
	all := Wanted(r)
	if d := cmp.Diff(names, all); d != "" {
		t.Errorf("all are not those to ask for: %s", d)
	}
	r.Figures, r.Result = nil, nil // before there is a result any map may be drawn
	for _, name := range Wanted(r) {
		all = slices.DeleteFunc(all, func(x string) bool { return x == name })
	}
	if d := cmp.Diff([]string{"rotor", "tornado"}, all); d != "" {
		t.Errorf("what cannot be drawn unasked: %s", d)
	}
}

// The bars of a class are all designs that were judged.
func TestWhyNotFigure(t *testing.T) {
	t.Parallel()
	r := trial.MappedRun(t)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	f := whyNotFigure(r, found)
	for i, p := range f.Panels {
		sum := 0.0
		for _, s := range p.Stacks {
			sum += s.Pieces[0].Length
			if count := uint64(math.Round(s.Pieces[0].Length / 100 * float64(r.Result.Done))); count > 0 && !strings.HasPrefix(s.Label, texts.Grouped(count)+" ") {
				t.Errorf("a bar of %d says %q", count, s.Label)
			}
		}
		if math.Abs(sum-100) > 1e-9 {
			t.Errorf("class %d: bars add up to %g %%, want 100", i, sum)
		}
	}
	k := found[0]
	most := slices.Index(k.Rejected, slices.Max(k.Rejected))
	if !strings.Contains(f.Title, stops(r.Result.Gates[most])) {
		t.Errorf("title %q does not say %q", f.Title, stops(r.Result.Gates[most]))
	}
}

// Every design of the fronts is drawn once, at its values, in the band of its
// diameter, and nothing feasible beats it by more than a step.
func TestFrontFigure(t *testing.T) {
	t.Parallel()
	r := trial.MappedRun(t)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	f, lacks, err := frontFigure(t.Context(), r, found)
	if err != nil || lacks != "" {
		t.Fatal(err, lacks)
	}
	hover, tw := finding.Metric("hover-time"), finding.Metric("thrust-to-weight")
	p := f.Panels[0]
	points := 0
	for _, q := range p.Points {
		if !q.Hollow {
			points += len(q.X)
		}
	}
	want := 0
	for i := range found {
		want += len(found[i].Front)
		all := feasibleOf(t, r.Study, found[i].Class)
		for _, x := range found[i].Front {
			c, err := r.Evaluator.Craft(x.Index, found[i].Class)
			if err != nil {
				t.Fatal(err)
			}
			some := false
			for _, q := range p.Points {
				for n := range q.X {
					some = some || q.X[n] == tw.Of(c) && q.Y[n] == hover.Unit.FromSI(hover.Of(c)) && !q.Hollow
				}
			}
			if !some {
				t.Errorf("design %d of the front is not drawn", x.Index)
			}
			for _, y := range all {
				if tw.Of(y.craft) > 1.01*tw.Of(c) && hover.Of(y.craft) > 1.01*hover.Of(c) {
					t.Errorf("design %d of the front is beaten by %d", x.Index, y.Index)
				}
			}
		}
	}
	if points != want || want == 0 {
		t.Errorf("%d points are drawn, want %d", points, want)
	}
}

func TestFrontLacks(t *testing.T) {
	t.Parallel()
	r := trial.MappedRun(t)
	r.Study.Front = r.Study.Front[:1]
	if _, lacks, err := frontFigure(t.Context(), r, nil); err != nil || lacks == "" {
		t.Errorf("a front of one metric gave %q, %v", lacks, err)
	}
}

// A knee is where the front bends most, and nowhere on a straight one.
func TestKnee(t *testing.T) {
	t.Parallel()
	hover, tw := finding.Metric("hover-time"), finding.Metric("thrust-to-weight")
	front := func(at ...[2]float64) []finding.Row {
		var out []finding.Row
		for _, p := range at {
			x := finding.Row{Values: make([]float64, len(model.Metrics))}
			x.Values[finding.Place(hover)], x.Values[finding.Place(tw)] = p[0], p[1]
			out = append(out, x)
		}
		return out
	}
	if n, ok := finding.Knee(front([2]float64{600, 9}, [2]float64{900, 8}, [2]float64{1000, 4}), tw, hover); !ok ||
		n != 1 {
		t.Errorf("knee is %d, %t, want 1", n, ok)
	}
	if n, ok := finding.Knee(front([2]float64{600, 9}, [2]float64{800, 6.5}, [2]float64{1000, 4}), tw, hover); ok {
		t.Errorf("a straight front has a knee at %d", n)
	}
	// A bend that the eye cannot tell from a line at the size of the figure, within a
	// twentieth of it, is none.
	for bulge, want := range map[float64]bool{0.03: false, 0.045: false, 0.055: true, 0.08: true} {
		at := (1 + bulge*math.Sqrt2) / 2 // of both ranges
		if _, ok := finding.Knee(front([2]float64{600, 9}, [2]float64{600 + 400*at, 4 + 5*at}, [2]float64{1000, 4}), tw,
			hover); ok != want {
			t.Errorf("a front that stands out by %g of its ranges has a knee: %t", bulge, ok)
		}
	}
	if _, ok := finding.Knee(front([2]float64{600, 9}), tw, hover); ok {
		t.Error("a single design is a knee")
	}
	if _, ok := finding.Knee(nil, tw, hover); ok {
		t.Error("an empty front has a knee")
	}
}

// Bands hold every diameter once.
func TestBands(t *testing.T) {
	t.Parallel()
	var rows []finding.Row
	for k := range 12 {
		rows = append(rows, finding.Row{Design: model.Design{Diameter: finding.Inch.ToSI(2 + 0.25*float64(k%11))}})
	}
	bands := bandsOf(rows)
	if len(bands) != mostBands || bands[0].name != "2 to 2.25 in" {
		t.Errorf("bands are %v", bands)
	}
	for _, x := range rows {
		n := 0
		for _, b := range bands {
			if b.has(x.Design.Diameter) {
				n++
			}
		}
		if n != 1 {
			t.Errorf("%g in is in %d bands", finding.Inch.FromSI(x.Design.Diameter), n)
		}
	}
}

// The pieces of a bar add up to the all-up weight, and the heaviest part is told.
func TestMassFigure(t *testing.T) {
	t.Parallel()
	r := trial.MappedRun(t)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	f, lacks, err := MassFigure(r, found)
	if err != nil || lacks != "" {
		t.Fatal(err, lacks)
	}
	n := 0
	for i := range found {
		e := found[i].Best()
		if e == nil {
			continue
		}
		if order := words.Stacked(words.Masses(e.Craft)); slices.Contains(order, -1) ||
			len(order) != len(words.Masses(e.Craft)) {
			t.Errorf("bars stack the parts %q, want all of a craft", words.StackOrder)
		}
		s := f.Panels[0].Stacks[n]
		sum := 0.0
		for _, q := range s.Pieces {
			sum += q.Length
		}
		if want := finding.Gram.FromSI(e.Craft.Mass); math.Abs(sum-want) > 1e-9*want {
			t.Errorf("class %s: pieces add up to %g g, want %g", found[i].Class.Label, sum, want)
		}
		if s.Bound != finding.Gram.FromSI(found[i].Class.Limit) {
			t.Errorf("class %s: bound is %g", found[i].Class.Label, s.Bound)
		}
		n++
	}
	if n != len(f.Panels[0].Stacks) {
		t.Errorf("%d bars, want %d", len(f.Panels[0].Stacks), n)
	}
}

// Each payload has its line, at the values of its best designs.
func TestClassesFigure(t *testing.T) {
	t.Parallel()
	r := trial.MappedRun(t)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	f, lacks, err := classesFigure(r, found)
	if err != nil || lacks != "" {
		t.Fatal(err, lacks)
	}
	hover := finding.Metric("hover-time")
	p := f.Panels[2]
	for n, q := range p.Points {
		var x, y []float64
		for i := range found {
			if e := found[i].ByPayload[n]; e != nil {
				x, y = append(x, finding.Gram.FromSI(found[i].Class.Limit)),
					append(y, hover.Unit.FromSI(hover.Of(e.Craft)))
			}
		}
		if !slices.Equal(x, q.X) || !slices.Equal(y, q.Y) {
			t.Errorf("%s: points at %v, %v, want %v, %v", q.Family, q.X, q.Y, x, y)
		}
	}
	if len(p.Points) != 2 {
		t.Errorf("%d families, want one for each payload", len(p.Points))
	}
	if _, lacks, _ := classesFigure(r, found[:1]); lacks == "" {
		t.Error("one class has a figure of classes")
	}
}

// A title that tells of many classes goes from the least to the greatest of all, whichever has it.
func TestTitlesSpanAllClasses(t *testing.T) {
	t.Parallel()
	r := trial.DecidedRun(t)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	var all []finding.Class
	for i := range found {
		if found[i].Planned != nil {
			all = append(all, found[i])
		}
	}
	all = []finding.Class{all[0], all[len(all)-1], all[0]} // the class between has the most
	most, least := shownOf(&all[1]), shownOf(&all[0])
	m := words.Heaviest(r.Study.Merit, 1)[0].Metric
	lo, hi := words.BriefNumber(m, m.Of(least.Craft)), words.BriefNumber(m, m.Of(most.Craft))
	if m.Of(least.Craft) > m.Of(most.Craft) {
		lo, hi = hi, lo
	}
	want := words.MetricHead(m) + " " + lo + " to " + hi
	if got := classesTitle(r.Study.Merit, all); lo == hi || !strings.Contains(got, want) {
		t.Errorf("title is %q, want %q", got, want)
	}
	flown := func(e *finding.Entry, limit string) Flown { return Flown{Craft: e.Craft, Limits: []string{limit}} }
	quick := *most.Craft
	quick.Flight.Top.Airspeed = 2 * max(most.Craft.Flight.Top.Airspeed, least.Craft.Flight.Top.Airspeed)
	got := EnvelopeTitle([]Flown{flown(most, "1 kg"), {Craft: &quick, Limits: []string{"2 kg"}}, flown(least, "3 kg")})
	slow, where := least.Craft.Flight.Top.Airspeed, "3 kg"
	if v := most.Craft.Flight.Top.Airspeed; v < slow {
		slow, where = v, "1 kg"
	}
	if want := fmt.Sprintf("Top speed from %.1f m/s at %s to %.1f m/s at 2 kg;", slow, where,
		quick.Flight.Top.Airspeed); !strings.Contains(got, want) {
		t.Errorf("title is %q, want %q", got, want)
	}
}

// The title of the size chart says what another propeller costs.
func TestCost(t *testing.T) {
	t.Parallel()
	r := trial.MappedRun(t)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	k := &found[2]
	best := k.Best()
	far := finding.Farthest(k)
	loss := 0.0
	for _, term := range r.Study.Merit {
		loss = max(loss, 100*(1-term.Metric.Of(far.Craft)/term.Metric.Of(best.Craft)))
	}
	got := cost(r.Study.Merit, found[2:3])
	if far == best || loss < 1 {
		t.Fatalf("nothing to compare: %q, %g", got, loss)
	}
	if want := fmt.Sprintf("; %s costs %.0f %% of ", finding.Inch.Format(far.Design.Diameter, 4),
		loss); !strings.Contains(got, want) {
		t.Errorf("cost is told as %q, want %q", got, want)
	}
	if got := cost(r.Study.Merit, found[:1]); got != "" {
		t.Errorf("a class without design has a cost: %q", got)
	}
}

// The table of sizes reads back as the field that the figure is drawn from.
func TestSizeTableReadsBack(t *testing.T) {
	t.Parallel()
	r := trial.MappedRun(t)
	var b bytes.Buffer
	if err := finding.WriteSize(&b, r); err != nil {
		t.Fatal(err)
	}
	got, err := finding.ReadSize(&b)
	if err != nil {
		t.Fatal(err)
	}
	want := r.Sizes()
	near := cmp.Comparer(func(a, b float64) bool {
		return a == b || math.IsNaN(a) && math.IsNaN(b) || math.Abs(a-b) < 1e-12*math.Abs(a) // units go back and forth
	})
	for what, d := range map[string]string{"weights": cmp.Diff(want.X, got.X, near),
		"diameters": cmp.Diff(want.Y, got.Y, near), "merits": cmp.Diff(want.Merit, got.Merit, trial.NanEqual)} {
		if d != "" {
			t.Errorf("%s: %s", what, d)
		}
	}
	for _, text := range []string{"", "a,b,c\n", strings.Join(finding.SizeHeads, ",") + "\n1,x,\n",
		strings.Join(finding.SizeHeads, ",") + "\n1,1,0.5\n2,2,0.5\n"} {
		if _, err := finding.ReadSize(strings.NewReader(text)); err == nil {
			t.Errorf("%q was read", text)
		}
	}
}
