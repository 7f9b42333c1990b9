package model

import (
	"fmt"
	"math"

	"rotorsieve/model/flight"
	"rotorsieve/model/motor"
	"rotorsieve/model/rotor"
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

// mark says in what a craft lies outside one limit.
type mark struct {
	limit *Validity
	text  string
}

// marks gathers them.
type marks []mark

func (m *marks) add(limit *Validity, format string, args ...any) {
	*m = append(*m, mark{limit, fmt.Sprintf(format, args...)})
}

func (m marks) texts() []string {
	var out []string
	for _, x := range m {
		out = append(out, x.text)
	}
	return out
}

// Warnings says in what a craft lies outside the validity of the model, and
// which parts no maker sells. The results stand, but are to be trusted less.
// Each is of one of Validities.
func (c *Craft) Warnings() []string { return c.marks().texts() }

func (c *Craft) marks() marks {
	var out marks
	p := c.Powertrain.Propeller
	if !ValidDiameter.Holds(p.Diameter) {
		out.add(validDiameter, "propeller diameter of %.4g in is outside the validated 3 to 10 in", p.Diameter/0.0254)
	}
	if len(c.Model.Assume.Evidence.Propellers()) > 0 {
		if w := p.Fit.warning(); w != "" {
			out.add(validMeasured, "%s", w)
		}
	}
	if !ValidMass.Holds(c.Mass) {
		out.add(validMass, "all-up weight of %.4g kg is outside the validated 0.1 to 3 kg", c.Mass)
	}
	if !ValidTemperature.Holds(c.Model.Air.Temperature) {
		out.add(validTemperature, "air temperature of %.4g degC is outside the validated -10 to 40 degC", c.Model.Air.Temperature-273.15)
	}
	if !ValidTemperature.Holds(c.Model.Assume.PackTemperature) {
		out.add(validTemperature, "pack temperature of %.4g degC is outside the validated -10 to 40 degC", c.Model.Assume.PackTemperature-273.15)
	}
	if s := c.Powertrain.Drive.Motor.Stator; !s.Within() {
		limit := validStatorHeight
		if !validStator.Holds(s.Diameter) {
			limit = validStatorDiameter
		}
		out.add(limit, "stator of %.4g mm x %.4g mm is outside the %g to %g mm x %g to %g mm of the motor regressions",
			s.Diameter*1e3, s.Height*1e3, motor.MinDiameter*1e3, motor.MaxDiameter*1e3, motor.MinHeight*1e3, motor.MaxHeight*1e3)
	}
	if mach := c.tipSpeed(c.Powertrain.Full.Speed) / c.Model.Air.SoundSpeed; mach > ValidTipMach {
		out.add(validTipMach, "full-throttle tip Mach number of %.3g is above the validated %g", mach, ValidTipMach)
	}
	if re := c.reynolds(c.Hover.Speed); c.Hover.OK && re < ValidReynolds {
		out.add(validReynolds, "Reynolds number of %.0f at 75 %% radius in hover is below the validated %g", math.Round(re/100)*100, ValidReynolds)
	}
	if c.Powertrain.Full.Controller.Rating > motor.MaxRating {
		out.add(validRating, "controller rating of %g A is above the common %g A", c.Powertrain.Full.Controller.Rating, motor.MaxRating)
	}
	if r := c.Powertrain.Full.Controller.Rating; p.Board == motor.Joined && r > motor.MaxJoined {
		out.add(validJoined, "controller rating of %g A is above the %g A that boards with the flight controller commonly have", r, motor.MaxJoined)
	}
	if c.Hover.OK {
		c.hot(&out)
		c.flightMarks(&out)
	}
	return out
}

// hot says where a motor has no steady temperature, or one above what windings
// stand.
func (c *Craft) hot(out *marks) {
	m := &c.Powertrain.Drive.Motor
	for _, x := range []struct {
		where string
		heat  motor.Heat
	}{{"in hover", c.hoverHeat()}, {"in cruise", c.cruiseHeat()}} {
		if x.where == "in cruise" && c.Flight.Endurance.Airspeed == 0 {
			break // it does not cruise, or has not been flown
		}
		switch {
		case m.Runaway(x.heat):
			out.add(validHeat, "motors run away thermally %s: their losses grow faster than the air takes them", x.where)
		case m.Steady(x.heat) >= motor.BurstLimit:
			out.add(validHeat, "motor temperature %s is above %g degC", x.where, motor.BurstLimit-273.15)
		}
	}
}

// flightMarks says where level flight lies outside the model of inclined flow.
func (c *Craft) flightMarks(out *marks) {
	f := &c.Flight
	switch {
	case f.Top.Speed == 0:
		return // not flown
	case !f.OK:
		out.add(validFlight, "level flight: the weight is outside what the propellers carry within the rotor model")
		return
	case f.Limit == flight.ByPropeller:
		out.add(validFlight, "top speed is bounded by the speeds of rotation that the rotor model covers, not by the craft")
		return
	}
	for _, x := range []struct {
		what string
		c    *flight.Cruise
	}{{"the airspeed of least power", &f.Endurance}, {"the airspeed of best range", &f.Range}, {"top speed", &f.Top}} {
		tilt, _ := c.attitude(x.c)
		if mu := x.c.Airspeed * math.Cos(tilt) / c.tipSpeed(x.c.Speed); mu > ValidInFlow {
			out.add(validInFlow, "flow along the discs is %.2g of the tip speed at %s, above the validated %g", mu, x.what, ValidInFlow)
		}
	}
	if mach := c.AdvancingMach(&f.Top); mach > ValidTipMach {
		out.add(validFlightMach, "tip Mach number of %.3g at top speed is above the validated %g", mach, ValidTipMach)
	}
}

// tipSpeed is that of the blades at n rev/s, in m/s.
func (c *Craft) tipSpeed(n float64) float64 {
	return rotor.TipSpeed(c.Powertrain.Propeller.Diameter, n)
}

// AdvancingMach is the Mach number of the advancing blade tips in one of the craft's
// level flights.
func (c *Craft) AdvancingMach(x *flight.Cruise) float64 {
	tilt, _ := c.attitude(x)
	sin, cos := math.Sincos(tilt)
	return math.Hypot(c.tipSpeed(x.Speed)+x.Airspeed*cos, x.Airspeed*sin) / c.Model.Air.SoundSpeed
}

// reynolds is that of a blade at 75 % radius at n rev/s.
func (c *Craft) reynolds(n float64) float64 {
	s, err := rotor.New(c.Powertrain.Propeller.Geometry, c.Model.Air)
	if err != nil {
		panic("model: a propeller that has been built is refused: " + err.Error())
	}
	return s.Reynolds(n)
}
