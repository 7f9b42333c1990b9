package words

import (
	"cmp"
	"slices"
	"strings"

	"rotorsieve/model"
	"rotorsieve/model/unit"
	"rotorsieve/report/finding"
)

// massPart is one part of the all-up weight, or the whole.
type massPart struct {
	Title           string
	Mass            float64 // kg
	Formula, Source string
	Symbol          string                    // "" for none
	Worked          func(*model.Craft) string // the formula with the values put in
}

// weight prints a mass to four digits in the unit in which a limit is spoken of.
func weight(kg, limit float64) string {
	u := finding.Gram
	if limit >= 1 {
		u = unit.Mass.Unit("kg")
	}
	return u.Format(kg, 4)
}

// WeightOf says what a craft uses of a limit: "248.6 of 250 g", "1.193 of 1.2 kg".
func WeightOf(kg, limit float64) string {
	number, _, _ := strings.Cut(weight(kg, limit), " ")
	return number + " of " + Mass(limit)
}

// WholeMass is the all-up weight as the sum of its parts.
func WholeMass(c *model.Craft) massPart {
	m := finding.Metric("auw")
	return massPart{Title: m.Title, Mass: c.Mass, Formula: m.FormulaText(), Source: m.Source, Symbol: m.Symbol,
		Worked: m.Worked}
}

// Masses is the build-up of a craft's all-up weight, with where each part comes
// from.
func Masses(c *model.Craft) []massPart {
	var out []massPart
	for _, p := range model.MassParts {
		text, source := p.Formula(c)
		out = append(out, massPart{Title: p.Title, Mass: p.Of(c), Formula: text, Worked: p.Worked, Source: source})
	}
	return out
}

// HeaviestPart is the part that weighs most.
func HeaviestPart(c *model.Craft) massPart {
	return slices.MaxFunc(Masses(c), func(a, b massPart) int { return cmp.Compare(a.Mass, b.Mass) })
}

// StackOrder are the parts as bars stack them from below, about by mass. Order and
// colours are the same in all studies, so that a part is known by them.
var StackOrder = []string{"Pack", "Frame", "Motors", "Avionics", "Speed controller", "Propellers", "Hardware", "Wiring",
	"Payload"}

// Stacked gives the places of StackOrder's parts in a build-up.
func Stacked(parts []massPart) []int {
	var order []int
	for _, title := range StackOrder {
		order = append(order, slices.IndexFunc(parts, func(p massPart) bool { return p.Title == title }))
	}
	return order
}
