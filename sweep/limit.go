package sweep

import (
	"math"

	"rotorsieve/model"
)

// Limited gives the assumptions with the limits of level flight that requirements set: what
// full throttle at rest may draw of the pack's burst limit (pack-load<=) and how far it may
// lower the voltage of a cell (voltage-margin>=) applies to the fastest level flight, too.
// The tightest of several applies. Where none is stated the limit of the assumptions
// applies.
func Limited(a model.Assumptions, require []Requirement) model.Assumptions {
	load, margin := math.Inf(1), math.Inf(-1)
	for _, r := range require {
		switch {
		case r.Metric.Name == "pack-load" && !r.AtLeast:
			load = min(load, max(0, r.Bound)) // a bound below 0 is kept by none
			a.PackLoad = load
		case r.Metric.Name == "voltage-margin" && r.AtLeast:
			margin = max(margin, r.Bound)
			a.CellMargin = margin
		}
	}
	return a
}
