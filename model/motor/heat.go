package motor

import "math"

const (
	conductance  = 0.30  // W/K of a motor of massOf in a wash of washOf
	massOf       = 0.033 // kg
	washOf       = 12.0  // m/s
	washExponent = 0.55
	specificHeat = 480.0 // J/(kg K): copper and iron
)

// Temperatures of the windings in K up to which a motor is used, common practice:
// for as long as one likes, and for seconds.
const (
	ContinuousLimit = 273.15 + 100
	BurstLimit      = 273.15 + 120
)

// What stands for "above" and "never" in results, which are finite.
const (
	Hottest = 273.15 + 500 // K
	Longest = 3600.0       // s
)

// Conductance is the heat that a motor passes to the air per kelvin, in W/K, in a
// slipstream of a speed in m/s:
//
//	G = 0.30 W/K (m/33 g)^(2/3) (wash/12 m/s)^0.55
//
// It goes with the surface and, as for a cylinder in cross flow, with about the
// root of the speed; 50 % (1 sigma). Common practice.
func (m *Motor) Conductance(wash float64) float64 {
	return m.cooling * washPower(wash/washOf)
}

// washRoots tabulates x^washExponent over the square root of x, in which it is
// nearly a line: every motor's temperature asks for it, and a logarithm and an
// exponential take five times as long.
var washRoots = func() (y [128]float64) {
	for i := range y {
		y[i] = math.Pow(float64(i)/washPer, 2*washExponent)
	}
	return y
}()

const washPer = 40 // nodes of the table for a unit of the root

// washPower is x^washExponent, within a part in 1e6.
func washPower(x float64) float64 {
	u := washPer * math.Sqrt(x)
	const first = 8 // below, the power bends too much for a cubic
	if !(u >= first && u < float64(len(washRoots)-2)) {
		return math.Pow(x, washExponent)
	}
	i := int(u) - 1
	a, y := u-float64(i), washRoots[i:i+4:i+4]
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
	P := m.r20 * h.Current * h.Current
	free := h.Conductance - copperCoefficient*P
	if !(free > 0) {
		return Hottest
	}
	x := (h.Conductance*(h.Air-copperReference) + P + m.idle(h.Speed) + h.Chopping) / free
	return min(copperReference+x, Hottest)
}

// Runaway says that a steady current has no steady temperature.
func (m *Motor) Runaway(h Heat) bool {
	return copperCoefficient*m.r20*h.Current*h.Current >= h.Conductance
}

// Reach is the time in s in which the windings warm from one temperature in K to
// another, from the equation of Heat. It is 0 where they are as warm already, and
// at most Longest, which also stands for never.
func (m *Motor) Reach(h Heat, from, to float64) float64 {
	if from >= to {
		return 0
	}
	P := m.r20 * h.Current * h.Current
	C := specificHeat * m.Mass
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
