package model

import (
	"strings"

	"rotorsieve/model/flight"
	"rotorsieve/model/unit"
)

// PowerPart is one part of the electrical power of hover.
type PowerPart struct {
	Title, Symbol, Meaning string
	Source                 string

	formula Formula
	of      func(*flight.Budget) float64
}

// PowerParts are the parts of the power of hover, which add up to it.
var PowerParts = []*PowerPart{
	{Title: "Shaft", Symbol: "4 P", Meaning: "into the propellers",
		formula: symbols("4 2 pi n{h} Q{h}"), Source: bemt,
		of: func(b *flight.Budget) float64 { return b.Shaft }},
	{Title: "Loss torque", Symbol: "4 P_0", Meaning: "bearings, iron and windage of the motors",
		formula: symbols("4 2 pi n{h} T0(n){h}"), Source: sourced("T0 static"),
		of: func(b *flight.Budget) float64 { return b.Friction }},
	{Title: "Winding", Symbol: "4 P_R", Meaning: "resistance of the motors at their assumed temperature",
		formula: symbols("4 R I{h}^2"), Source: circuit,
		of: func(b *flight.Budget) float64 { return b.Winding }},
	{Title: "Chopping in the motor", Symbol: "4 P_c", Meaning: "ripple of the controllers' pulses, in copper and iron",
		formula: symbols("4 x 4 c 2 pi T0' (KV/60)^2 u^2 (1 - u/V_b{h})^2 ([f stand]/f)^2, " +
			"u = V_m + (R_ctl + R_leads) I{h}"),
		Source: sourced("c"),
		of:     func(b *flight.Budget) float64 { return b.Chopping }},
	{Title: "Leads", Symbol: "4 P_l", Meaning: "leads and joints between pack and motors",
		formula: symbols("4 R_leads I{h}^2"), Source: sourced("leads drop"),
		of: func(b *flight.Budget) float64 { return b.Leads }},
	{Title: "Controller board", Symbol: "4 P_ctl", Meaning: "switches that conduct, their edges, logic",
		formula: symbols("4 (R_ctl I{h}^2 + V_b{h} I{h} edge f/2 + P_idle)"), Source: sourced("controller edge"),
		of: func(b *flight.Budget) float64 { return b.Board }},
	{Title: "Avionics power", Symbol: "P_av", Meaning: "all that does not turn",
		formula: words("as assumed"), Source: AssumedSource,
		of: func(b *flight.Budget) float64 { return b.Avionics }},
}

// Of is the part in W, of a craft that hovers.
func (p *PowerPart) Of(c *Craft) float64 {
	t := c.Powertrain
	b := t.Drive.Budget(t.Full.Controller, &c.Hover)
	return p.of(&b)
}

// Formula is the part's formula.
func (p *PowerPart) Formula() string { return p.formula.String() }

// Worked is the formula with the values of a craft put in, which comes to the part in W;
// "" for what is given.
func (p *PowerPart) Worked(c *Craft) string { return p.formula.put(p.Symbol, c, unit.Unit{}) }

// PowerSum is the power of hover as the sum of its parts, with the values of a craft.
func PowerSum(c *Craft) string {
	var terms []string
	for _, p := range PowerParts {
		terms = append(terms, p.name())
	}
	return read(strings.Join(terms, " + ")).Put("", c)
}

// name is that of the part among the symbols.
func (p *PowerPart) name() string { return p.Symbol + "{part}" }

func powerSymbols() []symbol {
	out := []symbol{{Name: "V_m", Of: func(c *Craft) float64 { return c.Hover.Voltage }}}
	for _, p := range PowerParts {
		out = append(out, symbol{Name: p.name(), Of: p.Of})
	}
	return out
}
