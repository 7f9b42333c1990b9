package texts

import (
	"strings"
	"testing"
)

func TestWrap(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		text  string
		width int
		want  string
	}{
		{"", 10, ""},
		{" \t\n", 10, ""},
		{"one two three", 13, "one two three"},
		{"one two three", 12, "one two|three"},
		{"one two three", 7, "one two|three"},
		{"one two three", 5, "one|two|three"},
		{"  one \n two  ", 20, "one two"},
		// A word is broken after its commas where it must be, and stands out where it cannot.
		{"abc,defg,hi", 11, "abc,defg,hi"},
		{"abc,defg,hi", 8, "abc,|defg,hi"},
		{"x abc,defg,hi y", 8, "x abc,|defg,hi|y"},
		{"abcdefghij k", 5, "abcdefghij|k"},
		{"a", 0, "a"},
		{"a b", -1, "a|b"},
		// Characters count, not bytes.
		{"größe größe", 11, "größe größe"},
		{"größe größe", 10, "größe|größe"},
		{"± × ≤ °C", 5, "± × ≤|°C"},
		{"木木 木木", 5, "木木 木木"},
		// A no-break space is part of a word.
		{"about 5\u00a0in wide", 9, "about|5\u00a0in wide"},
		{"about 5\u00a0in wide", 10, "about 5\u00a0in|wide"},
		{"5\u00a0in", 3, "5\u00a0in"},
	} {
		if got := strings.Join(Wrap(c.text, c.width), "|"); got != c.want {
			t.Errorf("%q in %d: %q, want %q", c.text, c.width, got, c.want)
		}
		if n := len(Wrap(c.text, c.width)); n < 1 {
			t.Errorf("%q in %d: %d lines", c.text, c.width, n)
		}
	}
}
