package model

// HoldBack has an operated craft flown by a pilot who holds full throttle back to a part of
// its speed of rotation at rest, from that of hover to 1, so that a limit of full throttle
// is kept. All metrics of full throttle, and what is computed from it, are those of the
// point at part throttle from then on; the controller, bought for full duty, stays. Level
// flight keeps limits of its own, and climb is flown at full duty. What is changed of the
// powertrain is written to t, memory of the caller, which the craft has from then on. It is
// false, with the craft as it was, where there is no such point.
func (c *Craft) HoldBack(t *Powertrain, part float64) bool {
	from := c.Powertrain
	full := from.Drive.Throttled(&from.Propeller.Propulsor, &from.Full, part*from.Full.Speed)
	if !full.OK {
		return false
	}
	*t = *from
	t.Full, t.cooling = full, 0
	c.Powertrain = t
	c.thrustToWeight = rotors * full.Thrust / c.Weight()
	c.fullTime, c.hasBurst, c.explained = 0, false, false
	return true
}
