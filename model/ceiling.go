package model

import (
	"math"

	"rotorsieve/model/air"
)

// Explain computes what only the data sheet of one design shows, in some tens of
// milliseconds: what StageExplain holds.
func (c *Craft) Explain() {
	c.ceiling, c.explained = c.findCeiling(), true
}

// findCeiling is the altitude in m at which static thrust to weight has fallen to
// the reserve of the assumptions, in air as far off the standard's temperature as
// where the craft was judged. The rotor is solved anew at each altitude that is
// tried. It is NaN where the craft has less than the reserve where it was judged,
// and at most the highest altitude that is accepted.
func (c *Craft) findCeiling() float64 {
	m := c.Model
	standard, err := air.Standard(m.Assume.Altitude)
	if err != nil {
		return math.NaN()
	}
	offset := m.Air.Temperature - standard.Temperature
	spare := func(altitude float64) float64 {
		a, err := air.Offset(altitude, offset)
		if err != nil {
			return math.NaN()
		}
		up := Model{Assume: m.Assume, Air: a}
		p, err := up.PropellerOf(c.Powertrain.Propeller.Geometry)
		if err != nil {
			return math.NaN()
		}
		f := c.Powertrain.Drive.Throttle(&p.Propulsor, c.Powertrain.Full.Controller)
		if !f.OK {
			return math.NaN()
		}
		return rotors*f.Thrust/(c.Mass*gravity) - m.Assume.ThrustReserve
	}
	const tol = 1 // m
	lo, hi := m.Assume.Altitude, AltitudeBound.Max
	flo, fhi := spare(lo), spare(hi)
	switch {
	case !(flo >= 0):
		return math.NaN()
	case fhi >= 0:
		return hi
	}
	// Thrust falls almost in a line with altitude.
	x, fx := hi, fhi
	for range 30 {
		y := lo + (hi-lo)*flo/(flo-fhi)
		if math.Abs(y-x) <= tol {
			return y
		}
		x, fx = y, spare(y)
		switch {
		case math.IsNaN(fx):
			return fx
		case fx >= 0:
			lo, flo = x, fx
		default:
			hi, fhi = x, fx
		}
	}
	return x
}
