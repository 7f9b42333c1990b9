package main

import (
	"strings"
	"unicode/utf8"
)

// textTable is a table of words in a help text or a listing.
type textTable struct {
	flush bool // with the left margin, not set in
	rows  [][]string
}

func (t *textTable) add(cells ...string) { t.rows = append(t.rows, cells) }

// text prints the table under heads for a help text.
func (t *textTable) text(heads ...string) string { return t.within(setInMost, heads...) }

// within prints the table under heads, where there are any, set in by two spaces
// unless it is flush. Cells are wrapped: those of the last column at the width of
// the line, others at 30 characters or a longer word.
func (t *textTable) within(line int, heads ...string) string {
	const gap, widest = 2, 30
	left := 2
	if t.flush {
		left = 0
	}
	rows := t.rows
	if len(heads) > 0 {
		rows = append([][]string{heads}, rows...)
	}
	if len(rows) == 0 {
		return ""
	}
	width := make([]int, len(rows[0]))
	last, rest := len(width)-1, line-left
	for i := range last {
		for _, r := range rows {
			width[i] = max(width[i], min(utf8.RuneCountInString(r[i]), widest))
			for word := range strings.FieldsSeq(r[i]) { // which cannot be wrapped
				width[i] = max(width[i], utf8.RuneCountInString(word))
			}
		}
		rest -= width[i] + gap
	}
	width[last] = rest
	var b strings.Builder
	for _, r := range rows {
		cells := make([][]string, len(r))
		height := 1
		for i, text := range r {
			cells[i] = wrapped(text, width[i])
			height = max(height, len(cells[i]))
		}
		for n := range height {
			out := strings.Repeat(" ", left)
			for i := range cells {
				text := ""
				if n < len(cells[i]) {
					text = cells[i][n]
				}
				out += text + strings.Repeat(" ", max(0, width[i]-utf8.RuneCountInString(text))+gap)
			}
			b.WriteString(strings.TrimRight(out, " ") + "\n")
		}
	}
	return b.String()
}
