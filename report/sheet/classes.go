package sheet

import (
	"fmt"
	"math"
	"slices"

	"rotorsieve/model"
	"rotorsieve/report/finding"
	"rotorsieve/report/sheet/xlsx"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
	"rotorsieve/sweep/decide"
)

// classes is the sheet of the designs side by side that the classes are shown by: the recommended builds over the
// draws and as they are planned, or the best designs where no draws choose.
func (b *review) classes() {
	var shown []Side
	for i := range b.found {
		f := &b.found[i]
		s := Side{Name: words.ClassName(f.Class), None: "none", Sheet: b.rankings[i].sheet}
		if picks := f.Picks(); len(picks) > 0 {
			s.Row = new(picks[0].Row(&f.Class))
		}
		shown = append(shown, s)
	}
	widths := SideWidths(len(shown))
	if sum := total(widths); sum < leastClasses { // of few classes, so that a page has room for their lines
		for i := range widths {
			widths[i] *= leastClasses / sum
		}
	}
	p := b.NewPage(ClassesSheet, widths...)
	p.Groups(2, 3, 2)
	note := "Differences in per cent are to the first class with a feasible design. What is best under another " +
		"payload or at another diameter is on the sheets " + SummarySheet + " and " + leadersSheet + "."
	if b.run.Decides() {
		note = "Over the draws a metric is told from the 10th to the 90th percentile. Below it are the numbers of " +
			"the nominal model, for the pack as it is planned. " + note
	}
	p.Wide(1, p.Printed, b.shownTitle("", ", side by side"), xlsx.Title)
	p.Next()
	p.Wide(1, p.Printed, note, xlsx.Note)
	p.Next()
	p.Marked()
	p.Gap()
	designs := "Designs and metrics"
	if b.run.Decides() {
		b.drawnSides(p, shown)
		designs = "As planned, by the nominal model: designs and metrics"
	}
	if b.run.Swept(sweep.Payload) {
		b.payloadSides(p, shown)
	}
	section(p, designs)
	top := p.Row
	p.Freeze(2, 0)
	putSides(p, shown, true)
	p.End(words.Repeated(top))
}

// leastClasses is the width of the sheet of classes side by side at the least, in characters.
const leastClasses = 150

func total(widths []float64) (sum float64) {
	for _, w := range widths {
		sum += w
	}
	return sum
}

// drawnSides says of the recommended builds side by side what the draws tell, and names the nominal best.
func (b *review) drawnSides(p *xlsx.Page, shown []Side) {
	section(p, "Over the draws")
	sideHead(p, "", "Unit", "", shown)
	line := func(name, unit string, l xlsx.Look, of func(f *finding.Class) any) {
		l = xlsx.Ruled(l)
		if l.Align = "right"; l.Number == "" {
			l.Wrap, l.Indent = true, 1 // words that fill a column stand apart from those of the next
		}
		p.Put(1, name, xlsx.Ruled(xlsx.Plain))
		p.Put(2, unit, xlsx.Ruled(xlsx.Look{Colour: xlsx.Quiet}))
		for i := range b.found {
			if i > 0 {
				p.Put(SideColumn(i)+1, "", xlsx.Ruled(xlsx.Plain))
			}
			if b.found[i].Choice == nil {
				p.Put(SideColumn(i), "none", xlsx.Ruled(xlsx.Look{Align: "right", Colour: xlsx.Quiet}))
			} else {
				p.Put(SideColumn(i), of(&b.found[i]), l)
			}
		}
		p.Next()
	}
	line("Recommended build", "", xlsx.Strong, func(f *finding.Class) any {
		return words.BuildOf(f.Choice, f.Choice.Recommended())
	})
	line("Pack bought, P10 to P90", finding.MAh.Label, xlsx.Plain, func(f *finding.Class) any {
		return words.PackNumbers(f.Choice.Recommended())
	})
	line("P(feasible)", "%", xlsx.Look{Number: "0"}, func(f *finding.Class) any {
		return 100 * f.Choice.Recommended().Feasible
	})
	line("Cautious merit", "", xlsx.Look{Number: "0.000"}, func(f *finding.Class) any {
		return f.Choice.Recommended().Cautious
	})
	var told []*finding.Choice
	for i := range b.found {
		if c := b.found[i].Choice; c != nil {
			told = append(told, c)
		}
	}
	if len(told) > 0 {
		for n, m := range told[0].Ranking() {
			line(m.Title+", P10 to P90", m.Unit.Label, xlsx.Plain, func(f *finding.Class) any {
				return words.Ranges(m, []*decide.Build{f.Choice.Recommended()}, n)[0]
			})
		}
	}
	line("Nominal best, before any error", "", xlsx.Look{Colour: xlsx.Quiet}, func(f *finding.Class) any {
		switch n := f.Choice.At(f.Choice.Nominal); {
		case f.Choice.Nominal == 0:
			return "the same"
		case n == nil:
			return "was not among what was drawn"
		default:
			return words.BuildOf(f.Choice, n)
		}
	})
	p.Gap()
}

// payloadSides says how long the best design with each payload hovers, by the nominal model.
func (b *review) payloadSides(p *xlsx.Page, sides []Side) {
	what := "Hover time (min) of the best design with each payload"
	if b.run.Decides() {
		what = "Hover time (min) of the nominal best with each payload"
	}
	section(p, what)
	sideHead(p, "Payload (g)", "", "diff. (%)", sides)
	hover := column{cell: func(x *finding.Row) any {
		return finding.Metric("hover-time").Unit.FromSI(x.Values[finding.Place(finding.Metric("hover-time"))])
	}, Look: fixed(xlsx.Look{Number: "0.0"})}
	for n, payload := range b.run.Values(sweep.Payload) {
		at := slices.Clone(sides)
		for i := range at {
			at[i].Row = nil
			if e := b.found[i].ByPayload[n]; e != nil {
				at[i].Row = new(e.Row(&b.found[i].Class))
			}
		}
		SideLine(p, finding.Gram.Number(payload, 5), "", hover, true, at)
	}
	p.Gap()
}

// Side is one design of a table side by side.
type Side struct {
	Name  string
	Row   *finding.Row // nil where there is no design
	None  string       // what stands in place of one
	Sheet string       // to which the name leads; "" for none
}

// SideWidths are the widths of a table side by side, in characters. It has two columns of
// words, one of the first side, and two of each side after it: its values, and their
// differences to the first.
func SideWidths(sides int) []float64 {
	out := []float64{30, 9, 16}
	for range sides - 1 {
		out = append(out, 16, 10)
	}
	return out
}

// SideColumn is the column of a side, from 0.
func SideColumn(i int) int {
	if i == 0 {
		return 3
	}
	return 2 + 2*i
}

// sideHead writes the heads of a table side by side.
func sideHead(p *xlsx.Page, first, second, difference string, sides []Side) {
	heads := []string{first, second}
	numbers := []int{}
	for i, s := range sides {
		heads = append(heads, s.Name)
		numbers = append(numbers, len(heads))
		if s.Sheet != "" {
			p.Link(len(heads), s.Sheet)
		}
		if i > 0 {
			heads = append(heads, difference)
			numbers = append(numbers, len(heads))
		}
	}
	p.Head(heads, numbers...)
}

// putSides writes designs side by side: inputs, metrics and merit; of those that are not to
// run on to a second page the groups of metrics that go there are not printed.
func putSides(p *xlsx.Page, sides []Side, onePage bool) {
	var rows []finding.Row
	for _, s := range sides {
		if s.Row != nil {
			rows = append(rows, *s.Row)
		}
	}
	top := p.Row
	sideHead(p, "", "Unit", "diff. (%)", sides)
	head := p.Height(top-1, p.Row-1)
	for _, k := range finding.PartsIn(rows) {
		c := partColumn(k, rows)
		c.Look = fixed(xlsx.Look{Wrap: true})
		SideLine(p, k.Title, "", c, false, sides)
	}
	for _, n := range finding.Inputs {
		c := inputColumn(n)
		c.Look = plainly(c.Look)
		SideLine(p, n.Title, words.InputLabel(n), c, n.Continuous && n != sweep.Payload, sides)
	}
	for _, k := range words.Grouping() {
		shown := slices.DeleteFunc(slices.Clone(k.Metrics),
			func(m *model.Metric) bool { return !finding.Known(m, rows) })
		if len(shown) == 0 {
			continue
		}
		used, room := p.Used()
		if onePage && max(xlsx.Lines(p.Row), used)+xlsx.Lines(len(shown)+4) > room { // whatever texts take
			p.Beneath("all other metrics")
			onePage = false
		}
		p.Block(head, func() {
			p.Put(1, k.Title, xlsx.Look{Bold: true, Colour: xlsx.Accent})
			p.Next()
			for _, m := range shown {
				SideLine(p, m.Title, m.Unit.Label, MetricColumn(m, rows), finding.Relative(m), sides)
			}
		})
	}
	SideLine(p, "Merit", "", column{cell: func(x *finding.Row) any { return x.Score },
		Look: fixed(xlsx.Look{Number: "0.0000", Bold: true})}, true, sides)
}

// plainly drops what marks a design as the best of something.
func plainly(of func(*finding.Row) xlsx.Look) func(*finding.Row) xlsx.Look {
	return func(x *finding.Row) xlsx.Look {
		l := of(x)
		l.Bold = false
		return l
	}
}

// SideLine writes one line of a table side by side, and where asked the
// differences to the first side that has a design.
func SideLine(p *xlsx.Page, name, unit string, c column, differs bool, sides []Side) {
	p.Put(1, name, xlsx.Ruled(xlsx.Plain))
	p.Put(2, unit, xlsx.Ruled(xlsx.Look{Colour: xlsx.Quiet}))
	base, first := math.NaN(), 0
	for i, s := range sides {
		col := SideColumn(i)
		if i > 0 {
			p.Put(col+1, "", xlsx.Ruled(xlsx.Plain))
		}
		if s.Row == nil {
			p.Put(col, s.None, xlsx.Ruled(xlsx.Look{Align: "right", Colour: xlsx.Quiet}))
			continue
		}
		v := c.cell(s.Row)
		l := c.Look(s.Row)
		l.Align = "right"
		p.Put(col, v, xlsx.Ruled(l))
		switch x, ok := v.(float64); {
		case !differs || !ok || !finding.Finite(x):
		case c.Beyond != nil && c.Beyond(s.Row): // at least so much: no difference is known
			differs = differs && first > 0
		case math.IsNaN(base):
			base, first = x, col
		case base != 0:
			p.Put(col+1, xlsx.Live{Formula: fmt.Sprintf("100*(%s/%s-1)", xlsx.CellName(col, p.Row),
				xlsx.CellName(first, p.Row)), Value: 100 * (x/base - 1)},
				xlsx.Ruled(xlsx.Look{Number: "+0.0;-0.0;0.0", Colour: xlsx.Quiet}))
		}
	}
	p.Next()
}
