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
	"rotorsieve/sweep"
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
		out = append(out, counted(measuredPropellers, len(all), measuredText(all)))
	}
	for _, kind := range []string{record.Motor, record.Frame, record.Pack, record.Craft} {
		if all := m.Assume.Evidence.Keys(kind); len(all) > 0 {
			out = append(out, counted("measured-"+kind+"s", len(all), strings.Join(all, ", ")))
		}
	}
	return out
}

// overName names in a record how merits over scenarios come to one.
const (
	overName  = "over"
	overTitle = "Ranked over scenarios by"
)

// measuredPropellers names the count of measured propellers in a record.
const measuredPropellers = "measured"

// measuredTitle is the title of a count of what was measured, "" for what is none.
func measuredTitle(name string) string {
	return map[string]string{measuredPropellers: "Measured propellers", "measured-motors": "Measured motors",
		"measured-frames": "Measured frames", "measured-packs": "Measured packs",
		"measured-crafts": "Measured crafts"}[name]
}

// AssumptionsOf lists what a study assumes; what its scenarios differ in with all its values.
func AssumptionsOf(s *sweep.Study) []assumption {
	out := Assumptions(s.Model)
	in := s.Models()
	for _, d := range model.Differing(in) {
		at := slices.IndexFunc(out, func(a assumption) bool { return a.Name == d.Name })
		var all []string
		for _, m := range in {
			a := assumptionOf(m, d)
			text := a.Text
			if q, ok := d.Form.(*model.Quantity); ok && q.Word != "" && *q.At(&m.Assume) == 0 {
				text = q.Word
			} else if a.Kind != nil {
				text = a.Unit.Format(a.Value, 6)
			}
			if !slices.Contains(all, text) {
				all = append(all, text)
			}
		}
		a := assumption{Name: d.Name, Title: d.Title, Meaning: d.Meaning + "; in scenarios",
			Text: strings.Join(all, ", ")}
		a.Told = a.Text
		out[at] = a
	}
	if len(s.Others) > 0 {
		out = append(out, assumption{Name: overName, Title: overTitle, Text: s.Over.String(),
			Told: s.Over.String(), Meaning: "of the merits in the scenarios", Default: s.Over == sweep.Worst})
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
func counted(name string, n int, which string) assumption {
	text := strconv.Itoa(n)
	return assumption{Name: name, Title: measuredTitle(name), Text: text, Told: text,
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
