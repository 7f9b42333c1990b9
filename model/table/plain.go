package table

import (
	"errors"
	"fmt"
	"unicode"
	"unicode/utf8"
)

// Plain refuses what no name, label or path may hold: it would break a line, a terminal,
// a workbook or the flag file of a run.
func Plain(text string) error {
	if !utf8.ValidString(text) {
		return errors.New("is not UTF-8, want plain text on one line")
	}
	for _, r := range text {
		what := ""
		switch {
		case unicode.IsControl(r):
			what = "a control character"
		case unicode.In(r, unicode.Zl, unicode.Zp):
			what = "a line break"
		case unicode.Is(unicode.Bidi_Control, r):
			what = "which turns the direction of text"
		case unicode.Is(unicode.Noncharacter_Code_Point, r):
			what = "which is no character"
		default:
			continue
		}
		return fmt.Errorf("holds %U, %s, want plain text on one line", r, what)
	}
	return nil
}
