package words

import (
	"testing"

	"rotorsieve/report/finding"
)

// A response that takes less time is faster; of all else a change is as it is, whichever is better.
func TestChangeText(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		metric  string
		percent float64
		n       int
		want    string
	}{
		{"thrust-response-time", -8.2, 0, "8 % faster"}, {"thrust-response-down", 8.26, 1, "8.3 % slower"},
		{"thrust-response-time", -0.4, 0, "±0 %"}, {"hover-time", -8, 0, "-8 %"}, {"hover-power", 8, 0, "+8 %"},
	} {
		if got := changeText(finding.Metric(c.metric), c.percent, c.n); got != c.want {
			t.Errorf("%s by %g %%: %q, want %q", c.metric, c.percent, got, c.want)
		}
	}
}
