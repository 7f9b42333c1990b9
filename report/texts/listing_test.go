package texts

import "testing"

func TestListing(t *testing.T) {
	t.Parallel()
	two := [][]string{{"a", "two words and more"}, {"longer", ""}}
	for _, c := range []struct {
		what  string
		flush bool
		width int
		rows  [][]string
		heads []string
		want  string
	}{
		{"nothing", false, 20, nil, nil, ""},
		{"heads alone", false, 20, nil, []string{"X", "WHAT"}, "  X  WHAT\n"},
		{"heads", false, 20, two, []string{"X", "WHAT"}, "  X       WHAT\n  a       two words\n          and more\n  " +
			"longer\n"},
		{"no heads", false, 20, two, nil, "  a       two words\n          and more\n  longer\n"},
		{"flush", true, 20, two, nil, "a       two words\n        and more\nlonger\n"},
		{"a first column of more than 30 characters", true, 50,
			[][]string{{"one two three four five six seven", "x"}}, nil,
			"one two three four five six     x\nseven\n"},
		{"a word of more than 30", true, 50, [][]string{{"abcdefghijklmnopqrstuvwxyz-abcdefgh", "x y"}}, nil,
			"abcdefghijklmnopqrstuvwxyz-abcdefgh  x y\n"},
		{"characters, not bytes", true, 9, [][]string{{"µ", "größe"}, {"bb", "±5 °C"}}, nil,
			"µ   größe\nbb  ±5 °C\n"},
		{"no-break spaces", true, 8, [][]string{{"5\u00a0in", "a b"}, {"x", "c"}}, nil,
			"5\u00a0in  a\n      b\nx     c\n"},
	} {
		l := Listing{Flush: c.flush}
		for _, r := range c.rows {
			l.Add(r...)
		}
		if got := l.Text(c.width, c.heads...); got != c.want {
			t.Errorf("%s: got\n%swant\n%s", c.what, got, c.want)
		}
	}
}
