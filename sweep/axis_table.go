package sweep

import (
	"fmt"
	"math"

	"rotorsieve/model"
	"rotorsieve/model/rotor"
	"rotorsieve/model/unit"
)

// axisTable holds the axes in the grid's order, slowest first: what takes longest to
// build changes seldom. What a propeller is built of comes first, and the loops of
// worker.block last. By default a study has some millions of designs from 2 to 10
// inches, and a single design is a common five-inch craft.
//
// Parts that exist stand before the axes whose values they bring.
var axisTable = [...]*AxisDef{
	partAxis("propeller", "Propeller", "propeller that exists", true),
	{Name: "diameter", Title: "Diameter", Symbol: "D", Kind: unit.Length, shown: "in", Continuous: true,
		Meaning: "propeller diameter",
		Swept:   "2:10:0.5in", Single: "5in", propeller: true, bound: model.DiameterBound,
		field: number(func(d *model.Design) *float64 { return &d.Diameter })},
	{Name: "pitch", Title: "Pitch", Symbol: "P", Kind: unit.Length, shown: "in", Continuous: true,
		Meaning:   "propeller pitch",
		propeller: true, bound: model.Bound{Min: 0, Max: math.Inf(1)}, refuse: noPitch,
		field: number(func(d *model.Design) *float64 { return &d.Pitch }),
		Or: &AxisDef{Name: "pitch-ratio", Title: "Pitch ratio", Symbol: "P/D", Kind: unit.Ratio, Continuous: true,
			Meaning: "propeller pitch over diameter",
			Swept:   "0.4:1:0.1", Single: "0.8", propeller: true, bound: model.PitchRatioBound,
			// A design holds one pitch, so that no two statements of it can differ.
			field: field{func(d *model.Design) float64 { return d.Pitch / d.Diameter },
				func(d *model.Design, v float64) { d.Pitch = v * d.Diameter }}}},
	{Name: "blades", Title: "Blades", Symbol: "B", Kind: unit.Count,
		Meaning: "blades of a propeller",
		Swept:   "2,3", Single: "3", propeller: true, bound: model.BladesBound,
		field: count(func(d *model.Design) *int { return &d.Blades })},
	{Name: "chord", Title: "Chord", Symbol: "c/R", Kind: unit.Ratio, Continuous: true,
		Meaning: "blade chord at 75 % radius over the radius; 0 takes the usual chord of the diameter",
		Swept:   "0", Single: "0", propeller: true,
		bound: model.Bound{Min: 0, Max: model.ChordBound.Max}, refuse: noChord,
		Usual: func(d *model.Design) float64 { return rotor.DefaultChord(d.Diameter, d.Blades) },
		field: number(func(d *model.Design) *float64 { return &d.Chord })},
	partAxis("frame", "Frame", "frame that exists", false),
	partAxis("board", "Board", "board of speed controllers that exists", false),
	partAxis("motor", "Motor", "motor that exists", false),
	{Name: "stator", Title: "Stator", Symbol: "stator", Kind: unit.Stator,
		Meaning: "motor stator, diameter and height in mm: 2207",
		Swept:   "1103,1204,1404,1507,2004,2207,2507,2806,2812", Single: "2207",
		bound: model.Bound{Min: 0, Max: math.Inf(1)}, refuse: noStator,
		field: field{statorCode, func(d *model.Design, v float64) { d.Stator = StatorOf(v) }}},
	{Name: "kv", Title: "KV", Symbol: "KV", Kind: unit.SpeedConstant, shown: "rpm/V", Continuous: true,
		Meaning: "motor speed constant",
		Swept:   "500:2000:100,2200:6000:200", Single: "1300", bound: model.KVBound,
		field: number(func(d *model.Design) *float64 { return &d.KV })},
	partAxis("pack", "Pack", "pack that exists", false),
	{Name: "cells", Title: "Cells", Symbol: "S", Kind: unit.Cells, shown: "S",
		Meaning: "cells in series",
		Swept:   "1,2,3,4,6", Single: "6", bound: model.CellsBound,
		field: count(func(d *model.Design) *int { return &d.Cells })},
	{Name: "capacity", Title: "Capacity", Symbol: "C", Kind: unit.Charge, shown: "mAh", Continuous: true,
		Meaning: "pack capacity",
		Swept:   "300:1500:50mAh,1700:5100:200mAh", Single: "1300mAh", Under: oneCell, bound: model.CapacityBound,
		field: number(func(d *model.Design) *float64 { return &d.Capacity })},
	{Name: "payload", Title: "Payload", Symbol: "m_pl", Kind: unit.Mass, shown: "g", Continuous: true,
		Meaning: "payload mass",
		Swept:   "0g", Single: "0g", bound: model.PayloadBound,
		field: number(func(d *model.Design) *float64 { return &d.Payload })},
}

// noPitch refuses by sign alone: the grid checks the pitch together with the diameter.
func noPitch(v float64) string {
	if v > 0 {
		return ""
	}
	return "is not above 0"
}

// noChord takes 0 as well, which is below the bound.
func noChord(v float64) string {
	if v == 0 || model.ChordBound.Contains(v) {
		return ""
	}
	return fmt.Sprintf("is outside %g to %g of the radius", model.ChordBound.Min, model.ChordBound.Max)
}

// noStator refuses by the diameter and height of the code.
func noStator(v float64) string {
	s := StatorOf(v)
	if model.StatorDBound.Contains(s.Diameter) && model.StatorHBound.Contains(s.Height) {
		return ""
	}
	return fmt.Sprintf("is outside %g to %g mm by %g to %g mm", model.StatorDBound.Min*1e3, model.StatorDBound.Max*1e3,
		model.StatorHBound.Min*1e3, model.StatorHBound.Max*1e3)
}

// statorCode is the trade's code of a stator as a number, 2207 for 22 mm x 7 mm.
func statorCode(d *model.Design) float64 {
	return 100*math.Round(d.Stator.Diameter*1e3) + math.Round(d.Stator.Height*1e9)/1e6
}

// oneCell is the capacity of one cell in parallel of a cylindrical grade: the default
// capacities are those of pouch packs.
func oneCell(a *model.Assumptions) string {
	q := a.PackGrade.CellCharge()
	if q == 0 {
		return ""
	}
	return unit.Charge.Text(q)
}
