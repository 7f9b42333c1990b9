package words

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"rotorsieve/model"
	"rotorsieve/model/unit"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/sweep"
)

// Mass prints a mass in kg in grams, and from a kilogram on in those.
func Mass(kg float64) string {
	if kg >= 1 {
		return unit.Mass.Unit("kg").Format(kg, 5)
	}
	return finding.Gram.Format(kg, 5)
}

// shown prints a metric's value in the unit in which it is shown.
func shown(m *model.Metric, v float64) string { return m.Unit.Format(v, 4) + Beyond(m, v) }

// Beyond says that a value stands for all beyond it as well.
func Beyond(m *model.Metric, v float64) string {
	if finding.Capped(m, v) {
		return " or more"
	}
	return ""
}

// Brief prints a metric's value as it is spoken of, to about the tenth that it
// deserves: "16.0 min", "8.4".
func Brief(m *model.Metric, v float64) string {
	switch m.Name {
	case "hover-time", "thrust-to-weight":
		return Spaced(BriefNumber(m, v), m.Unit.Label)
	}
	return m.Unit.Format(v, 3)
}

// BriefNumber is brief without the unit.
func BriefNumber(m *model.Metric, v float64) string {
	switch m.Name {
	case "hover-time", "thrust-to-weight":
		return strconv.FormatFloat(m.Unit.FromSI(v), 'f', 1, 64)
	}
	return m.Unit.Number(v, 3)
}

// Propeller is a propeller in the trade's words: "5 × 4.5 × 3", diameter
// and pitch in inches and blades. One that exists has its name.
func Propeller(d model.Design, times string) string {
	if d.Propeller != nil {
		return d.Propeller.Name
	}
	return finding.Inch.Number(d.Diameter, 4) + times + finding.Inch.Number(d.Pitch, 4) + times + strconv.Itoa(d.Blades)
}

// Stator is a stator's trade code.
func Stator(d model.Design) string { return unit.Stator.SI().Format(sweep.Stator.Of(d), 6) }

// ClassLabel is a class's label, written as weights are where it is one: "249 g".
func ClassLabel(k sweep.Class) string {
	if !saysLimit(k) {
		return k.Label
	}
	number := strings.TrimRightFunc(k.Label, unicode.IsLetter)
	return Spaced(strings.TrimSpace(number), k.Label[len(number):])
}

// saysLimit says whether the label of a class is its limit.
func saysLimit(k sweep.Class) bool {
	said, err := unit.Mass.Parse(k.Label)
	return err == nil && said == k.Limit
}

// ClassName is a class as a reader reads it: its label, what the user calls it,
// and the limit where the label does not say it.
func ClassName(k sweep.Class) string {
	var more []string
	if !saysLimit(k) {
		more = append(more, Mass(k.Limit))
	}
	if k.Note != "" {
		more = append(more, k.Note)
	}
	if len(more) == 0 {
		return ClassLabel(k)
	}
	return ClassLabel(k) + " (" + strings.Join(more, ", ") + ")"
}

// Bound is the bound of a requirement: "at least 2".
func Bound(q *sweep.Requirement) string {
	word := "at most "
	if q.AtLeast {
		word = "at least "
	}
	return word + q.Metric.Unit.Format(q.Bound, 6)
}

// GateTitle names what a gate asks for.
func GateTitle(g sweep.Gate) string {
	switch {
	case g.Requirement != nil:
		return g.Requirement.Metric.Title
	case g.Name == "class":
		return "All-up weight within the class"
	}
	return "Hover and full throttle exist"
}

// GateBound says within what a gate asks for it.
func GateBound(g sweep.Gate) string {
	switch {
	case g.Requirement != nil:
		return Bound(g.Requirement)
	case g.Name == "class":
		return "at most the class limit"
	}
	return "both found"
}

// AxisTitle is an axis within a sentence.
func AxisTitle(d *sweep.AxisDef) string { return texts.Lower(d.Title) }

// Share prints n of total in per cent, "0.012 %"; nothing but 0 reads 0 and
// nothing but all reads 100.
func Share(n, total uint64) string {
	p := 100 * float64(n) / float64(max(total, 1))
	switch {
	case n == 0 || n == total:
		return fmt.Sprintf("%.0f %%", p)
	case p < 0.001:
		return "< 0.001 %"
	case p > 99.95:
		return "> 99.9 %"
	}
	return strconv.FormatFloat(p, 'g', 2+int(math.Max(0, math.Floor(math.Log10(p)))), 64) + " %"
}

// Decimals is the number of decimals with which a column of values up to most
// is printed: three or four digits of its largest.
func Decimals(most float64) int {
	switch {
	case most >= 1000:
		return 0
	case most >= 20:
		return 1
	case most >= 2:
		return 2
	case most >= 0.1:
		return 3
	}
	return 4
}

// KnownDecimals is how many decimals values of a metric, in SI units, deserve in one column. The
// model is off by about a tenth, so that two digits of the least of them say what is known, and
// three of the largest; masses are told as they are held against the limit of a class.
func KnownDecimals(m *model.Metric, values []float64) int {
	least, most := math.Inf(1), 0.0
	for _, v := range values {
		if v = math.Abs(m.Unit.FromSI(v)); finding.Finite(v) && v > 0 {
			least, most = min(least, v), max(most, v)
		}
	}
	if most == 0 {
		return 0
	}
	if m.Kind == unit.Mass {
		return Decimals(most)
	}
	digits := func(n int, v float64) int { return max(0, n-1-int(math.Floor(math.Log10(v)))) }
	return min(digits(2, least), digits(3, most))
}

// axisText lists the values of an axis: "5 in", "3 to 6 in in steps of 0.25 in",
// "2S, 3S, 4S".
func axisText(a sweep.Axis) string {
	v := a.Values
	n := len(v)
	if n == 1 {
		return a.Def.Text(v[0])
	}
	if a.Def.IsPart() {
		return partsText(a)
	}
	if step, ok := evenStep(a); ok && n > 3 {
		return fmt.Sprintf("%s to %s in steps of %s (%d values)", a.Def.Text(v[0]), a.Def.Text(v[n-1]),
			a.Def.Unit.Format(step, 4), n)
	}
	if n <= 12 {
		all := make([]string, n)
		for i := range v {
			all[i] = a.Def.Text(v[i])
		}
		return strings.Join(all, ", ")
	}
	return fmt.Sprintf("%s to %s (%d values)", a.Def.Text(v[0]), a.Def.Text(v[n-1]), n)
}

// evenStep gives the step of an evenly spaced axis.
func evenStep(a sweep.Axis) (float64, bool) {
	v := a.Values
	n := len(v)
	if n < 2 || a.Def == sweep.Stator {
		return 0, false
	}
	step := (v[n-1] - v[0]) / float64(n-1)
	for i := range v {
		if math.Abs(v[i]-(v[0]+float64(i)*step)) > 1e-6*math.Abs(step) {
			return 0, false
		}
	}
	return step, true
}

// InputMeaning is that of the input of a design, which unlike its axis has a chord.
func InputMeaning(n *sweep.AxisDef) string {
	if n == sweep.Chord {
		return "blade chord at 75 % radius over the radius; the usual chord of the diameter where none was given"
	}
	return n.Meaning
}

// InputLabel is that of the unit in which the input is shown; the chord is a share of the
// radius.
func InputLabel(n *sweep.AxisDef) string {
	if n == sweep.Chord {
		return "of R"
	}
	return n.Unit.Label
}

// Front names the metrics of a front.
func Front(metrics []*model.Metric) string {
	return texts.JoinAnd(Each(metrics, func(m *model.Metric) string { return texts.Lower(m.Title) }))
}

// Heaviest are the terms of the most weight in a merit, up to so many.
func Heaviest(merit sweep.Merit, most int) []sweep.Term {
	terms := slices.Clone(merit)
	slices.SortStableFunc(terms, func(a, b sweep.Term) int { return cmp.Compare(b.Weight, a.Weight) })
	return terms[:min(most, len(terms))]
}

// Reaches says briefly what a craft is capable of, by the two metrics of the most weight in the
// merit: "hover 16.0 min, T/W 4.2".
func Reaches(merit sweep.Merit, c *model.Craft) string {
	return strings.Join(Each(Heaviest(merit, 2), func(t sweep.Term) string {
		return Spaced(MetricHead(t.Metric), Brief(t.Metric, t.Metric.Of(c)))
	}), ", ")
}

// inputWords are what a design has on an axis, as the trade says it: words before the
// number, the number and what follows it.
func inputWords(a *sweep.AxisDef, d model.Design) (before, number, after string) {
	v := a.Of(d)
	label := a.Unit.Label
	if a.IsPart() {
		return "", Abridged(a.Text(v)), ""
	}
	switch a {
	case sweep.KV:
		return "KV", a.Unit.Number(v, 4), ""
	case sweep.Stator:
		return "", a.Text(v), "stator"
	case sweep.Blades:
		return "", a.Text(v), "blades"
	case sweep.Cells:
		return "", a.Unit.Format(v, 4), ""
	case sweep.PitchRatio, sweep.Chord:
		return a.Symbol, a.Unit.Number(v, 3), ""
	case sweep.Pitch:
		return "pitch", a.Unit.Number(v, 3), label
	case sweep.Payload:
		return "payload", a.Unit.Number(v, 4), label
	}
	return "", a.Unit.Number(v, 4), label
}

// Input is all of it: "3.5 in", "KV 2400", "2207 stator".
func Input(a *sweep.AxisDef, d model.Design) string {
	before, number, after := inputWords(a, d)
	return Spaced(before, number, after)
}

// InputRange is that of two designs, what both have said once: "KV 2400 to 2800",
// "3 to 3.5 in".
func InputRange(a *sweep.AxisDef, from, to model.Design) string {
	before, number, after := inputWords(a, from)
	if _, last, _ := inputWords(a, to); last != number {
		number += " to " + last
	}
	return Spaced(before, number, after)
}

// Spaced joins words with spaces, those that are not "".
func Spaced(words ...string) string {
	return strings.Join(slices.DeleteFunc(words, func(s string) bool { return s == "" }), " ")
}

// Bracketed is a title with its unit, "[-]" for a pure number.
func Bracketed(title, unit string) string {
	if unit == "" {
		unit = "-"
	}
	return title + " [" + unit + "]"
}

// Unit writes a unit of a constant as those of metrics are written.
func Unit(unit string) string {
	return unitSigns.Replace(unit)
}

var unitSigns = strings.NewReplacer("^2", "²", "^3", "³", "m2", "m²", "m3", "m³", "in2", "in²", "in3", "in³", "ohm",
	"Ω", "degC", "°C")

// ConstantFormat shows a constant with about five digits.
func ConstantFormat(v float64) string {
	switch v = math.Abs(v); {
	case v >= 1e6:
		return "0.0###E+00"
	case v == math.Trunc(v):
		return "0"
	case v < 1e-3:
		return "0.0###E+00"
	}
	return "0.0####"
}

// Repeated names a row that each printed page repeats.
func Repeated(row int) string { return fmt.Sprintf("$%d:$%d", row, row) }
