package motor

import "math"

// After is the temperature in K that the windings have a time t in s after one of
// from, the inverse of Reach: from the equation of Heat, of which the right side is
// f = a + b x,
//
//	x(t) = x0 + f(x0) (exp(b t/C) - 1)/b
//
// It is at most Hottest, which also stands for all that is hotter.
func (m *Motor) After(h Heat, from, t float64) float64 {
	P := m.r20 * h.Current * h.Current
	C := m.heat * m.Mass
	b := copperCoefficient*P - h.Conductance
	f0 := P + m.idle(h.Speed) + h.Chopping + h.Conductance*(h.Air-copperReference) + b*(from-copperReference)
	rise := f0 * t / C
	if y := b * t / C; math.Abs(y) > 1e-9 {
		rise *= math.Expm1(y) / y
	}
	return min(from+rise, Hottest)
}
