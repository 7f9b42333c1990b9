// Package motor models the brushless outrunner and its speed controller: the
// first-order direct-current equivalent, sized from the stator.
//
// The equivalent circuit is Drela, "First-Order DC Electric Motor Model", MIT
// 2007 (from memory): torque is proportional to current less an idle part,
// voltage is back-EMF plus ohmic drop. What torque and speed the propeller asks
// for therefore gives current and voltage in closed form.
package motor

import (
	"math"

	"rotorsieve/model/basis"
)

// Regressions on the stator, derived here from a table of typical values (from
// memory); diameters and heights in millimetres inside the powers.
const (
	kmScale    = 1.77e-5 // N m/sqrt(W)
	kmDiameter = 1.85
	kmHeight   = 0.67

	massScale    = 0.0123e-3 // kg
	massDiameter = 2.07
	massHeight   = 0.77

	lossStatic = 0.085  // N m per kg of motor
	lossSpeed  = 2.8e-6 // N m per kg and rpm

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

// km is the motor constant, torque per square root of copper loss, in
// N m/sqrt(W); 10 % (1 sigma). It does not depend on the winding.
func (s Stator) km() float64 {
	return kmScale * math.Pow(s.Diameter*1e3, kmDiameter) * math.Pow(s.Height*1e3, kmHeight)
}

// Mass is that of the whole motor, in kg; 10 % (1 sigma).
func (s Stator) Mass() float64 {
	return massScale * math.Pow(s.Diameter*1e3, massDiameter) * math.Pow(s.Height*1e3, massHeight)
}

// Within says whether the stator lies in the range of the regressions.
func (s Stator) Within() bool {
	const tol = 1e-9
	return s.Diameter >= MinDiameter-tol && s.Diameter <= MaxDiameter+tol &&
		s.Height >= MinHeight-tol && s.Height <= MaxHeight+tol
}

// Motor is one motor at one winding temperature.
type Motor struct {
	Stator Stator
	Kt     float64 // torque constant, N m/A; also V s/rad
	R      float64 // winding resistance at the temperature given to New, ohm
	Mass   float64 // kg
	Volume float64 // of the stator, m3

	still, drag float64 // loss torque at rest, N m, and its growth, N m s
	r20         float64 // winding resistance at 20 degC, ohm
	cooling     float64 // heat passed to the air in a wash of 12 m/s at sea level, W/K
}

// New gives the motor with stator s, speed constant kv in rpm/V and the winding
// at temperature t in K. R follows from Km and so falls as KV^-2 on one stator.
func New(s Stator, kv, t float64) Motor {
	kt := torqueConstant(kv)
	q := kt / s.km()
	m := s.Mass()
	c := math.Cbrt(m / massOf)
	return Motor{Stator: s, Kt: kt, R: hot(q*q, t), Mass: m, Volume: s.Volume(), still: m * lossStatic, drag: m * lossSpeed * 60,
		r20: q * q, cooling: conductance * c * c}
}

// torqueConstant gives Kt = 60/(2 pi KV) in N m/A from KV in rpm/V.
func torqueConstant(kv float64) float64 { return 60 / (2 * math.Pi * kv) }

// hot gives the resistance at temperature t in K of a copper winding that has
// r20 at 20 degC.
func hot(r20, t float64) float64 {
	return r20 * (1 + copperCoefficient*(t-copperReference))
}

// LossTorque is what bearings, iron and windage hold back at n rev/s, in N m;
// derived here from typical idle currents, 30 % (1 sigma).
func (m *Motor) LossTorque(n float64) float64 {
	return m.still + m.drag*n
}

// LossSlope is the growth of LossTorque with n, in N m s.
func (m *Motor) LossSlope() float64 { return m.drag }

// Current is what the motor draws, in A, at shaft torque q in N m and n rev/s.
func (m *Motor) Current(q, n float64) float64 {
	return (q + m.LossTorque(n)) / m.Kt
}

// Voltage is what the motor needs, in V, for current i in A at n rev/s.
func (m *Motor) Voltage(i, n float64) float64 {
	return 2*math.Pi*n*m.Kt + i*m.R
}

// Basis lists the constants of the package.
func Basis() []basis.Constant {
	const regression = "derived here from a table of typical motors (from memory)"
	return []basis.Constant{
		{Symbol: "Km scale", Value: kmScale, Unit: "N m/sqrt(W)", Spread: "10 %", Meaning: "Km = scale d^1.85 h^0.67, stator in mm", Source: regression},
		{Symbol: "Km exponent of d", Value: kmDiameter, Meaning: "stator diameter", Source: regression},
		{Symbol: "Km exponent of h", Value: kmHeight, Meaning: "stator height", Source: regression},
		{Symbol: "motor mass scale", Value: massScale, Unit: "kg", Spread: "10 %", Meaning: "m = scale d^2.07 h^0.77, stator in mm", Source: regression},
		{Symbol: "motor mass exponent of d", Value: massDiameter, Meaning: "stator diameter", Source: regression},
		{Symbol: "motor mass exponent of h", Value: massHeight, Meaning: "stator height", Source: regression},
		{Symbol: "T0 static", Value: lossStatic, Unit: "N m/kg", Spread: "30 %", Meaning: "loss torque per motor mass at rest", Source: "derived here from typical idle currents"},
		{Symbol: "T0 slope", Value: lossSpeed, Unit: "N m/(kg rpm)", Spread: "30 %", Meaning: "growth of the loss torque with speed", Source: "derived here from typical idle currents"},
		{Symbol: "alpha Cu", Value: copperCoefficient, Unit: "1/K", Meaning: "temperature coefficient of copper about 20 degC", Source: "handbook value (from memory)"},
		{Symbol: "G", Value: conductance, Unit: "W/K", Spread: "50 %", Meaning: "heat passed to the air by a motor of 33 g in a wash of 12 m/s at sea level, G (m/33 g)^(2/3) (rho V/(1.225 kg/m3 12 m/s))^0.55", Source: "common practice"},
		{Symbol: "G exponent of the wash", Value: fluxExponent, Meaning: "of its mass flux rho V, as for a cylinder in cross flow", Source: "common practice; R. Hilpert, Wärmeabgabe von geheizten Drähten und Rohren im Luftstrom, 1933 (from memory), has 0.47 to 0.62"},
		{Symbol: "motor heat", Value: specificHeat, Unit: "J/(kg K)", Spread: "10 %", Meaning: "heat capacity of copper and iron", Source: "handbook values (from memory)"},
		{Symbol: "T continuous", Value: ContinuousLimit, Unit: "K", Meaning: "temperature of the windings without limit of time", Source: "common practice"},
		{Symbol: "T burst", Value: BurstLimit, Unit: "K", Meaning: "temperature of the windings for seconds", Source: "common practice"},
		{Symbol: "ESC drop", Value: dropAtRating, Unit: "V", Spread: "30 %", Meaning: "conduction drop at rated current", Source: "common practice"},
		{Symbol: "ESC edge", Value: switchingTime, Unit: "s", Spread: "50 %", Meaning: "overlap of voltage and current per switching", Source: "common practice"},
		{Symbol: "ESC pulse rate", Value: switchingRate, Unit: "Hz", Meaning: "pulse-width modulation below full duty", Source: "common practice"},
		{Symbol: "ESC idle", Value: idleLoss, Unit: "W", Spread: "30 %", Meaning: "logic and gate drive, per channel", Source: "common practice"},
		{Symbol: "ESC margin", Value: ratingMargin, Meaning: "rated over peak motor current", Source: "common practice"},
		{Symbol: "ESC board", Value: boardMass, Unit: "kg", Spread: "15 %", Meaning: "four-in-one board: m = board (1 + slope I_rated)", Source: "common practice"},
		{Symbol: "ESC board slope", Value: boardSlope, Unit: "1/A", Spread: "15 %", Meaning: "growth of the board with its rating", Source: "common practice"},
		{Symbol: "ESC joined", Value: joined, Unit: "kg/A", Spread: "15 %", Meaning: "what the speed controllers add to a board that joins them and the flight controller: m = joined I_rated", Source: "derived here: the board's law without its plate; common practice has 7 to 9 g with the flight controller for 12 to 20 A"},
	}
}
