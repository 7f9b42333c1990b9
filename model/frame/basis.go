package frame

import "rotorsieve/model/basis"

const trade = "common practice"

// Basis lists the constants of the package, with the nominal parameters.
func Basis() []basis.Constant {
	p := Nominal()
	return basis.List(Entries(), &p)
}

// Entries lists the constants and parameters of the package.
func Entries() []basis.Entry[Parameters] {
	const rayleigh = "S.P. Timoshenko, Vibration Problems in Engineering, 1937 (from memory)"
	best := Nominal()
	return []basis.Entry[Parameters]{
		{Symbol: "rotors", Value: Rotors, Meaning: "of the X quad", Source: "definition"},
		{Symbol: "frame scale", At: func(p *Parameters) *float64 { return &p.Scale }, Unit: "kg",
			Sigma: 0.20, Reach: basis.All, Meaning: "m = k scale D_in^1.78", Source: trade},
		{Symbol: "frame exponent", Value: frameExponent, Meaning: "of the diameter in inches", Source: trade},
		{Symbol: "propeller square", At: func(p *Parameters) *float64 { return &p.Square }, Unit: "kg/in2",
			Sigma: 0.10, Reach: basis.Part, Meaning: "two-blade propeller, part with D^2", Source: "from memory"},
		{Symbol: "propeller linear", At: func(p *Parameters) *float64 { return &p.Linear }, Unit: "kg/in",
			Sigma: 0.10, Reach: basis.Part, With: "propeller square", Meaning: "two-blade propeller, part with D",
			Source: "from memory"},
		{Symbol: "propeller blade", Value: perBlade, Meaning: "share added by each blade above two",
			Source: "from memory (three blades)"},
		{Symbol: "E arm", At: func(p *Parameters) *float64 { return &p.Modulus }, Unit: "Pa",
			Sigma: 0.15, Reach: basis.All, Meaning: "bending modulus of woven carbon-fibre plate", Source: trade},
		{Symbol: "rho arm", At: func(p *Parameters) *float64 { return &p.Density }, Unit: "kg/m3",
			Sigma: 0.03, Reach: basis.All, Meaning: "density of the same", Source: trade},
		{Symbol: "sigma arm", At: func(p *Parameters) *float64 { return &p.Stress }, Unit: "Pa",
			Sigma: 0.15, Reach: basis.All, Meaning: "bending stress that bolt holes stand", Source: trade},
		{Symbol: "arm swing", Value: ownMass, Meaning: "share of an arm's mass that swings with its tip",
			Source: rayleigh},
		{Symbol: "body radius", Value: bodyRadius, Unit: "m",
			Meaning: "centre of the craft to the clamps of the arms", Source: trade},
		{Symbol: "arm width", At: func(p *Parameters) *float64 { return &p.Width },
			Sigma: 0.15, Reach: basis.Part,
			Meaning: "over the propeller's diameter",
			Source:  trade},
		{Symbol: "arm thinnest", Value: thinnest, Unit: "m", Meaning: "least thickness of an arm built by beam",
			Source: trade},
		{Symbol: "body share", At: func(p *Parameters) *float64 { return &p.Body },
			Sigma: 0.15, Reach: basis.All, Below: 1,
			Meaning: "share of a frame's mass that is not arms",
			Source:  "derived here from a five-inch frame with arms of 12 x 5 mm"},
		{Symbol: "hardware fixed", At: func(p *Parameters) *float64 { return &p.HardwareFixed }, Unit: "kg",
			Sigma: 0.30, Reach: basis.All, Meaning: "pack strap and pads", Source: trade},
		{Symbol: "hardware by size", At: func(p *Parameters) *float64 { return &p.HardwareInch }, Unit: "kg/in",
			Sigma: 0.30, Reach: basis.All, With: "hardware fixed",
			Meaning: "screws and standoffs per inch of diameter", Source: trade},
		{Symbol: "micro frame", At: func(p *Parameters) *float64 { return &p.MicroFrame },
			Sigma: 0.30 * (1 - best.MicroFrame), Distribution: basis.Normal, Reach: basis.All, Below: 1,
			Meaning: "share of the frame's law that is not there at 2 in, known to 30 % of the frame; from 3 in " +
				"with x = 3 - D_in as x^2 (3 - 2 x)",
			Source: trade + ": 5 to 8 g at 2 in"},
		{Symbol: "micro hardware", At: func(p *Parameters) *float64 { return &p.MicroHardware },
			Sigma: 0.30 * (1 - best.MicroHardware), Distribution: basis.Normal, Reach: basis.All, Below: 1,
			Meaning: "the same of the hardware's law, known to 30 % of the hardware",
			Source:  trade + ": 2 g at 2 in"},
		{Symbol: "micro from", Value: microFrom, Unit: "in",
			Meaning: "diameter below which a craft begins to be built as micro craft are", Source: trade},
		{Symbol: "micro at", Value: microAt, Unit: "in", Meaning: "diameter at which it is wholly", Source: trade},
		{Symbol: "wiring", At: func(p *Parameters) *float64 { return &p.Wiring }, Unit: "kg/(A in)",
			Sigma: 0.30, Reach: basis.All, Meaning: "leads and connectors, by controller rating and diameter",
			Source: trade},
		{Symbol: "thrust penalty", Value: penaltyMax,
			Meaning: "share of thrust lost at the clearance of close discs, in a line to none at that of far ones",
			Source:  trade},
		{Symbol: "close discs", Value: penaltyClose, Meaning: "clearance over D at which and below which it is whole",
			Source: trade},
		{Symbol: "far discs", Value: penaltyFar, Meaning: "clearance over D from which on there is none",
			Source: trade},
		{Symbol: "download", At: func(p *Parameters) *float64 { return &p.Download },
			Sigma: 0.50, Reach: basis.All, Below: 1,
			Meaning: "share of thrust lost to the slipstream on arms and body",
			Source: "derived here from arm area and slipstream; Leishman, Principles of Helicopter Aerodynamics, " +
				"2006 (from memory), gives up to 5 % of weight"},
	}
}

// Laws lists the formulas of the package.
func Laws() []basis.Law {
	const beam = "S.P. Timoshenko, Vibration Problems in Engineering, 1937 (from memory)"
	return []basis.Law{
		{Name: "Wheelbase L", Formula: "L = sqrt(2) D (1 + clearance)", Source: "geometry of the X quad"},
		{Name: "Micro craft, share s", Formula: "s = x^2 (3 - 2 x), x = 3 - D_in within 0 and 1", Source: trade},
		{Name: "Frame", Formula: "m = k (frame scale) D_in^1.78 (1 - (micro frame) s), k the frame factor",
			Source: trade},
		{Name: "Hardware", Formula: "m = ((hardware fixed) + (hardware by size) D_in) (1 - (micro hardware) s)",
			Source: trade},
		{Name: "One propeller", Formula: "m = (square D_in^2 + linear D_in) (1 + blade (B - 2)), B blades",
			Source: "from memory"},
		{Name: "Wiring", Formula: "m = wiring I_rated D_in", Source: trade},
		{Name: "Share of the open thrust that is left, k", Formula: "k = (1 - penalty y) (1 - download), y = (far - " +
			"clearance)/(far - close) within 0 and 1", Source: trade},
		{Name: "Arm of a frame by regression", Formula: "width w = (arm width) D, length l = L/2 - (body radius), " +
			"thickness t = (1 - (body share)) m_frame/(4 (rho arm) w l)", Source: "derived here"},
		{Name: "Arm by beam", Formula: "t = sqrt(6 F l/(w (sigma arm))), at least arm thinnest, F = crash load times " +
			"the weight without controller, wiring and payload, arms as by regression; thicker where f_arm lies " +
			"within the detuning of the rotors' speed in hover without payload; the body is (body share) m_frame",
			Source: beam},
		{Name: "First bending f_arm", Formula: "f_arm = sqrt(3 E w t^3/12/(l^3 (m_tip + 0.2357 m_arm)))/(2 pi), " +
			"m_arm = (rho arm) w t l, m_tip a motor and a propeller", Source: beam},
	}
}
