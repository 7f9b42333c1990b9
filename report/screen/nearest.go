package screen

import (
	"io"
	"math"
	"strconv"

	"rotorsieve/model"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

// PrintNearest prints what a design does with parts that exist: shown parts of each list, each
// alone, and all lists together.
func PrintNearest(w io.Writer, of *finding.InHand, n *sweep.Nearest, s *sweep.Study, shown, width int) error {
	p := &nearest{printer: printer{w: w, width: max(width, 80)}, study: s, of: n}
	p.hung("design:  ", words.Taken(of)+": "+words.Design(n.Of.Design))
	p.hung("finding: ", words.NearestFound(n)+".")
	if len(s.Others) > 0 {
		p.hung("in:      ", words.NearestScenarios(s)+".")
	}
	for i := range n.Lists {
		l := &n.Lists[i]
		t := p.rows(words.NearestHead(l))
		t.add("of the design", &n.Of)
		for k := range l.Parts[:min(shown, len(l.Parts))] {
			t.add(words.Abridged(l.Axis.Text(l.Axis.Of(l.Parts[k].Design))), &l.Parts[k])
		}
		p.print(t)
		if rest := len(l.Parts) - shown; rest > 0 {
			p.line("%s", words.NearestRest(rest, l))
		}
	}
	if len(n.Lists) > 1 {
		t := p.rows("ALL TOGETHER")
		t.add("of the design", &n.Of)
		if n.Best != nil {
			t.add("best", n.Best)
		}
		t.add("first of each", n.First)
		p.print(t)
		p.hung("best:    ", words.NearestHow(n)+".")
		p.hung("first:   ", words.Design(n.First.Design)+".")
	}
	p.line("")
	p.hung("caution  ", words.Caution())
	return p.err
}

type nearest struct {
	printer
	study *sweep.Study
	of    *sweep.Nearest
}

// steadTable gathers crafts, a row each.
type steadTable struct {
	p       *nearest
	metrics []*model.Metric
	columns []texts.Column
	breaks  []string
}

func (p *nearest) rows(title string) *steadTable {
	t := &steadTable{p: p, columns: []texts.Column{{Head: title, Left: true}, {Head: "MERIT"}, {Head: "BY"}}}
	if len(p.study.Others) > 0 {
		t.columns = append(t.columns, texts.Column{Head: "in"})
	}
	t.metrics = nearestMetrics(p.study.Merit, p.of)
	for i, m := range t.metrics {
		t.columns = append(t.columns, texts.Column{Head: texts.Lower(m.Title), Unit: m.Unit.Label, Need: i + 1})
	}
	return t
}

// nearestMetrics are those of a row: of the merit, the weight, and the price where there is one.
func nearestMetrics(merit sweep.Merit, n *sweep.Nearest) (all []*model.Metric) {
	for i := range merit {
		all = append(all, merit[i].Metric)
	}
	for _, name := range []string{"auw", "price"} {
		m := finding.Metric(name)
		known := name != "price"
		for i := range n.Lists {
			known = known || !math.IsNaN(m.Of(n.Lists[i].Parts[0].Craft))
		}
		if known {
			all = append(all, m)
		}
	}
	return all
}

func (t *steadTable) add(name string, s *sweep.Stead) {
	merit, by := "none", ""
	if s.Operates {
		merit = words.Merits(s.Merit)
		if by = words.Signed(s.Merit - t.p.of.Of.Merit); s == &t.p.of.Of {
			by = ""
		}
	}
	cells := []string{name, merit, by}
	if len(t.p.study.Others) > 0 {
		cells = append(cells, strconv.Itoa(s.Scenario+1))
	}
	for _, m := range t.metrics {
		text := "none"
		if v := m.Of(s.Craft); finding.Finite(v) && (s.Operates || m.Stage <= model.StageMass) {
			text = m.Unit.Number(v, 4)
		}
		cells = append(cells, text)
	}
	for i, c := range cells {
		t.columns[i].Cells = append(t.columns[i].Cells, c)
	}
	if !s.Keeps() {
		t.breaks = append(t.breaks, name+": "+words.Breaks(s))
	}
}

// print prints the table, and what of its crafts breaks requirements.
func (p *nearest) print(t *steadTable) {
	p.line("")
	p.table(t.columns)
	for _, b := range t.breaks {
		p.hung("  breaks: ", b)
	}
}

// PrintNearestJSON is PrintNearest for machines, in SI units but for rpm; by is the difference
// in merit to the design. What a craft does not have is null.
func PrintNearestJSON(w io.Writer, of *finding.InHand, n *sweep.Nearest, in *sweep.Study, shown int) error {
	metrics := nearestMetrics(in.Merit, n)
	record := func(s *sweep.Stead) any {
		if s == nil {
			return nil
		}
		names := finding.Object{}
		for _, p := range finding.NamedParts(s.Design) {
			names = append(names, finding.Member{Name: p.Kind, Value: p.Name})
		}
		values := finding.Object{}
		for _, m := range metrics {
			u, v := finding.ExportUnit(m), math.NaN()
			if s.Operates || m.Stage <= model.StageMass {
				v = u.FromSI(m.Of(s.Craft))
			}
			values = append(values, finding.Member{Name: m.Name, Value: finding.Object{
				{Name: "value", Value: finding.OrNull(v)}, {Name: "unit", Value: u.Symbol}}})
		}
		reached, by := math.NaN(), math.NaN()
		if s.Operates {
			reached, by = s.Merit, s.Merit-n.Of.Merit
		}
		out := finding.Object{{Name: "design", Value: words.Design(s.Design)}, {Name: "named_parts", Value: names},
			{Name: "operates", Value: s.Operates}, {Name: "merit", Value: finding.OrNull(reached)},
			{Name: "by", Value: finding.OrNull(by)}, {Name: "metrics", Value: values},
			{Name: "keeps_all", Value: s.Keeps()}, {Name: "breaks", Value: requirementRecord(s.Craft, s.Broken)}}
		if len(in.Others) > 0 {
			out = append(out, finding.Member{Name: "scenario", Value: s.Scenario + 1})
		}
		return out
	}
	lists := finding.Object{}
	for i := range n.Lists {
		l := &n.Lists[i]
		parts := []any{}
		for k := range l.Parts[:min(shown, len(l.Parts))] {
			parts = append(parts, record(&l.Parts[k]))
		}
		lists = append(lists, finding.Member{Name: l.Axis.Name, Value: finding.Object{
			{Name: "listed", Value: len(l.Parts)}, {Name: "alone", Value: parts}}})
	}
	return finding.WriteJSON(w, finding.Object{{Name: "run", Value: takenRecord(of)},
		{Name: "like", Value: record(&n.Of)}, {Name: "finding", Value: words.NearestFound(n)},
		{Name: "lists", Value: lists},
		{Name: "best", Value: record(n.Best)}, {Name: "first_of_each", Value: record(n.First)},
		{Name: "exact", Value: n.Exact}, {Name: "combinations_tried", Value: n.Tried}})
}
