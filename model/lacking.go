package model

import "rotorsieve/model/flight"

// Lack is an operating point that a craft lacks, and why.
type Lack struct {
	Hover bool // otherwise full throttle at rest
	Why   flight.Lack

	Speed          float64 // at which the rotor model ends, or begins, rev/s; 0 where Why is no speed
	TipMach        float64 // at Speed
	Thrust         float64 // that hover asks of each propeller, N
	Duty           float64 // that hover would need, where Why is flight.PastDuty
	ThrustToWeight float64 // static; 0 without full throttle
}

// Lacking says which operating points a craft lacks and why: full throttle at rest,
// and hover. It is empty for a craft that has both.
func (c *Craft) Lacking() []Lack {
	t := c.Powertrain
	p := &t.Propeller.Propulsor
	slow, fast := p.Table.SpeedRange()
	var out []Lack
	add := func(x Lack) {
		switch x.Why {
		case flight.TooFast:
			x.Speed = fast
		case flight.TooSlow:
			x.Speed = slow
		}
		x.TipMach = c.tipSpeed(x.Speed) / c.Model.Air.SoundSpeed
		out = append(out, x)
	}
	if why := t.Drive.StaticLack(p, &t.Full); why != flight.NoLack {
		add(Lack{Why: why})
	}
	thrust := c.Mass * gravity / rotors
	if why, duty := t.Drive.HoverLack(p, t.Full.Controller, thrust); why != flight.NoLack {
		x := Lack{Hover: true, Why: why, Thrust: thrust, Duty: duty}
		if t.Full.OK {
			x.ThrustToWeight = rotors * t.Full.Thrust / (c.Mass * gravity)
		}
		add(x)
	}
	return out
}
