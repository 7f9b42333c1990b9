package report

import (
	"rotorsieve/model"
	"rotorsieve/model/air"
	"rotorsieve/model/basis"
)

// parts lists the constants of the model, in the order of a design: air first.
func parts() []model.Submodel { return model.Submodels() }

// constant finds a constant of the model that must be there.
func constant(symbol string) basis.Constant { return model.Constant(symbol) }

func airSource() string { return air.Basis()[0].Source }
