package texts

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// OneLine makes text of a user fit for one line of a table: a space stands for each control
// character and for what is no UTF-8.
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
	_, n := utf8.DecodeRuneInString(title)
	if next, _ := utf8.DecodeRuneInString(title[n:]); unicode.IsUpper(next) {
		return title
	}
	return strings.ToLower(title[:n]) + title[n:]
}

// Upper begins words in upper case.
func Upper(words string) string {
	_, n := utf8.DecodeRuneInString(words)
	return strings.ToUpper(words[:n]) + words[n:]
}

// Grouped prints a count with commas: 1,234,567.
func Grouped(n uint64) string {
	s := strconv.FormatUint(n, 10)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}

// Plural is one where n is 1, otherwise many.
func Plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

// YesNo is "yes" or "no".
func YesNo(v bool) string {
	if v {
		return "yes"
	}
	return "no"
}

// JoinAnd is "a, b and c".
func JoinAnd(s []string) string {
	if len(s) < 2 {
		return strings.Join(s, "")
	}
	return strings.Join(s[:len(s)-1], ", ") + " and " + s[len(s)-1]
}

// JoinOr is "a, b or c".
func JoinOr(s []string) string {
	if len(s) < 2 {
		return strings.Join(s, "")
	}
	return strings.Join(s[:len(s)-1], ", ") + " or " + s[len(s)-1]
}

// Or is s, or what stands for an empty one.
func Or(s, otherwise string) string {
	if s == "" {
		return otherwise
	}
	return s
}
