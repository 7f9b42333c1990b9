package screen

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"rotorsieve/model"
	"rotorsieve/report/finding"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

// DataSheet prints one design as a data sheet: inputs, masses, operating points,
// the requirements given and whether they are kept, warnings and cautions. With
// why it adds formula and source to each number, with a spread the percentiles of each
// metric.
// Of several scenarios the craft is that in the one that tells of it, and all stand side by side.
func DataSheet(w io.Writer, d model.Design, c *model.Craft, in *finding.Scenarios, why bool, over *Spread,
	require ...sweep.Requirement) error {
	s := &dataSheet{printer: printer{w: w, width: 100}, why: why, over: over}
	s.line("%s", words.Design(d))
	if in != nil {
		s.hung("", words.ScenarioTold(in))
	}
	s.section("Inputs")
	for _, k := range finding.NamedParts(d) {
		s.line("  %-40s %s", words.PartTitle(k), k.Name)
		if lacks := words.UnstatedTold(k.Kind, d); lacks != "" {
			s.hung("    ", lacks)
		}
	}
	for _, n := range finding.Inputs {
		value, unit := inputShown(n, d)
		worked, source := inputSource(n, d)
		s.put(n.Title, n.Symbol, value, unit, words.InputMeaning(n), worked, source)
	}
	s.section("Assumptions")
	for _, a := range words.Assumptions(c.Model) {
		mark := ""
		if a.Default {
			mark = "(default)"
		}
		if a.Kind == nil {
			s.number(a.Title, "", a.Text, mark, a.Meaning, model.AssumedSource)
			continue
		}
		s.number(a.Title, "", a.Unit.Number(a.Value, 5), strings.TrimSpace(a.Unit.Label+" "+mark), a.Meaning,
			model.AssumedSource)
	}
	for _, k := range corrections(d, c) {
		s.number(k.Title, "", "", k.Shown, k.Meaning, k.Source)
	}
	for _, x := range airLines(c) {
		s.put(x.Title, x.Symbol, x.number, x.label, x.Formula, x.Worked, x.Source)
	}
	s.section("Masses")
	for _, m := range append(words.Masses(c), words.WholeMass(c)) {
		s.put(m.Title, m.Symbol, finding.Gram.Number(m.Mass, 4), fmt.Sprintf("g  %5.1f %%", 100*m.Mass/c.Mass),
			m.Formula, m.Worked(c), m.Source)
	}
	s.parts(d, c)
	if finding.Operates(c) {
		s.metrics(c)
	} else {
		s.section("No operating point")
		for _, lack := range c.Lacking() {
			s.hung("  ", words.Lack(lack))
		}
	}
	s.requirements(c, require)
	if in != nil {
		s.section("Scenarios")
		scenarioTables(&s.printer, in)
	}
	if s.over != nil {
		s.line("")
		s.hung("", s.over.note())
	}
	s.section("Validity")
	s.validity(c)
	s.section("Cautions")
	for _, text := range words.Cautions {
		s.hung("  ", text)
	}
	return s.err
}

// inputShown is an input of a design as a sheet shows it.
func inputShown(n *sweep.AxisDef, d model.Design) (value, unit string) {
	value, unit = n.Unit.Number(n.Of(d), 6), n.Unit.Label
	switch n {
	case sweep.Cells:
		return n.Text(n.Of(d)), ""
	case sweep.Stator:
		return value, fmt.Sprintf("(%.4g mm × %.4g mm)", d.Stator.Diameter*1e3, d.Stator.Height*1e3)
	case sweep.Chord:
		if value = n.Unit.Number(n.Of(d), 4); d.Chord == 0 {
			return value, "(usual)"
		}
	}
	return value, unit
}

// inputSource says where an input comes from, with the values put into its formula
// where it is not given.
func inputSource(n *sweep.AxisDef, d model.Design) (worked, source string) {
	if n == sweep.Chord {
		return d.ChordOrigin()
	}
	return "", model.GivenSource
}

// dataSheet prints a data sheet.
type dataSheet struct {
	printer
	why  bool
	over *Spread
}

func (s *dataSheet) section(title string) {
	s.line("")
	s.line("%s", title)
}

// number prints one line of the sheet, and under it what it comes from.
func (s *dataSheet) number(title, symbol, value, unit, formula, source string) {
	s.put(title, symbol, value, unit, formula, "", source)
}

// put is number with the values put into the formula, where there are any.
func (s *dataSheet) put(title, symbol, value, unit, formula, worked, source string) {
	pad := func(text string, n int) string {
		return text + strings.Repeat(" ", max(0, n-utf8.RuneCountInString(text)))
	}
	s.line("%s", strings.TrimRight("  "+pad(title, 30)+" "+pad(symbol, 9)+" "+fmt.Sprintf("%14s", value)+" "+unit, " "))
	if !s.why {
		return
	}
	if formula != "" {
		s.hung("      ", formula)
	}
	if worked != "" {
		s.hung("      = ", worked)
	}
	if source != "" {
		s.hung("      source: ", source)
	}
}

func (s *dataSheet) metric(c *model.Craft, m *model.Metric) {
	v := m.Of(c)
	switch ceiling := m.Name == "ceiling" && c.Explained(); {
	case ceiling && !finding.Finite(v):
		s.number(m.Title, m.Symbol, "none", "", m.Meaning+": "+m.FormulaText(), m.Source)
		s.hung("      ", words.Ceiling(c))
		return
	case m.Windy && m.FlownAt(c.Model) == 0:
		return
	case !finding.Finite(v):
		if m.FlownAt(c.Model) > 0 {
			s.number(m.Title, m.Symbol, "none", "", m.Meaning+": "+m.FormulaText(), m.Source)
			if m.Name == "airspeed-power" || m.Name == "station-time" { // the first of them
				s.hung("      ", words.NotFlown(c, m.FlownAt(c.Model)))
			}
		}
		return
	case ceiling:
		defer func() { s.hung("      ", words.Ceiling(c)) }()
	}
	s.put(m.Title, m.Symbol, m.Unit.Number(v, 4), s.over.beside(m, m.Unit.Label+words.Beyond(m, v)+words.Stated(m, c)),
		m.Meaning+": "+m.FormulaText(), m.Worked(c), m.SourceOf(c))
}

func (s *dataSheet) metrics(c *model.Craft) {
	for _, k := range words.Grouping() {
		if !slices.ContainsFunc(k.Metrics, func(m *model.Metric) bool {
			return m.FlownAt(c.Model) > 0 || finding.Finite(m.Of(c)) && !m.Windy
		}) {
			continue
		}
		s.section(s.over.heads(k.Title))
		for _, m := range k.Metrics {
			s.metric(c, m)
			if m.Name == "top-speed" {
				s.number("Top speed is limited by", "", words.TopLimit(c.TopLimit()), "", "what gives out first",
					m.Source)
			}
		}
		if k.Title == "Hover" {
			s.power(c)
		}
	}
}

// requirements prints bounds and what the craft makes of them.
func (s *dataSheet) requirements(c *model.Craft, require []sweep.Requirement) {
	if len(require) == 0 {
		return
	}
	known := finding.Readable(c)
	s.section("Requirements")
	for i := range require {
		q := &require[i]
		verdict, value := "NOT KEPT", "none"
		if slices.Contains(known, q.Metric) {
			v := q.Metric.Of(c)
			value = q.Metric.Unit.Number(v, 4)
			if q.Kept(v) {
				verdict = "kept"
			}
		}
		bound := words.Bound(q)
		if q.Default {
			bound += " (default)"
		}
		unit := q.Metric.Unit.Label
		s.number(q.Metric.Title, q.Metric.Symbol, value,
			unit+strings.Repeat(" ", max(1, 9-utf8.RuneCountInString(unit)))+verdict+", want "+bound, "", "")
	}
}

// airLine is a property of the air that a craft flies in.
type airLine struct {
	name          string
	number, label string // as shown
	told
}

func airLines(c *model.Craft) []airLine {
	var out []airLine
	for i, name := range []string{"density", "speed-of-sound"} {
		p := propertyLine(model.AirProperties[i], c)
		out = append(out, airLine{name, p.number, p.label, p.told})
	}
	return out
}
