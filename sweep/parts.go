package sweep

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"rotorsieve/model"
	"rotorsieve/model/part"
	"rotorsieve/model/unit"
)

// existing is one part of an axis of parts.
type existing struct {
	name  string
	apply func(*model.Design)
	text  string // all that is stated of it, for the fingerprint of a study
}

// partAxis is the definition of an axis of parts as it stands in a grid without a file of
// them: with one value, which changes nothing.
func partAxis(name, title, meaning string, propeller bool) *AxisDef {
	return &AxisDef{Name: name, Title: title, Symbol: name, Kind: unit.Count, Meaning: meaning, isPart: true,
		propeller: propeller, field: field{func(*model.Design) float64 { return 0 }, func(*model.Design, float64) {}}}
}

// IsPart says whether the values of the axis are parts that exist.
func (d *AxisDef) IsPart() bool { return d.isPart }

// PartAxes lists the axes of parts by name, in the grid's order.
func PartAxes() (names []string) {
	for _, d := range axisTable {
		if d.isPart {
			names = append(names, d.Name)
		}
	}
	return names
}

// LookupPart finds an axis of parts by its name, without the parts: Grid.Axis has them.
func LookupPart(name string) (*AxisDef, bool) {
	for _, d := range axisTable {
		if d.isPart && d.Name == name {
			return d, true
		}
	}
	return nil, false
}

// axisOf makes the axis of some parts.
func axisOf[T any](place int, parts []T, brings []*AxisDef, name func(*T) string, at func(*model.Design) **T,
	apply func(*model.Design, *T)) Axis {
	d := *axisTable[place]
	d.brings = brings
	d.bound = model.Bound{Min: 0, Max: float64(len(parts) - 1)}
	places := make(map[*T]int, len(parts))
	a := Axis{Def: &d}
	for i := range parts {
		p := &parts[i]
		places[p] = i
		d.rows = append(d.rows, existing{name: name(p), text: stated(*p), apply: func(of *model.Design) {
			*at(of) = p
			apply(of, p)
		}})
		a.Values = append(a.Values, float64(i))
	}
	d.field = field{
		of:  func(of *model.Design) float64 { return float64(places[*at(of)]) },
		set: func(to *model.Design, v float64) { d.rows[int(v)].apply(to) },
	}
	return a
}

// MotorAxis is the axis of motors that exist, in place of stators and KV.
func MotorAxis(motors []part.Motor) Axis {
	return axisOf(axMotor, slices.Clone(motors), []*AxisDef{Stator, KV},
		func(p *part.Motor) string { return p.Name },
		func(d *model.Design) **part.Motor { return &d.Motor },
		func(d *model.Design, p *part.Motor) { d.Stator, d.KV = p.Stator, p.KV })
}

// PropellerAxis is the axis of propellers that exist, in place of diameter, pitch, blades and
// chord.
func PropellerAxis(propellers []part.Propeller) Axis {
	return axisOf(axPropeller, slices.Clone(propellers), []*AxisDef{Diameter, Pitch, Blades, Chord},
		func(p *part.Propeller) string { return p.Name },
		func(d *model.Design) **part.Propeller { return &d.Propeller },
		func(d *model.Design, p *part.Propeller) {
			d.Diameter, d.Pitch, d.Blades, d.Chord = p.Diameter, p.Pitch, p.Blades, p.Chord.Or(0)
		})
}

// PackAxis is the axis of packs that exist, in place of cells and capacity. Its values are in
// the order of their cells, then of their grade, capacity and mass.
func PackAxis(packs []part.Pack) Axis {
	sorted := slices.Clone(packs)
	slices.SortStableFunc(sorted, func(a, b part.Pack) int {
		return cmp.Or(cmp.Compare(a.Cells, b.Cells), cmp.Compare(gradeName(&a), gradeName(&b)),
			cmp.Compare(a.Capacity, b.Capacity), cmp.Compare(a.Mass.Or(0), b.Mass.Or(0)))
	})
	return PackAxisAsIs(sorted)
}

// PackAxisAsIs is PackAxis in the order given, which is that of a run before. Its cells must not
// fall.
func PackAxisAsIs(packs []part.Pack) Axis {
	return axisOf(axPack, slices.Clone(packs), []*AxisDef{Cells, Capacity},
		func(p *part.Pack) string { return p.Name },
		func(d *model.Design) **part.Pack { return &d.Pack },
		func(d *model.Design, p *part.Pack) { d.Cells, d.Capacity = p.Cells, p.Capacity })
}

func gradeName(p *part.Pack) string {
	if p.Grade == nil {
		return ""
	}
	return p.Grade.Name
}

// FrameAxis is the axis of frames that exist.
func FrameAxis(frames []part.Frame) Axis {
	return axisOf(axFrame, slices.Clone(frames), nil,
		func(p *part.Frame) string { return p.Name },
		func(d *model.Design) **part.Frame { return &d.Frame },
		func(*model.Design, *part.Frame) {})
}

// BoardAxis is the axis of boards that exist.
func BoardAxis(boards []part.Board) Axis {
	return axisOf(axBoard, slices.Clone(boards), nil,
		func(p *part.Board) string { return p.Name },
		func(d *model.Design) **part.Board { return &d.Board },
		func(*model.Design, *part.Board) {})
}

// Part is the part of a value of an axis of parts, the only one in it; none of another axis.
func (d *AxisDef) Part(v float64) model.Parts {
	if at := int(v); at >= 0 && at < len(d.rows) {
		return d.rows[at].design().Parts
	}
	return model.Parts{}
}

// Same says whether two axes are of one name and have the same values, or the same parts with
// the same statements.
func (a Axis) Same(b Axis) bool {
	return a.Def.Name == b.Def.Name && slices.Equal(a.Values, b.Values) &&
		slices.EqualFunc(a.Def.rows, b.Def.rows, func(p, q existing) bool { return p.text == q.text })
}

// Only leaves the parts of some places, which rise, in an axis of parts.
func (a Axis) Only(places []int) Axis {
	d, whole := *a.Def, a.Def
	d.rows = nil
	out := Axis{Def: &d}
	for i, at := range places {
		d.rows = append(d.rows, whole.rows[at])
		out.Values = append(out.Values, float64(i))
	}
	d.bound.Max = float64(len(places) - 1)
	d.field = field{
		of: func(of *model.Design) float64 {
			at, _ := slices.BinarySearch(places, int(whole.field.of(of)))
			return float64(at)
		},
		set: func(to *model.Design, v float64) { d.rows[int(v)].apply(to) },
	}
	return out
}

// stated is all that a part states, as a canonical text.
func stated(p any) string {
	switch p := p.(type) {
	case part.Propeller:
		g := p.Geometry
		p.Geometry, p.Blade, p.Stand = nil, "", "" // paths are names
		if g == nil {
			return fmt.Sprintf("%+v", p)
		}
		return fmt.Sprintf("%+v %x", p, g.Inputs())
	case part.Pack:
		grade := gradeName(&p)
		p.Grade = nil
		return fmt.Sprintf("%+v %s", p, grade)
	}
	return fmt.Sprintf("%+v", p)
}

// partReads are the metrics that read of parts, and what they read.
var partReads = []struct {
	metric string
	what   func(model.Parts) bool // some part states it
	fit    bool                   // of part to part
}{
	{"frame-use", func(p model.Parts) bool { return p.Frame != nil }, true},
	{"motor-cells-use", func(p model.Parts) bool { return p.Motor != nil && p.Motor.MostCells.Known }, true},
	{"board-cells-use", func(p model.Parts) bool { return p.Board != nil }, true},
	{"motor-current-use", func(p model.Parts) bool { return p.Motor != nil && p.Motor.Current.Known }, true},
	{"board-current-use", func(p model.Parts) bool { return p.Board != nil }, true},
	{"propeller-speed-use", func(p model.Parts) bool { return p.Propeller != nil && p.Propeller.Turns.Known }, true},
	{"price", func(p model.Parts) bool { return !math.IsNaN(p.Price()) }, false},
}

// ReadsFit says whether a metric is of how parts that exist fit each other.
func ReadsFit(m *model.Metric) bool {
	for _, x := range partReads {
		if x.fit && x.metric == m.Name {
			return true
		}
	}
	return false
}

// states says whether some part of the grid states something.
func (g *Grid) states(what func(model.Parts) bool) bool {
	for _, a := range g.axes {
		for _, r := range a.Def.rows {
			if what(r.design().Parts) {
				return true
			}
		}
	}
	return false
}

// readable refuses a metric of parts where no part of the grid states what it reads.
func (g *Grid) readable(part string, m *model.Metric) error {
	for _, x := range partReads {
		if x.metric == m.Name && !g.states(x.what) {
			return &StudyError{part, fmt.Errorf("%s: no part of the study states what it is read from, want files of "+
				"parts that do", m.Name)}
		}
	}
	return nil
}

// Unpriced names, by axis, the parts that state no price: crafts of them have none.
func (g *Grid) Unpriced() map[string][]string {
	out := map[string][]string{}
	for _, a := range g.axes {
		for _, r := range a.Def.rows {
			if p := r.design().Parts; math.IsNaN(p.Price()) {
				out[a.Def.Name] = append(out[a.Def.Name], r.name)
			}
		}
	}
	return out
}
