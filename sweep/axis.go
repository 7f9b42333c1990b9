package sweep

import (
	"fmt"
	"math"

	"rotorsieve/model"
	"rotorsieve/model/motor"
	"rotorsieve/model/unit"
)

// Places of the axes in the grid's order, slowest first: what is dear to build
// changes seldom.
const (
	axDiameter = iota
	axPitch
	axBlades
	axChord
	axStator
	axKV
	axCells
	axCapacity
	axPayload
	axisCount
)

// AxisDef is one quantity that a study can sweep.
type AxisDef struct {
	Name       string // as in flags
	Title      string // as in figures and tables
	Symbol     string
	Kind       *unit.Kind
	Unit       unit.Unit // in which it is shown
	Continuous bool      // values between the grid's mean something
	Meaning    string

	place int
	bound model.Bound
	set   func(*model.Design, float64)
	pitch func(v, diameter float64) float64
}

// Axis is one swept quantity and its values in SI units, rising; stators keep
// the order in which they were given.
type Axis struct {
	Def    *AxisDef
	Values []float64
}

// The axes of the grid. Pitch and PitchRatio stand in the same place.
var (
	Diameter = &AxisDef{Name: "diameter", Title: "Diameter", Symbol: "D", Kind: unit.Length, Unit: unit.Length.Unit("in"), Continuous: true,
		Meaning: "propeller diameter", place: axDiameter, bound: model.DiameterBound,
		set: func(d *model.Design, v float64) { d.Diameter = v }}
	Pitch = &AxisDef{Name: "pitch", Title: "Pitch", Symbol: "P", Kind: unit.Length, Unit: unit.Length.Unit("in"), Continuous: true,
		Meaning: "propeller pitch", place: axPitch, bound: model.Bound{Min: 0, Max: math.Inf(1)},
		set:   func(d *model.Design, v float64) { d.Pitch = v },
		pitch: func(v, _ float64) float64 { return v }}
	PitchRatio = &AxisDef{Name: "pitch-ratio", Title: "Pitch ratio", Symbol: "P/D", Kind: unit.Ratio, Unit: unit.Ratio.Unit(""), Continuous: true,
		Meaning: "propeller pitch over diameter", place: axPitch, bound: model.PitchRatioBound,
		set:   func(d *model.Design, v float64) { d.Pitch = v * d.Diameter },
		pitch: func(v, diameter float64) float64 { return v * diameter }}
	Blades = &AxisDef{Name: "blades", Title: "Blades", Symbol: "B", Kind: unit.Count, Unit: unit.Count.Unit(""),
		Meaning: "blades of a propeller", place: axBlades, bound: model.BladesBound,
		set: func(d *model.Design, v float64) { d.Blades = int(v) }}
	Chord = &AxisDef{Name: "chord", Title: "Chord", Symbol: "c/R", Kind: unit.Ratio, Unit: unit.Ratio.Unit(""), Continuous: true,
		Meaning: "blade chord at 75 % radius over the radius; 0 takes the usual chord of the diameter", place: axChord, bound: model.Bound{Min: 0, Max: model.ChordBound.Max},
		set: func(d *model.Design, v float64) { d.Chord = v }}
	Stator = &AxisDef{Name: "stator", Title: "Stator", Symbol: "stator", Kind: unit.Stator, Unit: unit.Stator.Unit(""),
		Meaning: "motor stator, diameter and height in mm: 2207", place: axStator, bound: model.Bound{Min: 0, Max: math.Inf(1)},
		set: func(d *model.Design, v float64) { d.Stator = StatorOf(v) }}
	KV = &AxisDef{Name: "kv", Title: "KV", Symbol: "KV", Kind: unit.SpeedConstant, Unit: unit.SpeedConstant.Unit("rpm/V"), Continuous: true,
		Meaning: "motor speed constant", place: axKV, bound: model.KVBound,
		set: func(d *model.Design, v float64) { d.KV = v }}
	Cells = &AxisDef{Name: "cells", Title: "Cells", Symbol: "S", Kind: unit.Cells, Unit: unit.Cells.Unit("S"),
		Meaning: "cells in series", place: axCells, bound: model.CellsBound,
		set: func(d *model.Design, v float64) { d.Cells = int(v) }}
	Capacity = &AxisDef{Name: "capacity", Title: "Capacity", Symbol: "C", Kind: unit.Charge, Unit: unit.Charge.Unit("mAh"), Continuous: true,
		Meaning: "pack capacity", place: axCapacity, bound: model.CapacityBound,
		set: func(d *model.Design, v float64) { d.Capacity = v }}
	Payload = &AxisDef{Name: "payload", Title: "Payload", Symbol: "m_pl", Kind: unit.Mass, Unit: unit.Mass.Unit("g"), Continuous: true,
		Meaning: "payload mass", place: axPayload, bound: model.PayloadBound,
		set: func(d *model.Design, v float64) { d.Payload = v }}
)

// AxisDefs lists every axis, in the grid's order.
var AxisDefs = []*AxisDef{Diameter, Pitch, PitchRatio, Blades, Chord, Stator, KV, Cells, Capacity, Payload}

// axisDefs names the axis that stands in each place when none is given.
var axisDefs = [axisCount]*AxisDef{Diameter, Pitch, Blades, Chord, Stator, KV, Cells, Capacity, Payload}

// Bound is the range of values in SI units that the axis accepts, both ends included.
func (d *AxisDef) Bound() model.Bound { return d.bound }

// LookupAxis finds an axis by its name.
func LookupAxis(name string) (*AxisDef, bool) {
	for _, d := range AxisDefs {
		if d.Name == name {
			return d, true
		}
	}
	return nil, false
}

// StatorOf reads the trade's code as a number: 2207 is 22 mm by 7 mm, 2306.5 is
// 23 mm by 6.5 mm.
func StatorOf(code float64) motor.Stator {
	d, h := unit.StatorSize(code)
	return motor.Stator{Diameter: d, Height: h}
}

// Apply puts a value of the axis into a design; a pitch ratio needs the diameter
// there.
func (d *AxisDef) Apply(to *model.Design, v float64) { d.set(to, v) }

// Text prints a value of the axis with its unit.
func (d *AxisDef) Text(v float64) string { return d.Unit.Format(v, 6) }

// Shown gives a value in the unit in which the axis is shown.
func (d *AxisDef) Shown(v float64) float64 { return d.Unit.FromSI(v) }

// Check returns an error where no design can have the value.
func (d *AxisDef) Check(v float64) error {
	switch d {
	case Stator:
		s := StatorOf(v)
		if !model.StatorDBound.Holds(s.Diameter) || !model.StatorHBound.Holds(s.Height) {
			return fmt.Errorf("%s %s is outside %g to %g mm by %g to %g mm", d.Name, d.Text(v),
				model.StatorDBound.Min*1e3, model.StatorDBound.Max*1e3, model.StatorHBound.Min*1e3, model.StatorHBound.Max*1e3)
		}
		return nil
	case Chord:
		if v == 0 {
			return nil
		}
		if !model.ChordBound.Holds(v) {
			return fmt.Errorf("chord %s is outside %g to %g of the radius", d.Text(v), model.ChordBound.Min, model.ChordBound.Max)
		}
		return nil
	case Pitch:
		if !(v > 0) {
			return fmt.Errorf("pitch %s is not above 0", d.Text(v))
		}
		return nil
	}
	if !d.bound.Holds(v) {
		return fmt.Errorf("%s %s is outside %s to %s", d.Name, d.Text(v), d.Text(d.bound.Min), d.Text(d.bound.Max))
	}
	return nil
}
