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

// Factors on the loss torque of New that an idle current may ask for: five times its
// spread of 30 %.
const leastLoss, mostLoss = 0.2, 5

// Stating is the motor with what is stated of it. Loss torque, iron and with it the
// loss from chopping, heat capacity and the surface that cools follow a stated mass,
// since New takes them from it; a stated idle current then sets the loss torque alone,
// its parts in proportion. It errs where the idle current does not turn the motor,
// or is beyond belief.
func (m Motor) Stating(s Stated) (Motor, error) {
	f := NoScale
	if s.Mass != 0 {
		f.Mass = s.Mass / m.Mass
		f.Loss, f.Chopping = f.Mass, f.Mass
	}
	if s.Resistance != 0 {
		f.Resistance = s.Resistance / m.r20
	}
	m = m.Scaled(f)
	if s.IdleCurrent == 0 {
		return m, nil
	}
	torque, n := m.IdleLoss(s.IdleCurrent, s.IdleVoltage)
	if !(n > 0) {
		return m, fmt.Errorf("%.4g A at %.4g V do not turn a motor of %.3g mohm, want the current without a propeller",
			s.IdleCurrent, s.IdleVoltage, m.r20*1e3)
	}
	f = NoScale
	f.Loss = torque / m.LossTorque(n)
	if !(f.Loss >= leastLoss && f.Loss <= mostLoss) {
		return m, fmt.Errorf("%.4g A at %.4g V ask for %.3g times the usual loss torque, want %g to %g times: the current "+
			"without a propeller, of this stator and KV",
			s.IdleCurrent, s.IdleVoltage, f.Loss, leastLoss, float64(mostLoss))
	}
	return m.Scaled(f), nil
}
