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

// Names of builds are wrapped as LibreOffice wraps them: full of figures and capitals they are wider than prose.
func TestWrappedNames(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		text  string
		width float64
		bold  bool
		want  int
	}{
		{"5.5×3.85×2, 2207 1900KV, 6S (nominal best)", 33, false, 2},
		{"5.5×3.3×2, 2207 2400KV, 4S", 33, false, 1},
		{"5×3.5×2, 2207 1800KV, 6S", 33, true, 1},
		{"9.5×3.8×2, 2507 1000KV, 6S", 17, false, 2},
		{"craft 4x2.5x3 1507 2900KV 4S 650mAh high-rate 235.9g", 40, false, 2},
		{"first\nsecond", 33, false, 2},
	} {
		if got := WrappedLines(c.text, c.width, c.bold); got != c.want {
			t.Errorf("%q takes %d lines in %g, want %d", c.text, got, c.width, c.want)
		}
	}
}

// A head keeps a gap to the next, and none is widened that has one.
func TestHeadWidth(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		head      string
		width     float64
		wider     bool
		unchanged bool
	}{{"Payload (g)", 10, true, false}, {"Merit", 9, false, true}, {"averyveryveryverylongword", 5, false, true}} {
		got := HeadWidth(c.head, c.width)
		if c.wider && got <= c.width || c.unchanged && got != c.width {
			t.Errorf("%q of width %g gets %g", c.head, c.width, got)
		}
		if _, widest := wrapped(c.head, digitMost*got-insetLeast, true); c.wider && widest > digitLeast*got-headGap {
			t.Errorf("%q takes %g points of a width of %g", c.head, widest, got)
		}
	}
}

// What is measured leaves the page as it was.
func TestMeasure(t *testing.T) {
	t.Parallel()
	p := NewBook(t.Context(), t.TempDir(), "measured", "", "").NewPage("Sheet1", 20)
	lines := func() {
		for range 3 {
			p.Put(1, "x", Plain)
			p.Next()
		}
	}
	lines()
	row, height := p.Row, p.Measure(lines)
	if p.Row != row || len(p.Rows) != row-1 {
		t.Errorf("row %d of %d rows, want %d", p.Row, len(p.Rows), row)
	}
	if lines(); height <= 0 || height != p.Height(row-1, p.Row-1) {
		t.Errorf("%g points, the rows take %g", height, p.Height(row-1, p.Row-1))
	}
}
