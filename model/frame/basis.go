package frame

import "rotorsieve/model/basis"

const trade = "common practice"

// Basis lists the constants of the package.
func Basis() []basis.Constant {
	const rayleigh = "S.P. Timoshenko, Vibration Problems in Engineering, 1937 (from memory)"
	return []basis.Constant{
		{Symbol: "rotors", Value: Rotors, Meaning: "of the X quad", Source: "definition"},
		{Symbol: "frame scale", Value: frameScale, Unit: "kg", Spread: "20 %", Meaning: "m = k scale D_in^1.78", Source: trade},
		{Symbol: "frame exponent", Value: frameExponent, Meaning: "of the diameter in inches", Source: trade},
		{Symbol: "propeller square", Value: propSquare, Unit: "kg/in2", Spread: "10 %", Meaning: "two-blade propeller, part with D^2", Source: "from memory"},
		{Symbol: "propeller linear", Value: propLinear, Unit: "kg/in", Spread: "10 %", Meaning: "two-blade propeller, part with D", Source: "from memory"},
		{Symbol: "propeller blade", Value: perBlade, Meaning: "share added by each blade above two", Source: "from memory (three blades)"},
		{Symbol: "E arm", Value: modulus, Unit: "Pa", Spread: "15 %", Meaning: "bending modulus of woven carbon-fibre plate", Source: trade},
		{Symbol: "rho arm", Value: armDensity, Unit: "kg/m3", Spread: "3 %", Meaning: "density of the same", Source: trade},
		{Symbol: "sigma arm", Value: boltStress, Unit: "Pa", Spread: "15 %", Meaning: "bending stress that bolt holes stand", Source: trade},
		{Symbol: "arm swing", Value: ownMass, Meaning: "share of an arm's mass that swings with its tip", Source: rayleigh},
		{Symbol: "body radius", Value: bodyRadius, Unit: "m", Meaning: "centre of the craft to the clamps of the arms", Source: trade},
		{Symbol: "arm width", Value: widthShare, Spread: "15 %", Meaning: "over the propeller's diameter", Source: trade},
		{Symbol: "arm thinnest", Value: thinnest, Unit: "m", Meaning: "least thickness of an arm built by beam", Source: trade},
		{Symbol: "body share", Value: bodyShare, Spread: "15 %", Meaning: "share of a frame's mass that is not arms", Source: "derived here from a five-inch frame with arms of 12 x 5 mm"},
		{Symbol: "hardware fixed", Value: hardwareFixed, Unit: "kg", Spread: "30 %", Meaning: "pack strap and pads", Source: trade},
		{Symbol: "hardware by size", Value: hardwareInch, Unit: "kg/in", Spread: "30 %", Meaning: "screws and standoffs per inch of diameter", Source: trade},
		{Symbol: "micro frame", Value: microFrame, Spread: "30 % of the frame", Meaning: "share of the frame's law that is not there at 2 in; from 3 in with x = 3 - D_in as x^2 (3 - 2 x)", Source: trade + ": 5 to 8 g at 2 in"},
		{Symbol: "micro hardware", Value: microHardware, Spread: "30 % of the hardware", Meaning: "the same of the hardware's law", Source: trade + ": 2 g at 2 in"},
		{Symbol: "micro from", Value: microFrom, Unit: "in", Meaning: "diameter below which a craft begins to be built as micro craft are", Source: trade},
		{Symbol: "micro at", Value: microAt, Unit: "in", Meaning: "diameter at which it is wholly", Source: trade},
		{Symbol: "wiring", Value: wireAmpere, Unit: "kg/(A in)", Spread: "30 %", Meaning: "leads and connectors, by controller rating and diameter", Source: trade},
		{Symbol: "thrust penalty", Value: penaltyMax, Meaning: "share of thrust lost at the clearance of close discs, in a line to none at that of far ones", Source: trade},
		{Symbol: "close discs", Value: penaltyClose, Meaning: "clearance over D at which and below which it is whole", Source: trade},
		{Symbol: "far discs", Value: penaltyFar, Meaning: "clearance over D from which on there is none", Source: trade},
		{Symbol: "download", Value: download, Spread: "50 %", Meaning: "share of thrust lost to the slipstream on arms and body", Source: "derived here from arm area and slipstream; Leishman, Principles of Helicopter Aerodynamics, 2006 (from memory), gives up to 5 % of weight"},
	}
}

// Laws lists the formulas of the package.
func Laws() []basis.Law {
	const beam = "S.P. Timoshenko, Vibration Problems in Engineering, 1937 (from memory)"
	return []basis.Law{
		{Name: "Wheelbase L", Formula: "L = sqrt(2) D (1 + clearance)", Source: "geometry of the X quad"},
		{Name: "Micro craft, share s", Formula: "s = x^2 (3 - 2 x), x = 3 - D_in within 0 and 1", Source: trade},
		{Name: "Frame", Formula: "m = k (frame scale) D_in^1.78 (1 - (micro frame) s), k the frame factor", Source: trade},
		{Name: "Hardware", Formula: "m = ((hardware fixed) + (hardware by size) D_in) (1 - (micro hardware) s)", Source: trade},
		{Name: "One propeller", Formula: "m = (square D_in^2 + linear D_in) (1 + blade (B - 2)), B blades", Source: "from memory"},
		{Name: "Wiring", Formula: "m = wiring I_rated D_in", Source: trade},
		{Name: "Share of the open thrust that is left, k", Formula: "k = (1 - penalty y) (1 - download), y = (far - clearance)/(far - close) within 0 and 1", Source: trade},
		{Name: "Arm of a frame by regression", Formula: "width w = (arm width) D, length l = L/2 - (body radius), thickness t = (1 - (body share)) m_frame/(4 (rho arm) w l)", Source: "derived here"},
		{Name: "Arm by beam", Formula: "t = sqrt(6 F l/(w (sigma arm))), at least arm thinnest, F = crash load times the weight without controller, wiring and payload, arms as by regression; thicker where f_arm lies within the detuning of the turns of hover without payload; the body is (body share) m_frame", Source: beam},
		{Name: "First bending f_arm", Formula: "f_arm = sqrt(3 E w t^3/12/(l^3 (m_tip + 0.2357 m_arm)))/(2 pi), m_arm = (rho arm) w t l, m_tip a motor and a propeller", Source: beam},
	}
}
