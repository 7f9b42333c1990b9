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
	f := NoScale
	if s.Mass != 0 {
		f.Mass = s.Mass / m.Mass
		f.Loss, f.Chopping = f.Mass, f.Mass
		if !(f.Mass >= leastMass && f.Mass <= mostMass) {
			return m, &StatedError{"mass", fmt.Sprintf("%.3g g, but the model has %.3g g for this stator: want %.3g "+
				"to %.3g g",
				1e3*s.Mass, 1e3*m.Mass, 1e3*leastMass*m.Mass, 1e3*mostMass*m.Mass)}
		}
	}
	if s.Resistance != 0 {
		f.Resistance = s.Resistance / m.r20
		if !(f.Resistance >= leastResistance && f.Resistance <= mostResistance) {
			return m, &StatedError{"resistance", fmt.Sprintf("%.4g mohm, but the model has %.3g mohm for this stator "+
				"and KV: "+
				"want %.3g to %.3g mohm, between two leads", 1e3*s.Resistance, 1e3*m.r20, 1e3*leastResistance*m.r20,
				1e3*mostResistance*m.r20)}
		}
	}
	m = m.Scaled(f)
	if s.IdleCurrent == 0 {
		return m, nil
	}
	torque, n := m.IdleLoss(s.IdleCurrent, s.IdleVoltage)
	if !(n > 0) {
		return m, &StatedError{"idle", fmt.Sprintf("%.4g A at %.4g V do not turn a motor of %.3g mohm, want the "+
			"current "+
			"without a propeller", s.IdleCurrent, s.IdleVoltage, m.r20*1e3)}
	}
	f = NoScale
	f.Loss = torque / m.LossTorque(n)
	if !(f.Loss >= leastLoss && f.Loss <= mostLoss) {
		return m, &StatedError{"idle", fmt.Sprintf("%.4g A at %.4g V ask for %.3g times the usual loss torque, want "+
			"%g to %g "+
			"times: the current without a propeller, of this stator and KV",
			s.IdleCurrent, s.IdleVoltage, f.Loss, leastLoss, float64(mostLoss))}
	}
	return m.Scaled(f), nil
}
