package flight

import "rotorsieve/model/basis"

// Basis lists the constants of the package, with the nominal parameters.
func Basis() []basis.Constant {
	p := Nominal()
	return basis.List(Entries(), &p)
}

// Entries lists the constants and parameters of the package.
func Entries() []basis.Entry[Parameters] {
	const trade = "common practice"
	return []basis.Entry[Parameters]{
		{Symbol: "g_n", Value: Gravity, Unit: "m/s2", Meaning: "standard acceleration of free fall",
			Source: "ISO 80000-3"},
		{Symbol: "body drag", At: func(p *Parameters) *float64 { return &p.BodyDrag }, Unit: "m2/kg^(2/3)",
			Sigma: 0.40, Reach: basis.All,
			Meaning: "drag area of a level body, CdA = scale m^(2/3) (cos tilt + broadside sin tilt)", Source: trade},
		{Symbol: "broadside", At: func(p *Parameters) *float64 { return &p.Broadside },
			Sigma: 0.40, Reach: basis.All,
			Meaning: "drag area seen from above over that of a level body",
			Source:  trade},
		{Symbol: "I hard", At: func(p *Parameters) *float64 { return &p.HardCurrent },
			Sigma: 0.25, Reach: basis.All,
			Meaning: "current of the hard part of a flight over that of full throttle",
			Source:  trade},
		{Symbol: "k blade", At: func(p *Parameters) *float64 { return &p.BladeGyration },
			Sigma: 0.25, Reach: basis.All,
			Meaning: "moment of inertia of a propeller over m R^2",
			Source:  "derived here: mass with chord squared, three tenths in the hub"},
		{Symbol: "bell share", At: func(p *Parameters) *float64 { return &p.BellShare },
			Sigma: 0.25, Reach: basis.All,
			Meaning: "share of a motor's mass that turns",
			Source:  trade},
		{Symbol: "bell radius", At: func(p *Parameters) *float64 { return &p.BellRadius },
			Sigma: 0.10, Reach: basis.All,
			Meaning: "radius of the bell over that of the stator",
			Source:  trade},
		{Symbol: "body density", At: func(p *Parameters) *float64 { return &p.BodyDensity }, Unit: "kg/m3",
			Sigma: 0.30, Reach: basis.All,
			Meaning: "of pack, plates, avionics and payload together, for the moment of inertia",
			Source:  "derived here from the density of packs and the space between parts"},
		{Symbol: "body length", At: func(p *Parameters) *float64 { return &p.BodyLength },
			Sigma: 0.30, Reach: basis.All,
			Meaning: "of the same, over its width and height",
			Source:  trade},
	}
}

// Laws lists the formulas of the package.
func Laws() []basis.Law {
	const (
		derived  = "derived here"
		momentum = "momentum theory"
		trim     = "H. Glauert, A general theory of the autogyro, 1926, for the rotors; the balance of forces is " +
			"derived here"
	)
	return []basis.Law{
		{Name: "Rotor at rest", Formula: "T = k CT rho n^2 D^4, Q = CP rho n^2 D^5/(2 pi), shaft power 2 pi n Q",
			Source: "definition"},
		{Name: "Full throttle", Formula: "V = V_m + (R_ctl + R_leads) I and V = V_rested - R (4 I + P_0/V), P_0 = 4 " +
			"(controller idle) + avionics, V_rested at the charge of full throttle; both hold at one n",
			Source: derived},
		{Name: "Below full throttle", Formula: "P = 4 (u I + P_c + P_s) + P_0, V = V_rested - R P/V, V_rested the " +
			"mean over the usable charge", Source: derived},
		{Name: "Wash in hover V_w", Formula: "V_w = 2 sqrt(T/(2 k rho pi/4 D^2)), T the thrust left of one rotor",
			Source: momentum},
		{Name: "Wash in flight V_w", Formula: "V_w^2 = (V cos tilt)^2 + (V sin tilt + 2 v)^2, v the speed induced at " +
			"the disc", Source: momentum},
		{Name: "Level flight", Formula: "W sin tilt = D cos tilt + H, T = W cos tilt + D sin tilt, D = rho/2 V^2 " +
			"CdA, H the drag of all rotors along their discs; each rotor gives T/(4 k)", Source: trim},
		{Name: "Drag area CdA", Formula: "CdA = (body drag) m^(2/3) (cos tilt + broadside sin tilt) + payload area, " +
			"m the all-up weight in kg", Source: "common practice"},
		{Name: "Climb", Formula: "T = W + rho/2 V^2 CdA at a tilt of 90 degrees, at full throttle", Source: derived},
		{Name: "Thrust response", Formula: "2 pi J dn/dt = K I + X I^2/(2 pi) - T0(n) - Q(n), I = (d V' - 2 pi n " +
			"K)/(R_winding + X n + R_ctl + R_leads + 4 d^2 R) within +-I_rated, V' = V_rested - R P_0/V_rested",
			Source: derived},
		{Name: "Duty d held in the end", Formula: "d V' - 4 R I d^2 = u; 1 at full throttle; of the response down " +
			"that of hover", Source: derived},
		{Name: "Inertia of a rotor J", Formula: "J = (k blade) m_p R^2 + (bell share) m_m ((bell radius) d/2)^2, R " +
			"of the propeller, d of the stator", Source: derived},
		{Name: "Inertia in roll", Formula: "4 (m_tip + m_arm/3) y^2 + m_body w^2/6, y = L/(2 sqrt(2)), m_body the " +
			"weight less tips and arms, w = (m_body/((body length) (body density)))^(1/3)", Source: derived},
		{Name: "Flight with a hard share", Formula: "P = (1 - s) P_h + s I (V_rested - R I), I = (I hard) I_b, s the " +
			"hard share, V_rested the mean over the usable charge", Source: "common practice"},
	}
}
