package model

import (
	"math"

	"rotorsieve/model/flight"
	"rotorsieve/model/motor"
)

// settled is the part of a step that a response time covers.
const settled = 0.63

// between is the speed of rotation in rev/s at which thrust has gone through a
// part of the step from hover to full throttle. It is found from the thrust, since
// that does not go with the square of the speed: its coefficient grows with it.
// It is NaN where the rotor model does not cover that thrust.
func (c *Craft) between(part float64) float64 {
	t := c.Powertrain
	hover := c.Mass * gravity / rotors
	n, _, ok := t.Propeller.Hold(hover + part*(t.Full.Thrust-hover))
	if !ok {
		return math.NaN()
	}
	return n
}

func (c *Craft) rotorInertia() float64 {
	p := c.Powertrain.Propeller
	return c.Model.parameters.Flight.RotorInertia(p.Blades/rotors, p.Diameter/2, &c.Powertrain.Drive.Motor)
}

type spinner = func(d *flight.Drive, p *flight.Propulsor, c motor.Controller, inertia, duty, from, to float64) float64

// spin is the time in s between two speeds at a duty. Where the second is not
// reached, as with hover near full throttle, it is NaN, as where there is none.
func (c *Craft) spin(spin spinner, duty, from, to float64) float64 {
	if math.IsNaN(to) {
		return to
	}
	t := c.Powertrain
	s := spin(&t.Drive, &t.Propeller.Propulsor, t.Full.Controller, c.rotorInertia(), duty, from, to)
	if math.IsInf(s, 1) {
		return math.NaN()
	}
	return s
}

// up and down are the times of thrust response in s, by Spin or by its bound.
func (c *Craft) up(spin spinner) float64 {
	return c.spin(spin, c.Powertrain.Full.Duty, c.Hover.Speed, c.between(settled))
}

func (c *Craft) down(spin spinner) float64 {
	t := c.Powertrain
	duty := t.Drive.Duty(t.Full.Controller, c.Hover.Speed, c.Hover.Torque)
	return c.spin(spin, duty, t.Full.Speed, c.between(1-settled))
}

// rollInertia is the craft's about the axis of its flight, in kg m2.
func (c *Craft) rollInertia() float64 {
	t := c.Powertrain
	return c.Model.parameters.Flight.RollInertia(t.tip(), t.Arm.Mass(), c.body(), c.lateral())
}

// body is the mass in kg of all that is neither arm nor at the end of one.
func (c *Craft) body() float64 {
	t := c.Powertrain
	return c.Mass - rotors*(t.tip()+t.Arm.Mass())
}

// lateral is the distance in m of a motor from the axis of flight.
func (c *Craft) lateral() float64 { return c.Powertrain.Propeller.Wheelbase / (2 * math.Sqrt2) }

// hardFlightTime is the time in s of a flight of hover and a share flown hard.
func (c *Craft) hardFlightTime() float64 {
	t := c.Powertrain
	k := &t.Drive.Pack
	i := c.Model.parameters.Flight.HardCurrent * t.Full.PackCurrent
	share := c.Model.Assume.HardShare
	return k.Endurance((1-share)*c.Hover.Power + share*i*math.Max(0, k.Mean-k.R*i))
}
