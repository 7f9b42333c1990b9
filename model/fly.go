package model

import "rotorsieve/model/flight"

// Envelope is what the propeller must do to carry a craft through the air. It is
// built when it is first asked for, in a few milliseconds.
func (p *Propeller) Envelope() *flight.Envelope { return p.envelope() }

// Fly finds level flight, and its endurance and range. Airspeeds are 0 for a weight that
// the propellers carry only at the end of the rotor model, if at all; see Warnings.
func (c *Craft) Fly() {
	t := c.Powertrain
	t.Drive.Fly(&c.Flight, t.Propeller.Envelope(), &t.Full, c.Mass, &c.Hover, c.Model.Assume.TiltLimit)
	c.CruiseTime = t.Drive.Pack.Endurance(c.Flight.Endurance.Power)
	c.Range = c.Flight.Range.Airspeed * t.Drive.Pack.Endurance(c.Flight.Range.Power)
}

// Level gives the craft's steady level flight at an airspeed in m/s, with the pack at its
// mean voltage. It is false as flight.Drive.Level is.
func (c *Craft) Level(airspeed float64) (flight.Cruise, bool) {
	t := c.Powertrain
	return t.Drive.Level(t.Propeller.Envelope(), t.Full.Controller, c.Mass, airspeed)
}

// TopLimit is what bounds the top speed.
type TopLimit struct {
	By       flight.Limit
	Required bool // the pack, by what is required of it and not its own burst current and floor
}

// TopLimit says what bounds the top speed.
func (c *Craft) TopLimit() TopLimit {
	a := &c.Model.Assume
	by := c.Flight.Limit
	return TopLimit{by, by == flight.ByPack && (a.PackLoad != UsualPackLoad || a.CellMargin != 0)}
}

// attitude gives the tilt in rad and the speed of the slipstream in m/s of one of
// the craft's level flights. Both are 0 where it does not fly level.
func (c *Craft) attitude(x *flight.Cruise) (tilt, wash float64) {
	if x.Airspeed == 0 {
		return 0, 0
	}
	return c.Powertrain.Propeller.Envelope().Attitude(c.Mass, x)
}

// Thrusts compares, at an airspeed in m/s, the thrust that level flight needs with
// that of full throttle in the same flow. It trims anew, in a fraction of a
// millisecond, and serves figures and data sheets; the top speed of a sweep reads
// the envelope. It is false as flight.Drive.Thrusts is.
func (c *Craft) Thrusts(airspeed float64) (flight.Thrusts, bool) {
	t := c.Powertrain
	body := c.Model.parameters.Flight.Body(c.Mass, c.Model.hull(&t.Propeller.Parts))
	return t.Drive.Thrusts(&t.Propeller.Propulsor, t.Full.Controller, c.Mass, body, airspeed)
}
