package finding

import (
	"slices"

	"rotorsieve/model"
	"rotorsieve/model/part"
	"rotorsieve/sweep"
)

// PartKind is a kind of parts that exist, of which a design has one or none.
type PartKind struct {
	Name  string // as its axis and the columns of tables: "motor"
	Title string

	of func(*model.Parts) string // "" where there is none
}

// PartKinds lists them, in the order of tables.
var PartKinds = []PartKind{
	{"motor", "Motor", func(p *model.Parts) string { return namedMotor(p.Motor) }},
	{"propeller", "Propeller", func(p *model.Parts) string { return namedPropeller(p.Propeller) }},
	{"pack", "Pack", func(p *model.Parts) string { return namedPack(p.Pack) }},
	{"frame", "Frame", func(p *model.Parts) string { return namedFrame(p.Frame) }},
	{"board", "Board", func(p *model.Parts) string { return namedBoard(p.Board) }},
}

// The names of parts, "" of none.
func namedMotor(p *part.Motor) string {
	if p == nil {
		return ""
	}
	return p.Name
}

func namedPropeller(p *part.Propeller) string {
	if p == nil {
		return ""
	}
	return p.Name
}

func namedPack(p *part.Pack) string {
	if p == nil {
		return ""
	}
	return p.Name
}

func namedFrame(p *part.Frame) string {
	if p == nil {
		return ""
	}
	return p.Name
}

func namedBoard(p *part.Board) string {
	if p == nil {
		return ""
	}
	return p.Name
}

// Of is the name of a design's part, "" where it has none that exists.
func (k *PartKind) Of(d model.Design) string { return k.of(&d.Parts) }

// PartsOf lists the kinds of parts that the designs of a grid have.
func PartsOf(g *sweep.Grid) []PartKind {
	return slices.DeleteFunc(slices.Clone(PartKinds), func(k PartKind) bool {
		_, ok := g.AxisIndex(k.Name)
		return !ok
	})
}

// PartsIn lists the kinds of parts that some design of a table has.
func PartsIn(rows []Row) []PartKind {
	return slices.DeleteFunc(slices.Clone(PartKinds), func(k PartKind) bool {
		return !slices.ContainsFunc(rows, func(x Row) bool { return k.Of(x.Design) != "" })
	})
}

// NamedParts are the parts of a design that exist, in the order of tables.
func NamedParts(d model.Design) (out []NamedPart) {
	for i := range PartKinds {
		if name := PartKinds[i].Of(d); name != "" {
			out = append(out, NamedPart{PartKinds[i].Name, name})
		}
	}
	return out
}
