package report

import (
	"testing"

	"rotorsieve/report/texts"
	"rotorsieve/report/words"
)

func TestCounts(t *testing.T) {
	for n, want := range map[uint64]string{0: "0", 999: "999", 1000: "1,000", 1234567: "1,234,567"} {
		if got := texts.Grouped(n); got != want {
			t.Errorf("%d reads %q, want %q", n, got, want)
		}
	}
	for _, c := range []struct {
		n, of uint64
		want  string
	}{{0, 10, "0 %"}, {10, 10, "100 %"}, {1, 1e9, "< 0.001 %"}, {1, 3, "33.3 %"}, {99999, 100000, "> 99.9 %"}, {1, 1000, "0.1 %"}, {84, 1000, "8.4 %"}} {
		if got := words.ShareText(c.n, c.of); got != c.want {
			t.Errorf("%d of %d reads %q, want %q", c.n, c.of, got, c.want)
		}
	}
}
