package motor

import "fmt"

// Stated is what is known of one motor. A field that is 0 is not: the regressions
// of New stand for it.
type Stated struct {
	Mass        float64 // kg
	Resistance  float64 // of the winding between two leads, at 20 degC, ohm
	IdleCurrent float64 // that it draws at IdleVoltage without a propeller, at full duty, A
	IdleVoltage float64 // V
}

// Factors on what New has that may be stated. That on the loss torque, which an idle
// current asks for, is five times its spread of 30 %; those on the mass, known to 10 %,
// and the resistance, known to 20 %, allow for odd motors but not for a wrong unit
// (chosen here).
const (
	leastLoss, mostLoss             = 0.2, 5
	leastMass, mostMass             = 1.0 / 3, 3
	leastResistance, mostResistance = 0.2, 5
)

// StatedError is the error of Stating.
type StatedError struct {
	Of   string // "mass", "resistance" or "idle"
	text string
}

// Error says what is wrong with the stated value.
func (e *StatedError) Error() string { return e.text }

// Stating is the motor with what is stated of it. Loss torque, iron and with it the
// loss from chopping, heat capacity and the surface that cools follow a stated mass,
// since New takes them from it; a stated idle current then sets the loss torque alone,
// its parts in proportion. It errs with StatedError where the idle current does not
// turn the motor, or a value is implausible: a mass of less than a third or more
// than three times the motor's, a resistance or loss torque of less than a fifth or
// more than five times.
func (m Motor) Stating(s Stated) (Motor, error) {
	with, f := m.with(s)
	wrong := func(of, format string, args ...any) (Motor, error) {
		return m, &StatedError{of, fmt.Sprintf(format, args...)}
	}
	if !(f.mass >= leastMass && f.mass <= mostMass) {
		return wrong("mass", "%.3g g, but the model has %.3g g for this stator: want %.3g to %.3g g",
			1e3*s.Mass, 1e3*m.Mass, 1e3*leastMass*m.Mass, 1e3*mostMass*m.Mass)
	}
	if !(f.resistance >= leastResistance && f.resistance <= mostResistance) {
		return wrong("resistance", "%.4g mohm, but the model has %.3g mohm for this stator and KV: "+
			"want %.3g to %.3g mohm, between two leads", 1e3*s.Resistance, 1e3*m.r20, 1e3*leastResistance*m.r20,
			1e3*mostResistance*m.r20)
	}
	if !f.turns {
		return wrong("idle", "%.4g A at %.4g V do not turn a motor of %.3g mohm, want the current without a propeller",
			s.IdleCurrent, s.IdleVoltage, with.r20*1e3)
	}
	if !(f.loss >= leastLoss && f.loss <= mostLoss) {
		return wrong("idle", "%.4g A at %.4g V ask for %.3g times the usual loss torque, want %g to %g times: "+
			"the current without a propeller, of this stator and KV",
			s.IdleCurrent, s.IdleVoltage, f.loss, leastLoss, float64(mostLoss))
	}
	return with, nil
}

// With is Stating that takes any value, as a draw of a model does of a motor that its
// nominal model has taken. An idle current that does not turn the motor is left out.
func (m Motor) With(s Stated) Motor {
	m, _ = m.with(s)
	return m
}

// factors are those of what is stated on what New has, 1 where nothing is.
type factors struct {
	mass, resistance, loss float64
	turns                  bool // the idle current, where one is stated, turns the motor
}

func (m Motor) with(s Stated) (Motor, factors) {
	f := factors{1, 1, 1, true}
	if s.Mass != 0 {
		f.mass = s.Mass / m.Mass
	}
	if s.Resistance != 0 {
		f.resistance = s.Resistance / m.r20
	}
	m = m.Scaled(Scale{KV: 1, Resistance: f.resistance, Loss: f.mass, Chopping: f.mass, Mass: f.mass, Cooling: 1})
	if s.IdleCurrent == 0 {
		return m, f
	}
	torque, n := m.IdleLoss(s.IdleCurrent, s.IdleVoltage)
	if f.turns = n > 0; !f.turns {
		return m, f
	}
	f.loss = torque / m.LossTorque(n)
	of := NoScale
	of.Loss = f.loss
	return m.Scaled(of), f
}
