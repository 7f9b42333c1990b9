package finding

import (
	"slices"

	"rotorsieve/model"
	"rotorsieve/model/unit"
	"rotorsieve/sweep"
)

// Inputs are the axes by which a design is told, in the order of tables: each choice of a
// design once, last what is mostly left to the usual.
var Inputs = listInputs()

func listInputs() []*sweep.AxisDef {
	var all, usual []*sweep.AxisDef
	for _, d := range sweep.AxisDefs {
		switch o := d.Other(); {
		case o != nil && o != d.Or: // states the same again
		case d.Usual != nil:
			usual = append(usual, d)
		default:
			all = append(all, d)
		}
	}
	return append(all, usual...)
}

// Input finds an input by its name; nil for none.
func Input(name string) *sweep.AxisDef {
	if at := slices.IndexFunc(Inputs, func(a *sweep.AxisDef) bool { return a.Name == name }); at >= 0 {
		return Inputs[at]
	}
	return nil
}

// ExportUnit is the unit in which a metric is given to machines.
func ExportUnit(m *model.Metric) unit.Unit {
	return m.ExportUnit()
}

// Computed lists the metrics that are not inputs themselves.
func Computed() []*model.Metric {
	var out []*model.Metric
	for _, m := range model.Metrics {
		if Input(m.Name) == nil {
			out = append(out, m)
		}
	}
	return out
}

// Swept lists those of them that a sweep computes of every design.
func Swept() []*model.Metric {
	return slices.DeleteFunc(Computed(), func(m *model.Metric) bool { return m.Stage > model.LastStage })
}
