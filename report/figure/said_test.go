package figure

import (
	"slices"
	"testing"
)

// A title tells of the first and the last class where more have places of their own, but not
// where a place is that of classes which lie apart.
func TestEndsAt(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		found []finds
		want  string
	}{
		{[]finds{{"a", "1 g"}, {"b", "2 g"}}, "a at 1 g; b at 2 g"},
		{[]finds{{"a", "1 g"}, {"b", "2 g"}, {"c", "3 g"}}, "from a at 1 g to c at 3 g"},
		{[]finds{{"", "0 g"}, {"a", "1 g"}, {"b", "2 g"}, {"c", "3 g"}}, "from a at 1 g to c at 3 g; none at 0 g"},
		{[]finds{{"a", "1 g"}, {"b", "2 g"}, {"c", "3 g"}, {"a", "4 g"}},
			"a at 1 g and 4 g; b at 2 g; c at 3 g"},
	} {
		best, none := gathered(c.found)
		if got := endsAt(best, none, "; "); got != c.want {
			t.Errorf("of %v it is said %q, want %q", c.found, got, c.want)
		}
	}
}

// However few have room, the last is among those that are picked, and of several the first.
func TestSpread(t *testing.T) {
	t.Parallel()
	for k, want := range [][]float64{1: {3}, 2: {0, 3}, 3: {0, 1, 3}, 4: {0, 1, 2, 3}, 5: {0, 1, 2, 3}} {
		if k == 0 {
			continue
		}
		if got := spread([]float64{0, 1, 2, 3}, k); !slices.Equal(got, want) {
			t.Errorf("%d of four are %v, want %v", k, got, want)
		}
	}
}
