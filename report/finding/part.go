package finding

import (
	"slices"

	"rotorsieve/model"
	"rotorsieve/model/part"
	"rotorsieve/report/texts"
	"rotorsieve/sweep"
)

// PartKind is a kind of parts that exist, of which a design has one or none.
type PartKind struct {
	Name  string // as its axis and the columns of tables: "motor"
	Title string

	of   func(*model.Parts) string // "" where there is none
	name func(*model.Parts, string)
}

// PartKinds lists them, in the order of tables.
var PartKinds = []PartKind{
	{"motor", "Motor", func(p *model.Parts) string { return namedMotor(p.Motor) },
		func(p *model.Parts, name string) { p.Motor = &part.Motor{Name: name} }},
	{"propeller", "Propeller", func(p *model.Parts) string { return namedPropeller(p.Propeller) },
		func(p *model.Parts, name string) { p.Propeller = &part.Propeller{Name: name} }},
	{"pack", "Pack", func(p *model.Parts) string { return namedPack(p.Pack) },
		func(p *model.Parts, name string) { p.Pack = &part.Pack{Name: name} }},
	{"frame", "Frame", func(p *model.Parts) string { return namedFrame(p.Frame) },
		func(p *model.Parts, name string) { p.Frame = &part.Frame{Name: name} }},
	{"board", "Board", func(p *model.Parts) string { return namedBoard(p.Board) },
		func(p *model.Parts, name string) { p.Board = &part.Board{Name: name} }},
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

// takeParts gives a design that was read back the parts that were told of it, by name alone.
func takeParts(d *model.Design, parts []NamedPart) {
	for _, p := range parts {
		if at := slices.IndexFunc(PartKinds, func(k PartKind) bool { return k.Name == p.Kind }); at >= 0 {
			PartKinds[at].name(&d.Parts, texts.OneLine(p.Name))
		}
	}
}
