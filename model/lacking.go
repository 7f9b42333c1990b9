package model

import (
	"fmt"

	"rotorsieve/model/flight"
	"rotorsieve/model/unit"
)

// Lacking says in words which operating points a craft lacks and why, one line for
// each: full throttle at rest, and hover. It is empty for a craft that has both.
func (c *Craft) Lacking() []string {
	t := c.Powertrain
	p := &t.Propeller.Propulsor
	slow, fast := p.Table.SpeedRange()
	turns := func(n float64) string { return unit.Rotation.Unit("rpm").Format(n, 4) }
	mach := c.tipSpeed(fast) / c.Model.Air.SoundSpeed
	ends := fmt.Sprintf("%s, tip Mach %.3g, where the rotor model ends", turns(fast), mach)
	begins := fmt.Sprintf("%s, where the rotor model begins", turns(slow))
	var out []string
	switch t.Drive.StaticLack(p, &t.Full) {
	case flight.TooFast:
		out = append(out, "full throttle at rest would turn the propellers past "+ends)
	case flight.TooSlow:
		out = append(out, "full throttle at rest does not turn the propellers faster than "+begins)
	case flight.PastPower:
		out = append(out, "full throttle at rest asks for more power than the pack can give")
	}
	thrust := c.Mass * gravity / rotors
	switch lack, duty := t.Drive.HoverLack(p, t.Full.Controller, thrust); lack {
	case flight.PastDuty:
		line := fmt.Sprintf("hover would need %.4g %% duty at the pack's mean voltage", 100*duty)
		if t.Full.OK {
			line += fmt.Sprintf("; static thrust to weight is %.3g", rotors*t.Full.Thrust/(c.Mass*gravity))
		}
		out = append(out, line)
	case flight.PastPower:
		out = append(out, "hover asks for more power than the pack can give at its mean voltage")
	case flight.TooFast:
		out = append(out, fmt.Sprintf("hover asks for %.4g N of each propeller, which would turn past %s", thrust, ends))
	case flight.TooSlow:
		out = append(out, fmt.Sprintf("hover asks for %.4g N of each propeller, which would turn slower than %s", thrust, begins))
	}
	return out
}
