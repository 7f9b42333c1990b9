package texts

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// OneLine makes text of a user fit for one line of a table: no control
// characters.
func OneLine(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r == utf8.RuneError {
			return ' '
		}
		return r
	}, s)
}

// Lower begins a title in lower case, for use within a sentence; KV, CT and their
// like stay.
func Lower(title string) string {
	r, n := utf8.DecodeRuneInString(title)
	if next, _ := utf8.DecodeRuneInString(title[n:]); unicode.IsUpper(next) {
		return title
	}
	return string(unicode.ToLower(r)) + title[n:]
}

// Upper begins words in upper case.
func Upper(words string) string {
	r, n := utf8.DecodeRuneInString(words)
	return string(unicode.ToUpper(r)) + words[n:]
}

// Grouped prints a count with commas: 1,234,567.
func Grouped(n uint64) string {
	s := strconv.FormatUint(n, 10)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}

func Plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

func YesNo(v bool) string {
	if v {
		return "yes"
	}
	return "no"
}

func JoinAnd(s []string) string {
	if len(s) < 2 {
		return strings.Join(s, "")
	}
	return strings.Join(s[:len(s)-1], ", ") + " and " + s[len(s)-1]
}

func JoinOr(s []string) string {
	if len(s) < 2 {
		return strings.Join(s, "")
	}
	return strings.Join(s[:len(s)-1], ", ") + " or " + s[len(s)-1]
}

func Or(s, otherwise string) string {
	if s == "" {
		return otherwise
	}
	return s
}
