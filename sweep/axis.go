package sweep

import (
	"fmt"

	"rotorsieve/model"
	"rotorsieve/model/motor"
	"rotorsieve/model/unit"
)

// AxisDef is one quantity that a study can sweep. Its flag, its place in the grid and
// in every output follow from it.
type AxisDef struct {
	Name       string // as in flags
	Title      string // as in figures and tables
	Symbol     string
	Kind       *unit.Kind
	Unit       unit.Unit // in which it is shown
	Continuous bool      // values between the grid's mean something
	Meaning    string

	Swept  string // values of a study where none are given
	Single string // value of a single design where none is given
	// Under gives the values where none are given, in place of both, that follow from
	// assumptions; it is nil, or gives "", where none do.
	Under func(*model.Assumptions) string
	// Usual is what a value of 0 takes, in SI units; nil where 0 is a value like others.
	Usual func(*model.Design) float64
	// Or is another statement of the same axis, which is used where neither is given.
	Or *AxisDef

	shown     string // symbol of the unit in which it is shown
	propeller bool   // a propeller is built for each value
	field     field
	bound     model.Bound
	refuse    func(v float64) string // what is wrong with a value, "" for nothing; nil where the bound says it

	place int
	other *AxisDef // that shares the index

	isPart bool       // its values are the rows of a file of parts
	rows   []existing // those, by value; none of an axis of the table
	brings []*AxisDef // axes whose values follow from the part
}

// field is where a design holds the value of an axis.
type field struct {
	of  func(*model.Design) float64
	set func(*model.Design, float64)
}

func number(at func(*model.Design) *float64) field {
	return field{
		func(d *model.Design) float64 { return *at(d) },
		func(d *model.Design, v float64) { *at(d) = v },
	}
}

func count(at func(*model.Design) *int) field {
	return field{
		func(d *model.Design) float64 { return float64(*at(d)) },
		func(d *model.Design, v float64) { *at(d) = int(v) },
	}
}

// Axis is one swept quantity and its values in SI units, rising; stators keep
// the order in which they were given. The values of an axis of parts count them from 0.
type Axis struct {
	Def    *AxisDef
	Values []float64
	Of     *AxisDef // the axis of parts that brings the values; nil where they vary by themselves
}

const axisCount = len(axisTable)

// Indices of the axes that code names; TestAxisPlaces compares them with the table. The
// last are the loops of worker.block: what comes before is fixed within a block.
const (
	axPropeller = 0
	axDiameter  = 1
	axPitch     = 2
	axBlades    = 3
	axChord     = 4
	axFrame     = 5
	axBoard     = 6
	axMotor     = 7
	axStator    = 8

	axKV       = axisCount - 5
	axPack     = axisCount - 4
	axCells    = axisCount - 3
	axCapacity = axisCount - 2
	axPayload  = axisCount - 1
)

// The axes that code names.
var (
	Diameter   = named("diameter")
	Pitch      = named("pitch")
	PitchRatio = named("pitch-ratio")
	Blades     = named("blades")
	Chord      = named("chord")
	Stator     = named("stator")
	KV         = named("kv")
	Cells      = named("cells")
	Capacity   = named("capacity")
	Payload    = named("payload")
)

// AxisDefs lists every axis whose values are numbers, in the grid's order.
var AxisDefs = placed()

// placed gives the axes of the table their indices.
func placed() (all []*AxisDef) {
	for at, d := range axisTable {
		same := []*AxisDef{d}
		if d.Or != nil {
			d.other, d.Or.other = d.Or, d
			same = append(same, d.Or)
		}
		for _, d := range same {
			d.place, d.Unit = at, d.Kind.Unit(d.shown)
		}
		if !d.isPart {
			all = append(all, same...)
		}
	}
	return all
}

// LookupAxis finds an axis by its name.
func LookupAxis(name string) (*AxisDef, bool) {
	for _, d := range AxisDefs {
		if d.Name == name {
			return d, true
		}
	}
	return nil, false
}

func named(name string) *AxisDef {
	d, ok := LookupAxis(name)
	if !ok {
		panic("sweep: no axis " + name)
	}
	return d
}

// StatorOf reads the trade's code given as a number: 2207 is 22 mm by 7 mm, 2306.5 is
// 23 mm by 6.5 mm.
func StatorOf(code float64) motor.Stator {
	d, h := unit.StatorSize(code)
	return motor.Stator{Diameter: d, Height: h}
}

// Bound is the range of values in SI units that the axis accepts, both ends included.
func (d *AxisDef) Bound() model.Bound { return d.bound }

// Other is the axis with the same index, so that a grid has one of the two; nil for none.
func (d *AxisDef) Other() *AxisDef { return d.other }

// Default is the text of the values that the axis has where none are given: those of a
// study, or that of a single design. It is "" for one that is replaced by its Other.
func (d *AxisDef) Default(single bool) string {
	if single {
		return d.Single
	}
	return d.Swept
}

// Apply puts a value of the axis into a design; a pitch ratio needs the diameter
// there.
func (d *AxisDef) Apply(to *model.Design, v float64) { d.field.set(to, v) }

// Of is the value of a design in SI units, the usual one where the design has 0 for it.
func (d *AxisDef) Of(of model.Design) float64 {
	v := d.field.of(&of)
	if v == 0 && d.Usual != nil {
		return d.Usual(&of)
	}
	return v
}

// Text prints a value of the axis with its unit; of an axis of parts it is the part's name.
func (d *AxisDef) Text(v float64) string {
	if at := int(v); d.isPart && at >= 0 && at < len(d.rows) {
		return d.rows[at].name
	}
	return d.Unit.Format(v, 6)
}

// Shown gives a value in the unit in which the axis is shown.
func (d *AxisDef) Shown(v float64) float64 { return d.Unit.FromSI(v) }

// Check returns an error where no design can have the value.
func (d *AxisDef) Check(v float64) error {
	wrong := ""
	if d.refuse != nil {
		wrong = d.refuse(v)
	} else if !d.bound.Contains(v) {
		wrong = fmt.Sprintf("is outside %s to %s", d.Text(d.bound.Min), d.Text(d.bound.Max))
	}
	if wrong != "" {
		return fmt.Errorf("%s %s %s", d.Name, d.Text(v), wrong)
	}
	return nil
}
