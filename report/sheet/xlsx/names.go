package xlsx

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf16"

	"github.com/xuri/excelize/v2"

	"rotorsieve/report/texts"
)

// SheetNames makes of labels what a sheet may be called, and no name twice.
func SheetNames(prefix string, labels []string) []string {
	const most = 31 // UTF-16 units
	var names []string
	taken := map[string]bool{}
	for _, label := range labels {
		label = strings.Map(func(r rune) rune {
			if strings.ContainsRune(`[]:*?/\'`, r) {
				return '-'
			}
			return r
		}, texts.OneLine(label))
		for n := 1; ; n++ {
			end := ""
			if n > 1 {
				end = " (" + strconv.Itoa(n) + ")"
			}
			name := cutUTF16(strings.TrimSpace(prefix+label), most-len(end)) + end
			if key := strings.ToLower(name); !taken[key] {
				taken[key] = true
				names = append(names, name)
				break
			}
		}
	}
	return names
}

// cutUTF16 keeps what fits into n UTF-16 units.
func cutUTF16(s string, n int) string {
	var b strings.Builder
	for _, r := range s {
		if n -= utf16.RuneLen(r); n < 0 {
			break
		}
		b.WriteRune(r)
	}
	return strings.TrimSpace(b.String())
}

// CellName is that of a column and row, both from 1.
func CellName(col, row int) string {
	s, err := excelize.CoordinatesToCellName(col, row)
	if err != nil {
		panic("xlsx: " + err.Error())
	}
	return s
}

// ColumnName is the letters of a column, from 1.
func ColumnName(col int) string {
	s, err := excelize.ColumnNumberToName(col)
	if err != nil {
		panic("xlsx: " + err.Error())
	}
	return s
}

// Span is a range of cells with $ signs, between two corners.
func Span(col, row, toCol, toRow int) string {
	return fmt.Sprintf("$%s$%d:$%s$%d", ColumnName(col), row, ColumnName(toCol), toRow)
}

// Area is a range of cells from the first of the sheet.
func Area(col, row int) string { return Span(1, 1, col, row) }

// Areas are stretches of rows of a sheet, each from the first column to one; the sheet's name
// stands before all but the first.
func Areas(sheet string, col int, rows [][2]int) string {
	var out []string
	for _, r := range rows {
		out = append(out, Span(1, r[0], col, r[1]))
	}
	return strings.Join(out, ","+Quoted(sheet))
}

// Quoted is the name of a sheet before a reference into it.
func Quoted(sheet string) string { return "'" + strings.ReplaceAll(sheet, "'", "''") + "'!" }

// Round10 drops what converting units leaves beyond ten digits.
func Round10(v float64) float64 {
	if v == 0 || !finite(v) {
		return v
	}
	scale := math.Pow(10, 9-math.Floor(math.Log10(math.Abs(v))))
	return math.Round(v*scale) / scale
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
