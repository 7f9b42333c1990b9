package frame

// Parameters are the constants of airframes whose spread is known; Basis says more of
// each.
type Parameters struct {
	Scale  float64 // of the frame's mass, kg
	Square float64 // of a two-blade propeller's mass, kg/in2
	Linear float64 // of the same, kg/in

	Modulus float64 // of woven plate in bending, Pa
	Density float64 // of the same, kg/m3
	Stress  float64 // strength at bolt holes, Pa
	Width   float64 // of an arm, over the propeller's diameter
	Body    float64 // share of the regression's mass that is not arms

	HardwareFixed float64 // pack strap and pads, kg
	HardwareInch  float64 // screws, standoffs, kg/in
	MicroFrame    float64 // share taken off the frame's mass at 2 in
	MicroHardware float64 // the same for the hardware
	Wiring        float64 // pack lead, motor leads and connectors, by rating and size, kg/(A in)

	// Download is the share of the rotors' thrust lost to their slipstream on arms and
	// body. Derived here: an arm covers about 7 % of its disc with a drag
	// coefficient of 1.2 in a stream of 1.4 times the induced velocity, so
	// 1.2 x 0.07 x 1.4^2/4. J.G. Leishman, Principles of Helicopter Aerodynamics, 2006,
	// gives up to 5 % of weight for helicopters (from memory).
	Download float64
}

// Nominal are the parameters as they are best known.
func Nominal() Parameters {
	return Parameters{
		Scale: 5.0e-3, Square: 0.0555e-3, Linear: 0.2216e-3,
		Modulus: 50e9, Density: 1580, Stress: 145e6, Width: 0.10, Body: 0.63,
		HardwareFixed: 3e-3, HardwareInch: 1.5e-3, MicroFrame: 0.62, MicroHardware: 2.0 / 3, Wiring: 0.04e-3,
		Download: 0.04,
	}
}
