package report

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"rotorsieve/model"
	"rotorsieve/model/air"
	"rotorsieve/model/basis"
	"rotorsieve/model/flight"
	"rotorsieve/model/frame"
	"rotorsieve/model/motor"
	"rotorsieve/model/pack"
	"rotorsieve/model/rotor"
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
	{"Full throttle, static", []string{"thrust-to-weight", "full-throttle-rpm", "tip-speed", "tip-mach", "motor-current", "torque-per-volume", "esc-rating"}},
	{"Level flight", []string{"top-speed", "top-tilt", "flight-rpm", "flight-tip-mach", "best-endurance-speed", "cruise-power", "cruise-time", "best-range-speed", "range", "climb-rate", "level-tilt-limit", "ceiling"}},
	{"Heat", []string{"motor-temperature", "cruise-motor-temperature", "burst-time"}},
	{"Response and structure", []string{"thrust-response-time", "thrust-response-down", "rotor-inertia", "roll-acceleration", "arm-frequency", "arm-ratio"}},
	{"Battery", []string{"battery-fraction", "pack-current", "pack-c-rate", "pack-load", "pack-voltage", "voltage-margin", "thrust-share", "mixed-time"}},
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
		value, unit := n.Unit.Number(n.of(d), 6), n.Unit.Label
		switch n.AxisDef {
		case sweep.Cells:
			value, unit = n.Text(n.of(d)), ""
		case sweep.Stator:
			unit = fmt.Sprintf("(%.4g mm × %.4g mm)", d.Stator.Diameter*1e3, d.Stator.Height*1e3)
		case sweep.Chord:
			value = n.Unit.Number(n.of(d), 4)
			if d.Chord == 0 {
				unit = "(usual)"
			}
		}
		s.number(n.Title, n.Symbol, value, unit, n.meaning(), "")
	}
	s.section("Assumptions")
	for _, a := range assumptions(c.Model) {
		mark := ""
		if a.Default {
			mark = "(default)"
		}
		if a.Kind == nil {
			s.number(a.Title, "", a.Text, mark, a.Meaning, "")
			continue
		}
		s.number(a.Title, "", a.Unit.Number(a.Value, 5), strings.TrimSpace(a.Unit.Label+" "+mark), a.Meaning, "")
	}
	if p := c.Powertrain.Propeller; len(c.Model.Assume.Measured) > 0 {
		s.number("Propeller correction", "", "", p.Fit.String(), "the most probable given the measurements", constant("s_beta").Source)
	}
	s.number("Air density", "rho", fmt.Sprintf("%.4g", c.Model.Air.Density), "kg/m³", "p/(R T)", airSource())
	s.number("Speed of sound", "a", fmt.Sprintf("%.4g", c.Model.Air.SoundSpeed), "m/s", "sqrt(γ R T)", airSource())
	s.section("Masses")
	for _, m := range masses(c) {
		s.number(m.Title, "", gram.Number(m.Mass, 4), fmt.Sprintf("g  %5.1f %%", 100*m.Mass/c.Mass), m.Formula, m.Source)
	}
	s.number("All-up weight", "AUW", gram.Number(c.Mass, 4), "g  100.0 %", "", "")
	if operates(c) {
		s.metrics(c)
	} else {
		s.line("")
		s.line("No operating point: hover or full throttle lies beyond what the propeller, the motor or the pack gives.")
	}
	s.requirements(c, require)
	s.section("Validity")
	if marks := c.Warnings(); len(marks) == 0 {
		s.line("  within the limits of the model")
	} else {
		for _, m := range marks {
			s.hung("  ! ", m)
		}
	}
	s.section("Cautions")
	for _, text := range Cautions {
		s.hung("  ", text)
	}
	return s.err
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
	if source != "" {
		s.hung("      source: ", source)
	}
}

func (s *sheet) metric(c *model.Craft, m *model.Metric) {
	v := m.Of(c)
	if !finite(v) {
		return
	}
	s.number(m.Title, m.Symbol, m.Unit.Number(v, 4), m.Unit.Label, m.Meaning+": "+formula(m), m.Source)
}

// formula is that of a metric with its symbol before it, unless the formula is
// an equation by itself.
func formula(m *model.Metric) string {
	if strings.Contains(m.Formula, "=") || m.Formula == m.Symbol {
		return m.Formula
	}
	return m.Symbol + " = " + m.Formula
}

func (s *sheet) metrics(c *model.Craft) {
	for _, k := range grouping() {
		if !slices.ContainsFunc(k.Metrics, func(m *model.Metric) bool { return finite(m.Of(c)) }) {
			continue
		}
		s.section(k.Title)
		for _, m := range k.Metrics {
			s.metric(c, m)
			if m.Name == "top-speed" {
				s.number("Top speed is limited by", "", c.Flight.Limit.String(), "", "", "")
			}
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

// massPart is one part of the all-up weight.
type massPart struct {
	Title           string
	Mass            float64 // kg
	Formula, Source string
}

// masses is the build-up of a craft's all-up weight, with where each part comes
// from: the constants of the model that lead it.
func masses(c *model.Craft) []massPart {
	m := c.Masses()
	of := func(title string, kg float64, formula, symbol string) massPart {
		return massPart{title, kg, formula, constant(symbol).Source}
	}
	return []massPart{
		of("Frame", m.Frame, constant("frame scale").Meaning+", k the frame factor", "frame scale"),
		of("Hardware", m.Hardware, "strap and pads, and screws and standoffs by diameter", "hardware by size"),
		of("Propellers", m.Propellers, "4 (square D_in^2 + linear D_in), more for each blade above two", "propeller square"),
		of("Motors", m.Motors, "four of "+constant("motor mass scale").Meaning, "motor mass scale"),
		of("Speed controller", m.Controller, constant("ESC board").Meaning, "ESC board"),
		of("Wiring", m.Wiring, constant("wiring").Meaning, "wiring"),
		{"Avionics", m.Avionics, "as assumed", ""},
		of("Pack", m.Pack, "leads and wrap, and overhead x cells x mass of one cell of "+c.Model.Assume.PackGrade.Meaning, c.Model.Assume.PackGrade.Name+" mass"),
		{"Payload", m.Payload, "as given", ""},
	}
}

// part is the constants of one package of the model.
type part struct {
	Name      string
	Constants []basis.Constant
}

// parts lists the constants of the model, in the order of a design: air first.
func parts() []part {
	return []part{
		{"Air", air.Basis()},
		{"Rotor", rotor.Basis()},
		{"Motor and speed controller", motor.Basis()},
		{"Pack", pack.Basis()},
		{"Airframe", frame.Basis()},
		{"Flight", flight.Basis()},
	}
}

// constant finds a constant of the model that must be there.
func constant(symbol string) basis.Constant {
	for _, p := range parts() {
		for _, k := range p.Constants {
			if k.Symbol == symbol {
				return k
			}
		}
	}
	panic("report: the model has no constant " + symbol)
}

func airSource() string { return air.Basis()[0].Source }

// SheetJSON prints one design for machines: inputs, with the assumptions after
// the design's own, metrics in the registry's order, and warnings. Values are in
// SI units but for rpm; a metric that the craft does not have is left out.
func SheetJSON(w io.Writer, d model.Design, c *model.Craft) error {
	return writeJSON(w, object{
		{"inputs", append(designRecord(d), assumptionRecord(c.Model)...)},
		{"metrics", metricRecord(c)},
		{"warnings", list(c.Warnings())},
	})
}
