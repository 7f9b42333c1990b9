package words_test

import (
	"slices"
	"testing"

	"rotorsieve/report/finding"
	"rotorsieve/report/words"
)

// What one run was given and the other not is named by its title, and the other is not said to have
// been asked for it.
func TestAspectGivenOnce(t *testing.T) {
	t.Parallel()
	for name, want := range map[string][]string{
		"measured":        {"Measured propellers", "none", "2"},
		"measured-crafts": {"Measured crafts", "none", "2"},
		"over":            {"Ranked over scenarios by", "one scenario", "2"},
		"airframe":        {"airframe", "", "2"},
	} {
		a := finding.Aspect{Kind: finding.AssumptionAspect, Name: name,
			Values: []any{nil, finding.Valued[any]{Value: "2"}}}
		if got := append([]string{words.AspectTitle(&a)}, words.AspectValues(&a)...); !slices.Equal(got, want) {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
	}
}
