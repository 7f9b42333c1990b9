package words

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"rotorsieve/model"
	"rotorsieve/model/record"
	"rotorsieve/model/unit"
	"rotorsieve/report/texts"
)

// assumption is one thing held fixed while designs vary.
type assumption struct {
	Name    string // as in flags
	Title   string
	Meaning string
	Kind    *unit.Kind // nil where the value is text
	Unit    unit.Unit  // in which it is shown
	Value   float64    // SI
	Text    string
	Told    any // the value to machines: SI, text, or whether it holds
	Default bool
}

// Assumptions lists what a model assumes.
func Assumptions(m *model.Model) []assumption {
	usual := model.Defaults()
	var out []assumption
	for _, d := range model.AssumptionRows() {
		if a := assumptionOf(m, d); a.Kind != nil || a.Text != "" {
			a.Default = d.Group != model.AboutMerit && d.Form.Stands(&m.Assume, &usual)
			out = append(out, a)
		}
	}
	if all := m.Assume.Evidence.Propellers(); len(all) > 0 {
		out = append(out, counted("measured", "Measured propellers", len(all), measuredText(all)))
	}
	for _, kind := range []struct{ name, title string }{
		{record.Motor, "Measured motors"}, {record.Frame, "Measured frames"}, {record.Pack, "Measured packs"},
		{record.Craft, "Measured crafts"},
	} {
		if all := m.Assume.Evidence.Keys(kind.name); len(all) > 0 {
			out = append(out, counted("measured-"+kind.name+"s", kind.title, len(all), strings.Join(all, ", ")))
		}
	}
	return out
}

// assumptionOf is an assumption as a model has it; with no text where there is none.
func assumptionOf(m *model.Model, d *model.AssumptionDef) assumption {
	out := assumption{Name: d.Name, Title: d.Title, Meaning: d.Meaning}
	a := &m.Assume
	switch f := d.Form.(type) {
	case *model.Quantity:
		if f.Word != "" && f.Known == nil && *f.At(a) == 0 { // nothing is stated
			out.Text = f.Word
			break
		}
		out.Kind, out.Unit, out.Value = f.Kind, f.Unit(), *f.At(a)
		if f.Known != nil && out.Value == 0 {
			out.Value = f.Known(m)
			out.Meaning += ": " + f.Whose
		}
		out.Told = out.Value
		return out
	case *model.Choice:
		out.Text = f.Of(a)
		if f.Meaning != nil {
			out.Meaning = f.Meaning(a)
		}
	case *model.Switch:
		out.Text, out.Told = texts.YesNo(*f.At(a)), *f.At(a)
		return out
	case *model.Liking:
		out.Text = referenceText(*f.At(a))
	}
	out.Told = out.Text
	return out
}

// OfPlace says whether an assumption is about the place.
func OfPlace(name string) bool {
	return slices.ContainsFunc(model.AssumptionDefs, func(d *model.AssumptionDef) bool {
		return d.Group == model.AboutPlace && d.Name == name
	})
}

// referenceText lists what is compared with a reference; "" for none.
func referenceText(r model.Reference) string {
	var parts []string
	for _, m := range model.Compared() {
		if v := *r.Of(m); v > 0 {
			parts = append(parts, texts.Lower(m.Title)+" "+m.Unit.Format(v, 4))
		}
	}
	return strings.Join(parts, ", ")
}

// counted is the assumption that some parts are as measured.
func counted(name, title string, n int, which string) assumption {
	text := strconv.Itoa(n)
	return assumption{Name: name, Title: title, Text: text, Told: text,
		Meaning: which + ": correct those and, less with distance, their neighbours"}
}

// measuredText lists measured propellers: "5×4.3×3 (2 points)".
func measuredText(all []model.Measured) string {
	var out []string
	for _, m := range all {
		d := model.Design{Diameter: m.Diameter, Pitch: m.Pitch, Blades: m.Blades}
		out = append(out, fmt.Sprintf("%s (%d %s)", Propeller(d, "×"), m.Points,
			texts.Plural(m.Points, "point", "points")))
	}
	return strings.Join(out, ", ")
}
