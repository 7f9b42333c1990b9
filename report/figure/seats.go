package figure

import (
	"math"

	"rotorsieve/report/chart"
	"rotorsieve/report/finding"
	"rotorsieve/sweep/decide"
)

// seats are where the values of an axis stand in a chart, each with room for a bar.
type seats struct {
	axis        chart.Axis
	at          []float64
	half        float64 // of a bar
	joined      bool    // lines may join neighbours
	recommended int     // that of the recommended build; -1 for none
}

// newSeats seats the values of an axis by what they are where it is a continuum, but by
// their order, each with its name, where that would leave no room for bars.
func newSeats(c *finding.Choice, a *decide.AxisValues) seats {
	const (
		share = 0.4 // of the room of a value that half a bar takes
		most  = 60  // bars side by side
	)
	full := c.Grid.Axes()[a.Axis]
	full.Values = nil
	for _, v := range a.Values {
		full.Values = append(full.Values, v.Value)
	}
	least, n := math.Inf(1), len(full.Values)
	for k := 1; k < n; k++ {
		least = min(least, full.Def.Shown(full.Values[k])-full.Def.Shown(full.Values[k-1]))
	}
	span := full.Def.Shown(full.Values[n-1]) - full.Def.Shown(full.Values[0])
	s := seats{recommended: -1, joined: finding.Smooth(full) && span <= most*least}
	s.axis, s.at = mapAxis(full, s.joined)
	step := 1.0
	if s.joined {
		step = least
		s.axis.Min, s.axis.Max = s.at[0]-step/2, s.at[n-1]+step/2
		s.axis.Ticks = s.at
	}
	s.half = share * step
	for k, v := range a.Values {
		if finding.On(full.Def, c.Recommended(), v.Value) {
			s.recommended = k
		}
	}
	return s
}
