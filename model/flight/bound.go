package flight

import (
	"rotorsieve/model/frame"
	"rotorsieve/model/motor"
	"rotorsieve/model/pack"
)

// Bound is what level flight can at most give: no craft that is as heavy or
// heavier, with the same propellers and motors, as many cells in series, and a
// pack and controllers of as much resistance or more, flies faster or on less.
type Bound struct {
	Top      float64 // airspeed, m/s
	Power    float64 // W, at the pack's mean voltage
	PowerPer float64 // power over airspeed, W s/m

	// At Top, where full duty bounds it: the motors' current over that of full
	// throttle at rest, at most 1, which is no less for all those crafts, and the
	// speed of the slipstream in m/s.
	Share, Wash float64

	slow, far draw
	volts     float64 // loaded, at the airspeed of least power, V
	farVolts  float64 // and at that of PowerPer, V
	speed     float64 // airspeed of PowerPer, m/s
}

// draw is where the power of a level flight goes, or that over the airspeed.
type draw struct {
	steady    float64 // does not follow the mass, W
	switching float64 // follows the loaded voltage, W
	chop      float64 // chopping loss at an infinite supply voltage, W
	part      float64 // share of it lost at the duty
	duty      float64
}

// drawn splits the power of a level flight.
func (d *Drive) drawn(x *Cruise) draw {
	free := max(0, 1-x.Duty)
	return draw{
		steady:    d.steady(),
		switching: frame.Rotors * d.Motor.Switching(x.Current) * x.PackVoltage,
		chop:      frame.Rotors * d.Motor.ChopScale(x.Duty*x.PackVoltage),
		part:      free * free,
		duty:      x.Duty,
	}
}

// below bounds a power in W from below for a mass that is times as much, with which the
// power grows to exponent, and a loaded voltage lower by a part sag. The mean voltage of
// the pulses grows no faster than the mass, and only by it can the chopping loss fall.
func (a *draw) below(power, sag, times, exponent float64) float64 {
	free := max(0, 1-a.duty*times/(1-sag))
	spun := power - a.steady - a.switching*sag - a.chop*a.part
	return a.steady + spun*(1+(times-1)*exponent) + a.chop*free*free
}

// loading is below for a pack on which a flight of a power in W would have a loaded voltage
// of volts with the least resistance. A craft that draws less than the bound without sag
// loads its pack no further than that bound would, and so draws no less than the bound with
// that sag.
func (a *draw) loading(power, volts, times, exponent float64, k *pack.Pack) float64 {
	most := a.below(power, 0, times, exponent)
	loaded, _ := k.Loaded(most)
	return min(most, a.below(power, min(max(0, 1-loaded/volts), 0.5), times, exponent))
}

// For gives power in W and power over airspeed in W s/m for a mass that is times as much,
// at least 1, and for a pack whose voltage falls to volts in hover: no lower in the flight
// of least power. The power that turns the rotors grows faster than the mass (the
// induced part with its power of 1.5 in hover, of 2 at one airspeed), and over
// airspeed faster than its power of 2/3, with which the area of the body grows.
func (b *Bound) For(times, volts float64, k *pack.Pack) (power, per float64) {
	sag := min(max(0, 1-volts/b.volts), 0.5)
	per = b.far.loading(b.PowerPer*b.speed, b.farVolts, times, 2.0/3, k) / b.speed
	return b.slow.below(b.Power, sag, times, 1), per
}

// BoundMargin covers what a bound leaves out. Power and turns at an airspeed grow
// with mass, and the pack's loaded voltage falls with its resistance, but for
// three effects that are small: a heavier craft tilts less at one airspeed, which
// unloads propellers near the end of their pitch; it flies farthest at a higher
// airspeed, where a steady power counts less; and numbers are read between nodes.
// That the margin suffices is measured, not proved: see the test of model.Reach.
const BoundMargin = 0.002

// farMargin is that of power over airspeed, whose minimum is sought with the pack's mean
// voltage: where it sags by much, a craft that its top speed keeps from there may be better
// off. Chosen from measurements, see DEVELOPERS.md.
const farMargin = 0.005

// topMargin is that of the top airspeed: with little pitch a heavier craft, which
// tilts less, may be a little faster. Chosen from measurements, see DEVELOPERS.md.
const topMargin = 0.01

// shareMargin is that of the share of current. Blades of much pitch, stalled at rest,
// draw more in flight: there the pack's limit may come before full duty, and no more
// than the current at rest is certain. Chosen from measurements, see DEVELOPERS.md.
const shareMargin = 0.06

// Bound bounds the level flight of crafts of a mass in kg or more, for a drive of
// the least resistance and a controller of the highest rating among them; n in
// rev/s is about the speed of full throttle at rest. It is false where nothing
// can be said.
func (d *Drive) Bound(p *Propulsor, e *Envelope, c motor.Controller, mass, n float64) (Bound, bool) {
	var b Bound
	var r row
	if !e.find(&r, mass) {
		return b, false
	}
	end := float64(r.level.nodes - 1)
	var slow, far Cruise
	d.least(&slow, &r.level, c, r.least.power, false, end)
	d.least(&far, &r.level, c, r.least.far, true, end)
	if slow.Airspeed == 0 || far.Airspeed == 0 {
		return b, false
	}
	b.volts = slow.PackVoltage
	b.slow = d.drawn(&slow)
	b.Power = slow.Power * (1 - BoundMargin)
	if slow.Power/slow.Airspeed < far.Power/far.Airspeed {
		far = slow
	}
	b.far, b.farVolts, b.speed = d.drawn(&far), far.PackVoltage, far.Airspeed
	b.PowerPer = far.Power / far.Airspeed * (1 - farMargin)
	return b, d.Faster(&b, p, e, c, mass, n)
}

// Faster finds the top of a bound again, for a pack of less resistance.
func (d *Drive) Faster(b *Bound, p *Propulsor, e *Envelope, c motor.Controller, mass, n float64) bool {
	var r row
	if !e.find(&r, mass) {
		return false
	}
	u, s, ok := d.exhausted(&r.level, c, r.least.power, n)
	b.Top = s.airspeed(u) * (1 + topMargin)
	n, Q := s.turn(u)
	b.Share = min(1, d.Motor.Current(Q, n)/d.Throttle(p, c).Current) * (1 - shareMargin)
	_, b.Wash = r.level.attitude(u)
	return ok
}
