package figure

import (
	"context"

	"rotorsieve/report/finding"
)

// Wanted lists the figures that are to be drawn of a run, by name, before there is a
// result: one for which it has nothing is left out then.
func Wanted(r *finding.Run) []string {
	var names []string
	for _, p := range plansOf(context.Background(), r, nil) {
		if wantsFigure(r, &p) {
			names = append(names, p.name)
		}
	}
	return names
}

// File is the name of a figure's file in the folder of a report, with slashes.
func File(name string) string { return "figures/" + name + ".png" }

// OverlayName is the figure of a comparison.
const OverlayName = "size-overlay"
