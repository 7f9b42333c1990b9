package report

import (
	"testing"
)

func TestHarmless(t *testing.T) {
	t.Parallel()
	for in, want := range map[string]string{"249g": "249g", "=1": "'=1", "+1": "'+1", "-1": "'-1", "@a": "'@a",
		"\t=1": "' =1", "a\nb": "a b", "": ""} {
		if got := harmless(in); got != want {
			t.Errorf("%q becomes %q, want %q", in, got, want)
		}
	}
}
