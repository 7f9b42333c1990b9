package report

import (
	"fmt"
	"math"
	"slices"

	"rotorsieve/model"
	"rotorsieve/sweep"
)

// classes is the sheet of the best designs side by side.
func (b *review) classes() {
	var best []side
	for i := range b.found {
		f := &b.found[i]
		s := side{Name: className(f.Class), None: "none", Sheet: b.rankings[i].Sheet}
		if e := f.Best(); e != nil {
			s.Row = new(e.row(&f.Class))
		}
		best = append(best, s)
	}
	p := b.newPage(classesSheet, sideWidths(len(best))...)
	p.groups(2, 3, 2)
	p.wide(1, p.printed, "The best design of each class, side by side", title)
	p.next()
	p.wide(1, p.printed, "Differences in per cent are to the first class with a feasible design. What is best under another payload or at another diameter is on the sheets "+summarySheet+" and "+leadersSheet+".", note)
	p.next()
	p.marked()
	p.gap()
	if b.run.swept(sweep.Payload) {
		p.section("Hover time (min) of the best design with each payload")
		p.sideHead("Payload (g)", "", "diff. (%)", best)
		hover := column{Cell: func(x *row) any { return metric("hover-time").Unit.FromSI(x.values[place(metric("hover-time"))]) }, Look: fixed(look{Number: "0.0"})}
		for n, payload := range b.run.values(sweep.Payload) {
			at := slices.Clone(best)
			for i := range at {
				at[i].Row = nil
				if e := b.found[i].ByPayload[n]; e != nil {
					at[i].Row = new(e.row(&b.found[i].Class))
				}
			}
			p.sideLine(gram.Number(payload, 5), "", hover, true, at)
		}
		p.gap()
	}
	p.section("Designs and metrics")
	top := p.row
	p.sides(best)
	p.end(repeated(top))
}

// side is one design of a table side by side.
type side struct {
	Name  string
	Row   *row   // nil where there is no design
	None  string // what stands in place of one
	Sheet string // to which the name leads; "" for none
}

// A table side by side has two columns of words, one of the first side, and two
// of each side after it: its values, and their differences to the first.
func sideWidths(sides int) []float64 {
	out := []float64{30, 9, 16}
	for range sides - 1 {
		out = append(out, 16, 10)
	}
	return out
}

// sideColumn is the column of a side, from 0.
func sideColumn(i int) int {
	if i == 0 {
		return 3
	}
	return 2 + 2*i
}

// sideHead writes the heads of a table side by side.
func (p *page) sideHead(first, second, difference string, sides []side) {
	heads := []string{first, second}
	numbers := []int{}
	for i, s := range sides {
		heads = append(heads, s.Name)
		numbers = append(numbers, len(heads))
		if s.Sheet != "" {
			p.link(len(heads), s.Sheet)
		}
		if i > 0 {
			heads = append(heads, difference)
			numbers = append(numbers, len(heads))
		}
	}
	p.head(heads, numbers...)
}

// sides writes designs side by side: inputs, metrics and merit.
func (p *page) sides(sides []side) {
	var rows []row
	for _, s := range sides {
		if s.Row != nil {
			rows = append(rows, *s.Row)
		}
	}
	top := p.row
	p.sideHead("", "Unit", "diff. (%)", sides)
	head := p.height(top-1, p.row-1)
	for _, n := range inputs {
		c := inputColumn(n)
		c.Look = plainly(c.Look)
		p.sideLine(n.Title, inputLabel(n), c, n.Continuous && n.AxisDef != sweep.Payload, sides)
	}
	for _, k := range grouping() {
		shown := slices.DeleteFunc(slices.Clone(k.Metrics), func(m *model.Metric) bool { return !known(m, rows) })
		if len(shown) == 0 {
			continue
		}
		p.block(head, func() {
			p.put(1, k.Title, look{Bold: true, Colour: accent})
			p.next()
			for _, m := range shown {
				p.sideLine(m.Title, m.Unit.Label, metricColumn(m, rows), relative(m), sides)
			}
		})
	}
	p.sideLine("Merit", "", column{Cell: func(x *row) any { return x.Score }, Look: fixed(look{Number: "0.0000", Bold: true})}, true, sides)
}

// plainly drops what marks a design as the best of something.
func plainly(of func(*row) look) func(*row) look {
	return func(x *row) look {
		l := of(x)
		l.Bold = false
		return l
	}
}

// sideLine writes one line of a table side by side, and where asked the
// differences to the first side that has a design.
func (p *page) sideLine(name, unit string, c column, differs bool, sides []side) {
	p.put(1, name, ruled(plain))
	p.put(2, unit, ruled(look{Colour: quiet}))
	base, first := math.NaN(), 0
	for i, s := range sides {
		col := sideColumn(i)
		if i > 0 {
			p.put(col+1, "", ruled(plain))
		}
		if s.Row == nil {
			p.put(col, s.None, ruled(look{Align: "right", Colour: quiet}))
			continue
		}
		v := c.Cell(s.Row)
		l := c.Look(s.Row)
		l.Align = "right"
		p.put(col, v, ruled(l))
		switch x, ok := v.(float64); {
		case !differs || !ok || !finite(x):
		case c.Beyond != nil && c.Beyond(s.Row): // at least so much: no difference is known
			differs = differs && first > 0
		case math.IsNaN(base):
			base, first = x, col
		case base != 0:
			p.put(col+1, live{fmt.Sprintf("100*(%s/%s-1)", cellName(col, p.row), cellName(first, p.row)), 100 * (x/base - 1)},
				ruled(look{Number: "+0.0;-0.0;0.0", Colour: quiet}))
		}
	}
	p.next()
}
