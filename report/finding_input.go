package report

import (
	"slices"

	"rotorsieve/model"
	"rotorsieve/model/unit"
	"rotorsieve/sweep"
)

// input is one choice of a design, shown as its axis is.
type input struct{ *sweep.AxisDef }

// inputs are all choices of a design, in the order of tables: last what is mostly left to
// the usual.
var inputs = listInputs()

func listInputs() []input {
	var all, usual []input
	for _, d := range sweep.AxisDefs {
		switch o := d.Other(); {
		case o != nil && o != d.Or: // states the same again
		case d.Usual != nil:
			usual = append(usual, input{d})
		default:
			all = append(all, input{d})
		}
	}
	return append(all, usual...)
}

// inputAt is the place of an input by its name, below 0 for none.
func inputAt(name string) int {
	return slices.IndexFunc(inputs, func(n input) bool { return n.Name == name })
}

// exportUnit is the unit in which a metric is given to machines.
func exportUnit(m *model.Metric) unit.Unit {
	if m.Kind == unit.Rotation {
		return m.Unit
	}
	return m.Kind.SI()
}

// computed lists the metrics that are not inputs themselves.
func computed() []*model.Metric {
	var out []*model.Metric
	for _, m := range model.Metrics {
		if inputAt(m.Name) < 0 {
			out = append(out, m)
		}
	}
	return out
}

// swept lists those of them that a sweep computes of every design.
func swept() []*model.Metric {
	return slices.DeleteFunc(computed(), func(m *model.Metric) bool { return m.Stage > model.LastStage })
}

// valueOn is what a design has on an axis, SI.
func valueOn(a *sweep.AxisDef, d model.Design) float64 {
	if a == sweep.PitchRatio {
		return d.Pitch / d.Diameter
	}
	return inputs[inputAt(a.Name)].Of(d)
}
