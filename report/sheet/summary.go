package sheet

import (
	"fmt"
	"slices"

	"rotorsieve/report/finding"
	"rotorsieve/report/sheet/xlsx"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
)

// best are the designs that the summary shows.
func (b *review) best() []finding.Row {
	var out []finding.Row
	for i := range b.found {
		f := &b.found[i]
		for _, e := range append(slices.Clone(f.ByPayload), f.Best(), f.Planned) {
			if e != nil {
				out = append(out, e.Row(&f.Class))
			}
		}
	}
	return out
}

// numberFormat is that of a column of values up to most.
func numberFormat(most float64) string {
	n := words.Decimals(most)
	if n == 0 {
		return "0"
	}
	return "0." + "0000"[:n]
}

// summary is the sheet for those who were not there: question, answer, how far
// to trust it, and where the rest is.
func (b *review) summary() {
	columns := answers(finding.Asked(b.run.Study), b.best())
	widths := []float64{14}
	for _, c := range columns {
		widths = append(widths, c.width)
	}
	last := len(widths)
	if b.run.Decides() && last >= packColumn { // at the cost of names of classes, where the page is full
		const names, step = 10, 0.5
		for was := xlsx.Legible(widths); widths[packColumn-1] < packWidth; {
			widths[packColumn-1] += step
			if was && !xlsx.Legible(widths) && widths[0] > names {
				widths[0] -= step
			}
		}
	}
	p := b.NewPage(SummarySheet, widths...)
	p.Wide(1, last, b.run.Study.Name, xlsx.Title)
	p.Next()
	p.Wide(1, last, "Sizing of an electric quad: a sweep of the design space, for a design review. Written by "+
		""+b.Versions+".", xlsx.Note)
	p.Next()
	p.Wide(1, last, words.MissionBriefly(b.run.Study), xlsx.Plain)
	p.Next()
	if mark := words.RunMark(b.run); mark != "" {
		p.Wide(1, last, mark+". What follows is the best so far, not the answer.", xlsx.Alarm)
		p.Next()
	}
	main := b.mainFigure()
	if b.run.Decides() {
		b.staleRow(p)
		b.order(p)
		least := leastBeside
		if len(b.found) > fullSized {
			least = leastAbreast
		}
		if used, room := p.Used(); main != nil && used < (1-least)*room { // the answer fills the first page
			illustrate(p, main, least, main.Caption+" "+orderNote)
			b.printedWhole = len(b.found) <= fullSized
			main = nil
			p.BreakBefore()
		} else {
			p.Wide(1, last, orderNote, xlsx.Note)
			p.Next()
		}
	}
	p.Gap()
	section(p, "The mission")
	for _, s := range words.Mission(b.run) {
		p.Put(1, s.What, xlsx.Ruled(xlsx.Strong))
		p.Wide(2, last, s.Words, xlsx.Ruled(xlsx.Plain))
		p.Next()
	}
	p.Gap()
	if b.run.Result.Complete {
		b.inWords(p)
	} else {
		b.judged(p)
	}
	b.staleRow(p)
	p.Block(0, func() { b.answerTable(p, columns) })
	p.Gap()
	section(p, "How far to trust it")
	p.Wide(1, last, words.Caution(), xlsx.Strong)
	p.Next()
	p.Wide(1, last, words.Trust(b.run.Study)+" Validity limits, constants and sources are on "+
		"the sheet "+basisSheet+".", xlsx.Plain)
	p.Next()
	if n := len(b.run.Result.Failed); n > 0 {
		p.Wide(1, last, fmt.Sprintf("%d %s could not be solved and count as without operating point.", n,
			texts.Plural(n, "propeller", "propellers")), xlsx.Plain)
		p.Next()
	}
	if main != nil && b.run.Decides() { // it had no room beneath the answer
		illustrate(p, main, leastAlone, main.Caption)
		main, b.printedWhole = nil, true
	}
	listed(p, b.sheets)
	if main != nil {
		p.Again()
		illustrate(p, main, leastAlone, main.Caption)
	}
	p.End("")
}

// section writes a heading, not alone at the foot of a page.
func section(p *xlsx.Page, text string) {
	p.Keep(4)
	p.Wide(1, p.Printed, text, xlsx.Section)
	p.Next()
}

// staleRow is a free row that says so once the merits beneath it are stale.
func (b *review) staleRow(p *xlsx.Page) {
	if !slices.ContainsFunc(b.sheets, func(s xlsx.BookSheet) bool { return s.Name == MeritSheet }) {
		p.Gap()
		return
	}
	p.WideLive(1, p.Printed, staleMark(), xlsx.Alarm)
	p.Next()
}

// closing ends a summary, the first of the sheets: cautions and where the rest is.
func closing(p *xlsx.Page, sheets []xlsx.BookSheet) {
	section(p, "Cautions")
	p.Wide(1, len(p.Widths), words.Caution(), xlsx.Strong)
	p.Next()
	listed(p, sheets)
}

// listed says, on the screen alone, where the rest is.
func listed(p *xlsx.Page, sheets []xlsx.BookSheet) {
	p.Aside() // links are of no use on paper
	p.Gap()
	section(p, "Sheets")
	contents(p, sheets[1:])
}

// contents lists sheets with what is on them: down the left, then down the right.
func contents(p *xlsx.Page, sheets []xlsx.BookSheet) {
	half, last := (len(sheets)+1)/2, len(p.Widths)
	for i := range half {
		leadTo(p, 1, 2, sheets[i].Name, xlsx.Link)
		p.Wide(3, 7, sheets[i].What, xlsx.Plain)
		if i+half < len(sheets) {
			l := xlsx.Link
			l.Indent = 1 // apart from the words before
			leadTo(p, 8, 9, sheets[i+half].Name, l)
			p.Wide(10, last, sheets[i+half].What, xlsx.Plain)
		}
		p.Next()
	}
}

// leadTo writes a link to a sheet.
func leadTo(p *xlsx.Page, from, to int, sheet string, l xlsx.Look) {
	p.Wide(from, to, sheet, l)
	p.Link(from, sheet)
}
