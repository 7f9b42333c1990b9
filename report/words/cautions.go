package words

import (
	"strings"
)

// Cautions are what every reader of a result must be told, one sentence each.
var Cautions = []string{
	"This is a sizing estimate, not an airworthiness or flight clearance.",
	"Lithium packs burn and spinning propellers injure.",
	"Keep within the makers' ratings.",
	"Weight-class and operating rules differ by country and change: check the local rules in force.",
	"Results outside the stated validity limits are marked, not hidden.",
}

// Caution is all cautions in one line.
func Caution() string { return strings.Join(Cautions, " ") }
