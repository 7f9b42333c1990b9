package report

import (
	"math"
	"slices"

	"rotorsieve/model"
	"rotorsieve/model/rotor"
	"rotorsieve/model/unit"
	"rotorsieve/sweep"
)

// input is one choice of a design, shown as its axis is.
type input struct {
	*sweep.AxisDef
	of func(model.Design) float64 // SI
}

// inputs are all choices of a design, in the order of tables.
var inputs = []input{
	{sweep.Diameter, func(d model.Design) float64 { return d.Diameter }},
	{sweep.Pitch, func(d model.Design) float64 { return d.Pitch }},
	{sweep.Blades, func(d model.Design) float64 { return float64(d.Blades) }},
	{sweep.Stator, statorCode},
	{sweep.KV, func(d model.Design) float64 { return d.KV }},
	{sweep.Cells, func(d model.Design) float64 { return float64(d.Cells) }},
	{sweep.Capacity, func(d model.Design) float64 { return d.Capacity }},
	{sweep.Payload, func(d model.Design) float64 { return d.Payload }},
	{sweep.Chord, chord},
}

// inputAt is the place of an input by its name, below 0 for none.
func inputAt(name string) int {
	return slices.IndexFunc(inputs, func(n input) bool { return n.Name == name })
}

// statorCode is the trade's code of a stator as a number, 2207 for 22 mm x 7 mm.
func statorCode(d model.Design) float64 {
	h := math.Round(d.Stator.Height*1e9) / 1e6 // mm
	return 100*math.Round(d.Stator.Diameter*1e3) + h
}

// chord is that of a design, or the usual one that stands for 0.
func chord(d model.Design) float64 {
	if d.Chord == 0 {
		return rotor.DefaultChord(d.Diameter, d.Blades)
	}
	return d.Chord
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
	return inputs[inputAt(a.Name)].of(d)
}
