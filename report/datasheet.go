package report

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"rotorsieve/model"
	"rotorsieve/sweep"
)

// sections group the metrics of a data sheet. Metrics in none of them follow
// under a heading of their own.
var sections = []struct {
	Title   string
	Metrics []string
}{
	{"Size", []string{"auw", "class-margin", "disk-loading", "wheelbase"}},
	{"Hover", []string{"hover-time", "hover-power", "hover-efficiency", "hover-throttle", "hover-rpm", "hover-tip-speed", "figure-of-merit"}},
	{"Full throttle, static", []string{"thrust-to-weight", "full-throttle-rpm", "tip-speed", "tip-mach", "motor-current", "torque-per-volume", "torque-load", "rim-speed", "winding-load", "esc-rating"}},
	{"Level flight", []string{"top-speed", "top-tilt", "flight-rpm", "flight-tip-mach", "best-endurance-speed", "cruise-power", "cruise-time", "best-range-speed", "range", "climb-rate", "level-tilt-limit", "ceiling"}},
	{"Heat", []string{"motor-temperature", "cruise-motor-temperature", "burst-time", "top-speed-time"}},
	{"Response and structure", []string{"thrust-response-time", "thrust-response-down", "rotor-inertia", "roll-acceleration", "arm-frequency", "arm-ratio"}},
	{"Battery", []string{"battery-fraction", "capacity-per-cell", "pack-current", "pack-c-rate", "pack-load", "pack-voltage", "voltage-margin", "thrust-share", "hard-flight-time"}},
}

// group is metrics under one heading.
type group struct {
	Title   string
	Metrics []*model.Metric
}

// grouping lists all metrics that are not inputs by section.
func grouping() []group {
	var out []group
	done := map[*model.Metric]bool{}
	for _, k := range sections {
		g := group{Title: k.Title}
		for _, name := range k.Metrics {
			m := metric(name)
			done[m] = true
			g.Metrics = append(g.Metrics, m)
		}
		out = append(out, g)
	}
	more := group{Title: "More"}
	for _, m := range computed() {
		if !done[m] {
			more.Metrics = append(more.Metrics, m)
		}
	}
	return append(out, more)
}

// Sheet prints one design as a data sheet: inputs, masses, operating points,
// the requirements given and whether they are kept, warnings and cautions. With
// why it adds formula and source to each number.
func Sheet(w io.Writer, d model.Design, c *model.Craft, why bool, require ...sweep.Requirement) error {
	s := &sheet{printer: printer{w: w, width: 100}, why: why}
	s.line("%s", designText(d))
	s.section("Inputs")
	for _, n := range inputs {
		value, unit := inputShown(n, d)
		worked, source := inputSource(n, d)
		s.put(n.Title, n.Symbol, value, unit, n.meaning(), worked, source)
	}
	s.section("Assumptions")
	for _, a := range assumptions(c.Model) {
		mark := ""
		if a.Default {
			mark = "(default)"
		}
		if a.Kind == nil {
			s.number(a.Title, "", a.Text, mark, a.Meaning, assumedSource)
			continue
		}
		s.number(a.Title, "", a.Unit.Number(a.Value, 5), strings.TrimSpace(a.Unit.Label+" "+mark), a.Meaning, assumedSource)
	}
	for _, k := range corrections(d, c) {
		s.number(k.Title, "", "", k.Shown, k.Meaning, k.Source)
	}
	for _, x := range airLines(c) {
		value, label, _ := strings.Cut(x.Shown, " ")
		s.put(x.Title, x.Symbol, value, label, x.Formula, x.Worked, x.Source)
	}
	s.section("Masses")
	for _, m := range append(masses(c), wholeMass(c)) {
		s.put(m.Title, m.Symbol, gram.Number(m.Mass, 4), fmt.Sprintf("g  %5.1f %%", 100*m.Mass/c.Mass), m.Formula, m.worked(c), m.Source)
	}
	s.parts(d, c)
	if operates(c) {
		s.metrics(c)
	} else {
		s.section("No operating point")
		for _, text := range c.Lacking() {
			s.hung("  ", text)
		}
	}
	s.requirements(c, require)
	s.section("Validity")
	s.validity(c)
	s.section("Cautions")
	for _, text := range Cautions {
		s.hung("  ", text)
	}
	return s.err
}

// inputShown is an input of a design as a sheet shows it.
func inputShown(n input, d model.Design) (value, unit string) {
	value, unit = n.Unit.Number(n.of(d), 6), n.Unit.Label
	switch n.AxisDef {
	case sweep.Cells:
		return n.Text(n.of(d)), ""
	case sweep.Stator:
		return value, fmt.Sprintf("(%.4g mm × %.4g mm)", d.Stator.Diameter*1e3, d.Stator.Height*1e3)
	case sweep.Chord:
		if value = n.Unit.Number(n.of(d), 4); d.Chord == 0 {
			return value, "(usual)"
		}
	}
	return value, unit
}

// inputSource says where an input comes from, with the values put into its formula
// where it is not given.
func inputSource(n input, d model.Design) (worked, source string) {
	if n.AxisDef == sweep.Chord {
		return d.ChordOrigin()
	}
	return "", givenSource
}

// sheet prints a data sheet.
type sheet struct {
	printer
	why bool
}

func (s *sheet) section(title string) {
	s.line("")
	s.line("%s", title)
}

// number prints one line of the sheet, and under it what it comes from.
func (s *sheet) number(title, symbol, value, unit, formula, source string) {
	s.put(title, symbol, value, unit, formula, "", source)
}

// put is number with the values put into the formula, where there are any.
func (s *sheet) put(title, symbol, value, unit, formula, worked, source string) {
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

// Sources of what is not computed.
const (
	givenSource   = model.GivenSource
	assumedSource = model.AssumedSource
)

func (s *sheet) metric(c *model.Craft, m *model.Metric) {
	v := m.Of(c)
	switch ceiling := m.Name == "ceiling" && c.Explained(); {
	case ceiling && !finite(v):
		s.number(m.Title, m.Symbol, "none", "", m.Meaning+": "+formula(m), m.Source)
		s.hung("      ", c.CeilingLimit())
		return
	case !finite(v):
		return
	case ceiling:
		defer func() { s.hung("      ", c.CeilingLimit()) }()
	}
	s.put(m.Title, m.Symbol, m.Unit.Number(v, 4), m.Unit.Label+beyond(m, v), m.Meaning+": "+formula(m),
		m.Worked(c), m.Source)
}

// formula is that of a metric with its symbol before it.
func formula(m *model.Metric) string { return m.FormulaText() }

func (s *sheet) metrics(c *model.Craft) {
	for _, k := range grouping() {
		if !slices.ContainsFunc(k.Metrics, func(m *model.Metric) bool { return finite(m.Of(c)) }) {
			continue
		}
		s.section(k.Title)
		for _, m := range k.Metrics {
			s.metric(c, m)
			if m.Name == "top-speed" {
				s.number("Top speed is limited by", "", c.TopLimit(), "", "what gives out first", m.Source)
			}
		}
		if k.Title == "Hover" {
			s.power(c)
		}
	}
}

// requirements prints bounds and what the craft makes of them.
func (s *sheet) requirements(c *model.Craft, require []sweep.Requirement) {
	if len(require) == 0 {
		return
	}
	known := readable(c)
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
		bound := boundText(q)
		if q.Default {
			bound += " (default)"
		}
		unit := q.Metric.Unit.Label
		s.number(q.Metric.Title, q.Metric.Symbol, value, unit+strings.Repeat(" ", max(1, 9-utf8.RuneCountInString(unit)))+verdict+", want "+bound, "", "")
	}
}

// airLine is a property of the air that a craft flies in.
type airLine struct {
	name string
	told
}

func airLines(c *model.Craft) []airLine {
	var out []airLine
	for i, name := range []string{"density", "speed-of-sound"} {
		out = append(out, airLine{name, propertyLine(model.AirProperties[i], c).told})
	}
	return out
}

// massPart is one part of the all-up weight, or the whole.
type massPart struct {
	Title           string
	Mass            float64 // kg
	Formula, Source string
	Symbol          string                    // "" for none
	worked          func(*model.Craft) string // the formula with the values put in
}

// wholeMass is the all-up weight as the sum of its parts.
func wholeMass(c *model.Craft) massPart {
	m := metric("auw")
	return massPart{Title: m.Title, Mass: c.Mass, Formula: formula(m), Source: m.Source, Symbol: m.Symbol,
		worked: m.Worked}
}

// masses is the build-up of a craft's all-up weight, with where each part comes
// from.
func masses(c *model.Craft) []massPart {
	var out []massPart
	for _, p := range model.MassParts {
		text, source := p.Formula(c)
		out = append(out, massPart{Title: p.Title, Mass: p.Of(c), Formula: text, worked: p.Worked, Source: source})
	}
	return out
}
