package model

import (
	"fmt"
	"math"
	"slices"
	"sync"

	"rotorsieve/model/flight"
	"rotorsieve/model/formula"
	"rotorsieve/model/motor"
)

// symbol is a symbol of the formulas about a craft; each is bound here once.
type symbol = formula.Symbol[*Craft]

const (
	perInch = 1 / inch
	grams   = 1e3 // in a kilogram
	millis  = 1e3
	rpm     = 60   // in a turn per second
	perHour = 3600 // of what is per second
	cubicCM = 1e6  // in a cubic metre
)

// notation is what the formulas of metrics, masses, parts and powers are written in.
// Points are told apart in braces: {h} of hover, {f} of full throttle.
var notation = sync.OnceValue(func() *formula.Notation[*Craft] {
	all := slices.Concat(sizeSymbols, pointSymbols("h", hoverOf), pointSymbols("f", fullOf), chainSymbols, motorSymbols,
		flightSymbols, packSymbols, armSymbols, constantSymbols(), massSymbols(), partSymbols(), powerSymbols())
	return formula.New(all...)
})

// asRPM is how a speed in rev/s is put in.
const asRPM = "@/60"

var sizeSymbols = []symbol{
	{Name: "AUW", Of: func(c *Craft) float64 { return c.Mass }, Per: grams},
	{Name: "W", Of: (*Craft).Weight},
	{Name: "limit", Of: func(c *Craft) float64 { return c.Limit }, Per: grams},
	{Name: "g", Of: func(*Craft) float64 { return gravity }, Per: 1 / gravity, One: true}, // of gram-force
	{Name: "D", Of: diameter},
	{Name: "D{mm}", Of: diameter, Per: millis},
	{Name: "D{in}", Of: diameter, Per: perInch},
	{Name: "D_in", Of: func(c *Craft) float64 { return diameter(c) * perInch }},
	{Name: "R{cm}", Of: func(c *Craft) float64 { return diameter(c) / 2 }, Per: 100},
	{Name: "A", Of: func(c *Craft) float64 { return c.Powertrain.Propeller.Disc }},
	{Name: "clearance", Of: func(c *Craft) float64 { return c.Powertrain.Propeller.clearance }},
	{Name: "rho", Of: func(c *Craft) float64 { return c.Model.Air.Density }},
	{Name: "a", Of: func(c *Craft) float64 { return c.Model.Air.SoundSpeed }},
	{Name: "T_air", Of: func(c *Craft) float64 { return c.Model.Air.Temperature }},
	{Name: "p", Of: func(c *Craft) float64 { return c.Model.Air.Pressure }},
	{Name: "T{air}", Of: func(c *Craft) float64 { return c.Model.Air.Temperature }},
	{Name: "R{air}", Of: valueOf("R")},
	{Name: "γ", Of: valueOf("γ")},
	{Name: "k", Of: func(c *Craft) float64 { return c.Powertrain.Propeller.Installed }},
}

func diameter(c *Craft) float64 { return c.Powertrain.Propeller.Diameter }

// reading is an operating point as formulas read it.
type reading struct {
	speed, torque, thrust, current, packVoltage, packCurrent float64
}

func hoverOf(c *Craft) reading {
	h := &c.Hover
	return reading{h.Speed, h.Torque, c.Weight() / rotors, h.Current, h.PackVoltage, h.PackCurrent}
}

func fullOf(c *Craft) reading {
	f := &c.Powertrain.Full
	return reading{f.Speed, f.Torque, f.Thrust, f.Current, f.PackVoltage, f.PackCurrent}
}

// pointSymbols are the same at every operating point.
func pointSymbols(where string, of func(*Craft) reading) []symbol {
	where = "{" + where + "}"
	lossTorque := func(c *Craft) float64 { return c.motor().LossTorque(of(c).speed) }
	return []symbol{
		{Name: "n" + where, Of: func(c *Craft) float64 { return of(c).speed }, Per: rpm, Put: asRPM},
		{Name: "Q" + where, Of: func(c *Craft) float64 { return of(c).torque }},
		{Name: "Q(n)" + where, Of: func(c *Craft) float64 { return of(c).torque }},
		{Name: "T0" + where, Of: lossTorque},
		{Name: "T0(n)" + where, Of: lossTorque},
		{Name: "T" + where, Of: func(c *Craft) float64 { return of(c).thrust }},
		{Name: "I" + where, Of: func(c *Craft) float64 { return of(c).current }},
		{Name: "V_b" + where, Of: func(c *Craft) float64 { return of(c).packVoltage }},
		{Name: "I_b" + where, Of: func(c *Craft) float64 { return of(c).packCurrent }},
		{Name: "CT" + where, Of: func(c *Craft) float64 {
			CT, _ := c.Powertrain.Propeller.Table.Static(of(c).speed)
			return CT
		}},
	}
}

// chainSymbols are those of the electrical chain in hover.
var chainSymbols = []symbol{
	{Name: "u", Of: func(c *Craft) float64 { return c.Hover.Duty * c.Hover.PackVoltage }},
	{Name: "u{chain}", Is: "2 pi n{h} K + (R + X n{h} + R_ctl + R_leads) I{h}"},
	{Name: "d_h", Of: func(c *Craft) float64 { return c.Hover.Duty }},
	{Name: "P_h", Of: func(c *Craft) float64 { return c.Hover.Power }},
	{Name: "P{shaft}", Of: func(c *Craft) float64 { return c.Hover.Shaft }},
	{Name: "P_shaft", Is: "4 P{shaft}"},
	{Name: "P_c", Of: func(c *Craft) float64 { return c.Hover.Chopping }},
	{Name: "P_s", Of: func(c *Craft) float64 { return c.motor().Switching(c.Hover.Current) * c.Hover.PackVoltage }},
	{Name: "P_idle", Of: func(*Craft) float64 { return motor.IdleLoss }},
	{Name: "P_avionics", Of: func(c *Craft) float64 { return c.Model.Assume.AvionicsPower }},
	{Name: "f", Of: func(c *Craft) float64 { return c.Model.Assume.PulseRate }},
	{Name: "edge", Of: valueOf("controller edge")},
	{Name: "n_h", Of: func(c *Craft) float64 { return c.Hover.Speed }, Per: rpm, Put: asRPM},

	{Name: "T_m", Of: (*Craft).steady},
	{Name: "T_20", Of: valueOf("T_20")},
	{Name: "T_20{degC}", Of: valueOf("T_20"), Put: "@ - 273.15"},
	{Name: "alpha", Of: valueOf("alpha Cu")},
	{Name: "R20", Of: func(c *Craft) float64 { return c.motor().ColdResistance() }},
	{Name: "P_cu", Of: func(c *Craft) float64 {
		return c.motor().ColdResistance() * c.Hover.Current *
			c.Hover.Current
	}},
	{Name: "T0 2 pi n", Of: func(c *Craft) float64 {
		return 2 * math.Pi * c.Hover.Speed * c.motor().LossTorque(c.Hover.Speed)
	}},
	{Name: "P{heat}", Is: "P_cu + T0 2 pi n + P_c"},
	{Name: "G", Of: func(c *Craft) float64 { return c.hoverHeat().Conductance }},
	{Name: "V{wash}", Of: func(c *Craft) float64 { return c.Powertrain.Propeller.Wash(c.Weight() / rotors) }},
}

var motorSymbols = []symbol{
	{Name: "K", Of: func(c *Craft) float64 { return c.motor().Kt }},
	{Name: "R", Of: func(c *Craft) float64 { return c.motor().R }},
	{Name: "X", Of: func(c *Craft) float64 { return c.motor().Reactance() }},
	{Name: "R_ctl", Of: func(c *Craft) float64 { return c.Powertrain.Full.Controller.R }},
	{Name: "R_leads", Of: func(c *Craft) float64 { return c.Powertrain.Full.Controller.Leads }},
	{Name: "I_rated", Of: func(c *Craft) float64 { return c.Powertrain.Full.Controller.Rating }},
	{Name: "T0'", Of: func(c *Craft) float64 { return c.motor().LossSlope() }},
	{Name: "c", Of: (*Craft).Ripple},
	{Name: "KV", Of: func(c *Craft) float64 { return c.motor().KV }},
	{Name: "KV{rev/s}", Of: func(c *Craft) float64 { return c.motor().KV / rpm }, Per: rpm, Put: asRPM},
	{Name: "d", Of: statorDiameter, Per: millis, Put: "@/1000"},
	{Name: "d{mm}", Of: statorDiameter, Per: millis},
	{Name: "d{cm}", Of: statorDiameter, Per: 100},
	{Name: "h{mm}", Of: func(c *Craft) float64 { return c.motor().Stator.Height }, Per: millis},
	{Name: "V_s", Of: func(c *Craft) float64 { return c.motor().Volume }, Per: cubicCM, Put: "@/10^6"},
	{Name: "V_s{cm3}", Of: func(c *Craft) float64 { return c.motor().Volume }, Per: cubicCM},
	{Name: "V_rim", Of: (*Craft).rimSpeed},
	{Name: "m_m", Of: func(c *Craft) float64 { return c.motor().Mass }, Per: grams},
	{Name: "m{m}", Of: func(c *Craft) float64 { return c.motor().Mass }},
	{Name: "I_m", Of: func(c *Craft) float64 { return c.Powertrain.Full.Current }},
	{Name: "V_tip", Of: func(c *Craft) float64 { return c.tipSpeed(c.Powertrain.Full.Speed) }},
}

func (c *Craft) motor() *motor.Motor { return &c.Powertrain.Drive.Motor }

func statorDiameter(c *Craft) float64 { return c.motor().Stator.Diameter }

var flightSymbols = []symbol{
	{Name: "T/W{level}", Of: func(c *Craft) float64 { return max(1, c.thrustToWeight) }},
	{Name: "V_b{cruise}", Of: func(c *Craft) float64 { return c.Flight.Endurance.PackVoltage }},
	{Name: "I_b{cruise}", Of: func(c *Craft) float64 { return c.Flight.Endurance.PackCurrent }},
	{Name: "V_r", Of: func(c *Craft) float64 { return c.Flight.Range.Airspeed }},
	{Name: "V_b{asked}", Of: asked(func(_ *Craft, x *flight.Cruise) float64 { return x.PackVoltage })},
	{Name: "I_b{asked}", Of: asked(func(_ *Craft, x *flight.Cruise) float64 { return x.PackCurrent })},
	{Name: "P_a", Of: asked(func(_ *Craft, x *flight.Cruise) float64 { return x.Power })},
	{Name: "V_a", Of: func(c *Craft) float64 { return c.Model.Assume.Airspeed }},
	{Name: "t_a", Of: asked((*Craft).lasting)},
	{Name: "V_w", Of: func(c *Craft) float64 { return c.Model.Assume.Wind }},
	{Name: "V_u", Of: (*Craft).upwindSpeed},
	{Name: "t_u", Of: func(c *Craft) float64 { return c.upwindRange() / (c.upwindSpeed() - c.Model.Assume.Wind) }},
	{Name: "V_d", Of: func(c *Craft) float64 { r, _ := c.returnTrip(); return r.down.Airspeed }},
	{Name: "t_b{ground}", Of: func(c *Craft) float64 { r, _ := c.returnTrip(); return r.time }},
	{Name: "t_r", Of: func(c *Craft) float64 { return c.Powertrain.Drive.Pack.Endurance(c.Flight.Range.Power) }},
}

var packSymbols = []symbol{
	{Name: "C", Of: func(c *Craft) float64 { return c.Powertrain.Drive.Pack.Capacity }, Per: 1 / 3.6}, // mAh
	{Name: "C{Ah}", Of: func(c *Craft) float64 { return c.Powertrain.Drive.Pack.Capacity / perHour }},
	{Name: "N", Of: func(c *Craft) float64 { return float64(c.Powertrain.Drive.Pack.Cells) }},
	{Name: "V_rested", Of: func(c *Craft) float64 { return c.Powertrain.Drive.RestedTop }},
	{Name: "V_rested(full)", Of: func(c *Craft) float64 { return c.Powertrain.Drive.Pack.Rested(0) }},
	{Name: "R{pack}", Of: func(c *Craft) float64 { return c.Powertrain.Drive.Pack.R }},
	{Name: "V_floor", Of: func(c *Craft) float64 {
		k := &c.Powertrain.Drive.Pack
		return k.Floor / float64(k.Cells)
	}},
	{Name: "I_lim", Of: func(c *Craft) float64 { return c.Powertrain.Drive.Pack.BurstLimit() }},
}

var armSymbols = []symbol{
	{Name: "E", Of: valueOf("E arm")},
	{Name: "I{arm}", Is: "w{arm} t^3/12"},
	{Name: "w{arm}", Of: func(c *Craft) float64 { return c.Powertrain.Arm.Width }},
	{Name: "t", Of: func(c *Craft) float64 { return c.Powertrain.Arm.Thickness }},
	{Name: "L{arm}", Of: func(c *Craft) float64 { return c.Powertrain.Arm.Length }},
	{Name: "m_tip", Of: func(c *Craft) float64 { return c.Powertrain.tip() }},
	{Name: "m_arm", Of: func(c *Craft) float64 { return c.Powertrain.Arm.Mass() }},
	{Name: "m_p", Of: func(c *Craft) float64 { return c.Powertrain.Propeller.Blades / rotors }, Per: grams},
	{Name: "f_arm", Of: func(c *Craft) float64 { return c.Powertrain.Arm.Frequency(c.Powertrain.tip()) }},
	{Name: "T_max", Of: func(c *Craft) float64 { return c.Powertrain.Full.Thrust }},
	{Name: "y", Of: (*Craft).lateral},
	{Name: "I{roll}", Of: (*Craft).rollInertia, Is: "4 (m_tip + m_arm/3) y^2 + m_body w{body}^2/6"},
	{Name: "m_body", Of: (*Craft).body},
	{Name: "w{body}", Of: func(c *Craft) float64 {
		return math.Cbrt(c.body() / (c.constant("body length") * c.constant("body density")))
	}},
}

// valueOf reads a constant of a craft's model; the nominal one for a nil craft.
func valueOf(name string) func(*Craft) float64 {
	return func(c *Craft) float64 { return c.constant(name) }
}

// constantSymbols are constants whose value stands in formulas, in square brackets.
func constantSymbols() []symbol {
	var out []symbol
	for _, x := range []struct {
		name, show string
		shown      float64 // what one SI unit is in that of show
		per        float64 // and in that which is put in
	}{
		{"frame exponent", "%.6g", 1, 1},
		{"motor mass exponent of d", "%.6g", 1, 1},
		{"motor mass exponent of h", "%.6g", 1, 1},
		{"Km exponent of d", "%.6g", 1, 1},
		{"Km exponent of h", "%.6g", 1, 1},
		{"KV under load", "%.6g", 1, 1},
		{"c", "%.6g", 1, 1},
		{"controller drop", "%.6g V", 1, 1},
		{"leads drop", "%.6g V", 1, 1},
		{"f stand", "%.6g kHz", 1e-3, 1},
		{"V_w scale", "%.6g m/s", 1, 1},
		{"V_w exponent", "%.6g", 1, 1},
		{"d_w", "%.6g mm", millis, millis},
		{"Q/V_s burst", "%.6g kN/m2", 1e-3, 1},
		{"V_s burst", "%.6g cm3", cubicCM, cubicCM},
		{"G", "%.2f W/K", 1, 1},
		{"m_G", "%.6g g", grams, 1},
		{"flux_G", "%.6g kg/m3 12 m/s", 1.0 / 12, 1},
		{"G exponent of the wash", "%.6g", 1, 1},
		{"k blade", "%.6g", 1, 1},
		{"bell share", "%.6g", 1, 1},
		{"arm swing", "%.6g", 1, 1},
		{"I burst", "%.6g", 1, 1},
		{"body share", "%.6g", 1, 1},
		{"usable LiPo", "%.6g", 1, 1},
		{"usable Li-ion", "%.6g", 1, 1},
	} {
		of := valueOf(x.name)
		out = append(out, symbol{Name: "[" + x.name + "]", Of: of, Per: x.per,
			Show: fmt.Sprintf(x.show, of(nil)*x.shown)})
	}
	radius := valueOf("bell radius")
	return append(out, symbol{Name: "[bell radius over d]", Show: fmt.Sprintf("%.6g", radius(nil)/2), Per: 2,
		Put: "@/2",
		Of:  func(c *Craft) float64 { return radius(c) / 2 }})
}
