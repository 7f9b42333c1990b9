package model

import (
	"math"

	"rotorsieve/model/root"
)

// CeilingLimit is what sets the ceiling of a craft.
type CeilingLimit int

// Limits of the ceiling.
const (
	ByReserve  CeilingLimit = iota // static thrust to weight has fallen to the reserve
	ByAltitude                     // the highest accepted altitude
	ByAir                          // the coldest air that is accepted
	ByRotor                        // the fastest turns that the rotor model covers
	NoCeiling                      // less thrust than the reserve everywhere
)

// Explain computes what only the data sheet of one design shows, the metrics of
// StageExplain, in some tens of milliseconds.
func (c *Craft) Explain() {
	c.ceiling, c.ceilingBy = c.findCeiling()
	c.explained = true
}

// Explained says whether Explain has been called.
func (c *Craft) Explained() bool { return c.explained }

// CeilingIsLeast says whether the ceiling is only the highest altitude that the model
// reaches, after Explain: that of the craft is at least so high.
func (c *Craft) CeilingIsLeast() bool {
	return c.ceilingBy == ByAltitude || c.ceilingBy == ByAir || c.ceilingBy == ByRotor
}

// CeilingLimit is what sets the ceiling, after Explain.
func (c *Craft) CeilingLimit() CeilingLimit { return c.ceilingBy }

// findCeiling is the altitude in m at which static thrust to weight has fallen to
// the reserve of the assumptions, in air whose temperature differs from the standard's
// as it does where the craft was judged; it may be below that altitude. The rotor is solved anew
// at each altitude that is tried. The altitude is at most the highest that the
// limits allow, and NaN where there is none.
func (c *Craft) findCeiling() (float64, CeilingLimit) {
	m := c.Model
	place := m.Assume.Altitude
	standard, err := m.parameters.Air.Offset(place, 0)
	if err != nil {
		panic("model: air that the craft was judged in is refused: " + err.Error())
	}
	offset := m.Air.Temperature - standard.Temperature
	// spare is thrust to weight less the reserve; it falls with the
	// altitude. Where the model does not cover it, what bounds it is not ByReserve.
	spare := func(altitude float64) (float64, CeilingLimit) {
		a, err := m.parameters.Air.Offset(altitude, offset)
		if err != nil {
			return math.NaN(), ByAir
		}
		up := *m
		up.Air = a
		p, err := up.PropellerOf(c.Powertrain.Propeller.Geometry)
		if err != nil {
			return math.NaN(), ByRotor
		}
		f := c.Powertrain.Drive.Throttle(&p.Propulsor, c.Powertrain.Full.Controller)
		if !f.OK {
			return math.NaN(), ByRotor
		}
		return rotors*f.Thrust/(c.Mass*gravity) - m.Assume.ThrustReserve, ByReserve
	}
	const tol = 1 // m
	lo, hi := place, AltitudeBound.Max
	flo := c.thrustToWeight - m.Assume.ThrustReserve
	fhi, by := spare(hi)
	switch {
	case flo < 0: // the ceiling is below, if anywhere
		hi, fhi = lo, flo
		lo = AltitudeBound.Min
		var below CeilingLimit
		if flo, below = spare(lo); below != ByReserve || flo < 0 {
			return math.NaN(), NoCeiling
		}
	case by != ByReserve: // the model does not reach so high
		fhi = flo
		hi = root.Last(func(altitude float64) bool {
			f, limit := spare(altitude)
			if limit != ByReserve {
				by = limit
				return false
			}
			fhi = f
			return true
		}, lo, hi, tol)
		if fhi >= 0 {
			return hi, by
		}
	case fhi >= 0:
		return hi, ByAltitude
	}
	// Thrust falls almost in a line with altitude: two or three tries, each of which solves
	// the rotor anew, by the line between the ends.
	x := hi
	for range 30 {
		y := lo + (hi-lo)*flo/(flo-fhi)
		if math.Abs(y-x) <= tol {
			return y, ByReserve
		}
		x = y
		if fx, _ := spare(x); fx >= 0 {
			lo, flo = x, fx
		} else {
			hi, fhi = x, fx
		}
	}
	return x, ByReserve
}
