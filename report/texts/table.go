package texts

import (
	"io"
	"strings"
	"unicode/utf8"
)

// Column is one column of a table in a terminal. Those of a table have as many cells each.
type Column struct {
	Head, Unit string // which stands under the head, "" for none
	Left       bool   // aligned left: words
	Named      bool   // names of several words, always two spaces from what is before them
	Need       int    // columns with the highest need are left out first; 0 never
	Cells      []string
}

func (c *Column) width() int {
	n := max(utf8.RuneCountInString(c.Head), utf8.RuneCountInString(c.Unit))
	for _, s := range c.Cells {
		n = max(n, utf8.RuneCountInString(s))
	}
	return n
}

// Fit leaves out columns until the table is no wider than width, and tells the heads of
// those that it left out and how many spaces stand between columns: 2, or 1 where that
// keeps a column. What must not be left out may still be wider.
func Fit(columns []Column, width int) (kept []Column, gap int, out []string) {
	kept = columns
	for {
		sum, worst := 0, -1
		for i := range kept {
			sum += kept[i].width()
			if kept[i].Need > 0 && (worst < 0 || kept[i].Need > kept[worst].Need) {
				worst = i
			}
		}
		if sum+gaps(kept, 2) <= width {
			return kept, 2, out
		}
		if sum+gaps(kept, 1) <= width || worst < 0 {
			return kept, 1, out
		}
		out = append(out, kept[worst].Head)
		kept = append(append([]Column(nil), kept[:worst]...), kept[worst+1:]...)
	}
}

// gap is how many spaces stand before a column where others have so many.
func (c *Column) gap(others int) int {
	if c.Named {
		return 2
	}
	return others
}

// gaps are the spaces between columns.
func gaps(columns []Column, others int) (sum int) {
	for i := 1; i < len(columns); i++ {
		sum += columns[i].gap(others)
	}
	return sum
}

// WriteTable prints columns under their heads and units, gap spaces apart.
func WriteTable(w io.Writer, columns []Column, gap int) error {
	_, err := io.WriteString(w, strings.Join(TableLines(columns, gap), "\n")+"\n")
	return err
}

// TableLines are the lines of a table, without spaces at their ends.
func TableLines(columns []Column, gap int) (lines []string) {
	row := func(of func(*Column) string) {
		line := ""
		for i := range columns {
			c := &columns[i]
			if i > 0 {
				line += strings.Repeat(" ", c.gap(gap))
			}
			line += padded(of(c), c.width(), c.Left)
		}
		lines = append(lines, strings.TrimRight(line, " "))
	}
	units, rows := false, 0
	for i := range columns {
		units = units || columns[i].Unit != ""
		rows = max(rows, len(columns[i].Cells))
	}
	row(func(c *Column) string { return c.Head })
	if units {
		row(func(c *Column) string { return c.Unit })
	}
	for n := range rows {
		row(func(c *Column) string { return c.Cells[n] })
	}
	return lines
}

// padded fills a cell to a width, behind what is aligned left.
func padded(cell string, width int, left bool) string {
	pad := strings.Repeat(" ", max(0, width-utf8.RuneCountInString(cell)))
	if left {
		return cell + pad
	}
	return pad + cell
}

// joined is the line of padded cells.
func joined(cells []string, gap int) string {
	return strings.TrimRight(strings.Join(cells, strings.Repeat(" ", gap)), " ")
}
