package report

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"rotorsieve/report/finding"
	"rotorsieve/report/sheet"
	"rotorsieve/report/sheet/xlsx"
	"rotorsieve/report/trial"
)

// Nothing is smaller than 7 points in print, however many classes, terms or runs
// there are; what is too wide for a page goes on to another with its first columns
// repeated.
func TestPrintedSize(t *testing.T) {
	t.Parallel()
	books := map[string][]byte{}
	for name, r := range map[string]*finding.Run{"small": trial.SmallRun(t), "wide": trial.WideRun(t),
		"decided": trial.DecidedRun(t)} {
		found, err := r.Findings()
		if err != nil {
			t.Fatal(err)
		}
		var b bytes.Buffer
		if err := sheet.WriteReview(t.Context(), &b, t.TempDir(), r, found, nil); err != nil {
			t.Fatal(err)
		}
		books[name] = b.Bytes()
	}
	_, _, dirs := twoRuns(t)
	for n := 1; n <= 3; n++ {
		c, err := finding.Compare(slices.Repeat(dirs, n)...)
		if err != nil {
			t.Fatal(err)
		}
		for i, f := range c.Runs {
			f.Name = fmt.Sprintf("run %d", i+1)
		}
		var b bytes.Buffer
		if err := sheet.WriteComparison(t.Context(), &b, t.TempDir(), c, nil); err != nil {
			t.Fatal(err)
		}
		books[fmt.Sprintf("comparison of %d", 2*n)] = b.Bytes()
	}
	const least = 7
	across := 0
	for name, book := range books {
		f := trial.OpenBook(t, book)
		smallest := 100.0 // scale
		parts := trial.Unzip(t, book)
		for n, page := range f.GetSheetList() {
			p := trial.Printed(t, f, page)
			smallest = math.Min(smallest, p.Scale)
			if size := p.Scale / 100 * trial.SmallestType(t, f, page, p); size < least {
				t.Errorf("%s: %s is printed at %.3g points", name, page, size)
			}
			width := func(from, to int) (pixels float64) { // columns, as printed
				for col := from; col <= to; col++ {
					w, err := f.GetColWidth(page, xlsx.ColumnName(col))
					if err != nil {
						t.Fatal(err)
					}
					pixels += 8.2 * w * p.Scale / 100
				}
				return pixels
			}
			if width(1, p.Columns) <= xlsx.PaperWidth+1 {
				continue
			}
			across++
			m := trial.TitleColumns.FindStringSubmatch(p.Titles)
			if m == nil {
				t.Errorf("%s: %s goes on to further pages without its first columns: %q", name, page, p.Titles)
				continue
			}
			titles, err := excelize.ColumnNameToNumber(m[1])
			if err != nil {
				t.Fatal(err)
			}
			ends := append(trial.ColumnBreaks(t, parts["xl/worksheets/sheet"+strconv.Itoa(n+1)+".xml"]), p.Columns)
			from := 1
			for _, end := range ends {
				pixels := width(from, end)
				if from > 1 {
					pixels += width(1, titles)
				}
				if pixels > xlsx.PaperWidth {
					t.Errorf("%s: the columns %d to %d of %s are wider than the paper", name, from, end, page)
				}
				if page == sheet.ClassesSheet && end%2 == 0 {
					t.Errorf("%s: a page of %s ends between a value and its difference", name, page)
				}
				from = end + 1
			}
		}
		charts := 0
		for part, text := range parts {
			if !strings.HasPrefix(part, "xl/charts/chart") {
				continue
			}
			for _, m := range trial.ChartType.FindAllStringSubmatch(text, -1) {
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
