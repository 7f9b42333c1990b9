package texts

import (
	"io"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Column is one column of a table in a terminal.
type Column struct {
	Head, Unit string
	Left       bool // aligned left: words
	Need       int  // columns with the highest need are left out first; 0 never
	Cells      []string
}

func (c *Column) width() int {
	n := max(utf8.RuneCountInString(c.Head), utf8.RuneCountInString(c.Unit))
	for _, s := range c.Cells {
		n = max(n, utf8.RuneCountInString(s))
	}
	return n
}

// Fit leaves out columns until the table is no wider than width, and tells which
// it left out and how many spaces stand between columns.
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
		if sum+2*(len(kept)-1) <= width {
			return kept, 2, out
		}
		if sum+len(kept)-1 <= width || worst < 0 {
			return kept, 1, out
		}
		out = append(out, kept[worst].Head)
		kept = append(append([]Column(nil), kept[:worst]...), kept[worst+1:]...)
	}
}

// WriteTable prints columns under their heads and units.
func WriteTable(w io.Writer, columns []Column, gap int) error {
	_, err := io.WriteString(w, strings.Join(TableLines(columns, gap), "\n")+"\n")
	return err
}

// TableLines are the lines of a table.
func TableLines(columns []Column, gap int) (lines []string) {
	row := func(of func(*Column) string) {
		var line strings.Builder
		for i := range columns {
			c := &columns[i]
			s := of(c)
			pad := strings.Repeat(" ", c.width()-utf8.RuneCountInString(s))
			if i > 0 {
				line.WriteString(strings.Repeat(" ", gap))
			}
			if c.Left {
				line.WriteString(s + pad)
			} else {
				line.WriteString(pad + s)
			}
		}
		lines = append(lines, strings.TrimRight(line.String(), " "))
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

// Wrap breaks text into lines of at most width characters, where it can.
func Wrap(text string, width int) []string {
	var lines []string
	line := ""
	for _, word := range strings.FieldsFunc(text, breaks) {
		if line != "" && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > width {
			lines = append(lines, line)
			line = ""
		}
		if line != "" {
			line += " "
		}
		line += word
	}
	return append(lines, line)
}

// breaks are the spaces at which a line may end: not the one that binds a number
// to its unit.
func breaks(r rune) bool { return unicode.IsSpace(r) && r != '\u00a0' }
