package words

import (
	"rotorsieve/model"
	"rotorsieve/model/air"
	"rotorsieve/model/basis"
)

// Parts lists the constants of the model, in the order of a design: air first.
func Parts() []model.Submodel { return model.Submodels() }

// Constant finds a constant of the model that must be there.
func Constant(symbol string) basis.Constant { return model.Constant(symbol) }

func AirSource() string { return air.Basis()[0].Source }
