package model

import (
	"math"

	"rotorsieve/model/air"
	"rotorsieve/model/motor"
	"rotorsieve/model/unit"
)

// Property is a number of a craft's air or parts that its metrics are computed from.
type Property struct {
	Title, Symbol string
	Unit          string // SI, as of constants; "" for a pure number

	of      func(*Craft) float64
	formula func(*Craft) (f Formula, source string)
}

// Of is the property in its unit.
func (p *Property) Of(c *Craft) float64 { return p.of(c) }

// Formula is the property's formula with its source.
func (p *Property) Formula(c *Craft) (text, source string) {
	f, source := p.formula(c)
	return f.String(), source
}

// Worked is the formula with the values of a craft put in, which comes to the property
// in its unit.
func (p *Property) Worked(c *Craft) string {
	f, _ := p.formula(c)
	return f.put(p.Symbol, c, unit.Unit{})
}

// by is a formula with the source and spread of a constant, whatever the craft.
func by(text, constant string) func(*Craft) (Formula, string) {
	return func(*Craft) (Formula, string) { return symbols(text), sourced(constant) }
}

const kmLaw = "scale{Km} d{law}^[Km exponent of d] h{law}^[Km exponent of h]"

// AirProperties are those of the air that a craft flies in.
var AirProperties = []*Property{
	{Title: "Air density", Symbol: "rho", Unit: "kg/m3",
		of:      func(c *Craft) float64 { return c.Model.Air.Density },
		formula: inAir("p/(R{air} T{air})")},
	{Title: "Speed of sound", Symbol: "a", Unit: "m/s",
		of:      func(c *Craft) float64 { return c.Model.Air.SoundSpeed },
		formula: inAir("sqrt(γ R{air} T{air})")},
}

func inAir(text string) func(*Craft) (Formula, string) {
	return func(*Craft) (Formula, string) { return symbols(text), air.Basis()[0].Source }
}

// Properties are those of motor, controller and pack.
var Properties = []*Property{
	{Title: "Torque constant under load", Symbol: "K", Unit: "N·m/A",
		of: func(c *Craft) float64 { return c.motor().Kt },
		formula: by("Kt/[KV under load] {KV fit}, "+
			`Kt = 60/(2 pi KV) "of the label: KV under load is less, or the highest duty"`, "KV under load")},
	{Title: "Winding resistance", Symbol: "R", Unit: "ohm",
		of: func(c *Craft) float64 { return c.motor().R },
		formula: unlessStated(func(p *Parts) bool { return p.Motor != nil && p.Motor.Resistance.Known },
			by("(Kt/Km)^2 (1 + alpha (T{winding} - T_20)) {R fit}, Km = "+kmLaw+
				`, "at the assumed temperature"`, "Km scale"))},
	{Title: "Reactance of the winding", Symbol: "X", Unit: "V·s/A",
		of:      func(c *Craft) float64 { return c.motor().Reactance() },
		formula: by(`x{reactance} Kt^2/V_s, "V_s the stator's volume: voltage for current and turns per second"`, "x")},
	{Title: "Loss torque at rest", Symbol: "T0", Unit: "N·m",
		of: func(c *Craft) float64 { return c.motor().LossTorque(0) },
		formula: unlessStated(idleStated,
			by(`m{label} T0 static {loss fit} "of the motor's mass: bearings, iron and windage"`, "T0 static"))},
	{Title: "Its slope with speed", Symbol: "T0'", Unit: "N·m·s",
		of: func(c *Craft) float64 { return c.motor().LossSlope() },
		formula: unlessStated(idleStated,
			by(`60 m{label} T0 slope {loss fit}, "n in rev/s"`, "T0 slope"))},
	{Title: "Chopping constant", Symbol: "c", of: (*Craft).Ripple,
		formula: func(*Craft) (Formula, string) {
			return words("of the loss to the ripple of the pulses, below full duty").solved("[c] {chopping fit}"),
				sourced("c") + "; pulse rate of the stands " + Constant("f stand").Spread
		}},
	{Title: "Controller resistance", Symbol: "R_ctl", Unit: "ohm",
		of:      func(c *Craft) float64 { return c.Powertrain.Full.Controller.R },
		formula: by(`[controller drop]/I_rated, "of the switches that conduct"`, "controller drop")},
	{Title: "Resistance of the leads", Symbol: "R_leads", Unit: "ohm",
		of:      func(c *Craft) float64 { return c.Powertrain.Full.Controller.Leads },
		formula: by(`[leads drop]/I_rated, "of leads and joints of a motor"`, "leads drop")},
	{Title: "Pack resistance", Symbol: "R_b", Unit: "ohm",
		of: func(c *Craft) float64 { return c.Powertrain.Drive.Pack.R },
		formula: unlessStated(packResistanceStated, func(c *Craft) (Formula, string) {
			per := "Ah"
			if c.grade().CellCharge() > 0 {
				per = "cells in parallel"
			}
			return symbols(`N (R_cell + R joint) + R lead, "and what cold and age add"`).
				solved("(N (R_1/" + per + " + R joint) + R lead) {R_b fit} {cold and age}"), sourced(c.cellResistance())
		})},
	{Title: "Usable share of the capacity", Symbol: "DoD_usable",
		of: func(c *Craft) float64 { return c.Powertrain.Drive.Pack.Usable() },
		formula: func(c *Craft) (Formula, string) {
			if c.Model.Assume.Usable != 0 {
				return words("as assumed"), AssumedSource
			}
			share := "usable " + c.grade().Chemistry()
			return symbols(`"of what cells of this kind hold, a flight draws" [` + share + "]").solved("[" + share +
				"]"), sourced(share)
		}},
}

func idleStated(p *Parts) bool { return p.Motor != nil && p.Motor.IdleCurrent.Known }

func packResistanceStated(p *Parts) bool { return p.Pack != nil && p.Pack.Resistance.Known }

// unlessStated is a formula of what a part that exists may state.
func unlessStated(stated func(*Parts) bool, of func(*Craft) (Formula, string)) func(*Craft) (Formula, string) {
	return func(c *Craft) (Formula, string) {
		if stated(&c.Powertrain.Parts) {
			return asStated()
		}
		return of(c)
	}
}

// Ripple is the constant c of the motors' chopping loss, with what was measured of the
// motor:
//
//	P_c = 4 c 2 pi T0' (KV/60)^2 u^2 (1 - u/V)^2 (f stand/f)^2
func (c *Craft) Ripple() float64 {
	m := c.motor()
	slow := motor.StandPulseRate / c.Model.Assume.PulseRate
	return m.ChopScale(1) / (4 * 2 * math.Pi * m.LossSlope() * m.KV * m.KV / 3600 * slow * slow)
}

// perCell is what a cell's resistance is inversely proportional to: the capacity in Ah,
// or the number of cells in parallel.
func (c *Craft) perCell() float64 {
	if c.grade().CellCharge() > 0 {
		return c.parallel()
	}
	return c.Powertrain.Drive.Pack.Capacity / perHour
}

// cellResistance is the symbol of the constant of a cell's resistance.
func (c *Craft) cellResistance() string {
	g := c.grade()
	if g.CellCharge() > 0 {
		return g.Name + " R"
	}
	return g.Name + " R C"
}

// partSymbols are those of the formulas of properties alone.
func partSymbols() []symbol {
	fit := func(name string, of func(motor.Scale) float64) symbol {
		return symbol{Name: name, One: true, Of: func(c *Craft) float64 {
			m := c.motor()
			return of(c.Model.Assume.Evidence.Motor(m.Stator, m.KV).Scale())
		}}
	}
	mass := fit("{mass fit}", func(s motor.Scale) float64 { return s.Mass })
	cell := func(c *Craft) float64 { return c.constant(c.cellResistance()) }
	return []symbol{
		mass,
		fit("{KV fit}", func(s motor.Scale) float64 { return 1 / s.KV }),
		fit("{R fit}", func(s motor.Scale) float64 { return s.Resistance }),
		fit("{loss fit}", func(s motor.Scale) float64 { return s.Loss }),
		fit("{chopping fit}", func(s motor.Scale) float64 { return s.Chopping / s.Loss }),
		{Name: "Kt", Is: "60/(2 pi KV)"},
		{Name: "Km", Is: kmLaw},
		{Name: "scale{Km}", Of: valueOf("Km scale")},
		{Name: "d{law}", Of: func(c *Craft) float64 { return statorDiameter(c) * millis }},
		{Name: "h{law}", Of: func(c *Craft) float64 { return c.motor().Stator.Height * millis }},
		{Name: "T{winding}", Of: func(c *Craft) float64 { return c.Model.Assume.Winding }},
		{Name: "x{reactance}", Of: valueOf("x")},
		{Name: "m{label}", Of: func(c *Craft) float64 { return c.motor().Mass / mass.Of(c) }, Per: grams,
			Put: "@/1000"},
		{Name: "T0 static", Of: valueOf("T0 static")},
		{Name: "T0 slope", Of: valueOf("T0 slope")},
		{Name: "R_cell", Of: func(c *Craft) float64 { return cell(c) / c.perCell() }},
		{Name: "R_1", Of: cell},
		{Name: "R joint", Of: valueOf("R joint")},
		{Name: "R lead", Of: valueOf("R lead")},
		{Name: "{cold and age}", One: true, Of: func(c *Craft) float64 {
			k := &c.Powertrain.Drive.Pack
			fresh := float64(k.Cells)*(cell(c)/c.perCell()+c.constant("R joint")) + c.constant("R lead")
			return k.R / (fresh * c.packFit().Resistance.Value)
		}},
		{Name: "{R_b fit}", One: true, Of: func(c *Craft) float64 { return c.packFit().Resistance.Value }},
		fit("{cooling fit}", func(s motor.Scale) float64 { return s.Cooling }),
	}
}
