package motor

import "math"

// Scale is what a motor of the trade has over the one of New: factors, 1 for no
// difference, all above 0.
type Scale struct {
	KV         float64 // on the speed constant by which it turns; the winding stays that of the label
	Resistance float64 // on that of the winding
	Loss       float64 // on the loss torque
	Chopping   float64 // on the loss below full duty
	Mass       float64
}

// NoScale changes nothing.
var NoScale = Scale{KV: 1, Resistance: 1, Loss: 1, Chopping: 1, Mass: 1}

// Scaled is the motor with a scale put on. Its surface, which cools, grows as the
// power of two thirds of its mass. The model has no loss from chopping that
// Scale.Chopping could scale: what there is, is the controller's.
func (m Motor) Scaled(s Scale) Motor {
	if s == NoScale {
		return m // to the last bit
	}
	m.Kt /= s.KV
	m.R *= s.Resistance
	m.r20 *= s.Resistance
	m.still *= s.Loss
	m.drag *= s.Loss
	m.Mass *= s.Mass
	m.cooling *= math.Pow(s.Mass, 2.0/3)
	return m
}

// EffectiveKV is the speed constant by which the motor turns, in rpm/V.
func (m *Motor) EffectiveKV() float64 { return 60 / (2 * math.Pi * m.Kt) }

// IdleLoss is the loss torque in N m that a current i in A shows which the motor
// draws without a propeller at a voltage u in V, and the speed in rev/s.
func (m *Motor) IdleLoss(i, u float64) (torque, n float64) {
	return i * m.Kt, (u - i*m.R) / (2 * math.Pi * m.Kt)
}
