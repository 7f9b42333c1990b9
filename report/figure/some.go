package figure

import (
	"fmt"

	"rotorsieve/report/finding"
)

// mostPanels is how many classes have a panel of their own in a figure: three rows of three can
// be read, and what a figure costs is bounded.
const mostPanels = 9

// someClasses are all classes, or of many the lightest, the widest and some between, as even as
// they go, with what the note of a figure says of the others.
func someClasses(found []finding.Class) (some []finding.Class, left string) {
	if len(found) <= mostPanels {
		return found, ""
	}
	at := make([]float64, len(found))
	for i := range at {
		at[i] = float64(i)
	}
	for _, i := range spread(at, mostPanels) {
		some = append(some, found[int(i)])
	}
	return some, fmt.Sprintf(" %d of %d classes are drawn.", len(some), len(found))
}
