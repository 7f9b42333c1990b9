package finding

import (
	"strings"
	"testing"

	"rotorsieve/model/unit"
)

// A craft's all-up weight is written in a few digits, as a scale says it, whatever it is.
func TestWeighed(t *testing.T) {
	t.Parallel()
	for tenths := 300; tenths < 50000; tenths++ {
		text := unit.Mass.Text(weighed(float64(tenths)/1e4 + 1.7e-5))
		if len(text) > len("4999.9g") || !strings.HasSuffix(text, "g") || strings.HasSuffix(text, "lbg") {
			t.Fatalf("%d tenths of a gram are written %q", tenths, text)
		}
	}
}
