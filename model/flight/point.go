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
	Power       float64 // W, all that the pack delivers, avionics included
	PackVoltage float64 // V, loaded
	PackCurrent float64 // A
	OK          bool    // false: past the speeds that the rotor model covers or the pack's most power; in hover also past full duty
}

// Turn is the electrical chain: what it takes to turn each propeller at n rev/s
// against the torque q in N m, from a pack that rests at voc in V. It has no
// iteration.
func (d *Drive) Turn(c motor.Controller, voc, n, q float64) (p Point) {
	d.turn(&p, c, voc, n, q)
	return p
}

func (d *Drive) turn(p *Point, c motor.Controller, voc, n, q float64) {
	m := &d.Motor
	*p = Point{Speed: n, Torque: q, Shaft: 2 * math.Pi * n * q}
	p.Current = m.Current(q, n)
	p.Voltage = m.Voltage(p.Current, n)
	// Switching loss is proportional to the loaded voltage V, which solves
	// V^2 - (Voc - R s) V + R P0 = 0 with s the loss per volt.
	s := frame.Rotors * motor.SwitchingLoss(1, p.Current)
	P0 := frame.Rotors*(p.Voltage*p.Current+c.R*p.Current*p.Current) + d.steady()
	b := voc - d.Pack.R*s
	disc := b*b - 4*d.Pack.R*P0
	if !(disc >= 0) || b <= 0 {
		return
	}
	p.PackVoltage = (b + math.Sqrt(disc)) / 2
	p.Power = P0 + s*p.PackVoltage
	p.PackCurrent = p.Power / p.PackVoltage
	p.Duty = (p.Voltage + c.R*p.Current) / p.PackVoltage
	p.OK = true
}

// draw is the power that leaves the pack at a loaded voltage V below full duty,
// in W, with the motors at i in A and n rev/s.
func (d *Drive) draw(c motor.Controller, i, n, V float64) float64 {
	return frame.Rotors*(d.Motor.Voltage(i, n)*i+c.R*i*i+motor.SwitchingLoss(V, i)) + d.steady()
}

// spare is the voltage that full duty would leave over, in V, at n rev/s against
// the torque q in N m, with the pack at the charge of full throttle.
func (d *Drive) spare(c motor.Controller, n, q float64) float64 {
	i := d.Motor.Current(q, n)
	V, _, ok := d.sag(i)
	if !ok {
		return math.Inf(-1)
	}
	return V - c.R*i - d.Motor.Voltage(i, n)
}
