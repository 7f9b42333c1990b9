package finding

import (
	"math"

	"rotorsieve/model"
	"rotorsieve/model/frame"
	"rotorsieve/model/record"
	"rotorsieve/model/unit"
	"rotorsieve/sweep"
	"rotorsieve/sweep/decide"
)

// Back is where what is measured goes to be taken into account.
type Back int

// A record is read by --measured; what a list of parts states is written there; the rest is
// a check alone, since the model would take it for something else.
const (
	ToRecords Back = iota
	ToParts
	Nowhere
)

// PlannedTest is a test with the record that it fills in.
type PlannedTest struct {
	decide.Test
	Record record.Planned
	Back   Back
	Of     *decide.Build // a rival, which the test may show to be better; nil for the design of the plan
}

// AtLeast says whether more is better, so that a test is passed from P10 up; otherwise it is up to P90.
func (t *PlannedTest) AtLeast() bool {
	switch t.What {
	case decide.PropellerThrust, decide.PackLimit, decide.MotorCooling:
		return true
	}
	return false
}

// measurement is how something is recorded, and how well such a test usually tells it, as one
// standard deviation (common practice of scales, meters and stands).
type measurement struct {
	of    *record.Quantity
	usual float64
}

var measurements = map[decide.Measurable]measurement{
	decide.FrameMass: {record.FrameMass, 0.01}, decide.MotorMass: {record.Mass, 0.01},
	decide.PackMass: {record.PackMass, 0.01}, decide.MotorResistance: {record.Resistance, 0.05},
	decide.PackResistance: {record.PackResistance, 0.05}, decide.PackLimit: {record.CurrentLimit, 0.1},
	decide.MotorCooling: {record.Cooling, 0.1}, decide.PropellerThrust: {record.Thrust, 0.03},
	decide.PropellerPower: {record.ShaftPower, 0.04}, decide.HoverPower: {record.HoverPower, 0.03},
}

// take makes tests of what was drawn of them, of a design of the plan's or of a rival of it.
func (p *Plan) take(tests []decide.Test, d model.Design, c *model.Craft, rival *decide.Build) {
	a := &c.Model.Assume
	for _, t := range tests {
		m, ok := measurements[t.What]
		if !ok {
			continue
		}
		s := record.Subject{Kind: m.of.Kind}
		if s.Has(record.Propeller) {
			s.Diameter, s.Pitch, s.Blades, s.Chord = legible(d.Diameter), legible(d.Pitch), d.Blades, d.Chord
		}
		if s.Has(record.Motor) {
			s.Stator, s.KV = sweep.Stator.Of(d), d.KV
		}
		if s.Has(record.Pack) {
			s.Cells, s.Capacity = d.Cells, d.Capacity
			if d.Pack != nil && d.Pack.Grade != nil {
				s.Grade = d.Pack.Grade.Name
			}
		}
		at := record.Conditions{}
		switch s.Kind {
		case record.Frame:
			if s.Diameter = legible(d.Diameter); d.Frame != nil {
				s.Diameter = d.Frame.Largest
			}
		case record.Craft:
			s.AllUp = weighed(c.Mass)
		}
		switch t.What {
		case decide.PropellerThrust, decide.PropellerPower:
			at = record.Conditions{N: t.N, Altitude: a.Altitude, Temperature: a.Temperature}
		case decide.MotorCooling:
			at = record.Conditions{Wash: decide.CoolingWash, Altitude: a.Altitude, Temperature: a.Temperature}
		case decide.HoverPower:
			at = record.Conditions{Altitude: a.Altitude, Temperature: a.Temperature}
		}
		x := PlannedTest{Test: t, Record: record.Planned{Record: record.Record{Subject: s, Quantity: m.of, At: at},
			Usual: m.usual}, Of: rival}
		if x.Back = backOf(t.What, &d.Parts, a); x.Back == ToRecords && x.Record.Sound() != nil {
			x.Back = Nowhere // sizes that no record has
		}
		p.Tests = append(p.Tests, x)
	}
}

// legible is a length that was worked out, such as a pitch of a ratio, as a few digits of an inch
// where it is that but for rounding.
func legible(v float64) float64 {
	const digits, rounded = 6, 1e-9
	if x, err := unit.Length.Parse(Inch.Number(v, digits) + "in"); err == nil && math.Abs(x-v) <= rounded*v {
		return x
	}
	return v
}

// weighed is a mass in kg as a scale says it, to the tenth of a gram, and so that it is printed in grams:
// of tenths of a gram that are converted a quarter are read back in no fewer than 17 digits.
func weighed(kg float64) float64 { return math.Round(1e4*kg) / 1e4 }

// backOf is where the value of a test of a design goes.
func backOf(what decide.Measurable, t *model.Parts, a *model.Assumptions) Back {
	listed := func(yes bool) Back {
		if yes {
			return ToParts
		}
		return ToRecords
	}
	switch what {
	case decide.FrameMass:
		if t.Frame == nil && a.FrameBuild == frame.ByBeam {
			return Nowhere
		}
		return listed(t.Frame != nil)
	case decide.MotorMass:
		return listed(t.Motor != nil)
	case decide.MotorResistance:
		return listed(t.Motor != nil)
	case decide.PackMass, decide.PackResistance, decide.PackLimit:
		return listed(t.Pack != nil)
	case decide.PropellerThrust, decide.PropellerPower:
		return listed(t.Propeller != nil && t.Propeller.Geometry != nil)
	case decide.HoverPower:
		if t.Motor != nil || t.Pack != nil || t.Frame != nil || t.Propeller != nil && t.Propeller.Geometry != nil {
			return Nowhere // it is held against a craft of regressions
		}
	}
	return ToRecords
}
