package flight

import (
	"math"

	"rotorsieve/model/frame"
	"rotorsieve/model/motor"
	"rotorsieve/model/root"
)

// seek ends with a step whose square is nothing.
var seek = root.Secant{Step: converged}

// Limit is what bounds the airspeed of level flight.
type Limit int

// Limits, in the order in which they are looked for.
const (
	ByThrottle   Limit = iota // full duty
	ByPropeller               // the speeds of rotation that the rotor model covers
	ByPack                    // the pack's current or loaded voltage; see PackLimits
	ByController              // the controller's rated current
	ByTilt                    // the tilt that is allowed
)

// String names the limit.
func (l Limit) String() string {
	return [...]string{"full throttle", "propeller speed", "pack current or voltage", "controller current", "tilt"}[l]
}

// Cruise is steady level flight.
type Cruise struct {
	Airspeed float64 // m/s
	Point

	place float64 // in the envelope
}

// Flight is the level and vertical flight of a craft.
type Flight struct {
	Endurance Cruise // least power, at the pack's mean voltage
	Range     Cruise // least power over airspeed, at the same
	Top       Cruise // fastest, at the charge of full throttle
	Limit     Limit  // what bounds Top
	OK        bool   // false: the weight lies outside the envelope
}

// Fly finds the airspeeds of least power, of least power over airspeed and of
// the limits for a mass in kg that hovers at h, given full throttle at rest.
// Tilts above the one given in rad are excluded. Least power and range are not sought
// beyond the top airspeed. Where full duty, or the pack at its mean
// voltage, gives nothing but hover, the airspeed is 0.
func (d *Drive) Fly(f *Flight, e *Envelope, full *FullThrottle, mass float64, h *Point, tilt float64) {
	var r row
	ok := e.find(&r, mass)
	f.Endurance, f.Range, f.Top = Cruise{Point: *h}, Cruise{Point: *h}, Cruise{Point: *h}
	f.Limit, f.OK = ByPropeller, ok
	if !ok {
		return
	}
	c := full.Controller
	top := d.top(f, &r, full, tilt)
	d.least(&f.Endurance, &r.level, c, r.least.power, false, top)
	d.least(&f.Range, &r.level, c, r.least.far, true, top)
}

// Attitude gives the tilt of the discs from the level in rad, and the speed of
// the fully developed slipstream in m/s, of a mass in kg in level flight that was
// found in the envelope.
func (e *Envelope) Attitude(mass float64, x *Cruise) (tilt, wash float64) {
	r, ok := e.at(mass)
	if !ok {
		return 0, 0
	}
	return r.level.attitude(x.place)
}

// Climb finds the fastest vertical climb of a mass in kg at full throttle: its
// airspeed in m/s, and the speed of rotation in it. Both are 0 for a craft that
// full duty does not support, or outside the envelope.
func (d *Drive) Climb(e *Envelope, full *FullThrottle, mass float64) (airspeed, n float64) {
	r, ok := e.at(mass)
	if !ok {
		return 0, 0
	}
	u, s, ok := d.exhausted(&r.climb, full.Controller, 0, full.Speed)
	if !ok {
		return 0, 0
	}
	n, _ = s.turn(u)
	return s.airspeed(u), n
}

// Level gives steady level flight at an airspeed in m/s from the envelope, with
// the pack at its mean voltage. It is false outside the envelope, and where the
// pack cannot give the power.
func (d *Drive) Level(e *Envelope, c motor.Controller, mass, airspeed float64) (Cruise, bool) {
	var x Cruise
	r, ok := e.at(mass)
	if !ok {
		return x, false
	}
	p := &r.level
	j := 0
	for j < p.nodes-2 {
		if V, _, _ := p.node(j + 1); V >= airspeed {
			break
		}
		j++
	}
	s := p.about(float64(j))
	past := func(u float64) float64 { return airspeed - s.airspeed(u) }
	a, b := float64(j), float64(j+1)
	fa, fb := past(a), past(b)
	if !(fa >= 0 && fb <= 0) {
		return x, false
	}
	d.cruise(&x, p, c, seek.Between(past, a, b, fa, fb))
	return x, x.OK
}

// cruise fills in level flight at a place, unless the pack cannot give the power
// at its mean voltage.
func (d *Drive) cruise(x *Cruise, p *path, c motor.Controller, u float64) {
	s := p.about(u)
	d.steer(x, &s, c, u)
}

// steer is cruise with the nodes about the place.
func (d *Drive) steer(x *Cruise, s *stretch, c motor.Controller, u float64) {
	n, Q := s.turn(u)
	hover := x.Point
	if d.turn(&x.Point, c, d.Pack.Mean, n, Q); !x.OK {
		x.Point = hover
		return
	}
	x.Airspeed, x.place = s.airspeed(u), u
}

// least fills in the level flight in which power, or power over airspeed, is
// least, but not past the place top: walking downhill from node j, and between
// nodes by a parabola. The pack's voltage under load is taken for its mean, which
// hardly moves the minimum of the sum, since it enters only the loss to the
// controller's pulses.
func (d *Drive) least(x *Cruise, p *path, c motor.Controller, j int, far bool, top float64) {
	var s stretch
	last := p.nodes - 1
	j = max(1, min(j, last-1))
	p.fill(&s, j)
	at := func(j int) float64 { // at a node of the stretch
		k := j - int(s.first)
		n := s.n[k]
		P := d.draw(c, d.Motor.Current(s.Q[k], n), n, d.Pack.Mean)
		if far {
			P /= s.V[k]
		}
		return P
	}
	l, m, r := at(j-1), at(j), at(j+1)
	for j > 1 && l < m {
		j--
		p.fill(&s, j)
		l, m, r = at(j-1), l, m
	}
	for j < last-1 && r < m {
		j++
		p.fill(&s, j)
		l, m, r = m, r, at(j+1)
	}
	u := float64(j)
	switch bend := l - 2*m + r; {
	case l < m:
		u--
	case r < m:
		u++
	case bend > 0 && !math.IsInf(bend, 1):
		u += (l - r) / (2 * bend)
	}
	if u > top {
		d.cruise(x, p, c, top)
		return
	}
	d.steer(x, &s, c, u)
}

// top finds the top airspeed and what bounds it, and returns its place. A tilt in
// rad is not exceeded.
func (d *Drive) top(f *Flight, r *row, full *FullThrottle, tilt float64) float64 {
	p, c := &r.level, full.Controller
	u, s, ok := d.exhausted(p, c, r.least.power, full.Speed)
	f.Limit = ByThrottle
	if !ok {
		return 0
	}
	if u == float64(p.nodes-1) {
		f.Limit = ByPropeller
	}
	n, Q := s.turn(u)
	// At full duty the current falls with the speed: what keeps its limits at rest keeps
	// them in flight.
	within := n >= full.Speed && d.Keeps(full)
	for _, l := range [...]Limit{ByPack, ByController} {
		if !within && d.left(c, l, n, Q) < 0 {
			f.Limit = l
			u, s = d.before(p, c, l, u)
			n, Q = s.turn(u)
		}
	}
	if tilt < math.Pi/2 {
		lean := func(u float64) float64 { at, _ := p.attitude(u); return tilt - at }
		if left := lean(u); left < 0 {
			f.Limit = ByTilt
			u = seek.Between(lean, 0, u, tilt, left)
			s = p.about(u)
			n, Q = s.turn(u)
		}
	}
	if u == 0 {
		return 0
	}
	x := &f.Top
	x.Airspeed, x.place = s.airspeed(u), u
	d.turn(&x.Point, c, d.RestedTop, n, Q)
	if f.Limit == ByThrottle { // nothing is switched at full duty
		x.Duty, x.Chopping = 1, 0
		x.PackVoltage, _, x.OK = d.sag(x.Current)
		x.PackCurrent = frame.Rotors*x.Current + d.steady()/x.PackVoltage
		x.Power = x.PackVoltage * x.PackCurrent
	}
	return u
}

// exhausted finds the last place on a path that full duty reaches, with the
// nodes about it, given a node at which power is about least and the speed of
// rotation of full throttle at rest, near which it lies. It is false where full
// duty does not support the craft.
func (d *Drive) exhausted(p *path, c motor.Controller, slow int, n float64) (float64, stretch, bool) {
	at := func(j int) float64 {
		_, n, Q := p.node(j)
		return d.spare(c, n, Q)
	}
	last := p.nodes - 1
	lo, hi := slow, last
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; p.speed(mid) < n {
			lo = mid
		} else {
			hi = mid
		}
	}
	var s stretch
	p.fill(&s, lo)
	near := func(j int) float64 { // at a node of the stretch, if it is one
		if k := j - int(s.first); k >= 0 && k < 4 {
			return d.spare(c, s.n[k], s.Q[k])
		}
		return at(j)
	}
	flo := near(lo)
	for flo < 0 && lo > 0 {
		hi = lo
		lo--
		flo = near(lo)
	}
	if flo < 0 {
		return 0, s, false
	}
	hi = lo + 1
	fhi := near(hi)
	for fhi >= 0 {
		if hi == last {
			return float64(last), p.about(float64(last)), true
		}
		lo, flo = hi, fhi
		hi++
		fhi = near(hi)
	}
	if want := max(0, min(lo-1, p.nodes-4)); want != int(s.first) {
		p.fill(&s, lo)
	}
	u := seek.Between(func(u float64) float64 {
		n, Q := s.turn(u)
		return d.spare(c, n, Q)
	}, float64(lo), float64(hi), flo, fhi)
	return u, s, true
}
