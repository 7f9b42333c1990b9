package model

import (
	"sync"

	"rotorsieve/model/air"
	"rotorsieve/model/basis"
	"rotorsieve/model/flight"
	"rotorsieve/model/frame"
	"rotorsieve/model/motor"
	"rotorsieve/model/pack"
	"rotorsieve/model/rotor"
)

// Submodel is the constants and formulas of one package of the model.
type Submodel struct {
	Name      string
	Constants []basis.Constant
	Laws      []basis.Law
}

// Submodels lists them in the order of a design: air first.
var Submodels = sync.OnceValue(func() []Submodel {
	return []Submodel{
		{"Air", air.Basis(), air.Laws()},
		{"Rotor", rotor.Basis(), rotor.Laws()},
		{"Motor and speed controller", motor.Basis(), motor.Laws()},
		{"Pack", pack.Basis(), pack.Laws()},
		{"Airframe", frame.Basis(), frame.Laws()},
		{"Flight", flight.Basis(), flight.Laws()},
		{"Craft and what is measured", Basis(), Laws()},
	}
})

// Constant finds a constant of the model, which must exist, by its symbol.
func Constant(symbol string) basis.Constant {
	for _, p := range Submodels() {
		for _, k := range p.Constants {
			if k.Symbol == symbol {
				return k
			}
		}
	}
	panic("model: there is no constant " + symbol)
}

// constant is the value of a constant in the craft's model, where a parameter may differ
// from its nominal value; it is the nominal one where c is nil.
func (c *Craft) constant(symbol string) float64 {
	if c != nil {
		for i := range ParameterTable {
			if e := &ParameterTable[i]; e.Symbol == symbol {
				return *e.At(&c.Model.parameters)
			}
		}
	}
	return Constant(symbol).Value
}

// sourced is where a constant comes from, with its spread.
func sourced(symbol string) string {
	k := Constant(symbol)
	if k.Spread == "" {
		return k.Source
	}
	return k.Source + "; " + k.Spread + " (1 sigma)"
}
