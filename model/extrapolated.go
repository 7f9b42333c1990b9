package model

import (
	"fmt"

	"rotorsieve/model/rotor"
)

// Band is a range of propeller diameters with the extent of the measurements that the
// model was compared with there. Within it a state is interpolated, beyond it rests on
// theory.
type Band struct {
	Name string // "4 to 7 in"
	// Tunnel and Stand are the highest tip Mach numbers in the wind tunnel and on thrust
	// stands, at the speed of sound at 15 degC since the temperature was not recorded;
	// 0 for none. Stands that were read as a check only do not count.
	Tunnel, Stand float64
	Reynolds      Bound // of the section at 75 % radius, in the standard atmosphere at sea level
}

// Bands are those of all diameters, from the smallest up. Measured: testdata of
// package rotor and of the stand, sources there.
var Bands = [...]Band{
	{"up to 4 in", 0.26, 0.25, Bound{4e3, 48e3}},
	{"4 to 7 in", 0.20, 0.39, Bound{4e3, 75e3}},
	{"7 to 10 in", 0.29, 0, Bound{10e3, 103e3}},
	{"above 10 in", 0.41, 0, Bound{14e3, 169e3}},
}

// BandOf is the band of a diameter in m. One of 4 in is of the first, those of 7 and
// 10 in are of the third.
func BandOf(diameter float64) *Band { return &Bands[bandAt(diameter)] }

func bandAt(diameter float64) int {
	const rounded = 1e-6 // in, by which a diameter in m may miss a round one
	switch D := diameter / inch; {
	case D <= 4+rounded:
		return 0
	case D < 7-rounded:
		return 1
	case D <= 10+rounded:
		return 2
	}
	return 3
}

// TipMach is the highest tip Mach number that was measured.
func (b *Band) TipMach() float64 { return max(b.Tunnel, b.Stand) }

// MeasuredTipMach is the highest tip Mach number that was measured of the band of a
// diameter in m, or of the propeller itself, s, where that is not nil.
func MeasuredTipMach(diameter float64, s *rotor.Specimen) float64 {
	highest := BandOf(diameter).TipMach()
	if s != nil {
		for _, p := range s.Points {
			highest = max(highest, rotor.TipSpeed(s.Diameter, p.N)/s.Air.SoundSpeed)
		}
	}
	return highest
}

// MeasuredTipMach is the highest tip Mach number measured for the propeller or its size.
func (p *Propeller) MeasuredTipMach() float64 {
	if p.Fit.Own() {
		return MeasuredTipMach(p.Diameter, p.Fit.From.Specimen)
	}
	return MeasuredTipMach(p.Diameter, nil)
}

// by names what measured the highest tip Mach number.
func (b *Band) by() string {
	if b.Stand > b.Tunnel {
		return "thrust stand"
	}
	return "wind tunnel"
}

// ValidBlades are the diameters, in m, near which three and four blades as the trade
// sells them were measured.
var ValidBlades = Bound{4 * inch, 6 * inch}

// MostBlades is the highest number of blades that was measured at any diameter.
const MostBlades = 4

// BladeGap says how a number of blades was not measured at a diameter.
type BladeGap int

// The gaps.
const (
	NoBladeGap      BladeGap = iota // it was measured
	BladesNever                     // more than MostBlades, at no size
	BladesElsewhere                 // three and four blades, near 5 in alone: ValidBlades
)

// BladesBeyond gives the gap of a number of blades at a diameter in m.
func BladesBeyond(diameter float64, blades int) BladeGap {
	switch {
	case blades > MostBlades:
		return BladesNever
	case blades > 2 && !ValidBlades.Contains(diameter):
		return BladesElsewhere
	}
	return NoBladeGap
}

// Extrapolations lists what of a craft lies beyond what was measured at its size but
// within the limits of the model. They are notes and not warnings, since full throttle
// is beyond on nearly all crafts. Each is of one of Validities.
func (c *Craft) Extrapolations() []Mark {
	var out marks
	p := c.Powertrain.Propeller
	at := bandAt(p.Diameter)
	b, limit := &Bands[at], validBands[at]
	reached := p.MeasuredTipMach()
	mach := func(at Moment, v float64) {
		if v > reached && v <= ValidTipMach {
			out.add(Mark{Limit: limit, Of: OfTipMach, At: at, Value: v, Other: reached})
		}
	}
	mach(FullThrottle, c.tipSpeed(c.Powertrain.Full.Speed)/c.Model.Air.SoundSpeed)
	if f := &c.Flight; c.Hover.OK && f.OK && f.Top.Speed > 0 {
		mach(FastestLevel, c.AdvancingMach(&f.Top))
	}
	if c.Hover.OK {
		re := c.reynolds(c.Hover.Speed)
		if re >= ValidReynolds && !b.Reynolds.Contains(re) && !p.Fit.Own() {
			out.add(Mark{Limit: limit, Of: OfReynolds, At: Hovering, Value: re})
		}
	}
	if BladesBeyond(p.Diameter, p.Geometry.Blades) != NoBladeGap && p.Fit.Share < LeastShare {
		out.add(Mark{Limit: validBlades, Of: OfBlades, Value: p.Diameter, Other: float64(p.Geometry.Blades)})
	}
	return out
}

// bandValidity is a band as a limit.
func bandValidity(b *Band) *Validity {
	tip := fmt.Sprintf("tip Mach number up to %.2f (%s", b.TipMach(), b.by())
	if b.Stand > b.Tunnel {
		tip += fmt.Sprintf(" at 5 in; wind tunnel %.2f", b.Tunnel)
	}
	return &Validity{
		What: "Propellers " + b.Name + ", measured",
		Range: fmt.Sprintf("%s), Reynolds number at 75 %% radius %.0f to %.0f; beyond by theory, noted and not marked",
			tip, b.Reynolds.Min, b.Reynolds.Max),
		Extrapolated: true,
		Band:         b,
	}
}
