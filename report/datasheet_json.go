package report

import (
	"io"
	"slices"
	"strings"

	"rotorsieve/model"
	"rotorsieve/model/unit"
	"rotorsieve/sweep"
)

// SheetJSON prints one design for machines: all that Sheet says with its why, and
// the operating points. It has the same members for every craft; what a craft does
// not have is left out of them. Values are in SI units but for rpm, and beside
// each stands how the sheet shows it, which is what its worked formula comes to.
func SheetJSON(w io.Writer, d model.Design, c *model.Craft, require ...sweep.Requirement) error {
	limits, at, hover := object{}, object{}, object{}
	if operates(c) {
		limits = append(limits, member{"top-speed", topLimitText(c.TopLimit())})
		if c.Explained() {
			limits = append(limits, member{"ceiling", ceilingText(c)})
		}
		at, hover = pointRecord(c), powerRecord(c)
	}
	return writeJSON(w, object{
		{"design", designText(d)},
		{"inputs", inputRecord(d)},
		{"assumptions", assumedRecord(c)},
		{"air", airRecord(d, c)},
		{"masses", massRecord(c)},
		{"parts", partRecord(d, c)},
		{"operating_points", at},
		{"hover_power", hover},
		{"no_operating_point", list(each(c.Lacking(), lackText))},
		{"metrics", explainedRecord(c)},
		{"limited_by", limits},
		{"class", classRecord(c)},
		{"requirements", requirementRecord(c, require)},
		{"validity", validityRecord()},
		{"warnings", list(markTexts(c.Warnings()))},
		{"extrapolations", list(markTexts(c.Extrapolations()))},
		{"cautions", Cautions},
	})
}

// told is a number of a data sheet with all that the sheet tells of it. What there
// is nothing to say of is empty.
type told struct {
	Value   any    `json:"value"`
	Unit    string `json:"unit"`
	Shown   string `json:"shown"` // as in the sheet
	Title   string `json:"title"`
	Symbol  string `json:"symbol"`
	Meaning string `json:"meaning"`
	Formula string `json:"formula"`
	Worked  string `json:"worked"` // the formula with its values put in
	Source  string `json:"source"`
}

func inputRecord(d model.Design) object {
	var o object
	for _, n := range inputs {
		value, label := inputShown(n, d)
		worked, source := inputSource(n, d)
		t := told{Value: n.Of(d), Unit: n.Kind.SI().Symbol, Shown: strings.TrimSpace(value + " " + label), Title: n.Title, Symbol: n.Symbol,
			Meaning: inputMeaning(n), Worked: worked, Source: source}
		o = append(o, member{n.Name, t})
	}
	return o
}

// assumedRecord holds the assumptions, with whether each is the default.
func assumedRecord(c *model.Craft) object {
	var o object
	type assumed struct {
		told
		Default bool `json:"default"`
	}
	for _, a := range assumptions(c.Model) {
		t := told{Value: a.Told, Shown: a.Text, Title: a.Title, Meaning: a.Meaning, Source: model.AssumedSource}
		if a.Kind != nil {
			t.Unit, t.Shown = a.Kind.SI().Symbol, a.Unit.Format(a.Value, 5)
		}
		o = append(o, member{a.Name, assumed{t, a.Default}})
	}
	return o
}

// airRecord holds the air of the assumptions, and how measurements correct the
// craft's propellers and motors where there are any.
func airRecord(d model.Design, c *model.Craft) object {
	o := object{}
	for _, x := range airLines(c) {
		o = append(o, member{x.name, x.told})
	}
	for _, k := range corrections(d, c) {
		o = append(o, member{k.name, k.told})
	}
	return o
}

func massRecord(c *model.Craft) object {
	type share struct {
		told
		Share float64 `json:"share"` // of the all-up weight
	}
	var o object
	for _, m := range append(masses(c), wholeMass(c)) {
		t := told{Value: m.Mass, Unit: "kg", Shown: gram.Format(m.Mass, 4), Title: m.Title, Symbol: m.Symbol, Formula: m.Formula, Source: m.Source}
		t.Worked = m.worked(c)
		o = append(o, member{slug(m.Title), share{t, m.Mass / c.Mass}})
	}
	return o
}

// explainedRecord holds the metrics that a craft has, in the registry's order.
// Where a value stands for all beyond it, that is said.
func explainedRecord(c *model.Craft) object {
	type metric struct {
		told
		OrMore bool `json:"or_more"`
	}
	o := object{}
	for _, m := range readable(c) {
		v, symbol := m.Exported(c)
		if !finite(v) {
			continue
		}
		si := m.Of(c)
		o = append(o, member{m.Name, metric{told{v, symbol, m.Unit.Format(si, 4), m.Title, m.Symbol, m.Meaning, m.FormulaText(),
			m.Worked(c), m.Source}, beyond(m, si) != ""}})
	}
	return o
}

// pointRecord holds the operating points, each with what is known of it.
func pointRecord(c *model.Craft) object {
	o := object{}
	for _, p := range points(c) {
		of := object{}
		for _, k := range pointColumns {
			if v := k.Of(&p); finite(v) {
				u := siOf(k.Unit)
				of = append(of, member{slug(k.Title), quantity{u.FromSI(v), u.Symbol}})
			}
		}
		o = append(o, member{slug(p.Title), of})
	}
	return o
}

// siOf is the unit in which machines are told what people are told in u.
func siOf(u unit.Unit) unit.Unit {
	for _, k := range unit.Kinds {
		if k != unit.Rotation && slices.Contains(k.Units(), u) {
			return k.SI()
		}
	}
	return u
}

// classRecord holds the weight class that the craft is judged in, nil for none.
func classRecord(c *model.Craft) any {
	if c.Limit == 0 {
		return nil
	}
	return object{{"limit", quantity{c.Limit, "kg"}}, {"kept", c.Mass <= c.Limit}}
}

// requirementRecord holds bounds and what the craft makes of them. The value of a
// metric that the craft does not have is nil.
func requirementRecord(c *model.Craft, require []sweep.Requirement) []object {
	out := []object{}
	known := readable(c)
	for i := range require {
		q := &require[i]
		var value any
		kept := false
		if slices.Contains(known, q.Metric) {
			if v, _ := q.Metric.Exported(c); finite(v) {
				value, kept = v, q.Kept(q.Metric.Of(c))
			}
		}
		sense := "at most"
		if q.AtLeast {
			sense = "at least"
		}
		u := exportUnit(q.Metric)
		out = append(out, object{{"metric", q.Metric.Name}, {"sense", sense}, {"bound", u.FromSI(q.Bound)}, {"value", value}, {"unit", u.Symbol},
			{"kept", kept}, {"default", q.Default}})
	}
	return out
}

// validityRecord lists the limits of the model.
func validityRecord() []object {
	var out []object
	for _, v := range model.Validities {
		out = append(out, object{{"of", v.What}, {"range", v.Range}})
	}
	return out
}

// slug is a title as the name of a member.
func slug(title string) string { return strings.ReplaceAll(strings.ToLower(title), " ", "-") }
