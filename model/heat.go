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
	return c.Powertrain.Drive.Motor.Reach(c.fullHeat(), c.steady()+by, motor.BurstLimit)
}

// rimSpeed is the speed in m/s of the rim of the stators without load, by the label's KV
// on a full pack.
func (c *Craft) rimSpeed() float64 {
	m := &c.Powertrain.Drive.Motor
	return math.Pi * m.Stator.Diameter * m.KV / 60 * c.Powertrain.Drive.Pack.Rested(0)
}
