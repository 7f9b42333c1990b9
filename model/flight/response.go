package flight

import (
	"math"

	"rotorsieve/model/frame"
	"rotorsieve/model/motor"
)

// RotorInertia is the moment of inertia of what one motor turns, in kg m2, from
// the mass in kg and radius in m of the propeller and the motor's own. Derived
// here: a blade's mass goes with the square of its chord, which puts 0.30 m R^2
// on the generic blade from the edge of its hub at a tenth of the radius, and that hub
// holds three tenths of a propeller's mass; the bell, 0.45 of the motor, is a hoop just
// outside the stator.
func (p *Parameters) RotorInertia(propeller, radius float64, m *motor.Motor) float64 {
	r := p.BellRadius * m.Stator.Diameter / 2
	return p.BladeGyration*propeller*radius*radius + p.BellShare*m.Mass*r*r
}

// RollInertia is that of a craft about the axis of its flight, in kg m2: a mass
// in kg at the tip of each arm, the arms as rods, and the rest of the craft as a
// box twice as long as wide and high, lying along the axis, of 1200 kg/m3. lateral
// is the distance in m of a motor from the axis. Derived here.
func (p *Parameters) RollInertia(tip, arm, rest, lateral float64) float64 {
	width := math.Cbrt(rest / (p.BodyLength * p.BodyDensity))
	return frame.Rotors*(tip+arm/3)*lateral*lateral + rest*width*width/6
}

// Spin is the time in s in which a rotor with an inertia in kg m2 goes from one
// speed to another, in rev/s, at a duty of 0 to 1, the current held within the
// controller's rating in both directions:
//
//	2 pi J dn/dt = K I + X I^2/(2 pi) - T0(n) - Q(n)
//	I = (d Voc - 2 pi n K)/(R + X n + R_ctl + 4 d^2 R_pack)
//
// All four motors change at once, from a pack at the charge of full throttle. The
// torque is the static one. It is +Inf where the speed is not reached, and
// where it is the same.
func (d *Drive) Spin(p *Propulsor, c motor.Controller, inertia, duty, from, to float64) float64 {
	s := d.step(p, c, duty)
	if !(s.torque(to)*(to-from) > 0) {
		return math.Inf(1)
	}
	spent := func(n float64) float64 { return 2 * math.Pi * inertia / s.torque(n) } // dt/dn
	a, bend, b := s.interval(from, to)
	return math.Abs(gauss(spent, a, bend) + gauss(spent, bend, b))
}

// Soonest is a lower bound on Spin, in s, at a small part of its cost. The time
// that one more turn per second takes is mostly a convex function of the speed, so
// that its value in the middle of a stretch is at most its mean (inequality of
// Hermite and Hadamard). It need not be so where the controller brakes at its limit
// and where numbers are read between nodes, which a margin of 2 % covers. That it
// suffices is measured, not proved; see the test of model.Reach and DEVELOPERS.md.
func (d *Drive) Soonest(p *Propulsor, c motor.Controller, inertia, duty, from, to float64) float64 {
	s := d.step(p, c, duty)
	a, bend, b := s.interval(from, to)
	sum := 0.0
	for _, x := range [...]struct{ a, b float64 }{{a, bend}, {bend, b}} {
		if x.b > x.a {
			sum += (x.b - x.a) / math.Abs(s.torque((x.a+x.b)/2))
		}
	}
	return 0.98 * 2 * math.Pi * inertia * sum
}

// step is a motor whose duty has been changed at once.
type step struct {
	p            *Propulsor
	m            *motor.Motor
	rating       float64 // A
	volts, ke, R float64 // V, V s, ohm but for the motor's own
}

func (d *Drive) step(p *Propulsor, c motor.Controller, duty float64) step {
	return step{p: p, m: &d.Motor, rating: c.Rating,
		volts: duty * (d.RestedTop - d.Pack.R*d.steady()/d.RestedTop),
		ke:    2 * math.Pi * d.Motor.Kt,
		R:     c.Series() + frame.Rotors*duty*duty*d.Pack.R}
}

// torque in N m is the surplus that accelerates; it falls with the speed.
func (s *step) torque(n float64) float64 {
	I := max(-s.rating, min((s.volts-s.ke*n)/(s.R+s.m.Impedance(n)), s.rating))
	_, Q := s.p.static(n)
	return s.m.Torque(I) - s.m.LossTorque(n) - Q
}

// interval is two speeds in rising order, and between them that at which the current
// leaves its limit, where the integrand of Spin has a bend.
func (s *step) interval(from, to float64) (a, bend, b float64) {
	// volts - ke n = I (R + R_m + X n) at the limit of the current I.
	I := math.Copysign(s.rating, to-from)
	bend = (s.volts - I*(s.R+s.m.R)) / s.m.VoltageSlope(I)
	a, b = min(from, to), max(from, to)
	return a, max(a, min(bend, b)), b
}

// Duty is the duty that holds n rev/s at the torque q in N m. It is above 1 where full
// throttle does not.
func (d *Drive) Duty(c motor.Controller, n, q float64) float64 {
	// d V - 4 R_pack I d^2 = U, in the form without cancellation.
	i := d.Motor.Current(q, n)
	U := d.Motor.Voltage(i, n) + c.Series()*i
	V := d.RestedTop - d.Pack.R*d.steady()/d.RestedTop
	disc := V*V - 4*frame.Rotors*d.Pack.R*i*U
	if !(disc >= 0) {
		return math.Inf(1)
	}
	return 2 * U / (V + math.Sqrt(disc))
}

// gauss integrates by the rule of Gauss and Legendre with eight points.
func gauss(f func(float64) float64, a, b float64) float64 {
	x := [...]float64{0.1834346424956498, 0.5255324099163290, 0.7966664774136267, 0.9602898564975363}
	w := [...]float64{0.3626837833783620, 0.3137066458778873, 0.2223810344533745, 0.1012285362903763}
	mid, half := (a+b)/2, (b-a)/2
	sum := 0.0
	for i := range x {
		sum += w[i] * (f(mid-half*x[i]) + f(mid+half*x[i]))
	}
	return half * sum
}
