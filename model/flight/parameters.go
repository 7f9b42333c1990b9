package flight

// Parameters are the constants of crafts in flight whose spread is known; Basis says more
// of each.
type Parameters struct {
	BodyDrag  float64 // drag area of a level body, m2/kg^(2/3)
	Broadside float64 // drag area seen from above over that of a level body

	// HardCurrent is the share of the full-throttle current at which the hard part of a
	// flight is flown (common practice).
	HardCurrent float64

	BladeGyration float64 // of m R^2, of a propeller with its hub
	BellShare     float64 // of the motor's mass that turns
	BellRadius    float64 // over that of the stator
	BodyDensity   float64 // of pack, plates, avionics and payload together, kg/m3
	BodyLength    float64 // of the same, over its width and height
}

// Nominal are the parameters as they are best known.
func Nominal() Parameters {
	return Parameters{
		BodyDrag: 0.0125, Broadside: 2.5, HardCurrent: 0.6,
		BladeGyration: 0.21, BellShare: 0.45, BellRadius: 1.12, BodyDensity: 1200, BodyLength: 2,
	}
}
