package texts

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Wrap breaks a text between words into lines of up to width characters, at least one
// line. A longer word is broken after its commas, and stands out where it has none. A
// no-break space, which binds a number to its unit, is part of a word.
func Wrap(text string, width int) []string {
	var lines []string
	line := ""
	add := func(word, gap string) {
		if line != "" && utf8.RuneCountInString(line+gap+word) > width {
			lines, line = append(lines, line), ""
		}
		if line != "" {
			line += gap
		}
		line += word
	}
	for word := range strings.FieldsFuncSeq(text, breaks) {
		if utf8.RuneCountInString(word) <= width {
			add(word, " ")
			continue
		}
		gap := " "
		for part := range strings.SplitAfterSeq(word, ",") {
			add(part, gap)
			gap = ""
		}
	}
	if line != "" || len(lines) == 0 {
		lines = append(lines, line)
	}
	return lines
}

// breaks are the spaces at which a line may end.
func breaks(r rune) bool { return unicode.IsSpace(r) && r != '\u00a0' }
