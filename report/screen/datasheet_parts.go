package screen

import (
	"fmt"
	"strings"

	"rotorsieve/model"
	"rotorsieve/report/finding"
	"rotorsieve/report/words"
)

// partsTitle heads what the formulas of a data sheet take of motor, controller, pack
// and blades.
const partsTitle = "Motor, controller, pack and blades"

// partLine is one property of the parts of a craft.
type partLine struct {
	told
	number, label string // as shown
}

// propertyLine is a property as the sheet shows it.
func propertyLine(p *model.Property, c *model.Craft) partLine {
	v, label := p.Of(c), words.Unit(p.Unit)
	number := fmt.Sprintf("%.4g", v)
	text, source := p.Formula(c)
	shown := strings.TrimSpace(number + " " + label)
	return partLine{number: number, label: label, told: told{Value: v, Unit: p.Unit, Shown: shown,
		Title: p.Title, Symbol: p.Symbol, Formula: text, Worked: p.Worked(c), Source: source}}
}

// partLines lists what goes into the formulas of the metrics.
func partLines(d model.Design, c *model.Craft) []partLine {
	var out []partLine
	for _, p := range model.Properties {
		out = append(out, propertyLine(p, c))
	}
	v := d.BladePitch()
	text, worked, source := d.PitchOrigin()
	number := finding.Inch.Number(v, 4)
	return append(out, partLine{number: number, label: finding.Inch.Label, told: told{Value: v, Unit: "m",
		Shown: number + " " + finding.Inch.Label, Title: "Pitch of the blade", Symbol: "P'",
		Formula: text, Worked: worked, Source: source}})
}

// parts prints what the formulas take of the parts.
func (s *dataSheet) parts(d model.Design, c *model.Craft) {
	s.section(partsTitle)
	for _, p := range partLines(d, c) {
		s.put(p.Title, p.Symbol, p.number, p.label, p.Formula, p.Worked, p.Source)
	}
}

// partRecord is parts for machines.
func partRecord(d model.Design, c *model.Craft) finding.Object {
	var o finding.Object
	for _, p := range partLines(d, c) {
		o = append(o, finding.Member{Name: slug(p.Title), Value: p.told})
	}
	return o
}
