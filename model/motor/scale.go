package motor

import "math"

// Scale is a motor relative to the one of New: factors, 1 for no difference, all
// above 0.
type Scale struct {
	KV         float64 // on the speed constant by which it turns; the winding stays that of the label
	Resistance float64 // on that of the winding
	Loss       float64 // on the loss torque
	Chopping   float64 // on the chopping loss below full duty, independent of Loss
	Mass       float64
	Cooling    float64 // on the heat passed to the air, beside what follows from the mass
}

// NoScale is the scale that changes nothing.
var NoScale = Scale{KV: 1, Resistance: 1, Loss: 1, Chopping: 1, Mass: 1, Cooling: 1}

// Scaled is the motor with a scale put on. Its surface, which cools, grows as the
// power of two thirds of its mass.
func (m Motor) Scaled(s Scale) Motor {
	if s == NoScale {
		return m // to the last bit
	}
	m.Kt /= s.KV
	m.R *= s.Resistance
	m.r20 *= s.Resistance
	m.still *= s.Loss
	m.drag *= s.Loss
	m.chop *= s.Chopping
	m.Mass *= s.Mass
	m.cooling *= math.Pow(s.Mass, 2.0/3) * s.Cooling
	return m
}

// EffectiveKV is the speed constant by which the motor turns, in rpm/V.
func (m *Motor) EffectiveKV() float64 { return 60 / (2 * math.Pi * m.Kt) }

// ColdResistance is that of the winding at 20 degC, in ohm.
func (m *Motor) ColdResistance() float64 { return m.r20 }

// IdleLoss gives the loss torque in N m that follows from the current i in A which the
// motor draws without a propeller at a voltage u in V, and the speed in rev/s. The
// winding has 20 degC: without a load it stays cold.
func (m *Motor) IdleLoss(i, u float64) (torque, n float64) {
	return m.Torque(i), (u - i*m.r20) / (2*math.Pi*m.Kt + m.reactance*i)
}
