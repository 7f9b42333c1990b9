// Package frame models the airframe of an X quad: wheelbase, the masses that
// follow from the propeller's size and from the current, what close discs and the
// arms in the slipstream cost in thrust, and arms sized by strength and stiffness.
package frame

import "math"

// Rotors is the number of rotors of the X quad that the model knows.
const Rotors = 4

const inch = 0.0254 // m

const (
	frameExponent = 1.78
	perBlade      = 0.6 // of a two-blade propeller, for each blade above two
	microFrom     = 3.0 // in
	microAt       = 2.0 // in

	penaltyMax   = 0.02
	penaltyClose = 0.05
	penaltyFar   = 0.20
)

// Wheelbase is the diagonal between motors in m, for a propeller diameter in m
// and a clearance between neighbouring discs as a share of the diameter.
func Wheelbase(diameter, clearance float64) float64 {
	return math.Sqrt2 * diameter * (1 + clearance)
}

// ThrustPenalty is the share of thrust lost to neighbouring discs: 2 % at a
// clearance of 0.05 diameters and below, falling in a line to none at 0.2
// (common practice).
func ThrustPenalty(clearance float64) float64 {
	s := (penaltyFar - clearance) / (penaltyFar - penaltyClose)
	return penaltyMax * math.Max(0, math.Min(1, s))
}

// Micro is the degree, 0 to 1, to which a craft with propellers of a diameter in m is
// built as micro craft are, 0 from 3 in up and 1 at 2 in, smoothly between: the frame is
// one plate of 2 to 3 mm with arms of the same, the boards sit on soft mounts, a band holds
// the pack. The laws of larger craft do not extend there: at 2 in they would have arms 9 mm
// thick.
func Micro(diameter float64) float64 {
	x := math.Max(0, math.Min(1, (microFrom-diameter/inch)/(microFrom-microAt)))
	return x * x * (3 - 2*x)
}

// Mass is that of the bare frame in kg, k 5.0 D_in^1.78 g from 3 in up. The factor k is
// about 0.85 for race, 1.0 for cruise and 1.3 for freestyle frames. Below, ever more of it
// is taken off, 0.62 at 2 in, where frames of one plate weigh 5 to 8 g (common practice).
func (p *Parameters) Mass(diameter, factor float64) float64 {
	return factor * p.Scale * math.Pow(diameter/inch, frameExponent) * (1 - p.MicroFrame*Micro(diameter))
}

// PropellerMass is that of one propeller in kg: 0.0555 D_in^2 + 0.2216 D_in g
// for two blades, x 1.6 for three (from memory), and as much again for each
// further blade. blades is at least 2.
func (p *Parameters) PropellerMass(diameter float64, blades int) float64 {
	d := diameter / inch
	return (p.Square*d*d + p.Linear*d) * (1 + perBlade*float64(blades-2))
}

// HardwareMass is that of strap, screws and standoffs in kg: 3 g and 1.5 g/in from 3 in
// up. Below, ever more is taken off, two thirds at 2 in, where it is 2 g (common practice).
func (p *Parameters) HardwareMass(diameter float64) float64 {
	return (p.HardwareFixed + p.HardwareInch*diameter/inch) * (1 - p.MicroHardware*Micro(diameter))
}

// WiringMass is that of leads and connectors in kg, for the rated current of
// one of the four controller channels in A; it grows with current and size. At 2 in
// and 12 to 20 A it comes to 1 to 1.6 g, where 2 g are usual (common practice).
func (p *Parameters) WiringMass(diameter, rating float64) float64 {
	return p.Wiring * rating * diameter / inch
}
