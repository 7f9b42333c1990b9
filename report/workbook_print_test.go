package report

import (
	"bytes"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"rotorsieve/model"
	"rotorsieve/report/chart"
	"rotorsieve/sweep"
)

// printout is how a sheet of a written workbook is printed.
type printout struct {
	Columns, Rows int
	Scale         float64 // per cent
	Titles        string
}

var printArea = regexp.MustCompile(`!\$A\$1:\$([A-Z]+)\$(\d+)$`)

// printed reads how a sheet is printed: fitted to the width as programs do it, or
// at the scale that it asks for.
func printed(t *testing.T, f *excelize.File, sheet string) printout {
	t.Helper()
	var p printout
	for _, d := range f.GetDefinedName() {
		switch m := printArea.FindStringSubmatch(d.RefersTo); {
		case d.Scope != sheet:
		case d.Name == "_xlnm.Print_Titles":
			p.Titles = d.RefersTo
		case d.Name == "_xlnm.Print_Area" && m != nil:
			col, err := excelize.ColumnNameToNumber(m[1])
			if err != nil {
				t.Fatal(err)
			}
			p.Columns = col
			p.Rows, _ = strconv.Atoi(m[2])
		}
	}
	if p.Columns == 0 {
		t.Fatalf("%s has no area to print", sheet)
	}
	props, err := f.GetSheetProps(sheet)
	if err != nil {
		t.Fatal(err)
	}
	layout, err := f.GetPageLayout(sheet)
	if err != nil {
		t.Fatal(err)
	}
	if !*props.FitToPage {
		p.Scale = float64(*layout.AdjustTo)
		return p
	}
	m, err := f.GetPageMargins(sheet)
	if err != nil {
		t.Fatal(err)
	}
	pixels := 0.0
	for col := range p.Columns {
		w, err := f.GetColWidth(sheet, columnName(col+1))
		if err != nil {
			t.Fatal(err)
		}
		pixels += 8.2 * w // a digit has 8, and some programs do not round
	}
	p.Scale = math.Floor(math.Min(100, 100*96*(297/25.4-*m.Left-*m.Right)/pixels))
	return p
}

// smallestType is the least size in points of what a sheet prints in its cells.
func smallestType(t *testing.T, f *excelize.File, sheet string, p printout) float64 {
	t.Helper()
	rows, err := f.GetRows(sheet)
	if err != nil {
		t.Fatal(err)
	}
	least := math.Inf(1)
	sizes := map[int]float64{}
	for r := range min(len(rows), p.Rows) {
		for c := range min(len(rows[r]), p.Columns) {
			if rows[r][c] == "" {
				continue
			}
			id, err := f.GetCellStyle(sheet, cellName(c+1, r+1))
			if err != nil {
				t.Fatal(err)
			}
			if sizes[id] == 0 {
				style, err := f.GetStyle(id)
				if err != nil {
					t.Fatal(err)
				}
				sizes[id] = style.Font.Size
			}
			least = math.Min(least, sizes[id])
		}
	}
	return least
}

var chartType = regexp.MustCompile(` sz="(\d+)"`)

var (
	titleColumns = regexp.MustCompile(`!\$A:\$([A-Z]+)`)
	allBreaks    = regexp.MustCompile(`<colBreaks.*?</colBreaks>`)
	oneBreak     = regexp.MustCompile(`<brk id="(\d+)"`)
)

// columnBreaks lists the columns after which a sheet begins another page across.
func columnBreaks(t *testing.T, sheet string) (out []int) {
	t.Helper()
	for _, m := range oneBreak.FindAllStringSubmatch(allBreaks.FindString(sheet), -1) {
		id, err := strconv.Atoi(m[1])
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, id)
	}
	return out
}

// wideRun is smallRun in eight classes, ranked by six metrics, with payloads.
func wideRun(t *testing.T) *Run {
	t.Helper()
	s := *smallRun(t).Study
	s.Classes = nil
	for _, grams := range []float64{80, 200, 249, 300, 350, 400, 500, 600} {
		s.Classes = append(s.Classes, sweep.Class{Limit: grams / 1000, Label: fmt.Sprintf("%gg", grams)})
	}
	for _, name := range []string{"top-speed", "range", "hover-efficiency", "response-time"} {
		m, ok := model.LookupMetric(name)
		if !ok {
			continue
		}
		s.Merit = append(slices.Clone(s.Merit), sweep.Term{Metric: m, Weight: 1, Worst: 0, Best: 100})
	}
	result, err := sweep.Run(t.Context(), &s, sweep.Options{Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	return &Run{Study: &s, Result: result, Version: "test"}
}

// Nothing is smaller than 7 points in print, however many classes, terms or runs
// there are; what is too wide for a page goes on to another with its first columns
// repeated.
func TestPrintedSize(t *testing.T) {
	books := map[string][]byte{}
	for name, r := range map[string]*Run{"small": smallRun(t), "wide": wideRun(t)} {
		found, err := r.findings()
		if err != nil {
			t.Fatal(err)
		}
		var b bytes.Buffer
		if err := writeWorkbook(&b, r, found, nil); err != nil {
			t.Fatal(err)
		}
		books[name] = b.Bytes()
	}
	_, _, dirs := twoRuns(t)
	for n := 1; n <= 3; n++ {
		c, err := Compare(slices.Repeat(dirs, n)...)
		if err != nil {
			t.Fatal(err)
		}
		for i, f := range c.Runs {
			f.Name = fmt.Sprintf("run %d", i+1)
		}
		var b bytes.Buffer
		if err := writeComparison(c, &b, nil); err != nil {
			t.Fatal(err)
		}
		books[fmt.Sprintf("comparison of %d", 2*n)] = b.Bytes()
	}
	const least = 7
	across := 0
	for name, book := range books {
		f := openBook(t, book)
		smallest := 100.0 // scale
		parts := unzip(t, book)
		for n, sheet := range f.GetSheetList() {
			p := printed(t, f, sheet)
			smallest = math.Min(smallest, p.Scale)
			if size := p.Scale / 100 * smallestType(t, f, sheet, p); size < least {
				t.Errorf("%s: %s is printed at %.3g points", name, sheet, size)
			}
			width := func(from, to int) (pixels float64) { // columns, as printed
				for col := from; col <= to; col++ {
					w, err := f.GetColWidth(sheet, columnName(col))
					if err != nil {
						t.Fatal(err)
					}
					pixels += 8.2 * w * p.Scale / 100
				}
				return pixels
			}
			if width(1, p.Columns) <= paperWidth+1 {
				continue
			}
			across++
			m := titleColumns.FindStringSubmatch(p.Titles)
			if m == nil {
				t.Errorf("%s: %s goes on to further pages without its first columns: %q", name, sheet, p.Titles)
				continue
			}
			titles, err := excelize.ColumnNameToNumber(m[1])
			if err != nil {
				t.Fatal(err)
			}
			ends := append(columnBreaks(t, parts["xl/worksheets/sheet"+strconv.Itoa(n+1)+".xml"]), p.Columns)
			from := 1
			for _, end := range ends {
				pixels := width(from, end)
				if from > 1 {
					pixels += width(1, titles)
				}
				if pixels > paperWidth {
					t.Errorf("%s: the columns %d to %d of %s are wider than the paper", name, from, end, sheet)
				}
				if sheet == classesSheet && end%2 == 0 {
					t.Errorf("%s: a page of %s ends between a value and its difference", name, sheet)
				}
				from = end + 1
			}
		}
		charts := 0
		for part, text := range parts {
			if !strings.HasPrefix(part, "xl/charts/chart") {
				continue
			}
			for _, m := range chartType.FindAllStringSubmatch(text, -1) {
				charts++
				hundredths, err := strconv.ParseFloat(m[1], 64)
				if err != nil {
					t.Fatal(err)
				}
				if size := hundredths / 100 * smallest / 100; size < least {
					t.Errorf("%s: %s has text of %.3g points at the smallest scale", name, part, size)
				}
			}
		}
		if charts == 0 {
			t.Errorf("%s has no charts", name)
		}
	}
	if across == 0 {
		t.Error("no sheet is wider than a page: the rule is not tested")
	}
}

// The whole ranking stands in its sheet, of which the best are printed.
func TestPrintedRanking(t *testing.T) {
	s := *smallRun(t).Study
	s.Top = printedRanks + 7
	result, err := sweep.Run(t.Context(), &s, sweep.Options{Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	r := &Run{Study: &s, Result: result, Version: "test"}
	found, err := r.findings()
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := writeWorkbook(&b, r, found, nil); err != nil {
		t.Fatal(err)
	}
	f := openBook(t, b.Bytes())
	cut := 0
	for i := range found {
		n := len(found[i].Ranking)
		if n == 0 {
			continue
		}
		sheet := rankingSheets(found)[i]
		rows, err := f.GetRows(sheet)
		if err != nil {
			t.Fatal(err)
		}
		if len(rows) != headRow+n {
			t.Errorf("%s has %d rows, want %d designs", sheet, len(rows), n)
		}
		if got, want := printed(t, f, sheet).Rows, headRow+min(n, printedRanks); got != want {
			t.Errorf("%s is printed to row %d, want %d", sheet, got, want)
		}
		says := strings.Contains(rows[2][0], "Printed are the first 50")
		if says != (n > printedRanks) {
			t.Errorf("%s of %d designs says %q", sheet, n, rows[2][0])
		}
		if says {
			cut++
		}
	}
	if cut == 0 {
		t.Error("no ranking is longer than what is printed")
	}
}

// What is kept on one page counts every line of a wrapped text.
func TestBlock(t *testing.T) {
	b := newBook("block", "test", "")
	p := b.newPage("Sheet1", 20, 20)
	_, room := p.used()
	for used, _ := p.used(); used < 0.7*room; used, _ = p.used() {
		p.put(1, "x", plain)
		p.next()
	}
	lines := func(text string) func() {
		return func() {
			for range 6 {
				p.put(1, text, plain)
				p.next()
			}
		}
	}
	if p.block(0, lines("x")); p.broken != 0 {
		t.Fatalf("six lines break the page after row %d", p.broken)
	}
	p.row -= 6
	start := p.row
	p.block(0, lines(strings.Repeat("words ", 12)))
	if p.broken != start-1 {
		t.Errorf("six rows of several lines from row %d are kept after row %d", start, p.broken)
	}
	if used, room := p.used(); used != p.height(start-1, p.row-1) || used > room {
		t.Errorf("the block takes %g of %g points", used, room)
	}
}

var (
	seriesFill = regexp.MustCompile(`<ser>.*?</ser>`)
	seriesName = regexp.MustCompile(`<tx><strRef><f>&#39;Masses&#39;!\$A\$(\d+)</f>`)
	solidFill  = regexp.MustCompile(`srgbClr val="([0-9A-F]{6})"`)
)

// The chart of masses has the parts in the order and the colours of the picture.
func TestMassChart(t *testing.T) {
	r := smallRun(t)
	found, err := r.findings()
	if err != nil {
		t.Fatal(err)
	}
	drawn, _, err := massFigure(r, found)
	if err != nil {
		t.Fatal(err)
	}
	var families []string
	for _, p := range drawn.Panels {
		for _, s := range p.Stacks {
			for _, q := range s.Pieces {
				if !slices.Contains(families, q.Family) {
					families = append(families, q.Family)
				}
			}
		}
	}
	var b bytes.Buffer
	if err := writeWorkbook(&b, r, found, nil); err != nil {
		t.Fatal(err)
	}
	f := openBook(t, b.Bytes())
	var got []string
	for _, text := range unzip(t, b.Bytes()) {
		for _, s := range seriesFill.FindAllString(text, -1) {
			name, fill := seriesName.FindStringSubmatch(s), solidFill.FindStringSubmatch(s)
			if name == nil {
				continue
			}
			part, err := f.GetCellValue(massesSheet, "A"+name[1])
			if err != nil || fill == nil {
				t.Fatalf("a series reads A%s, %v, and has the colour %v", name[1], err, fill)
			}
			got = append(got, part+" "+fill[1])
		}
	}
	var want []string
	for _, name := range families {
		red, green, blue, _ := chart.StackShade(slices.Index(drawn.Families, name), len(drawn.Families)).RGBA()
		want = append(want, fmt.Sprintf("%s %02X%02X%02X", name, red>>8, green>>8, blue>>8))
	}
	if len(want) < 6 || !slices.Equal(got, want) {
		t.Errorf("the chart has %q, the picture %q", got, want)
	}
}
