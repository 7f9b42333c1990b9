package figure

import (
	"fmt"
	"slices"

	"rotorsieve/model/flight"
	"rotorsieve/report/chart"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

// ranksRange says whether a merit asks how far, or how long in cruise, a design flies.
func ranksRange(merit sweep.Merit) bool {
	return slices.ContainsFunc(merit, func(t sweep.Term) bool {
		return slices.Contains([]string{"range", "range-return", "range-upwind", "cruise-time"}, t.Metric.Name)
	})
}

// rangePanel draws the range over ground against airspeed, in still air and against the wind
// that is stated.
func rangePanel(all []Flown) chart.Panel {
	p := chart.Panel{Title: words.Bracketed("range over ground", "km"),
		X: chart.Axis{Label: words.Bracketed("airspeed", "m/s")}}
	for _, k := range all {
		c := k.Craft
		a := &c.Model.Assume
		top := c.Flight.Top.Airspeed
		far := func(x *flight.Cruise, wind float64) float64 {
			return (x.Airspeed - wind) * c.Powertrain.Drive.Pack.Endurance(x.Power) / 1e3
		}
		still, up := chart.Line{Family: k.Class}, chart.Line{Family: k.Class, Part: 0.5}
		if a.Wind > 0 {
			still.Label, still.Part, up.Label = "still air", 0.5, "upwind"
		}
		for n := range envelopePoints {
			x, ok := c.At(top * float64(n) / (envelopePoints - 1))
			if !ok {
				continue
			}
			still.X, still.Y = append(still.X, x.Airspeed), append(still.Y, far(&x, 0))
			if a.Wind > 0 && x.Airspeed >= a.Wind {
				up.X, up.Y = append(up.X, x.Airspeed), append(up.Y, far(&x, a.Wind))
			}
		}
		for _, l := range []chart.Line{still, up} {
			for _, y := range l.Y {
				p.Y.Max = max(p.Y.Max, 1.12*y)
			}
			if len(l.X) > 1 {
				p.Lines = append(p.Lines, l)
			}
		}
		mark := func(name string, x *flight.Cruise, wind float64) {
			p.Points = append(p.Points, chart.Points{Family: name, Hollow: true, Ink: k.Class,
				X: []float64{x.Airspeed}, Y: []float64{far(x, wind)}})
		}
		mark("best range", &c.Flight.Range, 0)
		if x, ok := c.Against(a.Wind); ok && a.Wind > 0 {
			mark("best range upwind", &x, a.Wind)
		}
		if x, ok := c.At(a.Airspeed); ok && a.Airspeed > 0 {
			mark("airspeed asked for", &x, 0)
		}
		p.X.Max = max(p.X.Max, pastTop*top)
	}
	return p
}

// rangeNote says what the ranges are of.
func rangeNote(all []Flown) string {
	a := &all[0].Craft.Model.Assume
	text := " Range until the usable charge"
	if a.LandingReserve > 0 {
		text += fmt.Sprintf(" less a landing reserve of %.3g %%", 100*a.LandingReserve)
	}
	text += " is drawn or the voltage floor is reached"
	var winds []string // each is flown in that of its scenario
	for _, k := range all {
		if wind := fmt.Sprintf("%.3g", k.Craft.Model.Assume.Wind); wind != "0" && !slices.Contains(winds, wind) {
			winds = append(winds, wind)
		}
	}
	if len(winds) > 0 {
		text += "; upwind, against " + texts.JoinAnd(winds) + " m/s"
	}
	return text + "."
}

// topsOf are the top speeds of designs, each with the limits of its classes.
func topsOf(all []Flown) (tops []finds) {
	for _, k := range all {
		for _, limit := range k.Limits {
			tops = append(tops, finds{tenths(k.Craft.Flight.Top.Airspeed) + " m/s",
				limit + words.Star(len(k.Craft.Warnings()) > 0)})
		}
	}
	return tops
}
