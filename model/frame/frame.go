// Package frame models the airframe of an X quad: wheelbase, the masses that
// follow from the propeller's size and from the current, what close discs and the
// arms in the slipstream cost in thrust, and arms sized by strength and stiffness.
package frame

import (
	"math"
)

// Rotors is the number of rotors of the X quad that the model knows.
const Rotors = 4

const inch = 0.0254 // m

const (
	frameScale    = 5.0e-3 // kg
	frameExponent = 1.78
	propSquare    = 0.0555e-3 // kg/in2
	propLinear    = 0.2216e-3 // kg/in
	perBlade      = 0.6       // of a two-blade propeller, for each blade above two

	hardwareFixed = 3e-3    // kg: pack strap and pads
	hardwareInch  = 1.5e-3  // kg/in: screws, standoffs
	microFrame    = 0.62    // less, at 2 in
	microHardware = 2.0 / 3 // less, at 2 in
	microFrom     = 3.0     // in
	microAt       = 2.0     // in
	wireAmpere    = 0.04e-3 // kg/(A in): pack lead, motor leads and connectors, by rating and size

	penaltyMax   = 0.02
	penaltyClose = 0.05
	penaltyFar   = 0.20

	download = 0.04
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

// Download is the share of the rotors' thrust that their slipstream takes back
// on arms and body, 4 +- 2 %. Derived here: an arm covers about 7 % of its disc
// with a drag coefficient of 1.2 in a stream of 1.4 times the induced velocity,
// so 1.2 x 0.07 x 1.4^2/4. J.G. Leishman, Principles of Helicopter Aerodynamics,
// 2006, gives up to 5 % of weight for helicopters (from memory).
const Download = download

// Micro says how far a craft with propellers of a diameter in m is built as micro craft
// are, 0 from 3 in up and 1 at 2 in, smoothly between: the frame is one plate of 2 to
// 3 mm with arms of the same, the boards sit on soft mounts, a band holds the pack. The
// laws of larger craft do not go on there: at 2 in they would have arms 9 mm thick.
func Micro(diameter float64) float64 {
	x := math.Max(0, math.Min(1, (microFrom-diameter/inch)/(microFrom-microAt)))
	return x * x * (3 - 2*x)
}

// Mass is that of the bare frame in kg, k 5.0 D_in^1.78 g from 3 in up; 20 % (1 sigma). The
// factor k is about 0.85 for race, 1.0 for cruise and 1.3 for freestyle frames. Below,
// ever more of it is taken off, 0.62 at 2 in, where frames of one plate weigh 5 to 8 g
// (common practice); 30 % (1 sigma).
func Mass(diameter, factor float64) float64 {
	return factor * frameScale * math.Pow(diameter/inch, frameExponent) * (1 - microFrame*Micro(diameter))
}

// PropellerMass is that of one propeller in kg: 0.0555 D_in^2 + 0.2216 D_in g
// for two blades, x 1.6 for three (from memory), and as much again for each
// further blade. blades is at least 2.
func PropellerMass(diameter float64, blades int) float64 {
	d := diameter / inch
	return (propSquare*d*d + propLinear*d) * (1 + perBlade*float64(blades-2))
}

// HardwareMass is that of strap, screws and standoffs in kg: 3 g and 1.5 g/in from 3 in
// up. Below, ever more is taken off, two thirds at 2 in, where it is 2 g (common practice).
func HardwareMass(diameter float64) float64 {
	return (hardwareFixed + hardwareInch*diameter/inch) * (1 - microHardware*Micro(diameter))
}

// WiringMass is that of leads and connectors in kg, for the rated current of
// one of the four controller channels in A; it grows with current and size. At 2 in
// and 12 to 20 A it comes to 1 to 1.6 g, where 2 g are usual (common practice).
func WiringMass(diameter, rating float64) float64 {
	return wireAmpere * rating * diameter / inch
}
