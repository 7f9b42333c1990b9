package model

import (
	"fmt"
	"math"

	"rotorsieve/model/flight"
	"rotorsieve/model/motor"
)

// Limits within which the model has been compared with measurements, or its
// regressions derived.
var (
	ValidDiameter    = Bound{0.0254 * 3, 0.0254 * 10}
	ValidMass        = Bound{0.1, 3}
	ValidTemperature = Bound{263.15, 313.15}
)

// ValidInFlow is the highest ratio of flow along the disc to tip speed at which
// the error of inclined flow against blade-element solutions stays near that of
// the rotor model itself, 10 to 17 %, and ValidReynolds that
// below which the measurements are few.
const (
	ValidInFlow   = 0.3
	ValidReynolds = 20e3
)

// ValidTipMach is the highest tip Mach number that the model claims.
const ValidTipMach = 0.8

// Warnings says in what a craft lies outside the validity of the model, and
// which parts no maker sells. The results stand, but are to be trusted less.
func (c *Craft) Warnings() []string {
	var out []string
	note := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	p := c.Powertrain.Propeller
	if !ValidDiameter.Holds(p.Diameter) {
		note("propeller diameter of %.4g in is outside the validated 3 to 10 in", p.Diameter/0.0254)
	}
	if len(c.Model.Assume.Measured) > 0 {
		if w := p.Fit.warning(); w != "" {
			out = append(out, w)
		}
	}
	if !ValidMass.Holds(c.Mass) {
		note("all-up weight of %.4g kg is outside the validated 0.1 to 3 kg", c.Mass)
	}
	if !ValidTemperature.Holds(c.Model.Air.Temperature) {
		note("air temperature of %.4g degC is outside the validated -10 to 40 degC", c.Model.Air.Temperature-273.15)
	}
	if !ValidTemperature.Holds(c.Model.Assume.PackTemperature) {
		note("pack temperature of %.4g degC is outside the validated -10 to 40 degC", c.Model.Assume.PackTemperature-273.15)
	}
	if s := c.Powertrain.Drive.Motor.Stator; !s.Within() {
		note("stator of %.4g mm x %.4g mm is outside the %g to %g mm x %g to %g mm of the motor regressions",
			s.Diameter*1e3, s.Height*1e3, motor.MinDiameter*1e3, motor.MaxDiameter*1e3, motor.MinHeight*1e3, motor.MaxHeight*1e3)
	}
	if mach := c.tipSpeed(c.Powertrain.Full.Speed) / c.Model.Air.SoundSpeed; mach > ValidTipMach {
		note("full-throttle tip Mach number of %.3g is above the validated %g", mach, ValidTipMach)
	}
	if re := c.reynolds(c.Hover.Speed); c.Hover.OK && re < ValidReynolds {
		note("Reynolds number of %.3g at 75 %% radius in hover is below the validated %g", re, ValidReynolds)
	}
	if c.Powertrain.Full.Controller.Rating > motor.MaxRating {
		note("controller rating of %g A is above the common %g A", c.Powertrain.Full.Controller.Rating, motor.MaxRating)
	}
	if c.Hover.Duty > 1 {
		note("hover throttle is above 100 %% at the pack's mean voltage")
	}
	if c.Hover.OK {
		out = append(out, c.hot()...)
		out = append(out, c.flightWarnings()...)
	}
	return out
}

// hot says where a motor has no steady temperature, or one above what windings
// stand.
func (c *Craft) hot() []string {
	m := &c.Powertrain.Drive.Motor
	switch h := c.hoverHeat(); {
	case m.Runaway(h):
		return []string{"motors run away thermally in hover: their losses grow faster than the air takes them"}
	case m.Steady(h) >= motor.BurstLimit:
		return []string{fmt.Sprintf("motor temperature in hover is above %g degC", motor.BurstLimit-273.15)}
	}
	return nil
}

// flightWarnings says where level flight lies outside the model of inclined flow.
func (c *Craft) flightWarnings() []string {
	f := &c.Flight
	switch {
	case f.Top.Speed == 0:
		return nil // not flown
	case !f.OK:
		return []string{"level flight: the weight is outside what the propellers carry within the rotor model"}
	case f.Limit == flight.ByPropeller:
		return []string{"top speed is bounded by the speeds of rotation that the rotor model covers, not by the craft"}
	}
	var out []string
	for _, x := range []struct {
		what string
		c    *flight.Cruise
	}{{"the airspeed of least power", &f.Endurance}, {"the airspeed of best range", &f.Range}, {"top speed", &f.Top}} {
		tilt, _ := c.attitude(x.c)
		if mu := x.c.Airspeed * math.Cos(tilt) / c.tipSpeed(x.c.Speed); mu > ValidInFlow {
			out = append(out, fmt.Sprintf("flow along the discs is %.2g of the tip speed at %s, above the validated %g", mu, x.what, ValidInFlow))
		}
	}
	if mach := c.tipSpeed(f.Top.Speed) / c.Model.Air.SoundSpeed; mach > ValidTipMach {
		out = append(out, fmt.Sprintf("tip Mach number of %.3g at top speed is above the validated %g", mach, ValidTipMach))
	}
	return out
}

// reynolds is that of a blade at 75 % radius at n rev/s.
func (c *Craft) reynolds(n float64) float64 {
	g := &c.Powertrain.Propeller.Geometry
	chord, _ := g.Blade.At(0.75)
	chord *= (1 + g.Correction.Chord) * g.Diameter / 2
	a := &c.Model.Air
	return a.Density * 0.75 * c.tipSpeed(n) * chord / a.Viscosity
}
