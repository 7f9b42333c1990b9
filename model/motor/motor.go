// Package motor models the brushless outrunner and its speed controller: the
// first-order direct-current equivalent, sized from the stator.
//
// The equivalent circuit is Drela, "First-Order DC Electric Motor Model", MIT
// 2007 (from memory): torque is proportional to current less an idle part,
// voltage is back-EMF plus ohmic drop. What torque and speed the propeller asks
// for therefore gives current and voltage in closed form.
package motor

import "math"

// Exponents of the regressions on the stator, derived here from a table of typical
// values (from memory); diameters and heights in millimetres inside the powers.
const (
	kmDiameter = 1.85
	kmHeight   = 0.67

	massDiameter = 2.07
	massHeight   = 0.77

	rimDiameter = 0.014 // m
	rimExponent = 0.1

	burstVolume = 2.66e-6 // m3

	copperCoefficient = 0.00393 // 1/K
	copperReference   = 293.15  // K
)

// Range of stators that the regressions were derived from, in metres.
const (
	MinDiameter = 0.011
	MaxDiameter = 0.028
	MinHeight   = 0.003
	MaxHeight   = 0.016
)

// Stator is the wound iron of an outrunner; the trade writes 2207 for a
// diameter of 22 mm and a height of 7 mm. SI: metres.
type Stator struct {
	Diameter, Height float64
}

// Volume is the cylinder that the stator fills, in m3.
func (s Stator) Volume() float64 {
	return math.Pi / 4 * s.Diameter * s.Diameter * s.Height
}

// km is the motor constant of a stator, torque per square root of copper loss, in
// N m/sqrt(W). It does not depend on the winding.
func (p *Parameters) km(s Stator) float64 {
	return p.Km * math.Pow(s.Diameter*1e3, kmDiameter) * math.Pow(s.Height*1e3, kmHeight)
}

// MotorMass is that of the whole motor of a stator, in kg.
func (p *Parameters) MotorMass(s Stator) float64 {
	return p.Mass * math.Pow(s.Diameter*1e3, massDiameter) * math.Pow(s.Height*1e3, massHeight)
}

// FastestRim is the speed of the stator's rim without load, on a full pack, that the
// fastest motors of its diameter are wound for, in m/s:
//
//	V = 57 m/s (d/14 mm)^0.1
//
// 1404 motors of 4600 rpm/V reach 57 on 4S, 2306 ones of 1950 rpm/V 59 on 6S. Common practice.
func (m *Motor) FastestRim() float64 { return m.rim }

// InRange says whether the stator lies in the range of the regressions.
func (s Stator) InRange() bool {
	const tol = 1e-9
	return s.Diameter >= MinDiameter-tol && s.Diameter <= MaxDiameter+tol &&
		s.Height >= MinHeight-tol && s.Height <= MaxHeight+tol
}

// Use is how a motor is driven.
type Use struct {
	Winding   float64 // temperature of the winding, K
	PulseRate float64 // of the controller below full duty, Hz, above 0
}

// Motor is one motor as it is driven. Its chain below full duty is
//
//	Q + T0(n) = K I + X I^2/(2 pi)      torque
//	V_m = 2 pi n K + R I + X n I        voltage, K = Kt/0.86
//	P_c = 4 c 2 pi T0' (KV/60)^2 u^2 (1 - u/V)^2 (24 kHz/f)^2   chopping loss
//
// with u the voltage that the controller makes of the supply's V by pulses of a rate
// f. The form of the first two is that of the first-order model but for X = x Kt^2/v,
// the reactance of a stator of volume v: it delays the current behind the back-EMF,
// which takes voltage and stores energy, and heats nothing. Under load the speed
// constant is 0.86 of the label's, or the highest duty 0.86: on a stand without
// torque the two cannot be told apart. The pulses' ripple goes as u (1 - u/V)/(L f),
// the inductance L as KV^-2 on one stator, and its loss in copper and iron as the
// square of that (derived here). 0.86, x and c are fitted to thrust stands, on halves
// of their motors; see the validation in DEVELOPERS.md.
type Motor struct {
	Stator Stator
	KV     float64 // of the label, rpm/V
	Kt     float64 // torque constant under load, N m/A; also V s/rad
	R      float64 // winding resistance at the temperature of its use, ohm
	Mass   float64 // kg
	Volume float64 // of the stator, m3
	Logic  float64 // power of its controller's logic and gate drive, W

	still, drag float64 // loss torque at rest, N m, and its growth, N m s
	r20         float64 // winding resistance at 20 degC, ohm
	cooling     float64 // heat passed to the air in a wash of 12 m/s at sea level, W/K
	reactance   float64 // X, V s/A
	chop        float64 // chopping loss over u^2 (1 - u/V)^2, W/V^2
	edge        float64 // switching loss over V I
	burst       float64 // torque for seconds, N m
	heat        float64 // specific, J/(kg K)
	rim         float64 // FastestRim
	by          *Parameters
}

// New gives the motor with stator s and speed constant kv in rpm/V. R follows from Km
// and so falls as KV^-2 on one stator. The parameters must not change after.
func (p *Parameters) New(s Stator, kv float64, use Use) Motor {
	kt := torqueConstant(kv)
	q := kt / p.km(s)
	m := p.MotorMass(s)
	v := s.Volume()
	c := math.Cbrt(m / massOf)
	slow := p.StandRate / use.PulseRate
	drag := m * p.LossSpeed * 60
	return Motor{
		Stator: s, KV: kv, Kt: kt / p.UnderLoad, R: hot(q*q, use.Winding), Mass: m, Volume: v,
		still: m * p.LossStatic, drag: drag, r20: q * q, cooling: p.Conductance * c * c,
		reactance: p.Reactance * kt * kt / v,
		chop:      4 * p.Chopping * 2 * math.Pi * drag * kv * kv / 3600 * slow * slow,
		edge:      0.5 * p.Edge * use.PulseRate,
		burst:     p.BurstTorque * v * math.Cbrt(v/burstVolume),
		heat:      p.Heat,
		rim:       p.Rim * math.Pow(s.Diameter/rimDiameter, rimExponent),
		Logic:     p.Idle,
		by:        p,
	}
}

// BurstTorque is the torque in N m that stators of the size give for seconds, as full
// throttle needs it:
//
//	Q = 75 kN/m2 v (v/2.66 cm3)^(1/3)
//
// of the stator's volume v: 75 kN m/m3 for a 2207, less for smaller ones, whose windings
// have more insulation and whose surface sheds less heat for their torque. Common
// practice.
func (m *Motor) BurstTorque() float64 { return m.burst }

// torqueConstant gives Kt = 60/(2 pi KV) in N m/A from KV in rpm/V.
func torqueConstant(kv float64) float64 { return 60 / (2 * math.Pi * kv) }

// hot gives the resistance at temperature t in K of a copper winding that has
// r20 at 20 degC.
func hot(r20, t float64) float64 {
	return r20 * (1 + copperCoefficient*(t-copperReference))
}

// LossTorque is the drag of bearings, iron and windage at n rev/s, in N m;
// derived here from typical idle currents.
func (m *Motor) LossTorque(n float64) float64 {
	return m.still + m.drag*n
}

// LossSlope is the growth of LossTorque with n, in N m s.
func (m *Motor) LossSlope() float64 { return m.drag }

// Current is the motor current in A at shaft torque q in N m and n rev/s.
func (m *Motor) Current(q, n float64) float64 {
	T := q + m.LossTorque(n)
	return 2 * T / (m.Kt + math.Sqrt(m.Kt*m.Kt+(2/math.Pi)*m.reactance*T))
}

// CurrentSlope is Current with its growth with the torque, in A/(N m).
func (m *Motor) CurrentSlope(q, n float64) (i, slope float64) {
	T := q + m.LossTorque(n)
	r := math.Sqrt(m.Kt*m.Kt + (2/math.Pi)*m.reactance*T) // K + X I/pi
	return 2 * T / (m.Kt + r), 1 / r
}

// Torque is the electromagnetic torque in N m at i in A, which includes LossTorque.
func (m *Motor) Torque(i float64) float64 { return (m.Kt + m.reactance*i/(2*math.Pi)) * i }

// Voltage is what the motor needs, in V, for current i in A at n rev/s.
func (m *Motor) Voltage(i, n float64) float64 {
	return 2*math.Pi*n*m.Kt + i*m.Impedance(n)
}

// Impedance is the voltage per ampere at n rev/s, in ohm: resistance and
// reactance.
func (m *Motor) Impedance(n float64) float64 { return m.R + m.reactance*n }

// Reactance is X, in V s/A: what Impedance grows by with n.
func (m *Motor) Reactance() float64 { return m.reactance }

// VoltageSlope is the growth of Voltage with n, in V s, at i in A, the current held.
func (m *Motor) VoltageSlope(i float64) float64 { return 2*math.Pi*m.Kt + m.reactance*i }

// ChopScale is the chopping loss at an infinite supply voltage and the mean voltage
// u in V of the pulses, in W: at V volts it is ChopScale (1 - u/V)^2. It warms the motor.
func (m *Motor) ChopScale(u float64) float64 { return m.chop * u * u }

// Chopping is the power that the pulses lose in the motor, in W, at a mean voltage u
// of a supply of v volts. There is none at full duty.
func (m *Motor) Chopping(u, v float64) float64 {
	if u >= v {
		return 0
	}
	x := u * (1 - u/v)
	return m.chop * x * x
}

// Switching is the power lost in the controller's edges below full duty, in W for
// each volt of supply, at motor current i in A.
func (m *Motor) Switching(i float64) float64 { return m.edge * i }
