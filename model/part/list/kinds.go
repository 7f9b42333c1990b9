package list

import (
	"fmt"
	"math"

	"rotorsieve/model"
	"rotorsieve/model/motor"
	"rotorsieve/model/pack"
	"rotorsieve/model/part"
	"rotorsieve/model/unit"
)

var motors = kind[part.Motor]{one: "motor", many: "motors", check: checkMotor, columns: []column[part.Motor]{
	named(func(m *part.Motor) *string { return &m.Name }),
	number("stator", "", unit.Stator, model.Bound{Min: 0, Max: math.Inf(1)},
		"its size, diameter and height in mm: 2207", func(m *part.Motor, v float64) {
			d, h := unit.StatorSize(v)
			m.Stator = motor.Stator{Diameter: d, Height: h}
		}, func(m *part.Motor) float64 { return min(m.Stator.Diameter, m.Stator.Height) }).alone(), // see checkMotor
	number("kv", "rpm/V", unit.SpeedConstant, model.KVBound, "of the label",
		func(m *part.Motor, v float64) { m.KV = v }, func(m *part.Motor) float64 { return m.KV }).alone(),
	stated("mass", "g", unit.Mass, 0.2, 2000, "with its leads", func(m *part.Motor) *part.Stated { return &m.Mass }),
	stated("resistance", "mohm", unit.Resistance, 1, 50_000, "of the winding between two leads, at 20 degC",
		func(m *part.Motor) *part.Stated { return &m.Resistance }),
	stated("idle current", "A", unit.Current, 0.01, 20, "without a propeller, at the idle voltage",
		func(m *part.Motor) *part.Stated { return &m.IdleCurrent }),
	stated("idle voltage", "V", unit.Voltage, 1, 60, "at which the idle current was taken",
		func(m *part.Motor) *part.Stated { return &m.IdleVoltage }),
	stated("current", "A", unit.Current, 0.5, 200, "most that it may draw",
		func(m *part.Motor) *part.Stated { return &m.Current }),
	stated("burst time", "s", unit.Time, 1, 3600, "for which it may draw that, from cold",
		func(m *part.Motor) *part.Stated { return &m.Burst }),
	stated("most cells", "S", unit.Cells, model.CellsBound.Min, model.CellsBound.Max, "in series that its maker allows",
		func(m *part.Motor) *part.Stated { return &m.MostCells }).alone(),
	priced(func(m *part.Motor) *part.Stated { return &m.Price }),
	noted[part.Motor](),
}}

var propellers = kind[part.Propeller]{one: "propeller", many: "propellers", check: checkPropeller,
	columns: []column[part.Propeller]{
		named(func(p *part.Propeller) *string { return &p.Name }),
		number("diameter", "in", unit.Length, model.DiameterBound, "of the disc",
			func(p *part.Propeller, v float64) { p.Diameter = v },
			func(p *part.Propeller) float64 { return p.Diameter }),
		number("pitch", "in", unit.Length, model.Bound{Min: 0, Max: 2 * model.DiameterBound.Max}, "of the label",
			func(p *part.Propeller, v float64) { p.Pitch = v }, func(p *part.Propeller) float64 { return p.Pitch }),
		number("blades", "", unit.Count, model.BladesBound, "how many it has",
			func(p *part.Propeller, v float64) { p.Blades = int(v) },
			func(p *part.Propeller) float64 { return float64(p.Blades) }).alone(),
		stated("mass", "g", unit.Mass, 0.05, 500, "of one", func(p *part.Propeller) *part.Stated { return &p.Mass }),
		stated("chord", "", unit.Ratio, model.ChordBound.Min, model.ChordBound.Max, "at 75 % radius over the radius",
			func(p *part.Propeller) *part.Stated { return &p.Chord }).alone(),
		path("blade file", "CSV of r/R, c/R, beta, as --blade of rotor takes it; beside this file",
			func(p *part.Propeller) *string { return &p.Blade }),
		path("stand file", "CSV of its measurements at rest, as --rotor-points takes it; beside this file",
			func(p *part.Propeller) *string { return &p.Stand }),
		stated("max rpm", "rpm", unit.Rotation, 500, 200_000, "most that its maker allows",
			func(p *part.Propeller) *part.Stated { return &p.Turns }).alone(),
		priced(func(p *part.Propeller) *part.Stated { return &p.Price }),
		noted[part.Propeller](),
	}}

// packRow is a pack with its currents as C rates, until its capacity is known.
type packRow struct {
	part.Pack
	rate, burstRate part.Stated // 1/h
}

var packs = kind[packRow]{one: "pack", many: "packs", check: checkPack, columns: []column[packRow]{
	named(func(p *packRow) *string { return &p.Name }),
	number("cells", "S", unit.Cells, model.CellsBound, "in series",
		func(p *packRow, v float64) { p.Cells = int(v) }, func(p *packRow) float64 { return float64(p.Cells) }).alone(),
	number("capacity", "mAh", unit.Charge, model.CapacityBound, "of the label",
		func(p *packRow, v float64) { p.Capacity = v }, func(p *packRow) float64 { return p.Capacity }),
	stated("mass", "g", unit.Mass, 1, 20_000, "with leads and connector",
		func(p *packRow) *part.Stated { return &p.Mass }),
	stated("resistance", "mohm", unit.Resistance, 0.5, 5000, "of the whole pack, new, at 25 degC",
		func(p *packRow) *part.Stated { return &p.Resistance }),
	stated("current", "A", unit.Current, 0.5, 1000, "continuous",
		func(p *packRow) *part.Stated { return &p.Current }).orRate(),
	stated("burst current", "A", unit.Current, 0.5, 2000, "for some seconds",
		func(p *packRow) *part.Stated { return &p.Burst }).orRate(),
	stated("rate", "C", unit.CRate, leastRate, mostRate, "that current over the capacity, in its place",
		func(p *packRow) *part.Stated { return &p.rate }),
	stated("burst rate", "C", unit.CRate, leastRate, mostRate, "the burst current over the capacity, in its place",
		func(p *packRow) *part.Stated { return &p.burstRate }),
	{name: "grade", meaning: "of the cells, as --pack-grade names it; else that of the study",
		text: func(p *packRow, text string) (err error) {
			p.Grade, err = pack.ParseGrade(text)
			return err
		}},
	priced(func(p *packRow) *part.Stated { return &p.Price }),
	noted[packRow](),
}}

var frames = kind[part.Frame]{one: "frame", many: "frames", check: checkFrame, columns: []column[part.Frame]{
	named(func(f *part.Frame) *string { return &f.Name }),
	number("wheelbase", "mm", unit.Length, model.Bound{Min: 0.05, Max: 1.5}, "between motors across the centre",
		func(f *part.Frame, v float64) { f.Wheelbase = v }, func(f *part.Frame) float64 { return f.Wheelbase }),
	number("largest propeller", "in", unit.Length, model.Bound{Min: model.DiameterBound.Min, Max: 20 * 0.0254},
		"diameter that it takes", func(f *part.Frame, v float64) { f.Largest = v },
		func(f *part.Frame) float64 { return f.Largest }),
	stated("mass", "g", unit.Mass, 1, 5000, "of plates and arms, without strap, pads, screws and standoffs",
		func(f *part.Frame) *part.Stated { return &f.Mass }),
	stated("drag area", "cm2", unit.Area, 1, 3000, "of the craft's body in level flight, CdA",
		func(f *part.Frame) *part.Stated { return &f.Area }),
	priced(func(f *part.Frame) *part.Stated { return &f.Price }),
	noted[part.Frame](),
}}

var boards = kind[part.Board]{one: "board", many: "boards", check: checkBoard, columns: []column[part.Board]{
	named(func(b *part.Board) *string { return &b.Name }),
	number("current", "A", unit.Current, model.Bound{Min: 1, Max: 200}, "continuous, of each motor",
		func(b *part.Board, v float64) { b.Current = v }, func(b *part.Board) float64 { return b.Current }),
	number("cells", "S", unit.Cells, model.CellsBound, "most in series",
		func(b *part.Board, v float64) { b.Cells = int(v) },
		func(b *part.Board) float64 { return float64(b.Cells) }).alone(),
	stated("mass", "g", unit.Mass, 0.5, 500, "with what is joined on it",
		func(b *part.Board) *part.Stated { return &b.Mass }),
	{name: "joined", meaning: "yes where it carries the flight controller as well, else no",
		text: func(b *part.Board, text string) error {
			b.Joined = text == "yes"
			if !b.Joined && text != "no" {
				return fmt.Errorf("%.80q, want yes where the board carries the flight controller, else no", text)
			}
			return nil
		}},
	priced(func(b *part.Board) *part.Stated { return &b.Price }),
	noted[part.Board](),
}}

// path is the column of a path, as it is written.
func path[T any](name, meaning string, at func(*T) *string) column[T] {
	return column[T]{name: name, meaning: meaning, text: func(t *T, text string) error {
		*at(t) = text
		return nil
	}}
}
