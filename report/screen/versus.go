package screen

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"rotorsieve/model"
	"rotorsieve/model/unit"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

// Taken prints which design of a run was taken; nothing of nil.
func Taken(w io.Writer, h *finding.InHand, width int) error {
	if h == nil {
		return nil
	}
	p := &printer{w: w, width: max(width, 80)}
	p.hung("", words.Taken(h))
	return p.err
}

// PrintVersus prints two designs side by side: why one is better, and each number of both
// with the difference of the second to the first.
func PrintVersus(w io.Writer, v *finding.Versus, width int) error {
	p := &versus{printer{w: w, width: max(width, 80)}, v}
	for i := range v.Sides {
		p.hung(words.Sides[i]+"  ", words.SideTold(&v.Sides[i]))
		if in := v.Sides[i].Scenarios; in != nil {
			p.hung("   ", words.SideScenario(in))
		}
	}
	p.line("")
	p.hung("finding: ", words.WhyBetter(v)+".")
	if v.Pair != nil {
		p.hung("draws:   ", words.PairTold(v)+".")
	}
	for _, note := range words.VersusNotes(v) {
		p.hung("caution: ", note+".")
	}
	p.inputs()
	p.merit()
	p.requirements()
	p.masses()
	p.metrics()
	p.line("")
	p.hung("caution  ", words.Caution())
	return p.err
}

type versus struct {
	printer
	v *finding.Versus
}

// sideTable gathers the rows of a table of both designs.
type sideTable struct {
	title string
	names []string
	of    [2][]string
	units []string
	by    []string // differences
}

func (t *sideTable) add(name, a, b, unit, by string) {
	t.names = append(t.names, name)
	t.of[0], t.of[1] = append(t.of[0], a), append(t.of[1], b)
	t.units, t.by = append(t.units, unit), append(t.by, by)
}

// columns are those of the table, and further ones.
func (t *sideTable) columns(more ...texts.Column) []texts.Column {
	return append([]texts.Column{{Head: t.title, Left: true, Cells: t.names},
		{Head: words.Sides[0], Cells: t.of[0]}, {Head: words.Sides[1], Cells: t.of[1]},
		{Head: "B - A", Cells: t.by}, {Head: "", Left: true, Cells: t.units}}, more...)
}

// metric adds a row for a metric.
func (t *sideTable) metric(v *finding.Versus, m *model.Metric) {
	a, b := &v.Sides[0], &v.Sides[1]
	t.values(m, [2]float64{a.Value(m), b.Value(m)}, [2]bool{a.Beyond(m), b.Beyond(m)})
}

// values adds a row for values of a metric, each alone or with all beyond it.
func (t *sideTable) values(m *model.Metric, of [2]float64, beyond [2]bool) {
	by := ""
	if !beyond[0] && !beyond[1] {
		by = difference(m.Unit, of[0], of[1])
	}
	t.add(m.Title, valueShown(m, of[0], beyond[0]), valueShown(m, of[1], beyond[1]), m.Unit.Label, by)
}

func valueShown(m *model.Metric, v float64, beyond bool) string {
	if !finding.Finite(v) {
		return "none"
	}
	text := m.Unit.Number(v, 4)
	if beyond {
		text += " or more"
	}
	return text
}

// difference is that of two values in a unit, with its sign, to as many digits as the larger
// of them is shown with: what is less reads ±0.
func difference(u unit.Unit, a, b float64) string {
	if !finding.Finite(a) || !finding.Finite(b) {
		return ""
	}
	return signedNumber(u.FromSI(b)-u.FromSI(a), math.Max(math.Abs(u.FromSI(a)), math.Abs(u.FromSI(b))))
}

func signedNumber(d, of float64) string {
	const digits = 4 // as values are shown
	decimals := digits
	if of > 0 {
		decimals = digits - 1 - int(math.Floor(math.Log10(of)))
	}
	decimals = max(decimals, 0)
	s := strconv.FormatFloat(d, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	switch {
	case s == "0" || s == "-0":
		return "±0"
	case d > 0:
		return "+" + s
	}
	return s
}

// inputs prints inputs and assumptions in which the designs differ.
func (p *versus) inputs() {
	a, b := p.v.Sides[0], p.v.Sides[1]
	t := sideTable{title: "INPUTS THAT DIFFER"}
	for _, n := range p.v.Inputs() {
		x, label := inputShown(n, a.Design)
		y, other := inputShown(n, b.Design)
		by := ""
		if n != sweep.Stator {
			by = difference(n.Unit, n.Of(a.Design), n.Of(b.Design))
		} else {
			label, other = "", ""
		}
		if label != other {
			x, y, label = texts.OneLine(x+" "+label), texts.OneLine(y+" "+other), ""
		}
		t.add(n.Title, x, y, label, by)
	}
	others := words.Assumptions(b.Craft.Model)
	for _, m := range words.Assumptions(a.Craft.Model) {
		for _, o := range others {
			switch {
			case o.Name != m.Name:
			case m.Kind != nil && o.Value != m.Value:
				t.add(m.Title, m.Unit.Number(m.Value, 5), m.Unit.Number(o.Value, 5), m.Unit.Label,
					difference(m.Unit, m.Value, o.Value))
			case m.Kind == nil && o.Text != m.Text:
				t.add(m.Title, m.Text, o.Text, "", "")
			}
		}
	}
	if len(t.names) > 0 {
		p.line("")
		p.table(t.columns())
	}
}

func (p *versus) merit() {
	t := sideTable{title: "MERIT"}
	var share, a, b, by []string
	for _, x := range p.v.Terms() {
		t.values(x.Metric, x.Values, x.Beyond)
		share = append(share, fmt.Sprintf("%.0f %%", 100*x.Share))
		a, b = append(a, words.Merits(x.Gives[0])), append(b, words.Merits(x.Gives[1]))
		by = append(by, words.Signed(x.Gives[1]-x.Gives[0]))
	}
	m := p.v.Merits()
	t.add("all terms", "", "", "", "")
	p.line("")
	p.table(t.columns(texts.Column{Head: "WEIGHT", Cells: append(share, "")},
		texts.Column{Head: "A GETS", Cells: append(a, words.Merits(m[0]))},
		texts.Column{Head: "B GETS", Cells: append(b, words.Merits(m[1]))},
		texts.Column{Head: "B - A", Cells: append(by, words.Signed(m[1]-m[0]))}))
}

func (p *versus) requirements() {
	t := sideTable{title: "REQUIREMENTS"}
	var wants, a, b []string
	for i := range p.v.Require {
		r := &p.v.Require[i]
		t.metric(p.v, r.Metric)
		wants = append(wants, words.Bound(r))
		a = append(a, words.KeptText(r, p.v.Sides[0].Value(r.Metric)))
		b = append(b, words.KeptText(r, p.v.Sides[1].Value(r.Metric)))
	}
	if len(wants) == 0 {
		return
	}
	p.line("")
	p.table(t.columns(texts.Column{Head: "WANTED", Left: true, Cells: wants},
		texts.Column{Head: "A", Left: true, Cells: a}, texts.Column{Head: "B", Left: true, Cells: b}))
}

func (p *versus) masses() {
	t := sideTable{title: "MASSES"}
	a, b := p.v.Sides[0].Craft, p.v.Sides[1].Craft
	other := append(words.Masses(b), words.WholeMass(b))
	for i, x := range append(words.Masses(a), words.WholeMass(a)) {
		y := other[i]
		t.add(x.Title, finding.Gram.Number(x.Mass, 4), finding.Gram.Number(y.Mass, 4), "g",
			difference(finding.Gram, x.Mass, y.Mass))
	}
	p.line("")
	p.table(t.columns())
}

func (p *versus) metrics() {
	t := sideTable{title: "FURTHER METRICS"}
	for _, m := range p.v.Others() {
		if m.Name != "auw" && m.Name != "payload" { // which stand among the masses
			t.metric(p.v, m)
		}
	}
	p.line("")
	p.table(t.columns())
}
