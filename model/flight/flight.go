// Package flight finds the operating points of a craft: where propeller, motor,
// controller and pack agree. The way in is NewPropulsor and a Drive: Drive.Static,
// then Hover, and NewEnvelope for Fly.
package flight

import (
	"math"

	"rotorsieve/model/frame"
	"rotorsieve/model/motor"
	"rotorsieve/model/pack"
	"rotorsieve/model/rotor"
)

// Gravity is the standard acceleration of free fall in m/s2 (ISO 80000-3).
const Gravity = 9.80665

// Propulsor is one propeller in one air.
type Propulsor struct {
	Table   *rotor.Table
	Density float64 // of the air, kg/m3
	// Installed is the share of the open propeller's thrust that remains beside
	// the neighbouring discs and above the arms, 0..1.
	Installed float64

	disc          float64 // area of one disc, m2
	thrust, power float64 // rho D^4, rho D^5, each with its factor
	forces, work  float64 // factors on thrust and drag, and on power, in the table's air; 1 for none
	wash          float64 // of the slipstream at rest over the root of thrust
	nMin, nMax    float64 // rev/s
	hold          inverse
}

// NewPropulsor prepares a propeller of the table t.
func NewPropulsor(t *rotor.Table, diameter, density, installed float64) Propulsor {
	p := unheld(t, diameter, density, installed)
	p.hold = p.invert()
	return p
}

// unheld is NewPropulsor without what Hold reads.
func unheld(t *rotor.Table, diameter, density, installed float64) Propulsor {
	d4 := diameter * diameter * diameter * diameter
	p := Propulsor{Table: t, Density: density, Installed: installed,
		disc: math.Pi / 4 * diameter * diameter, thrust: density * d4, power: density * d4 * diameter,
		forces: 1, work: 1}
	p.wash = 2 / math.Sqrt(2*installed*density*p.disc)
	p.nMin, p.nMax = t.SpeedRange()
	return p
}

// static gives thrust in N and shaft torque in N m at rest, n in rev/s.
func (p *Propulsor) static(n float64) (T, Q float64) {
	CT, CP := p.Table.Static(n)
	return CT * p.Installed * p.thrust * n * n, CP * p.power * n * n / (2 * math.Pi)
}

// Drive is what turns the propellers: four motors on one pack.
type Drive struct {
	Motor     motor.Motor
	Pack      pack.Pack
	Avionics  float64    // steady electrical power of all that does not turn, W
	RestedTop float64    // rested pack voltage at the charge of full throttle, V
	Limits    PackLimits // of level flight

	// Controller is that of a stated board. The zero one has no rating: the smallest is
	// bought that the motors' current asks for.
	Controller motor.Controller
}

// FullThrottle is the static operating point at full duty. Per rotor unless the
// name says pack.
type FullThrottle struct {
	Speed       float64 // rev/s
	Thrust      float64 // N
	Torque      float64 // N m
	Current     float64 // A, motor
	PackVoltage float64 // V, loaded
	PackCurrent float64 // A
	Controller  motor.Controller
	Duty        float64 // 1, but less where a pilot holds back; see Drive.Throttled
	Chopping    float64 // W, lost in the motor to the ripple of the controller's pulses; 0 at full duty

	peak float64 // A, of a motor without the controller's drop, within a part in 1e4: for its rating

	// false: the point lies past the speeds that the rotor model covers, or past the pack's most power
	OK bool
}

// Static finds the full-throttle point at rest. The controller is rated on the
// current that would flow without its own drop, which is conservative and needs no second search.
//
// At full duty the controller and its leads are a drop in series with the winding;
// idle losses and avionics load the pack at constant power.
func (d *Drive) Static(p *Propulsor) (at FullThrottle) {
	d.StaticInto(&at, p)
	return at
}

// StaticInto is Static with its result written to memory of the caller.
func (d *Drive) StaticInto(at *FullThrottle, p *Propulsor) {
	const enough = 1e-2 // for a rating: the current is then within a part in 1e4
	slope, perSpeed := d.balance(at, p, 0, p.guess(d), enough)
	free, peak, ok := at.Speed, at.Current, at.OK
	c := d.Controller
	if c.Rating == 0 {
		c = d.Motor.ControllerFor(peak)
	}
	r := c.Series()
	d.balance(at, p, r, free+r*peak/(slope-r*perSpeed), converged)
	at.Controller, at.Duty, at.Chopping, at.peak = c, 1, 0, peak
	at.OK = at.OK && ok
}

// OneRating says whether the controllers of two full-throttle points of Static, and of all
// whose peak currents lie between theirs, are the same.
func (d *Drive) OneRating(a, b *FullThrottle) bool {
	const margin = 1e-3 // ten times what a peak is off by
	c := a.Controller
	if d.Controller.Rating != 0 {
		return true
	}
	return b.Controller == c && d.Motor.ControllerFor(min(a.peak, b.peak)*(1-margin)) == c &&
		d.Motor.ControllerFor(max(a.peak, b.peak)*(1+margin)) == c
}

// Throttle finds the full-throttle point at rest with a given controller.
func (d *Drive) Throttle(p *Propulsor, c motor.Controller) FullThrottle {
	var at FullThrottle
	d.balance(&at, p, c.Series(), p.guess(d), converged)
	at.Controller, at.Duty = c, 1
	return at
}

// Throttled is the most that a pilot asks for who holds full throttle back to n rev/s at
// rest, up to the speed of full throttle: the point at the duty which that takes. The
// controller stays, as it is bought for full duty.
func (d *Drive) Throttled(p *Propulsor, full *FullThrottle, n float64) FullThrottle {
	T, Q := p.static(n)
	x := d.Turn(full.Controller, d.RestedTop, n, Q)
	return FullThrottle{Speed: n, Thrust: T, Torque: Q, Current: x.Current, PackVoltage: x.PackVoltage,
		PackCurrent: x.PackCurrent, Controller: full.Controller, Duty: x.Duty, Chopping: x.Chopping,
		OK: full.OK && x.OK && x.Duty <= 1}
}

// guess is the full-throttle speed if torque went with the square of speed, less
// what the loss torque and the reactance take of it, mostly about one part in 100.
func (p *Propulsor) guess(d *Drive) float64 {
	ke := 2 * math.Pi * d.Motor.Kt
	free := min(d.RestedTop/ke, p.nMax)
	_, CP := p.Table.Static(0.7 * free)
	k := CP * p.power / (2 * math.Pi * d.Motor.Kt) // A s2
	a := k * (d.Motor.Impedance(0.7*free) + frame.Rotors*d.Pack.R)
	const rest = 0.99
	return rest * 2 * d.RestedTop / (ke + math.Sqrt(ke*ke+4*a*d.RestedTop))
}

// converged is the step of a search, over the speed, whose square is nothing.
const converged = 1e-5

// balance finds the speed at which the voltage that is left equals the voltage
// that the motor needs. The difference falls with speed and bends downwards, so
// Newton's steps close in from above after the first. The first step within tol of
// the speed is the last, but near the pack's most power, and all is carried over it to first order: the error is of
// the order of its square. The slope is that of the difference against speed, and
// perSpeed that of the current. What at has of a controller is left.
func (d *Drive) balance(at *FullThrottle, p *Propulsor, series, n, tol float64) (slope, perSpeed float64) {
	const maxSteps = 40
	const steepest = 1.2 // of the pack's voltage against its rested voltage less 4 R i; 1 at no steady load
	at.OK = false
	m, k := &d.Motor, &d.Pack
	for range maxSteps {
		n = max(p.nMin, min(p.nMax, n))
		CT, dCT, CP, dCP := p.Table.StaticSlope(n)
		at.Speed = n
		at.Thrust = CT * p.Installed * p.thrust * n * n
		at.Torque = CP * p.power * n * n / (2 * math.Pi)
		var perTorque float64
		at.Current, perTorque = m.CurrentSlope(at.Torque, n)
		V, dVdA, _ := d.sag(at.Current)
		at.PackVoltage = V
		f := V - series*at.Current - m.Voltage(at.Current, n)
		if n >= p.nMax && f > 0 || n <= p.nMin && f < 0 {
			break
		}
		dQ := (2 + dCP/CP) * at.Torque / n
		perSpeed = (dQ + m.LossSlope()) * perTorque
		slope = -dVdA*frame.Rotors*k.R*perSpeed - (series+m.Impedance(n))*perSpeed - m.VoltageSlope(at.Current)
		dn := -f / slope
		// Near the most that the pack can give its voltage falls ever faster: a step is short there, and its error
		// not of the order of its square.
		if math.Abs(dn) <= tol*n && (dVdA <= steepest || math.Abs(dn) <= converged*n) {
			at.Speed += dn
			at.Thrust *= 1 + (2+dCT/CT)*dn/n
			at.Torque += dQ * dn
			at.Current += perSpeed * dn
			at.PackVoltage, _, at.OK = d.sag(at.Current)
			break
		}
		n += dn
	}
	at.PackCurrent = frame.Rotors*at.Current + d.steady()/at.PackVoltage
	return slope, perSpeed
}

// steady is the electrical power that does not follow the throttle, in W.
func (d *Drive) steady() float64 { return frame.Rotors*d.Motor.Logic + d.Avionics }

// sag gives the loaded pack voltage V at full duty from the motor current i in
// A, with the slope of V against A = Voc - 4 R i:
//
//	V = A - R P/V, P the steady load
//
// It is false where the pack cannot give that current; V is then that of most power.
func (d *Drive) sag(i float64) (V, slope float64, ok bool) {
	A := d.RestedTop - frame.Rotors*d.Pack.R*i
	left := A*A - 4*d.Pack.R*d.steady() // 0 where the pack gives its most power to the load
	if !(A > 0 && left > 0) {
		return A / 2, 0.5, false
	}
	root := math.Sqrt(left)
	return (A + root) / 2, (1 + A/root) / 2, true
}

// Hover finds the point that gives the thrust in N on each rotor, with the pack
// at the rested voltage averaged over its usable charge. There is none where that
// needs a duty above 1; see HoverLack.
func (d *Drive) Hover(p *Propulsor, c motor.Controller, thrust float64) (h Point) {
	d.HoverInto(&h, p, c, thrust)
	return h
}

// HoverInto is Hover with its result written to memory of the caller.
func (d *Drive) HoverInto(h *Point, p *Propulsor, c motor.Controller, thrust float64) {
	n, Q, ok := p.Hold(thrust)
	if !ok {
		*h = Point{Speed: n}
		return
	}
	d.hover(h, c, n, Q)
}

// HoverAs is HoverInto for a craft that hovers as another whose propellers and mass are the same: only
// the electrical chain is worked out.
func (d *Drive) HoverAs(h, of *Point, c motor.Controller) {
	if of.Torque == 0 { // the rotor model covers no such speed
		*h = Point{Speed: of.Speed}
		return
	}
	d.hover(h, c, of.Speed, of.Torque)
}

func (d *Drive) hover(h *Point, c motor.Controller, n, Q float64) {
	d.turn(h, c, d.Pack.Mean, n, Q)
	h.OK = h.OK && h.Duty <= 1
}

// Wash is the speed of the fully developed slipstream of a rotor at rest that
// gives the thrust in N, in m/s (momentum theory).
func (p *Propulsor) Wash(thrust float64) float64 {
	return p.wash * math.Sqrt(thrust)
}

// Needs is the rested voltage of the pack in V from which full throttle gives
// the thrust in N on each rotor at rest. It is +Inf where no voltage does.
func (d *Drive) Needs(p *Propulsor, c motor.Controller, thrust float64) float64 {
	n, Q, ok := p.Hold(thrust)
	if !ok {
		return math.Inf(1)
	}
	i := d.Motor.Current(Q, n)
	V := d.Motor.Voltage(i, n) + c.Series()*i
	return V + d.Pack.R*(frame.Rotors*i+d.steady()/V)
}
