package model

import (
	"math"

	"rotorsieve/model/flight"
	"rotorsieve/model/motor"
	"rotorsieve/model/unit"
)

// hoverMetrics are the metrics of hover, and what follows from it and full throttle.
var hoverMetrics = []*Metric{
	{Name: "hover-rpm", Even: true, Title: "Hover speed of rotation", Symbol: "n_h",
		Kind: unit.Rotation, Unit: unit.Rotation.Unit("rpm"), Better: Neither,
		Meaning: "speed of rotation in hover",
		Formula: symbols(`4 k CT{h} rho n{h}^2 D^4 = AUW g, "k what slipstream on the arms and close discs leave"`).
			solved("sqrt(W/(4 k CT{h} rho D^4))"),
		Source: bemt,
		Stage:  StageOperate,
		of:     func(c *Craft) float64 { return c.Hover.Speed }},
	{Name: "hover-tip-speed", Even: true, Title: "Hover tip speed", Symbol: "V_tip,h",
		Kind: unit.Speed, Unit: unit.Speed.Unit("m/s"), Better: Neither,
		Meaning: "speed of the blade tips in hover",
		Formula: symbols("pi n{h} D"),
		Source:  defined,
		Stage:   StageOperate,
		of:      func(c *Craft) float64 { return c.tipSpeed(c.Hover.Speed) }},
	{Name: "hover-throttle", Title: "Hover throttle", Symbol: "d_h",
		Kind: unit.Ratio, Unit: unit.Ratio.Unit("%"), Better: Lower,
		Meaning: "duty of the controller in hover at the pack's mean voltage",
		Formula: symbols("d_h = u{chain}/V_b{h}, u = 2 pi n{h} K + (R + X n{h} + R_ctl + R_leads) I{h}"),
		Source:  circuit,
		Stage:   StageOperate, Most: whole,
		of: func(c *Craft) float64 { return c.Hover.Duty }},
	{Name: "hover-power", Even: true, Title: "Hover power", Symbol: "P_h",
		Kind: unit.Power, Unit: unit.Power.Unit("W"), Better: Lower,
		Meaning: "electrical power from the pack in hover, avionics included",
		Formula: symbols(`P_h = 4 (u I{h} + P_c + P_s + P_idle) + P_avionics, "u as for the throttle", ` +
			`P_c = 4 c 2 pi T0' (KV/60)^2 u^2 (1 - u/V_b{h})^2 ([f stand]/f)^2, P_s = V_b{h} I{h} edge f/2`),
		Source: "derived here; chopping loss P_c, K, X and the leads " + fitted,
		Stage:  StageOperate,
		of:     func(c *Craft) float64 { return c.Hover.Power }},
	{Name: "hover-efficiency", Even: true, Title: "Hover efficiency", Symbol: "AUW/P_h",
		Kind: unit.ThrustPerPower, Unit: unit.ThrustPerPower.Unit("g/W"), Better: Higher,
		Meaning: "all-up weight held per electrical watt",
		Formula: symbols("AUW/P_h"),
		Source:  trade,
		Stage:   StageOperate,
		of:      func(c *Craft) float64 { return c.Mass / c.Hover.Power }},
	{Name: "figure-of-merit", Even: true, Title: "Figure of merit", Symbol: "FM",
		Kind: unit.Ratio, Unit: unit.Ratio.Unit(""), Better: Higher,
		Meaning: "ideal over shaft power of the rotors in hover",
		Formula: symbols("W^1.5/sqrt(2 rho A)/P_shaft"),
		Source:  leishman,
		Stage:   StageOperate, Most: whole,
		of: func(c *Craft) float64 {
			w := c.Mass * gravity
			ideal := w * math.Sqrt(w/(2*c.Model.Air.Density*c.Powertrain.Propeller.Disc))
			return ideal / (rotors * c.Hover.Shaft)
		}},
	{Name: "motor-temperature", Title: "Motor temperature in hover", Symbol: "T_m",
		Kind: unit.Temperature, Unit: unit.Temperature.Unit("degC"), Better: Lower,
		Meaning: "steady temperature of the windings in hover, " +
			"in the wash; 500 degC stands for all above and for runaway",
		Formula: symbols(`T_m = T_20{degC} + (T_air - T_20 + P{heat}/G)/(1 - alpha P_cu/G), ` +
			`P{heat} = P_cu + T0 2 pi n + P_c, P_cu = R20 I{h}^2, ` +
			`G = [G] (m{m}/[m_G])^(2/3) (rho V{wash}/([flux_G]))^[G exponent of the wash] {cooling fit} ` +
			`"of the wash's V"`),
		Source: heat,
		Stage:  StageOperate, Cap: motor.Hottest,
		start: (*Craft).Heat,
		of:    func(c *Craft) float64 { return c.steady() }},
	{Name: "burst-time", Title: "Time at full throttle", Symbol: "t_b",
		Kind: unit.Time, Unit: unit.Time.Unit("s"), Better: Higher,
		Meaning: "time at full throttle, static, in which the windings warm from their temperature in hover to " +
			"120 degC; an hour stands for never; a motor that states a current and a burst time holds as much " +
			"heat as " +
			"lets it draw that current from cold for that long",
		Formula: words("t_b = (C/b) ln(P(T_b)/P(T_m)), P(T) = P_cu (1 + alpha (T - T_20)) + T0 2 pi n - G (T - " +
			"T_air), b = alpha P_cu - G, C = 480 J/(kg K) m; no pulses at full duty"),
		Source: heat,
		Stage:  StageOperate, Cap: motor.Longest,
		start: (*Craft).Burst,
		of:    (*Craft).burst, warmer: (*Craft).burstWarmer},
	{Name: "thrust-response-time", Title: "Thrust response, up", Symbol: "t_up",
		Kind: unit.Time, Unit: unit.Time.Unit("ms"), Better: Lower,
		Meaning: "time after full throttle is called for in hover until thrust has gone 63 % of the way",
		Formula: words("t_up = integral of 2 pi J dn/(K I + X I^2/(2 pi) - T0(n) - Q(n)) up to T(n) = T_h + 0.63 " +
			"(T_max - T_h), I = (d V' - 2 pi n K)/(R + X n + R_ctl + R_leads + 4 d^2 R_b) within the controller's " +
			"rating, d = 1"),
		Source: derived,
		Stage:  StageOperate, Slow: true,
		of:     func(c *Craft) float64 { return c.up((*flight.Drive).Spin) },
		atBest: func(c *Craft) float64 { return c.up((*flight.Drive).Soonest) }},
	{Name: "thrust-response-down", Title: "Thrust response, down", Symbol: "t_down",
		Kind: unit.Time, Unit: unit.Time.Unit("ms"), Better: Lower,
		Meaning: "time after hover is called for at full throttle until thrust has gone 63 % of the way, " +
			"the controller braking",
		Formula: words("as up, at the duty of hover, down to T(n) = T_h + 0.37 (T_max - T_h)"),
		Source:  derived,
		Stage:   StageOperate, Slow: true,
		of:     func(c *Craft) float64 { return c.down((*flight.Drive).Spin) },
		atBest: func(c *Craft) float64 { return c.down((*flight.Drive).Soonest) }},
	{Name: "rotor-inertia", Title: "Moment of inertia of a rotor", Symbol: "J",
		Kind: unit.Inertia, Unit: unit.Inertia.Unit("gcm2"), Better: Lower,
		Meaning: "of propeller and bell",
		Formula: symbols("[k blade] m_p R{cm}^2 + [bell share] m_m ([bell radius over d] d{cm})^2"),
		Source:  derived,
		Stage:   StageOperate, Bare: true,
		of: (*Craft).rotorInertia},
	{Name: "roll-acceleration", Even: true, Title: "Roll acceleration", Symbol: "p_dot",
		Kind: unit.AngularAcceleration, Unit: unit.AngularAcceleration.Unit("rad/s2"), Better: Higher,
		Meaning: "angular acceleration about the axis of flight with two rotors at full throttle and two at rest",
		Formula: symbols("2 T_max y/I{roll}, I{roll} = 4 (m_tip + m_arm/3) y^2 + m_body w{body}^2/6"),
		Source:  derived,
		Stage:   StageOperate,
		of:      func(c *Craft) float64 { return 2 * c.Powertrain.Full.Thrust * c.lateral() / c.rollInertia() }},
	{Name: "likeness", Title: "Likeness to the reference", Symbol: "L",
		Kind: unit.Ratio, Unit: unit.Ratio.Unit("%"), Better: Higher,
		Meaning: "closeness in disk loading, thrust to weight, tip speed, " +
			"thrust response and roll acceleration to the reference craft",
		Formula: words("2^-rms(log2(value/reference))"),
		Source:  derived,
		Stage:   StageOperate, Slow: true, Most: whole, Asks: "like",
		of: func(c *Craft) float64 { return c.likeness() }},
	{Name: "arm-frequency", Title: "First bending of the arms", Symbol: "f_arm",
		Kind: unit.Frequency, Unit: unit.Frequency.Unit("Hz"), Better: Neither,
		Meaning: "frequency of an arm's first bending with motor and propeller at its tip",
		Formula: symbols("sqrt(3 E I{arm}/(L{arm}^3 (m_tip + [arm swing] m_arm)))/(2 pi)"),
		Source:  "S.P. Timoshenko, Vibration Problems in Engineering, 1937 (from memory)",
		Stage:   StageOperate, Bare: true,
		of: func(c *Craft) float64 { return c.Powertrain.Arm.Frequency(c.Powertrain.tip()) }},
	{Name: "arm-ratio", Even: true, Title: "Arm bending over hover turns", Symbol: "f_arm/n_h",
		Kind: unit.Ratio, Unit: unit.Ratio.Unit(""), Better: Neither,
		Meaning: "frequency of an arm's first bending over the turns per second in hover; near 1 it resonates",
		Formula: symbols("f_arm/n_h"),
		Source:  defined,
		Stage:   StageOperate,
		of:      func(c *Craft) float64 { return c.Powertrain.Arm.Frequency(c.Powertrain.tip()) / c.Hover.Speed }},
	{Name: "thrust-share", Title: "Flight with thrust in reserve", Symbol: "s_T",
		Kind: unit.Ratio, Unit: unit.Ratio.Unit("%"), Better: Higher,
		Meaning: "share of the usable charge during which static thrust to weight is at least the reserve",
		Formula: words("DoD(V_oc)/DoD_usable, V_oc = u + R (4 I + P_0/u) at the reserve's thrust, " +
			"P_0 = 4 P_idle + P_avionics"),
		Source: derived,
		Stage:  StageOperate, Most: whole,
		of: func(c *Craft) float64 {
			t := c.Powertrain
			k := &t.Drive.Pack
			v := t.Drive.Needs(&t.Propeller.Propulsor, t.Full.Controller,
				c.Model.Assume.ThrustReserve*c.Mass*gravity/rotors)
			return math.Min(1, k.Depth(v)/k.Usable())
		}},
	{Name: "hard-flight-time", Title: "Time with hard flight", Symbol: "t_hard",
		Kind: unit.Time, Unit: unit.Time.Unit("min"), Better: Higher,
		Meaning: "time at hover power but for a share flown at 60 % of the full-throttle current, " +
			"the mean of the two powers being drawn, as far as hover time",
		Formula: words("integral of Q dDoD/I(P, V(DoD)), P = (1 - s) P_h + s 0.6 I_b (V_oc - R 0.6 I_b)"),
		Source:  trade,
		Stage:   StageOperate,
		of:      (*Craft).hardFlightTime},
	{Name: "hover-time", Even: true, Title: "Hover time", Symbol: "t_h",
		Kind: unit.Time, Unit: unit.Time.Unit("min"), Better: Higher,
		Meaning: "time in hover until the usable charge but the landing reserve is drawn or the voltage floor is " +
			"reached",
		Formula: words("integral of Q dDoD/I(P_h, V(DoD))"),
		Source:  derived,
		Stage:   StageEndure,
		of:      func(c *Craft) float64 { return c.HoverTime }},
}
