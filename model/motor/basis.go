package motor

import (
	"fmt"

	"rotorsieve/model/basis"
)

const (
	firstOrder = "M. Drela, First-Order DC Electric Motor Model, MIT 2007 (from memory)"
	onStand    = "fitted here, on halves of the motors, to P. Cao, J. Strawson, Motor and propeller testing, 2018"
	tabled     = "derived here from a table of typical motors (from memory)"
	trade      = "common practice"
)

// Basis lists the constants of the package, with the nominal parameters.
func Basis() []basis.Constant { return basis.List(Entries(), &nominal) }

// Entries lists the constants and parameters of the package.
func Entries() []basis.Entry[Parameters] {
	out := []basis.Entry[Parameters]{
		{Symbol: "Km scale", At: func(p *Parameters) *float64 { return &p.Km }, Unit: "N m/sqrt(W)",
			Sigma: 0.10, Reach: basis.Part, Meaning: "Km = scale d^1.85 h^0.67, stator in mm", Source: tabled},
		{Symbol: "Km exponent of d", Value: kmDiameter, Meaning: "stator diameter", Source: tabled},
		{Symbol: "Km exponent of h", Value: kmHeight, Meaning: "stator height", Source: tabled},
		{Symbol: "motor mass scale", At: func(p *Parameters) *float64 { return &p.Mass }, Unit: "kg",
			Sigma: 0.10, Reach: basis.Part, Meaning: "m = scale d^2.07 h^0.77, stator in mm", Source: tabled},
		{Symbol: "motor mass exponent of d", Value: massDiameter, Meaning: "stator diameter", Source: tabled},
		{Symbol: "motor mass exponent of h", Value: massHeight, Meaning: "stator height", Source: tabled},
		{Symbol: "T0 static", At: func(p *Parameters) *float64 { return &p.LossStatic }, Unit: "N m/kg",
			Sigma: 0.30, Reach: basis.All, Meaning: "loss torque per motor mass at rest",
			Source: "derived here from typical idle currents"},
		{Symbol: "T0 slope", At: func(p *Parameters) *float64 { return &p.LossSpeed }, Unit: "N m/(kg rpm)",
			Sigma: 0.30, Reach: basis.All, With: "T0 static",
			Meaning: "growth of the loss torque with speed, per motor mass",
			Source:  "derived here from typical idle currents"},
		{Symbol: "V_w scale", At: func(p *Parameters) *float64 { return &p.Rim }, Unit: "m/s",
			Sigma: 0.05, Reach: basis.All,
			Meaning: "rim speed without load, on a full pack, of the fastest windings that are sold for a stator " +
				"of d_w, V_w = scale (d/d_w)^exponent",
			Source: trade},
		{Symbol: "d_w", Value: rimDiameter, Unit: "m", Meaning: "stator of that scale", Source: trade},
		{Symbol: "V_w exponent", Value: rimExponent, Meaning: "of the stator's diameter", Source: trade},
		{Symbol: "Q/V_s burst", At: func(p *Parameters) *float64 { return &p.BurstTorque }, Unit: "N m/m3",
			Sigma: 0.20, Reach: basis.All,
			Meaning: "torque per stator volume that a stator of V_s burst gives for seconds; goes with the cube " +
				"root of the volume",
			Source: trade},
		{Symbol: "V_s burst", Value: burstVolume, Unit: "m3", Meaning: "stator volume of that torque: of a 2207",
			Source: "definition"},
		{Symbol: "alpha Cu", Value: copperCoefficient, Unit: "1/K",
			Meaning: "temperature coefficient of copper about T_20", Source: "handbook value (from memory)"},
		{Symbol: "T_20", Value: copperReference, Unit: "K", Meaning: "temperature of R20, the winding's resistance",
			Source: "definition"},
		{Symbol: "KV under load", At: func(p *Parameters) *float64 { return &p.UnderLoad },
			Sigma: 0.04, Reach: basis.All,
			Meaning: "speed constant under load over that of the label, or highest duty: K = Kt over this",
			Source:  onStand},
		{Symbol: "x", At: func(p *Parameters) *float64 { return &p.Reactance }, Unit: "V s m3/(A (N m/A)^2)",
			Sigma: 1.00, Reach: basis.All,
			Meaning: "reactance of the winding, X = x Kt^2/V_s of the label's Kt and the stator's volume",
			Source:  onStand},
		{Symbol: "c", At: func(p *Parameters) *float64 { return &p.Chopping },
			Sigma: 0.30, Reach: basis.All,
			Meaning: "scale of the chopping loss below full duty, at f stand",
			Source:  onStand},
		{Symbol: "f stand", At: func(p *Parameters) *float64 { return &p.StandRate }, Unit: "Hz",
			Sigma: 0.40, Reach: basis.All, Meaning: "pulse rate of the stands' controllers, of 2018 to 2020",
			Source: "common practice of those years (from memory)"},
		{Symbol: "controller drop", At: func(p *Parameters) *float64 { return &p.Drop }, Unit: "V",
			Sigma: 0.40, Reach: basis.All, Meaning: "conduction drop at rated current: R_ctl = drop/I_rated",
			Source: trade},
		{Symbol: "leads drop", At: func(p *Parameters) *float64 { return &p.Leads }, Unit: "V",
			Sigma: 0.40, Reach: basis.All,
			Meaning: "drop of leads and joints at rated current: R_leads = drop/I_rated", Source: onStand},
		{Symbol: "controller edge", At: func(p *Parameters) *float64 { return &p.Edge }, Unit: "s",
			Sigma: 0.50, Reach: basis.All,
			Meaning: "overlap of voltage and current per switching, P = V I edge f/2 below full duty", Source: trade},
		{Symbol: "controller idle", At: func(p *Parameters) *float64 { return &p.Idle }, Unit: "W",
			Sigma: 0.30, Reach: basis.All, Meaning: "logic and gate drive, per channel", Source: trade},
		{Symbol: "controller margin", Value: ratingMargin, Meaning: "rated over peak motor current", Source: trade},
		{Symbol: "controller step above", Value: ratingStep, Unit: "A",
			Meaning: "step of the ratings above the last of those listed",
			Source:  "chosen here, that the mass keeps growing"},
		{Symbol: "controller rating least", Value: MinRating, Unit: "A", Meaning: "least rating that is common",
			Source: trade},
		{Symbol: "controller rating most", Value: MaxRating, Unit: "A", Meaning: "highest rating that is common",
			Source: trade},
		{Symbol: "controller board", At: func(p *Parameters) *float64 { return &p.Board }, Unit: "kg",
			Sigma: 0.15, Reach: basis.All, Meaning: "four-in-one board: m = board (1 + slope I_rated)",
			Source: trade},
		{Symbol: "controller board slope", At: func(p *Parameters) *float64 { return &p.BoardSlope }, Unit: "1/A",
			Sigma: 0.15, Reach: basis.All, Meaning: "growth of the board with its rating", Source: trade},
		{Symbol: "controller joined", At: func(p *Parameters) *float64 { return &p.Joined }, Unit: "kg/A",
			Sigma: 0.15, Reach: basis.All,
			Meaning: "what the speed controllers add to a board that joins them and the flight controller: m = " +
				"joined I_rated",
			Source: "derived here: the board's law without its plate; common practice has 7 to 9 g with the " +
				"flight controller for 12 to 20 A"},
		{Symbol: "controller joined most", Value: MaxJoined, Unit: "A",
			Meaning: "highest rating at which joined boards are common", Source: trade},
		{Symbol: "G", At: func(p *Parameters) *float64 { return &p.Conductance }, Unit: "W/K",
			Sigma: 0.50, Reach: basis.All, Meaning: "heat passed to the air by a motor of m_G in a wash of flux_G",
			Source: trade},
		{Symbol: "m_G", Value: massOf, Unit: "kg", Meaning: "mass of the motor of G", Source: "definition"},
		{Symbol: "flux_G", Value: fluxOf, Unit: "kg/(m2 s)",
			Meaning: "mass flux rho V of the wash of G: 12 m/s at sea level", Source: "definition"},
		{Symbol: "G exponent of the wash", Value: fluxExponent,
			Meaning: "of its mass flux rho V, as for a cylinder in cross flow",
			Source: "common practice; R. Hilpert, Wärmeabgabe von geheizten Drähten und Rohren im Luftstrom, " +
				"1933 (from memory), has 0.47 to 0.62"},
		{Symbol: "motor heat", At: func(p *Parameters) *float64 { return &p.Heat }, Unit: "J/(kg K)",
			Sigma: 0.10, Reach: basis.All, Meaning: "heat capacity of copper and iron",
			Source: "handbook values (from memory)"},
		{Symbol: "T continuous", Value: ContinuousLimit, Unit: "K",
			Meaning: "temperature of the windings without limit of time", Source: trade},
		{Symbol: "T burst", Value: BurstLimit, Unit: "K", Meaning: "temperature of the windings for seconds",
			Source: trade},
		{Symbol: "T hottest", Value: Hottest, Unit: "K",
			Meaning: "stands for all temperatures above, and for runaway", Source: "chosen here"},
		{Symbol: "t longest", Value: Longest, Unit: "s", Meaning: "stands for all times above, and for never",
			Source: "chosen here"},
		{Symbol: "loss least", Value: leastLoss,
			Meaning: "least factor on the loss torque that a stated idle current may ask for",
			Source:  "chosen here: five times the spread"},
		{Symbol: "loss most", Value: mostLoss, Meaning: "highest such factor",
			Source: "chosen here: five times the spread"},
		{Symbol: "mass least", Value: leastMass, Meaning: "least factor on the motor mass that may be stated",
			Source: "chosen here: a third, for another unit or stator"},
		{Symbol: "mass most", Value: mostMass, Meaning: "highest such factor", Source: "chosen here"},
		{Symbol: "resistance least", Value: leastResistance,
			Meaning: "least factor on the winding's resistance that may be stated",
			Source:  "chosen here: five times the spread"},
		{Symbol: "resistance most", Value: mostResistance, Meaning: "highest such factor", Source: "chosen here"},
		{Symbol: "d_s least", Value: MinDiameter, Unit: "m", Meaning: "least stator diameter of the regressions",
			Source: tabled},
		{Symbol: "d_s most", Value: MaxDiameter, Unit: "m", Meaning: "highest stator diameter of the regressions",
			Source: tabled},
		{Symbol: "h_s least", Value: MinHeight, Unit: "m", Meaning: "least stator height of the regressions",
			Source: tabled},
		{Symbol: "h_s most", Value: MaxHeight, Unit: "m", Meaning: "highest stator height of the regressions",
			Source: tabled},
	}
	for i, r := range ratings {
		out = append(out, basis.Entry[Parameters]{Symbol: fmt.Sprintf("controller step %d", i+1), Value: r, Unit: "A",
			Meaning: "continuous current per motor of a board that is sold", Source: trade})
	}
	return out
}

// Laws lists the formulas of the package.
func Laws() []basis.Law {
	const both = firstOrder + "; X and K " + onStand
	return []basis.Law{
		{Name: "Stator volume V_s", Formula: "V_s = pi/4 d^2 h", Source: "definition"},
		{Name: "Torque constant Kt, K", Formula: "Kt = 60/(2 pi KV), KV of the label in rpm/V; under load K = Kt/(KV " +
			"under load)", Source: both},
		{Name: "Winding R", Formula: "R20 = (Kt/Km)^2; R = R20 (1 + alpha (T - T_20)), T the winding temperature " +
			"assumed; heat starts from R20", Source: firstOrder},
		{Name: "Reactance X", Formula: "X = x Kt^2/V_s", Source: "form derived here; " + onStand},
		{Name: "Loss torque T0(n)", Formula: "T0 = m (T0 static + T0 slope 60 n), m the mass of the motor, n in " +
			"rev/s; T0' = 60 m (T0 slope), in N m s", Source: "derived here from typical idle currents"},
		{Name: "Motor current I", Formula: "Q + T0(n) = K I + X I^2/(2 pi), so I = 2 (Q + T0)/(K + sqrt(K^2 + 2 X (Q " +
			"+ T0)/pi))", Source: both},
		{Name: "Motor voltage V_m", Formula: "V_m = 2 pi n K + (R + X n) I", Source: both},
		{Name: "Voltage of the pulses u, duty d", Formula: "u = V_m + (R_ctl + R_leads) I, d = u/V with V the loaded " +
			"pack voltage; d = 1 at full throttle", Source: firstOrder},
		{Name: "Chopping loss, in a motor", Formula: "P_c = 4 c 2 pi T0' (KV/60)^2 u^2 (1 - u/V)^2 (f stand/f)^2, f " +
			"the pulse rate; KV of the label; none at full duty", Source: "form derived here; " + onStand},
		{Name: "Switching loss, of a channel", Formula: "P_s = V I (controller edge) f/2; none at full duty",
			Source: trade},
		{Name: "Controller rating I_rated", Formula: "the least controller step from 1.2 I up, above the last the " +
			"next multiple of controller step above; I is that of full throttle without R_ctl and R_leads",
			Source: trade},
		{Name: "Heat passed to the air, G_m", Formula: "G_m = G (m/m_G)^(2/3) (rho V_w/flux_G)^0.55, V_w the speed " +
			"of the wash", Source: "common practice"},
		{Name: "Heat of a motor", Formula: "m (motor heat) dT/dt = 2 pi n T0(n) + P_c + R20 I^2 (1 + alpha (T - " +
			"T_20)) - G_m (T - T_air)", Source: "derived here"},
	}
}
