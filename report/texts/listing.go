package texts

import (
	"strings"
	"unicode/utf8"
)

// Listing is a table of words in a help text or a list, whose cells are wrapped where a
// Column's are not.
type Listing struct {
	Flush bool // with the left margin, not set in by two spaces
	rows  [][]string
}

// Add adds a row. All rows have as many cells.
func (l *Listing) Add(cells ...string) { l.rows = append(l.rows, cells) }

// Text prints the listing under heads, where there are any, in lines of up to width
// characters. Cells of the last column are wrapped at the end of the line, others at 30
// characters or a longer word. It is "" without heads and rows.
func (l *Listing) Text(width int, heads ...string) string {
	const gap, widest = 2, 30
	margin := "  "
	if l.Flush {
		margin = ""
	}
	rows := l.rows
	if len(heads) > 0 {
		rows = append([][]string{heads}, rows...)
	}
	if len(rows) == 0 {
		return ""
	}
	wide := make([]int, len(rows[0]))
	last, rest := len(wide)-1, width-len(margin)
	for i := range last {
		for _, r := range rows {
			wide[i] = max(wide[i], min(utf8.RuneCountInString(r[i]), widest))
			for word := range strings.FieldsFuncSeq(r[i], breaks) { // which cannot be wrapped
				wide[i] = max(wide[i], utf8.RuneCountInString(word))
			}
		}
		rest -= wide[i] + gap
	}
	wide[last] = rest
	var b strings.Builder
	for _, r := range rows {
		cells := make([][]string, len(r)) // lines of each
		height := 1
		for i, text := range r {
			cells[i] = Wrap(text, wide[i])
			height = max(height, len(cells[i]))
		}
		for n := range height {
			line := make([]string, len(r))
			for i := range cells {
				if n < len(cells[i]) {
					line[i] = cells[i][n]
				}
				line[i] = padded(line[i], wide[i], true)
			}
			b.WriteString(strings.TrimRight(margin+joined(line, gap), " ") + "\n")
		}
	}
	return b.String()
}
