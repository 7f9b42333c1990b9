package sheet

import (
	"rotorsieve/report/finding"
	"rotorsieve/report/sheet/xlsx"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
)

// requirements is the sheet of what each gate rejected. Every design counts
// once, at the first gate that it does not pass, so that a column adds up to the
// grid.
func (b *review) requirements() {
	widths := []float64{7, 32, 28, 10}
	heads := []string{"Order", "Requirement", "Bound", "Set by"}
	var numbers []int
	for i := range b.found {
		widths = append(widths, 13, 11)
		heads = append(heads, words.ClassLabel(b.found[i].Class)+": designs rejected",
			words.ClassLabel(b.found[i].Class)+": share of the grid (%)")
		numbers = append(numbers, len(heads)-1, len(heads))
	}
	p := b.NewPage(requirementsSheet, widths...)
	p.Groups(2, 4, 2)
	last := p.Printed
	size := b.run.Study.Grid.Size()
	p.Wide(1, last, "What each requirement rejected", xlsx.Title)
	p.Next()
	p.Wide(1, last, "A design is counted at the first requirement, in this order, that it does not keep; what passes "+
		"all is feasible. The column of a class adds up to the grid.", xlsx.Note)
	p.Next()
	p.Marked()
	p.Gap()
	top := p.Row
	p.Head(heads, numbers...)
	p.Freeze(2, top)
	count := xlsx.Look{Number: "#,##0"}
	share := xlsx.Look{Number: xlsx.SmallShare}
	counts := func(l xlsx.Look, of func(*finding.Class) uint64) {
		number, percent := count, share
		number.Bold, percent.Bold = l.Bold, l.Bold
		for i := range b.found {
			n := of(&b.found[i])
			p.Put(5+2*i, n, xlsx.Ruled(number))
			p.Put(6+2*i, 100*float64(n)/float64(size), xlsx.Ruled(percent))
		}
	}
	for n, g := range b.run.Result.Gates {
		set := "always"
		if q := g.Requirement; q != nil {
			if set = "study"; q.Default {
				set = "default"
			}
		}
		p.Put(1, n+1, xlsx.Ruled(xlsx.Look{Align: "left"}))
		p.Put(2, words.GateTitle(g), xlsx.Ruled(xlsx.Plain))
		p.Put(3, words.GateBound(g), xlsx.Ruled(xlsx.Plain))
		p.Put(4, set, xlsx.Ruled(xlsx.Plain))
		counts(xlsx.Look{}, func(f *finding.Class) uint64 { return f.Rejected[n] })
		p.Next()
	}
	line := func(text string, of func(*finding.Class) uint64) {
		for col := 1; col <= 4; col++ {
			p.Put(col, "", xlsx.Ruled(xlsx.Strong))
		}
		p.Put(2, text, xlsx.Ruled(xlsx.Strong))
		counts(xlsx.Look{Bold: true}, of)
		p.Next()
	}
	line("Feasible", func(f *finding.Class) uint64 { return f.Feasible })
	if !b.run.Result.Complete {
		line("Not judged", func(*finding.Class) uint64 { return size - b.run.Result.Done })
	}
	line("All designs of the grid", func(*finding.Class) uint64 { return size })
	if len(b.run.Study.Others) > 0 {
		p.Gap()
		section(p, "Rejected by scenario")
		p.Wide(1, last, "Each design in the first scenario in which it fails; what is too heavy is so in all.",
			xlsx.Note)
		p.Next()
		for n := range b.run.Study.Models() {
			p.Put(1, n+1, xlsx.Ruled(xlsx.Look{Align: "left"}))
			p.Put(2, words.Scenario(b.run.Study, n), xlsx.Ruled(xlsx.Plain))
			p.Put(3, "", xlsx.Ruled(xlsx.Plain))
			p.Put(4, "", xlsx.Ruled(xlsx.Plain))
			counts(xlsx.Look{}, func(f *finding.Class) uint64 { return words.FallenIn(f.ClassResult, n) })
			p.Next()
		}
	}
	p.Gap()
	b.nearest(p)
	p.End(words.Repeated(top))
}

// nearest says of the classes without a feasible design which came nearest.
func (b *review) nearest(p *xlsx.Page) {
	var missed []*finding.Class
	for i := range b.found {
		if b.found[i].Missed != nil {
			missed = append(missed, &b.found[i])
		}
	}
	if len(missed) == 0 {
		return
	}
	last := p.Printed
	section(p, "Classes without a feasible design"+words.SoFar(b.run)+": the design that came nearest")
	p.Wide(1, last, "The one that passes the most requirements and, of those, fails the next by the least.", xlsx.Note)
	p.Next()
	for _, f := range missed {
		value, bound, short := words.Shortfall(f.Missed)
		p.Put(1, "", xlsx.Plain)
		p.Wide(2, last, words.ClassName(f.Class), xlsx.Look{Bold: true, Colour: xlsx.Accent})
		p.Next()
		line := func(what, words string) {
			if words != "" {
				p.Put(2, what, xlsx.Ruled(xlsx.Plain))
				p.Wide(3, last, words, xlsx.Ruled(xlsx.Plain))
				p.Next()
			}
		}
		line("Design", words.Design(f.Missed.Design))
		line("Fails", texts.Lower(words.GateTitle(f.Missed.Gate)))
		line("Has", value)
		line("Wanted", bound)
		line("Short by", short)
	}
}
