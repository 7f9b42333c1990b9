package model

import "math"

// Settled says whether a craft that has been flown is away from where metrics that are Even bend
// sharply along the capacity: it flies slower than its top speed where it uses least power, and where
// it flies farthest, and the pack's voltage floor and its most power are out of reach. See FlownChord.
func (c *Craft) Settled() bool {
	const slower = 0.97
	t, f := c.Powertrain, &c.Flight
	a, b, most := f.Endurance.Airspeed, f.Range.Airspeed, slower*f.Top.Airspeed
	return f.OK && a > 0 && b > 0 && a < most && b < most && !t.yields() &&
		t.Drive.Pack.Easy(max(c.Hover.Power, f.Endurance.Power, f.Range.Power))
}

// yields says whether the pack is near its most power at full throttle, at half its voltage, where
// that bends without bounds.
func (t *Powertrain) yields() bool { return t.Full.PackVoltage < 0.7*t.Drive.RestedTop }

// What a metric of flight that is Even may jump by along the capacity, over its value: it is found
// between nodes of airspeed, and the least of a shallow curve moves from one to the next. Chosen from
// measurements, see DEVELOPERS.md.
const (
	flownJump = 5e-4
	rangeJump = 3e-3
)

// FlownChord is what a metric that is Even may be off the line between two crafts that have been flown
// and are Settled, of one payload, the capacity of the larger pack being longer by a part than that of
// the smaller: they have the same parts otherwise, are joined as in Span, and their top speeds have the
// same limit. It is false where nothing is known.
func (m *Metric) FlownChord(lo, hi, longer float64) (off float64, ok bool) {
	if !m.Even || m.Sight() != 0 || !(longer <= longestSpan) {
		return 0, false
	}
	jump := flownJump
	if m.Name == "range" {
		jump = rangeJump
	}
	most := max(math.Abs(lo), math.Abs(hi))
	return (jump + chordBulge*longer*longer) * most, lo*hi > 0 && !math.IsInf(most, 0)
}
