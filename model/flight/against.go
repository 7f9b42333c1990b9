package flight

import (
	"math"

	"rotorsieve/model/motor"
)

// At gives steady level flight at an airspeed in m/s of a craft whose flight f has been
// found, with the pack at its mean voltage. It is false past the top airspeed, and where
// that voltage does not give the duty.
func (d *Drive) At(e *Envelope, f *Flight, c motor.Controller, mass, airspeed float64) (Cruise, bool) {
	if !f.OK || !(airspeed <= f.Top.Airspeed) {
		return Cruise{}, false
	}
	x, ok := d.Level(e, c, mass, airspeed)
	return x, ok && x.Duty <= 1
}

// Against gives the level flight, of those of At, that draws the least power over the speed
// over ground into a head wind in m/s; below 0 is a tail wind. It is false where none comes
// forward.
func (d *Drive) Against(e *Envelope, f *Flight, c motor.Controller, mass, wind float64) (Cruise, bool) {
	var x Cruise
	var r row
	if !f.OK || !(f.Top.Airspeed > wind) || !e.find(&r, mass) {
		return x, false
	}
	d.against(&x, &r.level, c, wind, f.Top.place)
	if !x.OK || x.Duty > 1 { // the mean voltage ends before that of full throttle
		d.against(&x, &r.level, c, wind, d.sustained(&r.level, c, f.Top.place))
	}
	return x, x.OK && x.Airspeed > wind && x.Duty <= 1
}

// sustained is the last place up to a top that the pack's mean voltage keeps up, by
// halving, since beyond there may be no operating point at all.
func (d *Drive) sustained(p *path, c motor.Controller, top float64) float64 {
	lo, hi := 0.0, top
	for hi-lo > 1e-9 {
		mid := (lo + hi) / 2
		s := p.about(mid)
		n, Q := s.turn(mid)
		if at := d.Turn(c, d.Pack.Mean, n, Q); at.OK && at.Duty <= 1 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}

// against fills in the flight of Against up to a place, whatever its duty: the best node,
// and about it by golden sections, since power over the speed over ground has a pole where
// the craft stands still.
func (d *Drive) against(x *Cruise, p *path, c motor.Controller, wind, top float64) {
	per := func(V, n, Q float64) float64 {
		if V <= wind {
			return math.Inf(1)
		}
		var at Point
		if d.turn(&at, c, d.Pack.Mean, n, Q); !at.OK {
			return math.Inf(1)
		}
		return at.Power / (V - wind)
	}
	best, at := math.Inf(1), top
	for j := 0; float64(j) <= top; j++ {
		if P := per(p.node(j)); P < best {
			best, at = P, float64(j)
		}
	}
	var s stretch
	p.fill(&s, int(at))
	between := func(u float64) float64 {
		n, Q := s.turn(u)
		return per(s.airspeed(u), n, Q)
	}
	const steps = 22 // to a part in 2e4 of a node, whose square is nothing
	golden := (math.Sqrt(5) - 1) / 2
	lo, hi := max(0, at-1), min(at+1, top)
	a, b := hi-golden*(hi-lo), lo+golden*(hi-lo)
	fa, fb := between(a), between(b)
	for range steps {
		if fa < fb { // where the craft stands still at both, what moves is faster
			hi, b, fb = b, a, fa
			a = hi - golden*(hi-lo)
			fa = between(a)
		} else {
			lo, a, fa = a, b, fb
			b = lo + golden*(hi-lo)
			fb = between(b)
		}
	}
	u := (lo + hi) / 2
	if hi == top { // the end itself
		u = top
	}
	d.steer(x, &s, c, u)
}
