package flight

import (
	"math"

	"rotorsieve/model/frame"
	"rotorsieve/model/motor"
)

// Point is an operating point below full throttle. Per rotor unless the name
// says pack.
type Point struct {
	Speed       float64 // rev/s
	Torque      float64 // N m
	Shaft       float64 // W
	Current     float64 // A, motor
	Voltage     float64 // V, motor
	Duty        float64 // of the controller, 0..1; above 1 the pack's voltage is too low
	Chopping    float64 // W, lost in the motor to the ripple of the controller's pulses
	Power       float64 // W, all that the pack delivers, avionics included
	PackVoltage float64 // V, loaded
	PackCurrent float64 // A
	// false: past the speeds that the rotor model covers or the pack's most power; in hover also past full duty
	OK bool
}

// Turn is the electrical chain: what it takes to turn each propeller at n rev/s
// against the torque q in N m, from a pack that rests at voc in V.
func (d *Drive) Turn(c motor.Controller, voc, n, q float64) (p Point) {
	d.turn(&p, c, voc, n, q)
	return p
}

func (d *Drive) turn(p *Point, c motor.Controller, voc, n, q float64) {
	m := &d.Motor
	*p = Point{Speed: n, Torque: q, Shaft: 2 * math.Pi * n * q}
	p.Current = m.Current(q, n)
	p.Voltage = m.Voltage(p.Current, n)
	// The loaded voltage V solves V^2 - (Voc - R s) V + R (P0 + C0 (1 - u/V)^2) = 0 with
	// s the switching loss per volt and C0 (1 - u/V)^2 the chopping loss; y = 1/V solves
	// 1 - b y + R y^2 (P0 + C0 (1 - u y)^2) = 0, by Newton's steps from the series of the
	// root in R P0/b^2; mostly one is enough.
	R := d.Pack.R
	u := p.Voltage + c.Series()*p.Current
	s := frame.Rotors * m.Switching(p.Current)
	P0 := frame.Rotors*u*p.Current + d.steady()
	C0 := frame.Rotors * m.ChopScale(u)
	b := voc - R*s
	if !(b*b >= 4*R*P0) || b <= 0 {
		return
	}
	per := 1 / b
	drop := R * P0 * per * per
	x := positive(1 - u*per*(1+drop))
	drop += R * C0 * per * per * x * x
	y := per * (1 + drop*(1+drop*(2+drop*(5+14*drop))))
	const maxSteps = 20 // more than one or two only near the pack's most power
	for n := 0; ; n++ {
		x = positive(1 - u*y)
		step := (1 - y*(b-R*y*(P0+C0*x*x))) / (b - 2*R*y*(P0+C0*x*(x-u*y)))
		y += step
		if math.Abs(step) <= 1e-5*y { // what is left is of the order of its square
			break
		}
		if n == maxSteps {
			return
		}
	}
	x = positive(1 - u*y)
	p.Chopping = C0 * x * x / frame.Rotors
	p.PackVoltage = 1 / y
	p.Power = P0 + s*p.PackVoltage + frame.Rotors*p.Chopping
	p.PackCurrent = p.Power * y
	p.Duty = u * y
	p.OK = true
}

// positive is max(0, x) by one comparison, for the innermost loop.
func positive(x float64) float64 {
	if x < 0 {
		return 0
	}
	return x
}

// draw is the power that leaves the pack at a loaded voltage V below full duty,
// in W, with the motors at i in A and n rev/s.
func (d *Drive) draw(c motor.Controller, i, n, V float64) float64 {
	u := d.Motor.Voltage(i, n) + c.Series()*i
	return frame.Rotors*(u*i+d.Motor.Switching(i)*V+d.Motor.Chopping(u, V)) + d.steady()
}

// spare is the voltage that full duty would leave, in V, at n rev/s against
// the torque q in N m, with the pack at the charge of full throttle.
func (d *Drive) spare(c motor.Controller, n, q float64) float64 {
	i := d.Motor.Current(q, n)
	V, _, ok := d.sag(i)
	if !ok {
		return math.Inf(-1)
	}
	return V - c.Series()*i - d.Motor.Voltage(i, n)
}
