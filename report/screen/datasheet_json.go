package screen

import (
	"io"
	"slices"
	"strings"

	"rotorsieve/model"
	"rotorsieve/model/unit"
	"rotorsieve/report/finding"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

// DataSheetJSON prints one design for machines: all that Sheet says with its why, and
// the operating points. It has the same members for every craft; what a craft does
// not have is left out of them. Values are in SI units but for rpm, and beside
// each stands how the sheet shows it, which is what its worked formula comes to. With a
// spread each metric has its percentiles.
func DataSheetJSON(w io.Writer, d model.Design, c *model.Craft, over *Spread, require ...sweep.Requirement) error {
	return InHandJSON(w, nil, d, c, nil, over, require...)
}

// InHandJSON is DataSheetJSON of a design of a run, nil for one of none, in scenarios, nil for one
// alone.
func InHandJSON(w io.Writer, h *finding.InHand, d model.Design, c *model.Craft, in *finding.Scenarios, over *Spread,
	require ...sweep.Requirement) error {
	crafts := []*model.Craft{c}
	if in != nil && finding.Operates(c) {
		crafts = in.Crafts
	}
	plan := finding.PlanOf(d, crafts, over.drawnAlone(), require)
	limits, at, hover := finding.Object{}, finding.Object{}, finding.Object{}
	if finding.Operates(c) {
		limits = append(limits, finding.Member{Name: "top-speed", Value: words.TopLimit(c.TopLimit())})
		if c.Explained() {
			limits = append(limits, finding.Member{Name: "ceiling", Value: words.Ceiling(c)})
		}
		at, hover = pointRecord(c), powerRecord(c)
	}
	all := finding.Object{
		{Name: "design", Value: words.Design(d)},
		{Name: "run", Value: takenRecord(h)},
		{Name: "named_parts", Value: append([]finding.NamedPart{}, finding.NamedParts(d)...)},
		{Name: "inputs", Value: inputRecord(d)},
		{Name: "assumptions", Value: assumedRecord(c)},
		{Name: "air", Value: airRecord(d, c)},
		{Name: "masses", Value: massRecord(c)},
		{Name: "parts", Value: partRecord(d, c)},
		{Name: "operating_points", Value: at},
		{Name: "hover_power", Value: hover},
		{Name: "no_operating_point", Value: finding.List(words.Each(c.Lacking(), words.Lack))},
		{Name: "draws", Value: over.drawn()},
		{Name: "metrics", Value: explainedRecord(c, over)},
		{Name: "limited_by", Value: limits},
		{Name: "class", Value: classRecord(c)},
		{Name: "requirements", Value: requirementRecord(c, require)},
		{Name: "to_buy", Value: buyRecord(plan)},
		{Name: "test_plan", Value: testRecord(plan)},
		{Name: "verification", Value: checkRecord(plan)},
		{Name: "validity", Value: validityRecord()},
		{Name: "warnings", Value: finding.List(words.Marks(c.Warnings()))},
		{Name: "extrapolations", Value: finding.List(words.Marks(c.Extrapolations()))},
		{Name: "cautions", Value: words.Cautions},
	}
	if in != nil {
		all = append(all, finding.Member{Name: "scenarios", Value: scenarioRecord(in)})
	}
	return finding.WriteJSON(w, all)
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

func inputRecord(d model.Design) finding.Object {
	var o finding.Object
	for _, n := range finding.Inputs {
		value, label := inputShown(n, d)
		worked, source := inputSource(n, d)
		t := told{Value: n.Of(d), Unit: n.Kind.SI().Symbol, Shown: strings.TrimSpace(value + " " + label),
			Title: n.Title, Symbol: n.Symbol,
			Meaning: words.InputMeaning(n), Worked: worked, Source: source}
		o = append(o, finding.Member{Name: n.Name, Value: t})
	}
	return o
}

// assumedRecord holds the assumptions, with whether each is the default.
func assumedRecord(c *model.Craft) finding.Object {
	var o finding.Object
	type assumed struct {
		told
		Default bool `json:"default"`
	}
	for _, a := range words.Assumptions(c.Model) {
		t := told{Value: a.Told, Shown: a.Text, Title: a.Title, Meaning: a.Meaning, Source: model.AssumedSource}
		if a.Kind != nil {
			t.Unit, t.Shown = a.Kind.SI().Symbol, a.Unit.Format(a.Value, 5)
		}
		o = append(o, finding.Member{Name: a.Name, Value: assumed{t, a.Default}})
	}
	return o
}

// airRecord holds the air of the assumptions, and how measurements correct the
// craft's propellers and motors where there are any.
func airRecord(d model.Design, c *model.Craft) finding.Object {
	o := finding.Object{}
	for _, x := range airLines(c) {
		o = append(o, finding.Member{Name: x.name, Value: x.told})
	}
	for _, k := range corrections(d, c) {
		o = append(o, finding.Member{Name: k.name, Value: k.told})
	}
	return o
}

func massRecord(c *model.Craft) finding.Object {
	type share struct {
		told
		Share float64 `json:"share"` // of the all-up weight
	}
	var o finding.Object
	for _, m := range append(words.Masses(c), words.WholeMass(c)) {
		t := told{Value: m.Mass, Unit: "kg", Shown: finding.Gram.Format(m.Mass, 4), Title: m.Title, Symbol: m.Symbol,
			Formula: m.Formula, Source: m.Source}
		t.Worked = m.Worked(c)
		o = append(o, finding.Member{Name: slug(m.Title), Value: share{t, m.Mass / c.Mass}})
	}
	return o
}

// explainedRecord holds the metrics that a craft has, in the registry's order.
// Where a value stands for all beyond it, that is said.
func explainedRecord(c *model.Craft, over *Spread) finding.Object {
	type metric struct {
		told
		OrMore bool `json:"or_more"`
		*percentiles
	}
	o := finding.Object{}
	for _, m := range finding.Readable(c) {
		v, symbol := m.Exported(c)
		if !finding.Finite(v) {
			continue
		}
		si := m.Of(c)
		o = append(o, finding.Member{Name: m.Name,
			Value: metric{told{v, symbol, m.Unit.Format(si, 4), m.Title, m.Symbol, m.Meaning, m.FormulaText(),
				m.Worked(c), m.SourceOf(c)}, words.Beyond(m, si) != "", over.record(m)}})
	}
	return o
}

// pointRecord holds the operating points, each with what is known of it.
func pointRecord(c *model.Craft) finding.Object {
	o := finding.Object{}
	for _, p := range words.Points(c) {
		of := finding.Object{}
		for _, k := range words.PointColumns {
			if v := k.Of(&p); finding.Finite(v) {
				u := siOf(k.Unit)
				of = append(of, finding.Member{Name: slug(k.Title), Value: finding.Quantity{Value: u.FromSI(v),
					Unit: u.Symbol}})
			}
		}
		o = append(o, finding.Member{Name: slug(p.Title), Value: of})
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
	return finding.Object{{Name: "limit", Value: finding.Quantity{Value: c.Limit, Unit: "kg"}},
		{Name: "kept", Value: c.Mass <= c.Limit}}
}

// requirementRecord holds bounds and what the craft makes of them. The value of a
// metric that the craft does not have is nil.
func requirementRecord(c *model.Craft, require []sweep.Requirement) []finding.Object {
	out := []finding.Object{}
	known := finding.Readable(c)
	for i := range require {
		q := &require[i]
		var value any
		kept := false
		if slices.Contains(known, q.Metric) {
			if v, _ := q.Metric.Exported(c); finding.Finite(v) {
				value, kept = v, q.Kept(q.Metric.Of(c))
			}
		}
		sense := "at most"
		if q.AtLeast {
			sense = "at least"
		}
		u := finding.ExportUnit(q.Metric)
		out = append(out, finding.Object{{Name: "metric", Value: q.Metric.Name}, {Name: "sense", Value: sense},
			{Name: "bound", Value: u.FromSI(q.Bound)}, {Name: "value", Value: value}, {Name: "unit", Value: u.Symbol},
			{Name: "kept", Value: kept}, {Name: "default", Value: q.Default}})
	}
	return out
}

// validityRecord lists the limits of the model.
func validityRecord() []finding.Object {
	var out []finding.Object
	for _, v := range model.Validities {
		out = append(out, finding.Object{{Name: "of", Value: v.What}, {Name: "range", Value: v.Range}})
	}
	return out
}

// slug is a title as the name of a member.
func slug(title string) string { return strings.ReplaceAll(strings.ToLower(title), " ", "-") }
