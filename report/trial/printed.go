package trial

import (
	"math"
	"regexp"
	"strconv"
	"testing"

	"github.com/xuri/excelize/v2"

	"rotorsieve/report/sheet/xlsx"
)

// printout is how a sheet of a written workbook is printed.
type printout struct {
	Columns, Rows int
	Scale         float64 // per cent
	Titles        string
}

var printArea = regexp.MustCompile(`!\$A\$1:\$([A-Z]+)\$(\d+)(?:,.*)?$`)

// Printed reads how a sheet is printed: fitted to the width as programs do it, or
// at the scale that it asks for.
func Printed(t *testing.T, f *excelize.File, sheet string) printout {
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
		w, err := f.GetColWidth(sheet, xlsx.ColumnName(col+1))
		if err != nil {
			t.Fatal(err)
		}
		pixels += 8.2 * w // a digit has 8, and some programs do not round
	}
	p.Scale = math.Floor(math.Min(100, 100*96*(297/25.4-*m.Left-*m.Right)/pixels))
	return p
}

// SmallestType is the least size in points of what a sheet prints in its cells.
func SmallestType(t *testing.T, f *excelize.File, sheet string, p printout) float64 {
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
			id, err := f.GetCellStyle(sheet, xlsx.CellName(c+1, r+1))
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

// ChartType finds sizes of text in a chart, in hundredths of a point.
var ChartType = regexp.MustCompile(` sz="(\d+)"`)

var (
	// TitleColumns finds the last of the columns that each page repeats.
	TitleColumns = regexp.MustCompile(`!\$A:\$([A-Z]+)`)
	allBreaks    = regexp.MustCompile(`<colBreaks.*?</colBreaks>`)
	oneBreak     = regexp.MustCompile(`<brk id="(\d+)"`)
)

// ColumnBreaks lists the columns after which a sheet begins another page across.
func ColumnBreaks(t *testing.T, sheet string) (out []int) {
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
