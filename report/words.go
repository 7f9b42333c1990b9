package report

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"rotorsieve/model"
	"rotorsieve/model/unit"
	"rotorsieve/sweep"
)

var (
	gram  = unit.Mass.Unit("g")
	watt  = unit.Power.Unit("W")
	inch  = unit.Length.Unit("in")
	mAh   = unit.Charge.Unit("mAh")
	celsi = unit.Temperature.Unit("degC")
)

// mass prints a mass in kg in grams, and from a kilogram on in those.
func mass(kg float64) string {
	if kg >= 1 {
		return unit.Mass.Unit("kg").Format(kg, 5)
	}
	return gram.Format(kg, 5)
}

// shown prints a metric's value in the unit in which it is shown.
func shown(m *model.Metric, v float64) string { return m.Unit.Format(v, 4) + beyond(m, v) }

// beyond says that a value stands for all beyond it as well.
func beyond(m *model.Metric, v float64) string {
	if m.Cap != 0 && v >= m.Cap {
		return " or more"
	}
	return ""
}

// brief prints a metric's value as it is spoken of, to about the tenth that it
// deserves: "16.0 min", "8.4".
func brief(m *model.Metric, v float64) string {
	switch m.Name {
	case "hover-time", "thrust-to-weight":
		return strings.TrimSpace(fmt.Sprintf("%.1f %s", m.Unit.FromSI(v), m.Unit.Label))
	}
	return m.Unit.Format(v, 3)
}

// propellerText is a propeller in the trade's words: "5 × 4.5 × 3", diameter
// and pitch in inches and blades.
func propellerText(d model.Design, times string) string {
	return inch.Number(d.Diameter, 4) + times + inch.Number(d.Pitch, 4) + times + strconv.Itoa(d.Blades)
}

// statorText is a stator's trade code.
func statorText(d model.Design) string { return unit.Stator.SI().Format(sweep.Stator.Of(d), 6) }

// designText names a design in one line, without its payload where it has none.
func designText(d model.Design) string {
	s := fmt.Sprintf("%s in, %d blades, %s at %s rpm/V, %dS %s",
		inch.Number(d.Diameter, 4)+" × "+inch.Number(d.Pitch, 4), d.Blades, statorText(d),
		strconv.FormatFloat(d.KV, 'g', 6, 64), d.Cells, mAh.Format(d.Capacity, 5))
	if d.Payload > 0 {
		s += ", payload " + mass(d.Payload)
	}
	return s
}

// className is a class as a reader reads it: its label, what the user calls it,
// and the limit where the label does not say it.
func className(k sweep.Class) string {
	var more []string
	if said, err := unit.Mass.Parse(k.Label); err != nil || said != k.Limit {
		more = append(more, mass(k.Limit))
	}
	if k.Note != "" {
		more = append(more, k.Note)
	}
	if len(more) == 0 {
		return k.Label
	}
	return k.Label + " (" + strings.Join(more, ", ") + ")"
}

// boundText is the bound of a requirement: "at least 2".
func boundText(q *sweep.Requirement) string {
	word := "at most "
	if q.AtLeast {
		word = "at least "
	}
	return word + q.Metric.Unit.Format(q.Bound, 6)
}

// gateTitle and gateBound say in words what a gate asks.
func gateTitle(g sweep.Gate) string {
	switch {
	case g.Requirement != nil:
		return g.Requirement.Metric.Title
	case g.Name == "class":
		return "All-up weight within the class"
	}
	return "Hover and full throttle exist"
}

func gateBound(g sweep.Gate) string {
	switch {
	case g.Requirement != nil:
		return boundText(g.Requirement)
	case g.Name == "class":
		return "at most the class limit"
	}
	return "both found"
}

// mark follows the name of a design outside the model's validity.
func mark(warnings string) string {
	if warnings == "" {
		return ""
	}
	return " *"
}

// outside gathers in what designs lie outside the model's validity, for the note
// of a figure.
type outside struct{ reasons []string }

// add notes the warnings of a design and returns its mark. The place says which
// design it is, "" where there is only one.
func (o *outside) add(place string, warnings []string) string {
	for _, w := range warnings {
		why := reason(w)
		if place != "" {
			why = place + " " + why
		}
		if !slices.Contains(o.reasons, why) {
			o.reasons = append(o.reasons, why)
		}
	}
	return mark(strings.Join(warnings, ""))
}

// note says what the marks mean, "" where there are none.
func (o *outside) note() string {
	if len(o.reasons) == 0 {
		return ""
	}
	return " * outside the model's validity: " + strings.Join(o.reasons, "; ") + "."
}

// reason is a warning in few words: what is outside, without the limit.
func reason(warning string) string {
	at := len(warning)
	for _, limit := range []string{" is outside the ", " is above the ", " is below the ", ", above the ", ": "} {
		if n := strings.Index(warning, limit); n > 0 {
			at = min(at, n)
		}
	}
	return warning[:at]
}

// axisTitle is an axis within a sentence.
func axisTitle(d *sweep.AxisDef) string { return lower(d.Title) }

// lower begins a title in lower case, for use within a sentence; KV, CT and their
// like stay.
func lower(title string) string {
	r, n := utf8.DecodeRuneInString(title)
	if next, _ := utf8.DecodeRuneInString(title[n:]); unicode.IsUpper(next) {
		return title
	}
	return string(unicode.ToLower(r)) + title[n:]
}

// upper begins words in upper case.
func upper(words string) string {
	r, n := utf8.DecodeRuneInString(words)
	return string(unicode.ToUpper(r)) + words[n:]
}

// grouped prints a count with commas: 1,234,567.
func grouped(n uint64) string {
	s := strconv.FormatUint(n, 10)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}

// shareText prints n of total in per cent, "0.012 %"; nothing but 0 reads 0 and
// nothing but all reads 100.
func shareText(n, total uint64) string {
	p := 100 * float64(n) / float64(total)
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

// decimals is the number of decimals with which a column of values up to most
// is printed: three or four digits of its largest.
func decimals(most float64) int {
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

// axisText lists the values of an axis: "5 in", "3 to 6 in in steps of 0.25 in",
// "2S, 3S, 4S".
func axisText(a sweep.Axis) string {
	v := a.Values
	n := len(v)
	if n == 1 {
		return a.Def.Text(v[0])
	}
	if step, ok := evenStep(a); ok && n > 3 {
		return fmt.Sprintf("%s to %s in steps of %s (%d values)", a.Def.Text(v[0]), a.Def.Text(v[n-1]), a.Def.Unit.Format(step, 4), n)
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

// oneLine makes text of a user fit for one line of a table: no control
// characters.
func oneLine(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r == utf8.RuneError {
			return ' '
		}
		return r
	}, s)
}
