package sheet

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"rotorsieve/report/chart"
	"rotorsieve/report/finding"
	"rotorsieve/report/sheet/xlsx"
	"rotorsieve/report/texts"
	"rotorsieve/report/trial"
	"rotorsieve/report/words"
	"rotorsieve/sweep/decide"
)

// decidedBook is the workbook of a run with a decision, with pictures in place of figures.
func decidedBook(t *testing.T, r *finding.Run) ([]byte, []finding.Class) {
	t.Helper()
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := WriteReview(t.Context(), &b, t.TempDir(), r, found, []chart.Picture{trial.Grey(t, "figures/size.png"),
		trial.Grey(t, "figures/confidence.png")}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes(), found
}

// classRows are the rows of the sheet from a class to the next.
func classRows(t *testing.T, f *excelize.File, found []finding.Class, i int) [][]string {
	t.Helper()
	rows, err := f.GetRows(confidenceSheet, excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	begins := func(k int) int {
		return slices.IndexFunc(rows, func(row []string) bool {
			return len(row) > 0 && strings.HasPrefix(row[0], words.ClassName(found[k].Class)+": ")
		})
	}
	from, to := begins(i), len(rows)
	if i+1 < len(found) {
		to = begins(i + 1)
	}
	if from < 0 || to < from {
		t.Fatalf("class %d from row %d to %d", i, from, to)
	}
	return rows[from:to]
}

// under lists the rows of a table: those between its heads and the next that is empty.
func under(t *testing.T, rows [][]string, title string) [][]string {
	t.Helper()
	at := slices.IndexFunc(rows, func(row []string) bool { return len(row) > 0 && strings.HasPrefix(row[0], title) })
	if at < 0 {
		t.Errorf("no table %q", title)
		return nil
	}
	var out [][]string
	for _, row := range rows[at+2:] {
		if strings.Join(row, "") == "" {
			break
		}
		out = append(out, append(row, make([]string, confidenceColumns)...)[:confidenceColumns])
	}
	return out
}

// holds compares cells with what they should show: numbers to a part in 1e9, NaN for none.
func holds(t *testing.T, what string, cells []string, want ...any) {
	t.Helper()
	for k, w := range want {
		switch w := w.(type) {
		case nil:
		case string:
			if cells[k] != w {
				t.Errorf("%s: cell %d is %q, want %q", what, k+1, cells[k], w)
			}
		case float64:
			var got float64
			if _, err := fmt.Sscan(cells[k], &got); err != nil || math.Abs(got-w) > 1e-9*(1+math.Abs(w)) {
				t.Errorf("%s: cell %d is %q, want %v", what, k+1, cells[k], w)
			}
		}
	}
}

// The sheet of the choice has in each class the numbers of the decision.
func TestConfidenceSheet(t *testing.T) {
	t.Parallel()
	r := trial.DecidedRun(t)
	book, found := decidedBook(t, r)
	f := trial.OpenBook(t, book)
	if sheets := f.GetSheetList(); len(sheets) < 2 || sheets[1] != confidenceSheet {
		t.Fatalf("sheets %q", sheets)
	}
	told := 0
	for i := range found {
		rows := classRows(t, f, found, i)
		c := found[i].Choice
		if c == nil {
			if len(rows) > 2 || !strings.Contains(rows[0][0], "no design is feasible") {
				t.Errorf("a class without a choice: %q", rows)
			}
			continue
		}
		told++
		name := found[i].Class.Label
		builds := under(t, rows, "Builds: ")
		if len(builds) != len(c.Builds) {
			t.Errorf("%s: %d builds, want %d", name, len(builds), len(c.Builds))
		}
		for n, cells := range builds {
			b := &c.Builds[n]
			fails, _ := c.Fails(b)
			holds(t, fmt.Sprintf("%s, build %d", name, n), cells, float64(b.Rank), nil, 100*b.Feasible,
				b.Cautious, b.Merit.P10, b.Merit.P50, b.Merit.P90, b.Regret, tiedText(n, b),
				finding.MAh.FromSI(b.Pack.P10), finding.MAh.FromSI(b.Pack.P50), finding.MAh.FromSI(b.Pack.P90),
				b.Nominal, 100*fails.Share, words.CauseName(fails.Gate))
			if !strings.HasPrefix(cells[1], words.Build(b.Design)) ||
				(n == 0) != strings.Contains(cells[1], "recommended") ||
				(n == c.Nominal) != strings.Contains(cells[1], "nominal best") {
				t.Errorf("%s: build %d is %q", name, n, cells[1])
			}
		}
		for n, cells := range under(t, rows, "What the builds reach") {
			want := []any{float64(n + 1), words.Build(c.Builds[n].Design)}
			for k, m := range c.Ranking() {
				q := c.Builds[n].Metrics[k]
				want = append(want, m.Unit.FromSI(q.P10), m.Unit.FromSI(q.P50), m.Unit.FromSI(q.P90))
			}
			holds(t, name+", metrics", cells, want...)
		}
		sum := 0.0
		for _, v := range c.Recommended().Causes {
			sum += v
		}
		if sum += c.Recommended().Feasible; math.Abs(sum-1) > 1e-9 {
			t.Errorf("%s: causes and P(feasible) add up to %g", name, sum)
		}
		for g, cells := range under(t, rows, "Requirements of the recommended") {
			holds(t, name+", requirement", cells, words.GateTitle(c.Gates[g]), nil, words.GateBound(c.Gates[g]), nil,
				100*c.Recommended().Fails[g])
		}
		axes := under(t, rows, "The best build of each value of an axis")
		if len(c.Axes) > 1 {
			axes = append(axes, under(t, rows, "The best build of each value of the other axes")...)
		}
		// Heads are repeated at the head of a page.
		axes = slices.DeleteFunc(axes, func(cells []string) bool { return cells[0] == rankHead })
		for k := range c.Axes {
			a := &c.Axes[k]
			if len(axes) == 0 || !strings.HasPrefix(axes[0][0], c.Def(a).Title) {
				t.Fatalf("%s: axis %d is %q", name, k, axes)
			}
			axes = axes[1:]
			for _, v := range a.Values {
				if !v.Any {
					continue
				}
				b := &c.Builds[v.Build]
				holds(t, name+", axis", axes[0], float64(b.Rank), c.Def(a).Text(v.Value)+": "+words.Build(b.Design),
					100*v.Ahead, 100*v.Level, 100*v.Behind, 100*v.Better, v.Difference, v.Standard, v.Loss, nil,
					100*b.Feasible, b.Cautious)
				axes = axes[1:]
			}
		}
		for n, cells := range under(t, rows, "The price of being sure:") {
			if x := c.Line[n]; x.Any {
				holds(t, name+", line", cells, words.Build(c.Builds[x.Build].Design), nil, 100*x.Feasible, x.Cautious,
					x.Median)
			} else {
				holds(t, name+", line", cells, "no build reaches it", nil, 100*x.Feasible)
			}
		}
		was := c.Recommended().Nominal
		for n, cells := range under(t, rows, "What moves the recommended build") {
			s := &c.Sensitivities[n]
			want := []any{words.Source(s), nil, words.Spread(r, s), nil, nil, s.Low, s.High, s.Low - was,
				s.High - was, finding.Inch.FromSI(s.LowSize), finding.Inch.FromSI(s.HighSize)}
			if s.Assumption {
				want[5], want[7], want[9] = "", "", ""
			}
			holds(t, name+", source", cells, want...)
		}
		for n, cells := range under(t, rows, "What loosening a bound") {
			want := any(c.Loosened[n].Gain)
			if want == 0.0 {
				want = "none found"
			}
			holds(t, name+", bound", cells, nil, nil, nil, nil, c.Loosened[n].Merit, want)
		}
		for n, cells := range under(t, rows, "Over which weights") {
			w := &c.Weights[n]
			holds(t, name+", weight", cells, c.Merit[w.Term].Metric.Title, nil, 100*w.Weight, 100*w.Least, 100*w.Most)
		}
		if worth := under(t, rows, "What to measure first"); len(worth) == 0 {
			t.Errorf("%s: nothing to measure", name)
		}
	}
	if told == 0 {
		t.Fatal("no class has a choice")
	}
	again, _ := decidedBook(t, trial.DecidedRun(t))
	if !bytes.Equal(book, again) {
		t.Error("the workbook differs between two runs of one study")
	}
}

// The summary's first table names what to order beside the nominal best, under it the picture
// of how sure that is.
func TestOrder(t *testing.T) {
	t.Parallel()
	book, found := decidedBook(t, trial.DecidedRun(t))
	f := trial.OpenBook(t, book)
	rows, err := f.GetRows(SummarySheet, excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	head := slices.IndexFunc(rows, func(row []string) bool {
		return len(row) > 1 && strings.HasPrefix(row[1], "Recommended build")
	})
	mission := slices.IndexFunc(rows, func(row []string) bool { return len(row) > 0 && row[0] == "The mission" })
	if head < 0 || mission < head {
		t.Fatalf("the table of what to order is in row %d, the mission in row %d", head+1, mission+1)
	}
	for i := range found {
		at := slices.IndexFunc(rows[head:mission], func(row []string) bool {
			return len(row) > 0 && row[0] == words.ClassName(found[i].Class)
		})
		if at < 0 {
			t.Errorf("no row of class %s", found[i].Class.Label)
			continue
		}
		cells := append(rows[head+at], make([]string, 15)...)
		c := found[i].Choice
		if c == nil {
			if !strings.HasPrefix(cells[1], "none: ") {
				t.Errorf("a class without a choice: %q", cells)
			}
			continue
		}
		b, n := c.Recommended(), c.At(c.Nominal)
		holds(t, found[i].Class.Label, cells, nil, words.Build(b.Design), nil, nil, nil, 100*b.Feasible, b.Cautious,
			b.Regret, words.PackNumbers(b), words.Build(n.Design), nil, nil, 100*n.Feasible, n.Cautious, n.Regret)
		if said := rows[head+at+1][1]; !strings.Contains(said, words.TiedRange(c)) || !strings.Contains(said,
			words.FailsBriefly(c, b)) {
			t.Errorf("%s: %q", found[i].Class.Label, said)
		}
	}
	at, err := f.GetPictureCells(SummarySheet)
	if err != nil || len(at) != 1 {
		t.Fatalf("pictures at %q, %v", at, err)
	}
	if _, row, err := excelize.CellNameToCoordinates(at[0]); err != nil || row <= head || row > mission {
		t.Errorf("the picture is in row %d, want it from %d to %d", row, head+1, mission)
	}
	text := trial.Unzip(t, book)["xl/drawings/drawing1.xml"]
	if !strings.Contains(text, "Title of figures/confidence.png") {
		t.Error("the picture of the summary is not that of the choice")
	}
}

// Whatever a decision has, its sheet can be written: builds beyond those that are told of,
// the best and the surest among them, nothing that moves, no axis.
func TestConfidenceShapes(t *testing.T) {
	t.Parallel()
	r := trial.DecidedRun(t)
	k := &r.Decision.Classes[2]
	k.Axes, k.Sensitivities, k.Loosened, k.Weights = nil, nil, nil, nil
	k = &r.Decision.Classes[1]
	k.Worth = append(k.Worth, decide.Worth{What: decide.HoverPower, Class: decide.LargeWorth, Gain: 0.1})
	last := k.Builds[len(k.Builds)-1]
	for len(k.Builds) < 2*toldBuilds {
		last.Rank++
		k.Builds = append(k.Builds, last)
	}
	k.Surest, k.Nominal = len(k.Builds)-1, len(k.Builds)-3
	book, found := decidedBook(t, r)
	f := trial.OpenBook(t, book)
	rows := classRows(t, f, found, 1)
	if n := len(under(t, rows, fmt.Sprintf("Builds: %d of %d", toldBuilds+2, 2*toldBuilds))); n != toldBuilds+2 {
		t.Errorf("%d builds, want %d", n, toldBuilds+2)
	}
	named := false
	for _, cells := range under(t, rows, "What to measure first: the expected gain") {
		named = named || cells[0] == texts.Upper(words.Measurable(decide.HoverPower)) && cells[3] == "0.1"
	}
	if !named {
		t.Error("the most valuable measurement is not named with its gain")
	}
	for _, row := range classRows(t, f, found, 2) {
		for _, title := range []string{"What moves", "What loosening", "Over which weights",
			"The best build of each value"} {
			if len(row) > 0 && strings.HasPrefix(row[0], title) {
				t.Errorf("an empty table %q", row[0])
			}
		}
	}
}

// Where fresh draws put another size before the one that is recommended, the first page says so.
func TestOrderSaysOvertaken(t *testing.T) {
	t.Parallel()
	for more, want := range map[float64]int{-0.004: 0, 0.004: 2} { // in both classes
		r := trial.DecidedRun(t)
		for i := range r.Decision.Classes {
			for _, a := range r.Decision.Classes[i].Axes {
				for n := range a.Values {
					if v := &a.Values[n]; v.Any && v.Build != 0 {
						v.Difference, v.Standard = more, 0.005
					}
				}
			}
		}
		book, _ := decidedBook(t, r)
		told := 0
		for _, s := range trial.Cells(t, trial.OpenBook(t, book), SummarySheet) {
			if strings.HasPrefix(s, "Reaches ") && strings.Contains(s, "; the draws that chose put ") {
				told++
			}
		}
		if told != want {
			t.Errorf("%d classes are overtaken by %g, want %d", told, more, want)
		}
	}
}

// The summary says of each class what to measure, what the recommended build is and fails at, what the nominal
// best is, and what its weight has bought over the class below.
func TestOrderSaysWhatNext(t *testing.T) {
	t.Parallel()
	r := trial.DecidedRun(t)
	book, found := decidedBook(t, r)
	cells := trial.Cells(t, trial.OpenBook(t, book), SummarySheet)
	gains := 0
	for i := range found {
		f := &found[i]
		if f.Choice == nil {
			continue
		}
		want := []string{"Measure first: " + words.MeasureBriefly(f.Choice, 1) + ".", words.Chosen(f.Choice),
			words.Fails(f.Choice, f.Choice.Recommended()), words.BesideChosen(r, f)}
		if before := r.Before(f); before != nil {
			gains++
			want = append(want, words.GainBriefly(r, before, f))
		}
		for _, said := range want {
			said = said[1:] // which may be a capital
			if !slices.ContainsFunc(cells, func(s string) bool {
				return strings.Contains(strings.ReplaceAll(s, "\u00a0", " "), said)
			}) {
				t.Errorf("%s: the summary does not say %q", words.ClassName(f.Class), said)
			}
		}
		first := f.Choice.Recommended()
		for n, m := range f.Choice.Ranking() {
			reached := words.MetricHead(m) + " " + words.Ranges(m, []*decide.Build{first}, n)[0]
			if !slices.ContainsFunc(cells, func(s string) bool {
				return strings.HasPrefix(s, "Reaches ") && strings.Contains(s, reached)
			}) {
				t.Errorf("%s: the summary does not say that it reaches %q", words.ClassName(f.Class), reached)
			}
		}
	}
	if gains == 0 {
		t.Error("no class has one below")
	}
}

// Without a decision there is no sheet of it, and nothing is said of draws.
func TestNoDecision(t *testing.T) {
	t.Parallel()
	f := trial.OpenBook(t, reviewOf(t, trial.SmallRun(t)))
	if slices.Contains(f.GetSheetList(), confidenceSheet) {
		t.Error("a sheet of a choice without one")
	}
	for _, text := range trial.Cells(t, f, SummarySheet) {
		for _, word := range []string{"Recommended", "P(feasible)", "Regret", "What to order"} {
			if strings.Contains(text, word) {
				t.Errorf("the summary says %q", text)
			}
		}
	}
}

// Where draws choose, masses and operating points are those of the recommended builds first, and say so.
func TestSheetsOfTheRecommended(t *testing.T) {
	t.Parallel()
	r := trial.DecidedRun(t)
	book, found := decidedBook(t, r)
	f := trial.OpenBook(t, book)
	total, _ := trial.Find(t, f, massesSheet, "All-up weight", 1)
	hovers, apart := 0, 0
	for n, k := range finding.PicksOf(found) {
		name := pickName(&k)
		_, col := trial.Find(t, f, massesSheet, name, 1)
		if got, want := trial.Number(t, f, massesSheet, xlsx.CellName(col, total)), 1e3*k.Craft.Mass; !trial.Near(got,
			want, 1e-12) {
			t.Errorf("%s weighs %g g, want %g", name, got, want)
		}
		row, first := trial.Find(t, f, pointsSheet, name, 1)
		at, _ := trial.Find(t, f, pointsSheet, "Pack power (W)", row)
		_, hover := trial.Find(t, f, pointsSheet, "Hover", row)
		want := finding.Metric("hover-power").Of(k.Craft)
		if got := trial.Number(t, f, pointsSheet, xlsx.CellName(hover, at)); first != 1 || math.Abs(got-want) > 0.01*want {
			t.Errorf("%s hovers on %g W, want %g", name, got, want)
		}
		if hovers++; n > 0 && k.Part == finding.NominalPart {
			apart++
		}
		if k.Part == finding.NominalPart && !strings.HasSuffix(name, "nominal best") {
			t.Errorf("the nominal best is called %q", name)
		}
	}
	if hovers < 3 || apart == 0 {
		t.Errorf("%d designs, %d nominal best, are too few to tell", hovers, apart)
	}
	for sheet, title := range map[string]string{massesSheet: "What the recommended build of each class weighs",
		pointsSheet:  "Operating points of the recommended build of each class",
		ClassesSheet: "The recommended build of each class, side by side"} {
		if got, err := f.GetCellValue(sheet, "A1"); err != nil || got != title {
			t.Errorf("%s is headed %q, want %q (%v)", sheet, got, title, err)
		}
	}
}
