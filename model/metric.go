package model

import (
	"math"

	"rotorsieve/model/flight"
	"rotorsieve/model/motor"
	"rotorsieve/model/unit"
)

// Metric is one computed quantity of a design.
type Metric struct {
	Name    string     // as in flags
	Title   string     // as in tables and figures
	Symbol  string     // as in formulas
	Kind    *unit.Kind // of the quantity; values are in its SI unit
	Unit    unit.Unit  // in which it is shown
	Better  Direction
	Meaning string // one line
	Formula Formula
	Source  string
	Stage   Stage
	ByClass bool    // depends on the weight class a craft is judged in
	Bare    bool    // does not depend on the payload
	Slow    bool    // takes longer to read than the rest of hover takes to compute
	Heat    bool    // starts from what Craft.Heat keeps
	Cap     float64 // the value that stands for all beyond it as well; 0 for none

	of    func(*Craft) float64
	best  func(*Craft) float64 // before flight; nil where it cannot be bounded
	worst func(*Craft) float64 // the same in the worse direction
}

// Of reads the metric of a craft that has been evaluated to the metric's stage,
// in the SI unit of its kind. It is NaN where the craft has no such number.
func (m *Metric) Of(c *Craft) float64 { return m.of(c) }

// Exported gives a metric's value for machines and the unit it is in: SI, but
// rpm for speeds of rotation, since that is what their names say.
func (m *Metric) Exported(c *Craft) (v float64, symbol string) {
	u := m.Kind.SI()
	if m.Kind == unit.Rotation {
		u = m.Unit
	}
	return u.FromSI(m.of(c)), u.Symbol
}

const (
	leishman = "J.G. Leishman, Principles of Helicopter Aerodynamics, 2006"
	drela    = "M. Drela, First-Order DC Electric Motor Model, MIT 2007 (from memory)"
	trade    = "common practice"
	defined  = "definition"
	derived  = "derived here"
	fitted   = "fitted here to P. Cao, J. Strawson, Motor and propeller testing, 2018"
	circuit  = drela + "; K, X and the leads " + fitted
	heat     = "derived here: heat balance with the resistance of copper; conductance by common practice; chopping loss " + fitted
	trim     = "H. Glauert, A general theory of the autogyro, 1926, for the rotors; the balance of forces is derived here"
	bemt     = "blade-element momentum theory; polar fitted to J.B. Brandt, R.W. Deters, G.K. Ananda, O.D. Dantsker, M.S. Selig, UIUC Propeller Database"
)

// Metrics is the one registry: every metric there is, in the order of tables.
var Metrics = []*Metric{
	{Name: "auw", Title: "All-up weight", Symbol: "AUW", Kind: unit.Mass, Unit: unit.Mass.Unit("g"), Better: Lower,
		Meaning: "mass before take-off, with pack, strap and payload",
		Formula: Formula{Text: `"sum of the masses"`,
			Solved: `m_frame + m_hardware + m_propellers + m_motors + m_esc + m_wiring + m_avionics + m_pack + m_payload`}, Source: trade, Stage: StageMass,
		of: func(c *Craft) float64 { return c.Mass }},
	{Name: "class-margin", Title: "Margin to the class limit", Symbol: "dm", Kind: unit.Mass, Unit: unit.Mass.Unit("g"), Better: Higher,
		Meaning: "class limit less all-up weight",
		Formula: Formula{Text: `limit - AUW`}, Source: defined, Stage: StageMass, ByClass: true,
		of: func(c *Craft) float64 {
			if c.Limit == 0 {
				return math.NaN()
			}
			return c.Limit - c.Mass
		}},
	{Name: "payload", Title: "Payload", Symbol: "m_pl", Kind: unit.Mass, Unit: unit.Mass.Unit("g"), Better: Higher,
		Meaning: "mass carried, part of the all-up weight",
		Formula: Formula{Text: `"as given"`}, Source: defined, Stage: StageMass,
		of: func(c *Craft) float64 { return c.Payload }},
	{Name: "disk-loading", Title: "Disk loading", Symbol: "DL", Kind: unit.DiskLoading, Unit: unit.DiskLoading.Unit("g/in2"), Better: Neither,
		Meaning: "weight over the area of all discs",
		Formula: Formula{Text: `AUW g/(pi D{in}^2)`}, Source: leishman, Stage: StageMass,
		of: func(c *Craft) float64 { return c.Mass * gravity / c.Powertrain.Propeller.Disc }},
	{Name: "battery-fraction", Title: "Battery fraction", Symbol: "f_b", Kind: unit.Ratio, Unit: unit.Ratio.Unit("%"), Better: Neither,
		Meaning: "pack mass over all-up weight",
		Formula: Formula{Text: `m_pack/AUW`}, Source: defined, Stage: StageMass,
		of: func(c *Craft) float64 { return c.Powertrain.Drive.Pack.Mass / c.Mass }},
	{Name: "wheelbase", Title: "Wheelbase", Symbol: "L", Kind: unit.Length, Unit: unit.Length.Unit("mm"), Better: Neither,
		Meaning: "diagonal between motors",
		Formula: Formula{Text: `sqrt(2) D{mm} (1 + clearance)`}, Source: "geometry of the X quad", Stage: StageMass, Bare: true,
		of: func(c *Craft) float64 { return c.Powertrain.Propeller.Wheelbase }},

	{Name: "capacity-per-cell", Title: "Capacity per cell in series", Symbol: "C/N", Kind: unit.Charge, Unit: unit.Charge.Unit("mAh"), Better: Neither,
		Meaning: "capacity of the pack over its cells in series: packs of many cells are sold from a larger capacity on",
		Formula: Formula{Text: `C/N`}, Source: trade, Stage: StageMass, Bare: true,
		of: func(c *Craft) float64 {
			k := &c.Powertrain.Drive.Pack
			return k.Capacity / float64(k.Cells)
		}},

	{Name: "rim-speed", Title: "Stator rim speed without load", Symbol: "V_rim", Kind: unit.Speed, Unit: unit.Speed.Unit("m/s"), Better: Lower,
		Meaning: "KV of the label times the voltage of the charged pack, at the rim of the stator: how fast a winding the motor asks for",
		Formula: Formula{Text: `pi d KV{rev/s} V_rested(full)`}, Source: trade, Stage: StageMass, Bare: true,
		of: (*Craft).rimSpeed},
	{Name: "winding-load", Title: "Use of what is wound", Symbol: "V_rim/V_w", Kind: unit.Ratio, Unit: unit.Ratio.Unit("%"), Better: Lower,
		Meaning: "rim speed of the stator without load over that of the fastest windings that are sold for stators of its diameter",
		Formula: Formula{Text: `V_rim/([V_w scale] (d{mm}/[d_w])^[V_w exponent])`}, Source: trade, Stage: StageMass, Bare: true,
		of: func(c *Craft) float64 { return c.rimSpeed() / c.Powertrain.Drive.Motor.Stator.FastestRim() }},

	{Name: "full-throttle-rpm", Title: "Full-throttle speed", Symbol: "n_max", Kind: unit.Rotation, Unit: unit.Rotation.Unit("rpm"), Better: Neither,
		Meaning: "speed of rotation at full throttle, static, with sag",
		Formula: Formula{Text: `V_b{f} - (R_esc + R_leads) I{f} = 2 pi n{f} K + (R + X n{f}) I{f}, K I{f} + X I{f}^2/(2 pi) = Q(n){f} + T0(n){f}, "V_b with the sag under I"`,
			Solved: `(V_b{f} - (R_esc + R_leads + R) I{f})/(2 pi K + X I{f})`}, Source: circuit, Stage: StageOperate, Bare: true,
		of: func(c *Craft) float64 { return c.Powertrain.Full.Speed }},
	{Name: "tip-speed", Title: "Full-throttle tip speed", Symbol: "V_tip", Kind: unit.Speed, Unit: unit.Speed.Unit("m/s"), Better: Neither,
		Meaning: "speed of the blade tips at full throttle, static",
		Formula: Formula{Text: `pi n{f} D`}, Source: defined, Stage: StageOperate, Bare: true,
		of: func(c *Craft) float64 { return c.tipSpeed(c.Powertrain.Full.Speed) }},
	{Name: "tip-mach", Title: "Full-throttle tip Mach number", Symbol: "M_tip", Kind: unit.Ratio, Unit: unit.Ratio.Unit(""), Better: Lower,
		Meaning: "tip speed over speed of sound at full throttle, static",
		Formula: Formula{Text: `pi n{f} D/a`,
			Solved: `V_tip/a`}, Source: defined, Stage: StageOperate, Bare: true,
		of: func(c *Craft) float64 { return c.tipSpeed(c.Powertrain.Full.Speed) / c.Model.Air.SoundSpeed }},
	{Name: "thrust-to-weight", Title: "Thrust to weight", Symbol: "T/W", Kind: unit.Ratio, Unit: unit.Ratio.Unit(""), Better: Higher,
		Meaning: "static thrust of all rotors at full throttle over weight",
		Formula: Formula{Text: `4 k CT{f} rho n{f}^2 D^4/(AUW g), "k what slipstream on the arms and close discs leave"`,
			Solved: `4 T{f}/W`}, Source: bemt, Stage: StageOperate,
		of: func(c *Craft) float64 { return c.thrustToWeight }},
	{Name: "level-tilt-limit", Title: "Level tilt limit", Symbol: "theta_T", Kind: unit.Angle, Unit: unit.Angle.Unit("deg"), Better: Higher,
		Meaning: "tilt at which the upright part of the static thrust is the weight; 0 where there is less",
		Formula: Formula{Text: `acos(1/(T/W{level}))`}, Source: leishman, Stage: StageOperate,
		of: func(c *Craft) float64 {
			x := max(1, c.thrustToWeight)
			return math.Atan(math.Sqrt(x*x - 1)) // that acos, which is slower and less exact near 0
		}},
	{Name: "motor-current", Title: "Full-throttle motor current", Symbol: "I_m", Kind: unit.Current, Unit: unit.Current.Unit("A"), Better: Lower,
		Meaning: "current of one motor at full throttle",
		Formula: Formula{Text: `Q{f} + T0(n){f} = K I_m + X I_m^2/(2 pi), "so" I_m = 2 (Q{f} + T0{f})/(K + sqrt(K^2 + 2 X (Q{f} + T0{f})/pi))`}, Source: circuit, Stage: StageOperate, Bare: true,
		of: func(c *Craft) float64 { return c.Powertrain.Full.Current }},
	{Name: "torque-per-volume", Title: "Torque per stator volume", Symbol: "Q/V_s", Kind: unit.TorqueDensity, Unit: unit.TorqueDensity.Unit("kNm/m3"), Better: Lower,
		Meaning: "shaft torque at full throttle over stator volume",
		Formula: Formula{Text: `Q{f}/(pi/4 d{mm}^2 h{mm})`}, Source: "J.R. Hendershot, T.J.E. Miller, Design of Brushless Permanent-Magnet Machines, 2010 (from memory)", Stage: StageOperate, Bare: true,
		of: func(c *Craft) float64 { return c.Powertrain.Full.Torque / c.Powertrain.Drive.Motor.Volume }},
	{Name: "torque-load", Title: "Use of the stator's torque", Symbol: "Q/Q_s", Kind: unit.Ratio, Unit: unit.Ratio.Unit("%"), Better: Lower,
		Meaning: "torque per stator volume at full throttle over what stators of the size give for seconds: less per volume the smaller they are",
		Formula: Formula{Text: `Q{f}/([Q/V_s burst] V_s (V_s{cm3}/[V_s burst])^(1/3))`}, Source: trade + "; 20 % (1 sigma)", Stage: StageOperate, Bare: true,
		of: func(c *Craft) float64 { return c.Powertrain.Full.Torque / c.Powertrain.Drive.Motor.BurstTorque() }},
	{Name: "esc-rating", Title: "Controller rating", Symbol: "I_esc", Kind: unit.Current, Unit: unit.Current.Unit("A"), Better: Lower,
		Meaning: "continuous current per motor that the speed controller is bought for",
		Formula: words("the least of 10, 12, 20, 25, 35, 45, 60, 80 A and each 20 A above that is at least 1.2 I, I at full throttle without R_esc and R_leads"), Source: trade, Stage: StageOperate, Bare: true,
		of: func(c *Craft) float64 { return c.Powertrain.Full.Controller.Rating }},
	{Name: "pack-current", Title: "Full-throttle pack current", Symbol: "I_b", Kind: unit.Current, Unit: unit.Current.Unit("A"), Better: Lower,
		Meaning: "current of the pack at full throttle",
		Formula: Formula{Text: `4 I_m + (4 P_idle + P_avionics)/V_b{f}`}, Source: derived, Stage: StageOperate, Bare: true,
		of: func(c *Craft) float64 { return c.Powertrain.Full.PackCurrent }},
	{Name: "pack-c-rate", Title: "Full-throttle C rate", Symbol: "C_max", Kind: unit.CRate, Unit: unit.CRate.Unit("C"), Better: Lower,
		Meaning: "pack current at full throttle over nominal capacity",
		Formula: Formula{Text: `I_b{f}/C{Ah}`}, Source: defined, Stage: StageOperate, Bare: true,
		of: func(c *Craft) float64 {
			return c.Powertrain.Full.PackCurrent / (c.Powertrain.Drive.Pack.Capacity / 3600)
		}},
	{Name: "pack-load", Title: "Use of the pack's rating", Symbol: "I_b/I_lim", Kind: unit.Ratio, Unit: unit.Ratio.Unit("%"), Better: Lower,
		Meaning: "pack current at full throttle over what it may give for seconds",
		Formula: Formula{Text: `I_b{f}/([I burst] I_continuous)`}, Source: trade, Stage: StageOperate, Bare: true,
		of: func(c *Craft) float64 {
			return c.Powertrain.Full.PackCurrent / c.Powertrain.Drive.Pack.BurstLimit()
		}},
	{Name: "pack-voltage", Title: "Full-throttle pack voltage", Symbol: "V_b", Kind: unit.Voltage, Unit: unit.Voltage.Unit("V"), Better: Higher,
		Meaning: "loaded voltage of the pack at full throttle",
		Formula: Formula{Text: `V_rested - R{pack} I_b{f}`}, Source: derived, Stage: StageOperate, Bare: true,
		of: func(c *Craft) float64 { return c.Powertrain.Full.PackVoltage }},
	{Name: "voltage-margin", Title: "Cell voltage above the floor", Symbol: "dV", Kind: unit.Voltage, Unit: unit.Voltage.Unit("V"), Better: Higher,
		Meaning: "loaded voltage of a cell at full throttle above the floor that ends a flight",
		Formula: Formula{Text: `V_b{f}/N - V_floor`}, Source: trade, Stage: StageOperate, Bare: true,
		of: func(c *Craft) float64 {
			k := &c.Powertrain.Drive.Pack
			return (c.Powertrain.Full.PackVoltage - k.Floor) / float64(k.Cells)
		}},

	{Name: "hover-rpm", Title: "Hover speed of rotation", Symbol: "n_h", Kind: unit.Rotation, Unit: unit.Rotation.Unit("rpm"), Better: Neither,
		Meaning: "speed of rotation in hover",
		Formula: Formula{Text: `4 k CT{h} rho n{h}^2 D^4 = AUW g, "k what slipstream on the arms and close discs leave"`,
			Solved: `sqrt(W/(4 k CT{h} rho D^4))`}, Source: bemt, Stage: StageOperate,
		of: func(c *Craft) float64 { return c.Hover.Speed }},
	{Name: "hover-tip-speed", Title: "Hover tip speed", Symbol: "V_tip,h", Kind: unit.Speed, Unit: unit.Speed.Unit("m/s"), Better: Neither,
		Meaning: "speed of the blade tips in hover",
		Formula: Formula{Text: `pi n{h} D`}, Source: defined, Stage: StageOperate,
		of: func(c *Craft) float64 { return c.tipSpeed(c.Hover.Speed) }},
	{Name: "hover-throttle", Title: "Hover throttle", Symbol: "d_h", Kind: unit.Ratio, Unit: unit.Ratio.Unit("%"), Better: Lower,
		Meaning: "duty of the controller in hover at the pack's mean voltage",
		Formula: Formula{Text: `d_h = u{chain}/V_b{h}, u = 2 pi n{h} K + (R + X n{h} + R_esc + R_leads) I{h}`}, Source: circuit, Stage: StageOperate,
		of: func(c *Craft) float64 { return c.Hover.Duty }},
	{Name: "hover-power", Title: "Hover power", Symbol: "P_h", Kind: unit.Power, Unit: unit.Power.Unit("W"), Better: Lower,
		Meaning: "electrical power from the pack in hover, avionics included",
		Formula: Formula{Text: `P_h = 4 (u I{h} + P_c + P_s + P_idle) + P_avionics, "u as for the throttle", P_c = 4 c 2 pi T0' (KV/60)^2 u^2 (1 - u/V_b{h})^2 ([f stand]/f)^2, P_s = V_b{h} I{h} edge f/2`}, Source: "derived here; chopping loss P_c, K, X and the leads " + fitted, Stage: StageOperate,
		of: func(c *Craft) float64 { return c.Hover.Power }},
	{Name: "hover-efficiency", Title: "Hover efficiency", Symbol: "AUW/P_h", Kind: unit.ThrustPerPower, Unit: unit.ThrustPerPower.Unit("g/W"), Better: Higher,
		Meaning: "all-up weight held per electrical watt",
		Formula: Formula{Text: `AUW/P_h`}, Source: trade, Stage: StageOperate,
		of: func(c *Craft) float64 { return c.Mass / c.Hover.Power }},
	{Name: "figure-of-merit", Title: "Figure of merit", Symbol: "FM", Kind: unit.Ratio, Unit: unit.Ratio.Unit(""), Better: Higher,
		Meaning: "ideal over shaft power of the rotors in hover",
		Formula: Formula{Text: `W^1.5/sqrt(2 rho A)/P_shaft`}, Source: leishman, Stage: StageOperate,
		of: func(c *Craft) float64 {
			w := c.Mass * gravity
			ideal := w * math.Sqrt(w/(2*c.Model.Air.Density*c.Powertrain.Propeller.Disc))
			return ideal / (rotors * c.Hover.Shaft)
		}},
	{Name: "motor-temperature", Title: "Motor temperature in hover", Symbol: "T_m", Kind: unit.Temperature, Unit: unit.Temperature.Unit("degC"), Better: Lower,
		Meaning: "steady temperature of the windings in hover, in the wash; 500 degC stands for all above and for runaway",
		Formula: Formula{Text: `T_m = T_20{degC} + (T_air - T_20 + P{heat}/G)/(1 - alpha P_cu/G), P{heat} = P_cu + T0 2 pi n + P_c, P_cu = R20 I{h}^2, G = [G] (m{m}/[m_G])^(2/3) (rho V{wash}/([flux_G]))^[G exponent of the wash] "of the wash's V"`}, Source: heat, Stage: StageOperate, Heat: true, Cap: motor.Hottest,
		of: func(c *Craft) float64 { return c.steady() }},
	{Name: "burst-time", Title: "Time at full throttle", Symbol: "t_b", Kind: unit.Time, Unit: unit.Time.Unit("s"), Better: Higher,
		Meaning: "time at full throttle, static, in which the windings warm from their temperature in hover to 120 degC; an hour stands for never",
		Formula: words("t_b = (C/b) ln(P(T_b)/P(T_m)), P(T) = P_cu (1 + alpha (T - T_20)) + T0 2 pi n - G (T - T_air), b = alpha P_cu - G, C = 480 J/(kg K) m; no pulses at full duty"), Source: heat, Stage: StageOperate, Heat: true, Cap: motor.Longest,
		of: (*Craft).burst},
	{Name: "thrust-response-time", Title: "Thrust response, up", Symbol: "t_up", Kind: unit.Time, Unit: unit.Time.Unit("ms"), Better: Lower,
		Meaning: "time after full throttle is called for in hover until thrust has gone 63 % of the way",
		Formula: words("t_up = integral of 2 pi J dn/(K I + X I^2/(2 pi) - T0(n) - Q(n)) up to T(n) = T_h + 0.63 (T_max - T_h), I = (d V' - 2 pi n K)/(R + X n + R_esc + R_leads + 4 d^2 R_b) within the controller's rating, d = 1"), Source: derived, Stage: StageOperate, Slow: true,
		of:   func(c *Craft) float64 { return c.up((*flight.Drive).Spin) },
		best: func(c *Craft) float64 { return c.up((*flight.Drive).Soonest) }},
	{Name: "thrust-response-down", Title: "Thrust response, down", Symbol: "t_down", Kind: unit.Time, Unit: unit.Time.Unit("ms"), Better: Lower,
		Meaning: "time after hover is called for at full throttle until thrust has gone 63 % of the way, the controller braking",
		Formula: words("as up, at the duty of hover, down to T(n) = T_h + 0.37 (T_max - T_h)"), Source: derived, Stage: StageOperate, Slow: true,
		of:   func(c *Craft) float64 { return c.down((*flight.Drive).Spin) },
		best: func(c *Craft) float64 { return c.down((*flight.Drive).Soonest) }},
	{Name: "rotor-inertia", Title: "Moment of inertia of a rotor", Symbol: "J", Kind: unit.Inertia, Unit: unit.Inertia.Unit("gcm2"), Better: Lower,
		Meaning: "of propeller and bell",
		Formula: Formula{Text: `[k blade] m_p R{cm}^2 + [bell share] m_m ([bell radius over d] d{cm})^2`}, Source: derived, Stage: StageOperate, Bare: true,
		of: (*Craft).rotorInertia},
	{Name: "roll-acceleration", Title: "Roll acceleration", Symbol: "p_dot", Kind: unit.AngularAcceleration, Unit: unit.AngularAcceleration.Unit("rad/s2"), Better: Higher,
		Meaning: "angular acceleration about the axis of flight with two rotors at full throttle and two at rest",
		Formula: Formula{Text: `2 T_max y/I{roll}, I{roll} = 4 (m_tip + m_arm/3) y^2 + m_body w{body}^2/6`}, Source: derived, Stage: StageOperate,
		of: func(c *Craft) float64 { return 2 * c.Powertrain.Full.Thrust * c.lateral() / c.rollInertia() }},
	{Name: "likeness", Title: "Likeness to the reference", Symbol: "L", Kind: unit.Ratio, Unit: unit.Ratio.Unit("%"), Better: Higher,
		Meaning: "closeness in disk loading, thrust to weight, tip speed, thrust response and roll acceleration to the craft of --like",
		Formula: words("2^-rms(log2(value/reference))"), Source: derived, Stage: StageOperate, Slow: true,
		of: func(c *Craft) float64 { return c.likeness() }},
	{Name: "arm-frequency", Title: "First bending of the arms", Symbol: "f_arm", Kind: unit.Frequency, Unit: unit.Frequency.Unit("Hz"), Better: Neither,
		Meaning: "frequency of an arm's first bending with motor and propeller at its tip",
		Formula: Formula{Text: `sqrt(3 E I{arm}/(L{arm}^3 (m_tip + [arm swing] m_arm)))/(2 pi)`}, Source: "S.P. Timoshenko, Vibration Problems in Engineering, 1937 (from memory)", Stage: StageOperate, Bare: true,
		of: func(c *Craft) float64 { return c.Powertrain.Arm.Frequency(c.Powertrain.tip()) }},
	{Name: "arm-ratio", Title: "Arm bending over hover turns", Symbol: "f_arm/n_h", Kind: unit.Ratio, Unit: unit.Ratio.Unit(""), Better: Neither,
		Meaning: "frequency of an arm's first bending over the turns per second in hover; near 1 it resonates",
		Formula: Formula{Text: `f_arm/n_h`}, Source: defined, Stage: StageOperate,
		of: func(c *Craft) float64 { return c.Powertrain.Arm.Frequency(c.Powertrain.tip()) / c.Hover.Speed }},
	{Name: "thrust-share", Title: "Flight with thrust in reserve", Symbol: "s_T", Kind: unit.Ratio, Unit: unit.Ratio.Unit("%"), Better: Higher,
		Meaning: "share of the usable charge during which static thrust to weight is at least the reserve",
		Formula: words("DoD(V_oc)/DoD_usable, V_oc = u + R (4 I + P_0/u) at the reserve's thrust, P_0 = 4 P_idle + P_avionics"), Source: derived, Stage: StageOperate,
		of: func(c *Craft) float64 {
			t := c.Powertrain
			k := &t.Drive.Pack
			v := t.Drive.Needs(&t.Propeller.Propulsor, t.Full.Controller, c.Model.Assume.ThrustReserve*c.Mass*gravity/rotors)
			return math.Min(1, k.Depth(v)/k.Usable())
		}},
	{Name: "hard-flight-time", Title: "Time with hard flight", Symbol: "t_hard", Kind: unit.Time, Unit: unit.Time.Unit("min"), Better: Higher,
		Meaning: "time at hover power but for a share flown at 60 % of the full-throttle current, the mean of the two powers being drawn",
		Formula: words("integral of Q dDoD/I(P, V(DoD)), P = (1 - s) P_h + s 0.6 I_b (V_oc - R 0.6 I_b)"), Source: trade, Stage: StageOperate,
		of: (*Craft).hardFlightTime},
	{Name: "hover-time", Title: "Hover time", Symbol: "t_h", Kind: unit.Time, Unit: unit.Time.Unit("min"), Better: Higher,
		Meaning: "time in hover until the usable charge is drawn or the voltage floor is reached",
		Formula: words("integral of Q dDoD/I(P_h, V(DoD))"), Source: derived, Stage: StageEndure,
		of: func(c *Craft) float64 { return c.HoverTime }},

	{Name: "top-speed", Title: "Top speed", Symbol: "V_max", Kind: unit.Speed, Unit: unit.Speed.Unit("m/s"), Better: Higher,
		Meaning: "fastest level flight, where full throttle, the pack's current or voltage as far as pack-load and voltage-margin are required (else burst current and floor), the controller's rating or the tilt limit gives out",
		Formula: words("W sin tilt = D cos tilt + H, T = W cos tilt + D sin tilt"), Source: trim, Stage: StageFlight,
		of:   func(c *Craft) float64 { return c.Flight.Top.Airspeed },
		best: func(c *Craft) float64 { return c.best.top }},
	{Name: "top-speed-time", Title: "Time at top speed", Symbol: "t_V", Kind: unit.Time, Unit: unit.Time.Unit("s"), Better: Higher,
		Meaning: "time at top speed in which the windings warm from their temperature in hover to 120 degC; an hour stands for never",
		Formula: words("as time at full throttle, P(T) with P_c where it is flown below full duty"), Source: heat, Stage: StageFlight, Heat: true, Cap: motor.Longest,
		of:   (*Craft).dash,
		best: (*Craft).longestDash},
	{Name: "top-tilt", Title: "Tilt at top speed", Symbol: "theta", Kind: unit.Angle, Unit: unit.Angle.Unit("deg"), Better: Neither,
		Meaning: "tilt of the discs from the level at top speed",
		Formula: words("W sin tilt = D cos tilt + H"), Source: trim, Stage: StageFlight,
		of: func(c *Craft) float64 { tilt, _ := c.attitude(&c.Flight.Top); return tilt }},
	{Name: "flight-rpm", Title: "Speed of rotation at top speed", Symbol: "n_V", Kind: unit.Rotation, Unit: unit.Rotation.Unit("rpm"), Better: Neither,
		Meaning: "speed of rotation in the fastest level flight: at full throttle mostly above that at rest, since the flow unloads the propellers, at part throttle often below",
		Formula: words("as top speed"), Source: trim, Stage: StageFlight,
		of: func(c *Craft) float64 { return c.Flight.Top.Speed }},
	{Name: "flight-tip-mach", Title: "Tip Mach number at top speed", Symbol: "M_V", Kind: unit.Ratio, Unit: unit.Ratio.Unit(""), Better: Lower,
		Meaning: "speed of the advancing blade tips through the air at top speed, at the throttle that it needs, over speed of sound",
		Formula: words("sqrt((pi n D + V cos tilt)^2 + (V sin tilt)^2)/a"), Source: defined, Stage: StageFlight,
		of:   func(c *Craft) float64 { return c.AdvancingMach(&c.Flight.Top) },
		best: (*Craft).slowestMach},
	{Name: "best-endurance-speed", Title: "Airspeed of least power", Symbol: "V_t", Kind: unit.Speed, Unit: unit.Speed.Unit("m/s"), Better: Neither,
		Meaning: "level flight that draws the least power",
		Formula: words("least P(V)"), Source: trim, Stage: StageFlight,
		of: func(c *Craft) float64 { return c.Flight.Endurance.Airspeed }},
	{Name: "cruise-power", Title: "Least power in flight", Symbol: "P_c", Kind: unit.Power, Unit: unit.Power.Unit("W"), Better: Lower,
		Meaning: "electrical power in level flight at the airspeed of least power, avionics included",
		Formula: Formula{Text: `"as hover power"`,
			Solved: `V_b{cruise} I_b{cruise}`}, Source: trim, Stage: StageFlight,
		of:   func(c *Craft) float64 { return c.Flight.Endurance.Power },
		best: func(c *Craft) float64 { return c.best.power }},
	{Name: "cruise-time", Title: "Cruise time", Symbol: "t_c", Kind: unit.Time, Unit: unit.Time.Unit("min"), Better: Higher,
		Meaning: "time in level flight at the airspeed of least power until the usable charge is drawn or the voltage floor is reached",
		Formula: words("integral of Q dDoD/I(P_c, V(DoD))"), Source: derived, Stage: StageFlight,
		of:   func(c *Craft) float64 { return c.CruiseTime },
		best: func(c *Craft) float64 { return c.best.time }},
	{Name: "cruise-motor-temperature", Title: "Motor temperature in cruise", Symbol: "T_mc", Kind: unit.Temperature, Unit: unit.Temperature.Unit("degC"), Better: Lower,
		Meaning: "steady temperature of the windings in level flight at the airspeed of least power; 500 degC stands for all above and for runaway",
		Formula: words("as in hover"), Source: heat, Stage: StageFlight, Heat: true, Cap: motor.Hottest,
		of:    func(c *Craft) float64 { return c.Powertrain.Drive.Motor.Steady(c.cruiseHeat()) },
		best:  (*Craft).coolestCruise,
		worst: (*Craft).warmestCruise},
	{Name: "best-range-speed", Title: "Airspeed of best range", Symbol: "V_r", Kind: unit.Speed, Unit: unit.Speed.Unit("m/s"), Better: Neither,
		Meaning: "level flight that draws the least power over airspeed, in still air",
		Formula: words("least P(V)/V"), Source: trim, Stage: StageFlight,
		of: func(c *Craft) float64 { return c.Flight.Range.Airspeed }},
	{Name: "range", Title: "Range", Symbol: "R", Kind: unit.Length, Unit: unit.Length.Unit("km"), Better: Higher,
		Meaning: "distance in still air at the airspeed of best range until the usable charge is drawn or the voltage floor is reached",
		Formula: Formula{Text: `"V_r times integral of Q dDoD/I(P, V(DoD))"`,
			Solved: `V_r t_r`}, Source: derived, Stage: StageFlight,
		of:   func(c *Craft) float64 { return c.Range },
		best: func(c *Craft) float64 { return c.best.far }},
	{Name: "climb-rate", Title: "Climb rate", Symbol: "V_z", Kind: unit.Speed, Unit: unit.Speed.Unit("m/s"), Better: Higher,
		Meaning: "fastest steady vertical climb at full throttle",
		Formula: words("T(V) = W + D(V)"), Source: bemt, Stage: StageFlight,
		of: func(c *Craft) float64 {
			t := c.Powertrain
			v, _ := t.Drive.Climb(t.Propeller.Envelope(), &t.Full, c.Mass)
			return v
		},
		best: func(c *Craft) float64 { return c.best.climb }},

	{Name: "ceiling", Title: "Ceiling", Symbol: "H_c", Kind: unit.Length, Unit: unit.Length.Unit("m"), Better: Higher,
		Meaning: "altitude at which static thrust to weight has fallen to the reserve, at most 11 000 m; the rotor solved in the air of each altitude",
		Formula: words("4 CT rho(H) n^2 D^4 = reserve AUW g"), Source: bemt, Stage: StageExplain,
		of: func(c *Craft) float64 {
			if !c.explained {
				return math.NaN()
			}
			return c.ceiling
		}},
}

// LookupMetric finds a metric by its name.
func LookupMetric(name string) (*Metric, bool) {
	for _, m := range Metrics {
		if m.Name == name {
			return m, true
		}
	}
	return nil, false
}
