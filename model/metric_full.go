package model

import (
	"math"

	"rotorsieve/model/unit"
)

// fullMetrics are the metrics of full throttle at rest.
var fullMetrics = []*Metric{
	{Name: "full-throttle-rpm", Even: true, Title: "Full-throttle speed", Symbol: "n_max",
		Kind: unit.Rotation, Unit: unit.Rotation.Unit("rpm"), Better: Neither,
		Meaning: "speed of rotation at full throttle, static, with sag",
		Formula: symbols(`V_b{f} - (R_ctl + R_leads) I{f} = 2 pi n{f} K + (R + X n{f}) I{f}, ` +
			`K I{f} + X I{f}^2/(2 pi) = Q(n){f} + T0(n){f}, "V_b with the sag under I"`).
			solved("(V_b{f} - (R_ctl + R_leads + R) I{f})/(2 pi K + X I{f})"),
		Source: circuit,
		Stage:  StageOperate, Bare: true,
		of: func(c *Craft) float64 { return c.Powertrain.Full.Speed }},
	{Name: "tip-speed", Even: true, Title: "Full-throttle tip speed", Symbol: "V_tip",
		Kind: unit.Speed, Unit: unit.Speed.Unit("m/s"), Better: Neither,
		Meaning: "speed of the blade tips at full throttle, static",
		Formula: symbols("pi n{f} D"),
		Source:  defined,
		Stage:   StageOperate, Bare: true,
		of: func(c *Craft) float64 { return c.tipSpeed(c.Powertrain.Full.Speed) }},
	{Name: "tip-mach", Even: true, Title: "Full-throttle tip Mach number", Symbol: "M_tip",
		Kind: unit.Ratio, Unit: unit.Ratio.Unit(""), Better: Lower,
		Meaning: "tip speed over speed of sound at full throttle, static",
		Formula: symbols("pi n{f} D/a").solved("V_tip/a"),
		Source:  defined,
		Stage:   StageOperate, Bare: true,
		of: func(c *Craft) float64 { return c.tipSpeed(c.Powertrain.Full.Speed) / c.Model.Air.SoundSpeed }},
	{Name: "thrust-to-weight", Even: true, Title: "Thrust to weight", Symbol: "T/W",
		Kind: unit.Ratio, Unit: unit.Ratio.Unit(""), Better: Higher,
		Meaning: "static thrust of all rotors at full throttle over weight",
		Formula: symbols(`4 k CT{f} rho n{f}^2 D^4/(AUW g), "k what slipstream on the arms and close discs leave"`).
			solved("4 T{f}/W"),
		Source: bemt,
		Stage:  StageOperate,
		of:     func(c *Craft) float64 { return c.thrustToWeight }},
	{Name: "level-tilt-limit", Title: "Level tilt limit", Symbol: "theta_T",
		Kind: unit.Angle, Unit: unit.Angle.Unit("deg"), Better: Higher,
		Meaning: "tilt at which the upright part of the static thrust is the weight; 0 where there is less",
		Formula: symbols("acos(1/(T/W{level}))"),
		Source:  leishman,
		Stage:   StageOperate, Most: upright,
		of: func(c *Craft) float64 {
			x := max(1, c.thrustToWeight)
			return math.Atan(math.Sqrt(x*x - 1)) // that acos, which is slower and less exact near 0
		}},
	{Name: "motor-current", Even: true, Title: "Full-throttle motor current", Symbol: "I_m",
		Kind: unit.Current, Unit: unit.Current.Unit("A"), Better: Lower,
		Meaning: "current of one motor at full throttle",
		Formula: symbols(`Q{f} + T0(n){f} = K I_m + X I_m^2/(2 pi), ` +
			`"so" I_m = 2 (Q{f} + T0{f})/(K + sqrt(K^2 + 2 X (Q{f} + T0{f})/pi))`),
		Source: circuit,
		Stage:  StageOperate, Bare: true,
		of: func(c *Craft) float64 { return c.Powertrain.Full.Current }},
	{Name: "torque-per-volume", Even: true, Title: "Torque per stator volume", Symbol: "Q/V_s",
		Kind: unit.TorqueDensity, Unit: unit.TorqueDensity.Unit("kNm/m3"), Better: Lower,
		Meaning: "shaft torque at full throttle over stator volume",
		Formula: symbols("Q{f}/(pi/4 d{mm}^2 h{mm})"),
		Source:  "J.R. Hendershot, T.J.E. Miller, Design of Brushless Permanent-Magnet Machines, 2010 (from memory)",
		Stage:   StageOperate, Bare: true,
		of: func(c *Craft) float64 { return c.Powertrain.Full.Torque / c.Powertrain.Drive.Motor.Volume }},
	{Name: "torque-load", Even: true, Title: "Use of the stator's torque", Symbol: "Q/Q_s",
		Kind: unit.Ratio, Unit: unit.Ratio.Unit("%"), Better: Lower,
		Meaning: "torque per stator volume at full throttle over what stators of the size give for seconds: " +
			"less per volume the smaller they are",
		Formula: symbols("Q{f}/([Q/V_s burst] V_s (V_s{cm3}/[V_s burst])^(1/3))"),
		Source:  sourced("Q/V_s burst"),
		Stage:   StageOperate, Bare: true,
		of: func(c *Craft) float64 { return c.Powertrain.Full.Torque / c.Powertrain.Drive.Motor.BurstTorque() }},
	{Name: "controller-rating", Formerly: "esc-rating", Title: "Controller rating", Symbol: "I_rated",
		Kind: unit.Current, Unit: unit.Current.Unit("A"), Better: Lower,
		Meaning: "continuous current per motor that the speed controller is bought for",
		Formula: words("the least of 10, 12, 20, 25, 35, 45, 60, 80 A and each 20 A above that is at least 1.2 I, " +
			"I at full throttle without R_ctl and R_leads"),
		Source: trade,
		Stage:  StageOperate, Bare: true,
		of: func(c *Craft) float64 { return c.Powertrain.Full.Controller.Rating }},
	{Name: "pack-current", Even: true, Title: "Full-throttle pack current", Symbol: "I_b",
		Kind: unit.Current, Unit: unit.Current.Unit("A"), Better: Lower,
		Meaning: "current of the pack at full throttle",
		Formula: symbols("4 I_m + (4 P_idle + P_avionics)/V_b{f}"),
		Source:  derived,
		Stage:   StageOperate, Bare: true,
		of: func(c *Craft) float64 { return c.Powertrain.Full.PackCurrent }},
	{Name: "pack-c-rate", Even: true, Title: "Full-throttle C rate", Symbol: "C_max",
		Kind: unit.CRate, Unit: unit.CRate.Unit("C"), Better: Lower,
		Meaning: "pack current at full throttle over nominal capacity",
		Formula: symbols("I_b{f}/C{Ah}"),
		Source:  defined,
		Stage:   StageOperate, Bare: true,
		of: func(c *Craft) float64 {
			return c.Powertrain.Full.PackCurrent / (c.Powertrain.Drive.Pack.Capacity / 3600)
		}},
	{Name: "pack-load", Even: true, Title: "Use of the pack's rating", Symbol: "I_b/I_lim",
		Kind: unit.Ratio, Unit: unit.Ratio.Unit("%"), Better: Lower,
		Meaning: "pack current at full throttle over what it may give for seconds: twice the continuous current, or " +
			"what is stated of it",
		Formula: symbols("I_b{f}/I_lim"),
		Source:  trade,
		Stage:   StageOperate, Bare: true,
		of: func(c *Craft) float64 {
			return c.Powertrain.Full.PackCurrent / c.Powertrain.Drive.Pack.BurstLimit()
		}},
	{Name: "pack-voltage", Even: true, Title: "Full-throttle pack voltage", Symbol: "V_b",
		Kind: unit.Voltage, Unit: unit.Voltage.Unit("V"), Better: Higher,
		Meaning: "loaded voltage of the pack at full throttle",
		Formula: symbols("V_rested - R{pack} I_b{f}"),
		Source:  derived,
		Stage:   StageOperate, Bare: true,
		of: func(c *Craft) float64 { return c.Powertrain.Full.PackVoltage }},
	{Name: "voltage-margin", Title: "Cell voltage above the floor", Symbol: "dV",
		Kind: unit.Voltage, Unit: unit.Voltage.Unit("V"), Better: Higher,
		Meaning: "loaded voltage of a cell at full throttle above the floor that ends a flight",
		Formula: symbols("V_b{f}/N - V_floor"),
		Source:  trade,
		Stage:   StageOperate, Bare: true, Signed: true,
		of: func(c *Craft) float64 {
			k := &c.Powertrain.Drive.Pack
			return (c.Powertrain.Full.PackVoltage - k.Floor) / float64(k.Cells)
		}},
}
