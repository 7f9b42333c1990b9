package motor

import "math"

const (
	massOf       = 0.033      // kg
	fluxOf       = 12 * 1.225 // kg/(m2 s): 12 m/s at sea level (ISO 2533)
	fluxExponent = 0.55
)

// Temperatures of the windings in K up to which a motor is used, common practice:
// continuously, and for seconds.
const (
	ContinuousLimit = 273.15 + 100
	BurstLimit      = 273.15 + 120
)

// Hottest and Longest stand for "above" and "never" in results, which are finite.
const (
	Hottest = 273.15 + 500 // K
	Longest = 3600.0       // s
)

// Conductance is the heat that a motor passes to the air per kelvin, in W/K, in a
// slipstream of a mass flux rho V in kg/(m2 s), density times speed:
//
//	G = 0.30 W/K (m/33 g)^(2/3) (rho V/(1.225 kg/m3 12 m/s))^0.55
//
// It goes with the surface; common practice. As for a cylinder in cross flow it goes with
// a power of the Reynolds number, which is 0.47 to 0.62 here (R. Hilpert, Wärmeabgabe von
// geheizten Drähten und Rohren im Luftstrom, 1933; from memory), so that thin air cools
// less. Conductivity and viscosity of the air, which change by a tenth over its
// temperatures and nearly cancel, are left out.
func (m *Motor) Conductance(flux float64) float64 {
	return m.cooling * fluxPower(flux/fluxOf)
}

// fluxRoots tabulates x^fluxExponent over the square root of x, in which it is
// nearly a line: every motor's temperature asks for it, and math.Pow is slow.
var fluxRoots = func() (y [128]float64) {
	for i := range y {
		y[i] = math.Pow(float64(i)/fluxPer, 2*fluxExponent)
	}
	return y
}()

const fluxPer = 40 // nodes of the table for a unit of the root

// fluxPower is x^fluxExponent, within a part in 1e6.
func fluxPower(x float64) float64 {
	u := fluxPer * math.Sqrt(x)
	const first = 8 // below, the power bends too much for a cubic
	if !(u >= first && u < float64(len(fluxRoots)-2)) {
		return math.Pow(x, fluxExponent)
	}
	i := int(u) - 1
	a, y := u-float64(i), fluxRoots[i:i+4:i+4]
	b, c, d := a-1, a-2, a-3
	return (3*(a*c*d*y[1]-a*b*d*y[2]) + a*b*c*y[3] - b*c*d*y[0]) / 6
}

// Heat is what warms a motor: a steady current and speed in a stream of air.
//
// The windings' resistance grows with their temperature T, so that with
// x = T - 20 degC and the losses that do not follow the windings,
// P0 = T0(n) 2 pi n + P_c, P_c that of the pulses' ripple:
//
//	C dx/dt = P0 + R20 I^2 (1 + alpha x) - G (x - x_air)
type Heat struct {
	Current     float64 // A
	Speed       float64 // rev/s
	Air         float64 // temperature, K
	Conductance float64 // W/K
	Chopping    float64 // loss of the pulses' ripple in the motor, W
}

// Steady is the temperature that the windings come to, in K: where the right side
// of the equation of Heat is zero,
//
//	x = (x_air + (P0 + R20 I^2)/G)/(1 - alpha R20 I^2/G)
//
// Where the losses grow faster than what the air takes, alpha R20 I^2 >= G, it
// runs away and the answer is Hottest, which also stands for all that is hotter.
func (m *Motor) Steady(h Heat) float64 {
	T, _ := m.SteadySlope(h)
	return T
}

// SteadySlope is Steady with its growth with a loss that does not follow the windings,
// in K/W; where it runs away 0.
func (m *Motor) SteadySlope(h Heat) (T, perWatt float64) {
	P := m.r20 * h.Current * h.Current
	free := h.Conductance - copperCoefficient*P
	if !(free > 0) {
		return Hottest, 0
	}
	perWatt = 1 / free
	x := (h.Conductance*(h.Air-copperReference) + P + m.idle(h.Speed) + h.Chopping) * perWatt
	return min(copperReference+x, Hottest), perWatt
}

// Runaway says whether a steady current has no steady temperature.
func (m *Motor) Runaway(h Heat) bool {
	return copperCoefficient*m.r20*h.Current*h.Current >= h.Conductance
}

// Reach is the time in s in which the windings warm from one temperature in K to
// another, from the equation of Heat. It is 0 where they already are as warm, and
// at most Longest, which also stands for never.
func (m *Motor) Reach(h Heat, from, to float64) float64 {
	if from >= to {
		return 0
	}
	P := m.r20 * h.Current * h.Current
	C := m.heat * m.Mass
	a := P + m.idle(h.Speed) + h.Chopping + h.Conductance*(h.Air-copperReference)
	b := copperCoefficient*P - h.Conductance
	f0, f1 := a+b*(from-copperReference), a+b*(to-copperReference) // heating at both ends, W
	if !(f0 > 0 && f1 > 0) {
		return Longest
	}
	t := C * (to - from) / f0
	if r := (f1 - f0) / f0; math.Abs(r) > 1e-9 {
		t *= math.Log1p(r) / r
	}
	return min(t, Longest)
}

// idle is the power that bearings, iron and windage take at n rev/s, in W.
func (m *Motor) idle(n float64) float64 { return 2 * math.Pi * n * m.LossTorque(n) }
