package sheet

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"rotorsieve/model"
	"rotorsieve/model/flight"
	"rotorsieve/report/finding"
	"rotorsieve/report/sheet/xlsx"
	"rotorsieve/report/trial"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

func TestDecimals(t *testing.T) {
	t.Parallel()
	for v, want := range map[float64]int{25000: 0, 249: 1, 20: 1, 19.9: 2, 2: 2, 1.5: 3, 0.6: 3, 0.05: 4, 0: 4} {
		if got := words.Decimals(v); got != want {
			t.Errorf("%v takes %d decimals, want %d", v, got, want)
		}
	}
}

func testClasses(t *testing.T, f *excelize.File, r *finding.Run, found []finding.Class) {
	// The first class has no design, so that the second is what others are held
	// against.
	light, heavy := found[1].Best(), found[2].Best()
	for _, m := range []*model.Metric{finding.Metric("hover-time"), finding.Metric("auw"),
		finding.Metric("motor-current")} {
		row, _ := trial.Find(t, f, ClassesSheet, m.Title, 1)
		if s, _ := f.GetCellValue(ClassesSheet, xlsx.CellName(SideColumn(0), row)); s != "none" {
			t.Errorf("%s: class 80g shows %q, want none", m.Title, s)
		}
		a, b := m.Of(light.Craft), m.Of(heavy.Craft)
		if got := trial.Number(t, f, ClassesSheet, xlsx.CellName(SideColumn(1), row)); !trial.Near(got,
			m.Unit.FromSI(a), 1e-12) {
			t.Errorf("%s: class 249g shows %v, want %v", m.Title, got, m.Unit.FromSI(a))
		}
		if got := trial.Number(t, f, ClassesSheet, xlsx.CellName(SideColumn(2)+1, row)); !trial.Near(got, 100*(b/a-1),
			1e-9) {
			t.Errorf("%s: the difference is %v %%, want %v", m.Title, got, 100*(b/a-1))
		}
		if s, _ := f.GetCellValue(ClassesSheet, xlsx.CellName(SideColumn(1)+1, row)); s != "" {
			t.Errorf("%s: the first feasible class differs from itself by %q", m.Title, s)
		}
	}
	top, _ := trial.Find(t, f, ClassesSheet, "Payload (g)", 1)
	for n := range r.Values(sweep.Payload) {
		for i := range found {
			at := xlsx.CellName(SideColumn(i), top+1+n)
			if e := found[i].ByPayload[n]; e == nil {
				if s, _ := f.GetCellValue(ClassesSheet, at); s != "none" {
					t.Errorf("%s shows %q, want none", at, s)
				}
			} else if got := trial.Number(t, f, ClassesSheet, at); !trial.Near(got, e.Craft.HoverTime/60, 1e-12) {
				t.Errorf("%s shows %v min, want %v", at, got, e.Craft.HoverTime/60)
			} else if base := found[1].ByPayload[n]; i == 2 && base != nil {
				if got, want := trial.Number(t, f, ClassesSheet, xlsx.CellName(SideColumn(i)+1, top+1+n)),
					100*(e.Craft.HoverTime/base.Craft.HoverTime-1); !trial.Near(got, want, 1e-9) {
					t.Errorf("%s differs by %v %%, want %v", at, got, want)
				}
			}
		}
	}
}

func testLeaders(t *testing.T, f *excelize.File, r *finding.Run, found []finding.Class) {
	rows, err := f.GetRows(leadersSheet)
	if err != nil {
		t.Fatal(err)
	}
	n, unranked := 0, 0
	_, index := trial.Find(t, f, leadersSheet, "Index in the grid", HeadRow)
	for i := range found {
		ranks := found[i].Ranks()
		for _, b := range found[i].Leaders {
			if !b.Any {
				continue
			}
			row := rows[HeadRow+n]
			n++
			if row[0] != words.ClassLabel(found[i].Class) || row[index-1] != strconv.FormatUint(b.Index, 10) {
				t.Errorf("row %d is of class %s, design %s, want %s, %d", HeadRow+n, row[0], row[index-1],
					words.ClassLabel(found[i].Class), b.Index)
			}
			want := ""
			if rank := ranks[b.Index]; rank > 0 {
				want = strconv.Itoa(rank)
			} else {
				unranked++
			}
			if strings.TrimSuffix(row[1], "*") != want {
				t.Errorf("row %d shows rank %q, want %q", HeadRow+n, row[1], want)
			}
		}
	}
	if len(rows) != HeadRow+n || n < 4 {
		t.Errorf("%d rows for %d leaders", len(rows), n)
	}
	if r.Study.Top < 5 && unranked == 0 {
		t.Error("all leaders are ranked")
	}
}

func TestLeadersBeyondTheRanking(t *testing.T) {
	t.Parallel()
	s := *trial.SmallRun(t).Study
	s.Top = 2
	result, err := sweep.Run(t.Context(), &s, sweep.Options{Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	r := &finding.Run{Study: &s, Result: result, Version: "test"}
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := WriteReview(t.Context(), &b, t.TempDir(), r, found, nil); err != nil {
		t.Fatal(err)
	}
	testLeaders(t, trial.OpenBook(t, b.Bytes()), r, found)
}

func testFront(t *testing.T, f *excelize.File, r *finding.Run, found []finding.Class) {
	head := HeadRow + chartRows
	rows, err := f.GetRows(frontSheet)
	if err != nil {
		t.Fatal(err)
	}
	_, hover := trial.Find(t, f, frontSheet, "Hover time (min)", head)
	n := 0
	evaluator := sweep.NewEvaluator(r.Study)
	for i := range found {
		for _, p := range found[i].Front {
			n++
			c, err := evaluator.Craft(p.Index, found[i].Class)
			if err != nil {
				t.Fatal(err)
			}
			if got := trial.Number(t, f, frontSheet, xlsx.CellName(hover, head+n)); !trial.Near(got, c.HoverTime/60,
				1e-12) {
				t.Errorf("row %d shows %v min, want %v", head+n, got, c.HoverTime/60)
			}
		}
	}
	if len(rows) != head+n {
		t.Errorf("%d rows, want %d designs under row %d", len(rows), n, head)
	}
}

func testMerit(t *testing.T, f *excelize.File, r *finding.Run, found []finding.Class) {
	for i, m := range r.Study.Merit {
		row, _ := trial.Find(t, f, MeritSheet, m.Metric.Title, 1)
		for col, want := range map[string]float64{"B": m.Weight, "C": m.Metric.Unit.FromSI(m.Worst),
			"D": m.Metric.Unit.FromSI(m.Best)} {
			if got := trial.Number(t, f, MeritSheet, fmt.Sprintf("%s%d", col, row)); !trial.Near(got, want, 1e-9) {
				t.Errorf("%s%d is %v, want %v", col, row, got, want)
			}
		}
		name := strings.ReplaceAll(r.Study.Merit[i].Metric.Name, "-", "_")
		for prefix, col := range map[string]string{"share_": "F", "worst_": "C", "scale_": "G"} {
			want := fmt.Sprintf("'Merit'!$%s$%d", col, row)
			got := ""
			for _, d := range f.GetDefinedName() {
				if d.Name == prefix+name {
					got = d.RefersTo
				}
			}
			if got != want {
				t.Errorf("the name %s%s leads to %q, want %s", prefix, name, got, want)
			}
		}
	}
	if v, err := f.GetDataValidations(MeritSheet); err != nil || len(v) != 2 {
		t.Errorf("%d validations, %v", len(v), err)
	}
	for i := range found {
		sheet := RankingSheets(found)[i]
		if len(found[i].Ranking) == 0 {
			continue
		}
		_, merit := trial.Find(t, f, sheet, "Merit", HeadRow)
		for n, x := range found[i].Ranking {
			row := HeadRow + 1 + n
			if got := trial.Number(t, f, sheet, xlsx.CellName(merit, row)); math.Abs(got-x.Score) > 1e-9 {
				t.Errorf("%s, row %d: merit %v, want %v", sheet, row, got, x.Score)
			}
			if got := trial.Number(t, f, sheet, xlsx.CellName(1, row)); got != float64(n+1) {
				t.Errorf("%s, row %d: rank %v, want %d", sheet, row, got, n+1)
			}
			formula, err := f.GetCellFormula(sheet, xlsx.CellName(merit, row))
			if err != nil {
				t.Fatal(err)
			}
			for _, want := range []string{"share_hover_time*MAX(0,MIN(1,(",
				"worst_thrust_to_weight)*scale_thrust_to_weight"} {
				if !strings.Contains(formula, want) {
					t.Errorf("%s, row %d: the formula %s lacks %s", sheet, row, formula, want)
				}
			}
		}
	}
	text := strings.Join(trial.Cells(t, f, MeritSheet), "\n")
	for _, want := range []string{"--merit hover-time:0.5:3min:40min", "--merit thrust-to-weight:0.5:2:14",
		"no feasible design"} {
		if !strings.Contains(text, want) {
			t.Errorf("the sheet does not say %q", want)
		}
	}
}

func testMasses(t *testing.T, f *excelize.File, r *finding.Run, found []finding.Class) {
	best := []*finding.Entry{found[1].Best(), found[2].Best()} // the first class has none
	for _, part := range words.Masses(best[0].Craft) {
		grams, _ := trial.Find(t, f, massesSheet, part.Title, 1)
		share, _ := trial.Find(t, f, massesSheet, part.Title, grams+1)
		for i, e := range best {
			want := 0.0
			for _, p := range words.Masses(e.Craft) {
				if p.Title == part.Title {
					want = p.Mass
				}
			}
			if got := trial.Number(t, f, massesSheet, xlsx.CellName(2+i, grams)); !trial.Near(got, 1e3*want, 1e-12) {
				t.Errorf("%s: %v g, want %v", part.Title, got, 1e3*want)
			}
			if got := trial.Number(t, f, massesSheet, xlsx.CellName(2+i, share)); !trial.Near(got,
				100*want/e.Craft.Mass, 1e-12) {
				t.Errorf("%s: %v %%, want %v", part.Title, got, 100*want/e.Craft.Mass)
			}
		}
	}
	total, _ := trial.Find(t, f, massesSheet, "All-up weight", 1)
	for i, e := range best {
		if got := trial.Number(t, f, massesSheet, xlsx.CellName(2+i, total)); !trial.Near(got, 1e3*e.Craft.Mass,
			1e-12) {
			t.Errorf("all-up weight of %v g, want %v", got, 1e3*e.Craft.Mass)
		}
	}
}

func testPoints(t *testing.T, f *excelize.File, r *finding.Run, found []finding.Class) {
	c := found[1].Best().Craft
	_, hover := trial.Find(t, f, pointsSheet, "Hover", 1)
	_, full := trial.Find(t, f, pointsSheet, "Full throttle at rest", 1)
	_, least := trial.Find(t, f, pointsSheet, "Least power", 1)
	_, fast := trial.Find(t, f, pointsSheet, "Top speed, by "+c.Flight.Limit.String(), 1)
	for _, x := range []struct {
		col    int
		head   string
		metric string
	}{
		{hover, "Speed of rotation (rpm)", "hover-rpm"},
		{hover, "Pack power (W)", "hover-power"},
		{hover, "Thrust per power (g/W)", "hover-efficiency"},
		{hover, "Throttle (%)", "hover-throttle"},
		{hover, "Steady motor temperature (°C)", "motor-temperature"},
		{least, "Airspeed (m/s)", "best-endurance-speed"},
		{least, "Pack power (W)", "cruise-power"},
		{fast, "Airspeed (m/s)", "top-speed"},
		{fast, "Speed of rotation (rpm)", "flight-rpm"},
		{fast, "Tip Mach number", "flight-tip-mach"},
		{hover, "Thrust (g)", "auw"},
		{full, "Speed of rotation (rpm)", "full-throttle-rpm"},
		{full, "Tip Mach number", "tip-mach"},
		{full, "Motor current (A)", "motor-current"},
		{full, "Pack current (A)", "pack-current"},
		{full, "Pack voltage (V)", "pack-voltage"},
	} {
		row, _ := trial.Find(t, f, pointsSheet, x.head, 1)
		m := finding.Metric(x.metric)
		want := m.Unit.FromSI(m.Of(c))
		if x.metric == "auw" {
			want = threeFigures(t, want)
		}
		if got := trial.Number(t, f, pointsSheet, xlsx.CellName(x.col, row)); !trial.Near(got, want, 1e-9) {
			t.Errorf("%s in column %d is %v, want %v", x.head, x.col, got, want)
		}
	}
	// In level flight thrust balances weight and drag, so that it exceeds the
	// weight a little where the craft is slow, and at a top speed that the throttle
	// limits is all there is; tips turn slower than at top speed.
	needed, _ := trial.Find(t, f, pointsSheet, "Thrust (g)", 1)
	available, _ := trial.Find(t, f, pointsSheet, "Thrust available (g)", 1)
	mach, _ := trial.Find(t, f, pointsSheet, "Tip Mach number", 1)
	grams := finding.Gram.FromSI(c.Mass)
	for _, col := range []int{least, least + 1} {
		if got := trial.Number(t, f, pointsSheet, xlsx.CellName(col, needed)); !(got > grams && got < 1.3*grams) {
			t.Errorf("column %d: %v g of thrust are needed for %v g", col, got, grams)
		}
		if got := trial.Number(t, f, pointsSheet, xlsx.CellName(col, available)); !(got > 1.5*grams) {
			t.Errorf("column %d: %v g of thrust are available for %v g", col, got, grams)
		}
		if slow, quick := trial.Number(t, f, pointsSheet, xlsx.CellName(col, mach)),
			trial.Number(t, f, pointsSheet, xlsx.CellName(fast, mach)); !(slow > 0 && slow < quick) {
			t.Errorf("column %d: tip Mach number %v, at top speed %v", col, slow, quick)
		}
	}
	if a, b := trial.Number(t, f, pointsSheet, xlsx.CellName(fast, needed)),
		trial.Number(t, f, pointsSheet, xlsx.CellName(fast, available)); c.Flight.Limit == flight.ByThrottle &&
		!trial.Near(a, b, 0.01) {
		t.Errorf("at top speed %v g are needed and %v g available", a, b)
	}
	static := threeFigures(t, finding.Metric("thrust-to-weight").Of(c)*grams)
	for _, col := range []int{hover, full} {
		if got := trial.Number(t, f, pointsSheet, xlsx.CellName(col, available)); !trial.Near(got, static, 1e-9) {
			t.Errorf("column %d: %v g are available, want %v", col, got, static)
		}
	}
}

// threeFigures rounds as a printed text does.
func threeFigures(t *testing.T, v float64) float64 {
	t.Helper()
	out, err := strconv.ParseFloat(fmt.Sprintf("%.3g", v), 64)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// What flows into a motor at full throttle and is not lost is what its voltage
// makes of the pack's.
func TestPointsAgree(t *testing.T) {
	t.Parallel()
	found, err := trial.SmallRun(t).Findings()
	if err != nil {
		t.Fatal(err)
	}
	for i := range found {
		for n := range found[i].First {
			c := found[i].First[n].Craft
			for _, p := range words.Points(c) {
				drop := p.Duty*p.PackVoltage - p.Voltage
				if want := c.Powertrain.Full.Controller.Series() * p.Current; !trial.Near(drop, want, 1e-9) {
					t.Errorf("%s: controller and leads drop %v V, want %v", p.Title, drop, want)
				}
				if eff := p.Efficiency(); !(eff > 0.2 && eff < 1) {
					t.Errorf("%s: motor efficiency %v", p.Title, eff)
				}
				if !trial.Near(p.Power, p.PackCurrent*p.PackVoltage, 1e-9) {
					t.Errorf("%s: %v W of %v A at %v V", p.Title, p.Power, p.PackCurrent, p.PackVoltage)
				}
			}
		}
	}
}

func TestChartsReadTheirCells(t *testing.T) {
	t.Parallel()
	r := trial.SmallRun(t)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := WriteReview(t.Context(), &b, t.TempDir(), r, found, nil); err != nil {
		t.Fatal(err)
	}
	f := trial.OpenBook(t, b.Bytes())
	series := 0
	for name, part := range trial.Unzip(t, b.Bytes()) {
		if !strings.HasPrefix(name, "xl/charts/chart") {
			continue
		}
		for _, want := range []string{`rot="-5400000"`, `<symbol`, `<xVal><numRef>`} {
			if strings.Contains(part, "<scatterChart>") && !strings.Contains(part, want) {
				t.Errorf("%s lacks %s", name, want)
			}
		}
		for _, ref := range references.FindAllStringSubmatch(part, -1) {
			sheet := ref[1]
			series++
			for _, cell := range []string{ref[2], ref[4]} {
				if cell == "" {
					continue
				}
				if s, err := f.GetCellValue(sheet, strings.ReplaceAll(cell, "$", "")); err != nil || s == "" {
					t.Errorf("%s reads %s!%s, which holds %q, %v", name, sheet, cell, s, err)
				}
			}
		}
	}
	if series < 3*2+3*8 { // names, values across and up: of two classes, and of the parts that they have
		t.Errorf("the charts read %d ranges", series)
	}
}

func TestSheetWithoutRoomSaysSo(t *testing.T) {
	t.Parallel()
	r := trial.SmallRun(t)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	book := newReview(t.Context(), t.TempDir(), r, found, nil)
	book.rows = HeadRow + 5
	var b bytes.Buffer
	if err := book.write(&b); err != nil {
		t.Fatal(err)
	}
	f := trial.OpenBook(t, b.Bytes())
	rows, err := f.GetRows("Ranking 600g")
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != HeadRow+5 || !strings.HasPrefix(rows[1][0],
		"Only the first 5 of 30 designs: a sheet has no more rows; all are in ranking.csv.") {
		t.Errorf("%d rows under %q", len(rows), rows[1])
	}
}

// A study without a feasible design has no sheets of designs.
func TestWorkbookOfNothing(t *testing.T) {
	t.Parallel()
	s := *trial.SmallRun(t).Study
	s.Classes = s.Classes[:1]
	result, err := sweep.Run(t.Context(), &s, sweep.Options{Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	r := &finding.Run{Study: &s, Result: result, Version: "test"}
	f := trial.OpenBook(t, reviewOf(t, r))
	if got := strings.Join(f.GetSheetList(), ","); got != "Summary,Ranking 80g,Requirements,Figures,Basis" {
		t.Errorf("sheets %s", got)
	}
}

func TestRanksOf(t *testing.T) {
	t.Parallel()
	got := RanksOf([]float64{0.5, 0.7, 0.5, 0.9, 0})
	if want := "[3 2 4 1 5]"; fmt.Sprint(got) != want {
		t.Errorf("ranks %v, want %s", got, want)
	}
}

func TestWritten(t *testing.T) {
	t.Parallel()
	for _, v := range []float64{0, 1, math.Pi, 1.0 / 3, -123456.789012345678, 1e-300, math.NaN(), math.Inf(1)} {
		got := written(v)
		if got == v || math.IsNaN(v) && math.IsNaN(got) {
			continue
		}
		if !trial.Near(got/v, 1, 1e-14) {
			t.Errorf("%v is written as %v", v, got)
		}
	}
	if written(math.Pi) == math.Pi {
		t.Error("π has 15 digits")
	}
}
