package flight

import "rotorsieve/model/motor"

// Lack is why an operating point does not exist.
type Lack int

// Reasons. NoLack is that of a point which exists.
const (
	NoLack    Lack = iota
	TooFast        // it is past the fastest turns that the rotor model covers
	TooSlow        // it is below the slowest of them
	PastPower      // the pack cannot give the power
	PastDuty       // it needs a duty above 1
)

// StaticLack says why a full-throttle point that Static found does not exist.
func (d *Drive) StaticLack(p *Propulsor, f *FullThrottle) Lack {
	_, _, holds := d.sag(f.Current)
	switch {
	case f.OK:
		return NoLack
	case f.Speed < p.nMax && !holds:
		return PastPower
	case f.Speed <= p.nMin:
		return TooSlow
	}
	return TooFast
}

// HoverLack says why Hover finds no point that gives the thrust in N on each
// rotor, and the duty that it would need where that is too much.
func (d *Drive) HoverLack(p *Propulsor, c motor.Controller, thrust float64) (Lack, float64) {
	h := d.Hover(p, c, thrust)
	switch {
	case h.OK:
		return NoLack, 0
	case h.Duty > 1:
		return PastDuty, h.Duty
	case h.Current > 0:
		return PastPower, 0
	case thrust < p.hold.least:
		return TooSlow, 0
	}
	return TooFast, 0
}
