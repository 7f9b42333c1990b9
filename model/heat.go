package model

import (
	"math"

	"rotorsieve/model/flight"
	"rotorsieve/model/motor"
)

// hoverHeat is what warms a motor in hover.
func (c *Craft) hoverHeat() motor.Heat {
	t := c.Powertrain
	return motor.Heat{Current: c.Hover.Current, Speed: c.Hover.Speed, Air: c.Model.Air.Temperature,
		Chopping:    c.Hover.Chopping,
		Conductance: t.conductance(t.Propeller.Wash(c.Mass * gravity / rotors))}
}

// conductance is that of a motor in W/K in a slipstream of a speed in m/s.
func (t *Powertrain) conductance(wash float64) float64 {
	return t.Drive.Motor.Conductance(t.Propeller.Density * wash)
}

// Heat keeps the motors' temperature in hover and their cooling at full throttle, from
// which several metrics start, so that reading them takes less time; it changes no value.
// The craft has been operated. Power forgets what is kept of the powertrain.
func (c *Craft) Heat() {
	if c.hoverSteady == 0 {
		c.keepHeat()
	}
}

func (c *Craft) keepHeat() {
	c.hoverSteady, c.hoverPerWatt = c.steadySlope()
	if t := c.Powertrain; t.cooling == 0 { // the same for every payload
		t.cooling = t.fullCooling()
	}
}

// Burst is Heat that keeps the time at full throttle as well.
func (c *Craft) Burst() {
	if !c.hasBurst { // 0 is an answer too
		c.Heat()
		c.fullTime, c.hasBurst = c.burst(), true
	}
}

// steady is the temperature in K that the motors come to in hover.
func (c *Craft) steady() float64 {
	T, _ := c.steadySlope()
	return T
}

// steadySlope is steady with its growth with a loss of a motor, in K/W.
func (c *Craft) steadySlope() (T, perWatt float64) {
	if c.hoverSteady != 0 {
		return c.hoverSteady, c.hoverPerWatt
	}
	return c.Powertrain.Drive.Motor.SteadySlope(c.hoverHeat())
}

// fullCooling is the conductance of a motor at full throttle, at rest, in W/K.
func (t *Powertrain) fullCooling() float64 {
	if t.cooling != 0 {
		return t.cooling
	}
	return t.conductance(t.Propeller.Wash(t.Full.Thrust))
}

// fullHeat is what warms a motor at full throttle, at rest.
func (c *Craft) fullHeat() motor.Heat {
	t := c.Powertrain
	return motor.Heat{Current: t.Full.Current, Speed: t.Full.Speed, Air: c.Model.Air.Temperature,
		Chopping: t.Full.Chopping, Conductance: t.fullCooling()}
}

// cruiseHeat is what warms a motor at the airspeed of least power.
func (c *Craft) cruiseHeat() motor.Heat { return c.heatAt(&c.Flight.Endurance) }

// dash is the time in s from the motors' temperature in hover to their limit at top
// speed.
func (c *Craft) dash() float64 {
	return c.Powertrain.Drive.Motor.Reach(c.heatAt(&c.Flight.Top), c.steady(), motor.BurstLimit)
}

// heatAt is what warms a motor in level flight, in hover where there is none.
func (c *Craft) heatAt(x *flight.Cruise) motor.Heat {
	if x.Airspeed == 0 {
		return c.hoverHeat()
	}
	_, wash := c.attitude(x)
	return motor.Heat{Current: x.Current, Speed: x.Speed, Air: c.Model.Air.Temperature, Chopping: x.Chopping,
		Conductance: c.Powertrain.conductance(wash)}
}

// burst is the time in s from the motors' temperature in hover to their limit at
// full throttle.
func (c *Craft) burst() float64 {
	if c.hasBurst {
		return c.fullTime
	}
	return c.burstWarmer(0)
}

// burstWarmer is burst from a temperature so many kelvin higher.
func (c *Craft) burstWarmer(by float64) float64 {
	h := c.fullHeat()
	t := c.Powertrain.Drive.Motor.Reach(h, c.steady()+by, motor.BurstLimit)
	if c.BurstStated() {
		return c.asStated(h, t)
	}
	return t
}

// BurstStated says whether the time at full throttle rests on what the motor's owner states.
func (c *Craft) BurstStated() bool {
	k := c.Powertrain.Parts.Motor
	return k != nil && k.Burst.Known && k.Current.Known
}

// asStated is a time in s at full throttle of a motor that is stated to draw its most current for
// so long. It is taken to do that from cold, in the wash of full throttle: all times of the law of
// warming go with the heat that the motor holds, which is thereby known. Where the model has it
// draw that current for ever, the statement is of something else than heat, and bounds the time
// by the square of the current.
func (c *Craft) asStated(h motor.Heat, t float64) float64 {
	k := c.Powertrain.Parts.Motor
	most := h
	most.Current = k.Current.Value
	cold := c.Powertrain.Drive.Motor.Reach(most, h.Air, motor.BurstLimit)
	switch r := k.Current.Value / h.Current; {
	case cold == motor.Longest:
		return min(t, k.Burst.Value*r*r)
	case t == motor.Longest:
		return t
	}
	return min(t*k.Burst.Value/cold, motor.Longest)
}

// rimSpeed is the speed in m/s of the rim of the stators without load, by the label's KV
// on a full pack.
func (c *Craft) rimSpeed() float64 {
	m := &c.Powertrain.Drive.Motor
	return math.Pi * m.Stator.Diameter * m.KV / 60 * c.Powertrain.Drive.Pack.Rested(0)
}

// SourceOf is the source of the metric for a craft: of one that a part states besides the part's.
func (m *Metric) SourceOf(c *Craft) string {
	if m.Name == "burst-time" && c.BurstStated() {
		return m.Source + "; " + owner
	}
	return m.Source
}
