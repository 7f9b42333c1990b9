package flight

import (
	"math"

	"rotorsieve/model/frame"
	"rotorsieve/model/motor"
)

// Budget is where the electrical power of an operating point below full throttle
// goes, in W, all rotors together. Its parts add up to the power of the point.
type Budget struct {
	Shaft    float64 // into the propellers
	Friction float64 // the motors' loss torque: bearings, iron and windage
	Winding  float64 // their resistance
	Chopping float64 // their loss to the ripple of the pulses
	Leads    float64 // leads and joints
	Board    float64 // controllers: switches that conduct, their edges, logic
	Avionics float64 // all that does not turn
}

// Budget splits the power of a point with a controller of c's resistances. The
// reactance takes voltage but no power: what it takes from the torque, X I^2/(2 pi),
// it has put into the voltage, X n I.
func (d *Drive) Budget(c motor.Controller, p *Point) Budget {
	m := &d.Motor
	i2 := frame.Rotors * p.Current * p.Current
	return Budget{
		Shaft:    frame.Rotors * p.Shaft,
		Friction: frame.Rotors * 2 * math.Pi * p.Speed * m.LossTorque(p.Speed),
		Winding:  m.R * i2,
		Chopping: frame.Rotors * p.Chopping,
		Leads:    c.Leads * i2,
		Board:    c.R*i2 + frame.Rotors*(m.Switching(p.Current)*p.PackVoltage+m.Logic),
		Avionics: d.Avionics,
	}
}

// Sum is the whole power in W.
func (b *Budget) Sum() float64 {
	return b.Shaft + b.Friction + b.Winding + b.Chopping + b.Leads + b.Board + b.Avionics
}
