package xlsx

import (
	"testing"
)

func TestWrappedLines(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		text  string
		width float64
		least int
	}{{"", 10, 1}, {"short", 10, 1}, {"two words here", 6, 2}, {"averyveryveryverylongword", 6, 3}} {
		if got := WrappedLines(c.text, c.width, true); got < c.least {
			t.Errorf("%q takes %d lines in %v, want at least %d", c.text, got, c.width, c.least)
		}
	}
}
