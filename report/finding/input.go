package finding

import (
	"slices"

	"rotorsieve/model"
	"rotorsieve/model/unit"
	"rotorsieve/sweep"
)

// Input is one choice of a design, shown as its axis is.
type Input struct{ *sweep.AxisDef }

// Inputs are all choices of a design, in the order of tables: last what is mostly left to
// the usual.
var Inputs = listInputs()

func listInputs() []Input {
	var all, usual []Input
	for _, d := range sweep.AxisDefs {
		switch o := d.Other(); {
		case o != nil && o != d.Or: // states the same again
		case d.Usual != nil:
			usual = append(usual, Input{d})
		default:
			all = append(all, Input{d})
		}
	}
	return append(all, usual...)
}

// InputAt is the place of an input by its name, below 0 for none.
func InputAt(name string) int {
	return slices.IndexFunc(Inputs, func(n Input) bool { return n.Name == name })
}

// ExportUnit is the unit in which a metric is given to machines.
func ExportUnit(m *model.Metric) unit.Unit {
	if m.Kind == unit.Rotation {
		return m.Unit
	}
	return m.Kind.SI()
}

// Computed lists the metrics that are not inputs themselves.
func Computed() []*model.Metric {
	var out []*model.Metric
	for _, m := range model.Metrics {
		if InputAt(m.Name) < 0 {
			out = append(out, m)
		}
	}
	return out
}

// Swept lists those of them that a sweep computes of every design.
func Swept() []*model.Metric {
	return slices.DeleteFunc(Computed(), func(m *model.Metric) bool { return m.Stage > model.LastStage })
}

// ValueOn is what a design has on an axis, SI.
func ValueOn(a *sweep.AxisDef, d model.Design) float64 {
	if a == sweep.PitchRatio {
		return d.Pitch / d.Diameter
	}
	return Inputs[InputAt(a.Name)].Of(d)
}
