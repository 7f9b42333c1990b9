package words

import "testing"

func TestShareText(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		n, of uint64
		want  string
	}{
		{0, 10, "0 %"}, {10, 10, "100 %"}, {1, 1e9, "< 0.001 %"}, {1, 3, "33.3 %"}, {99999, 100000, "> 99.9 %"},
		{1, 1000, "0.1 %"}, {84, 1000, "8.4 %"},
	} {
		if got := Share(c.n, c.of); got != c.want {
			t.Errorf("%d of %d reads %q, want %q", c.n, c.of, got, c.want)
		}
	}
}
