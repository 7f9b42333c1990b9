package report

import (
	"sync"

	"rotorsieve/model"
	"rotorsieve/model/air"
	"rotorsieve/model/basis"
	"rotorsieve/model/flight"
	"rotorsieve/model/frame"
	"rotorsieve/model/motor"
	"rotorsieve/model/pack"
	"rotorsieve/model/rotor"
)

// part is the constants and formulas of one package of the model.
type part struct {
	Name      string
	Constants []basis.Constant
	Laws      []basis.Law
}

// parts lists the constants of the model, in the order of a design: air first.
var parts = sync.OnceValue(func() []part {
	return []part{
		{"Air", air.Basis(), air.Laws()},
		{"Rotor", rotor.Basis(), rotor.Laws()},
		{"Motor and speed controller", motor.Basis(), motor.Laws()},
		{"Pack", pack.Basis(), pack.Laws()},
		{"Airframe", frame.Basis(), frame.Laws()},
		{"Flight", flight.Basis(), flight.Laws()},
		{"Craft and what is measured", model.Basis(), model.Laws()},
	}
})

// constant finds a constant of the model that must be there.
func constant(symbol string) basis.Constant {
	for _, p := range parts() {
		for _, k := range p.Constants {
			if k.Symbol == symbol {
				return k
			}
		}
	}
	panic("report: the model has no constant " + symbol)
}

func airSource() string { return air.Basis()[0].Source }
