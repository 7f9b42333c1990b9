package sheet

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"rotorsieve/report/finding"
	"rotorsieve/report/sheet/xlsx"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

// best are the designs that the summary shows.
func (b *review) best() []finding.Row {
	var out []finding.Row
	for i := range b.found {
		f := &b.found[i]
		for _, e := range append(slices.Clone(f.ByPayload), f.Best()) {
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
		if used, room := p.Used(); main != nil && used < (1-leastBeside)*room { // the answer fills the first page
			illustrate(p, main, leastBeside, main.Caption+" "+orderNote)
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

// answerTable writes the best design of each class, and of each payload where it
// is swept.
func (b *review) answerTable(p *xlsx.Page, columns []answer) {
	last := len(p.Widths)
	swept := b.run.Swept(sweep.Payload)
	what := "The answer: the best design of each class"
	if b.run.Decides() {
		what = "The nominal answer: the best design of each class"
	}
	if !b.run.Result.Complete {
		what = "The best design" + words.SoFar(b.run) + " of each class"
	}
	if swept {
		what += " and payload"
	}
	section(p, what)
	headColumns(p, columns, "Class")
	var marks []string
	line := func(f *finding.Class, e *finding.Entry) {
		class := words.ClassName(f.Class)
		x := e.Row(&f.Class)
		name := class
		for _, w := range words.Marks(e.Craft.Warnings()) {
			name = class + " *"
			if w = class + ": " + w; !slices.Contains(marks, w) {
				marks = append(marks, w)
			}
		}
		p.Put(1, name, xlsx.Ruled(xlsx.Look{Bold: true, Colour: xlsx.Accent, Wrap: true}))
		for n, c := range columns {
			l := xlsx.Look{Number: c.number}
			if c.number == "" {
				l.Align, l.Wrap = "left", true
			}
			p.Put(n+2, c.cell(&x), xlsx.Ruled(l))
		}
	}
	for i := range b.found {
		f := &b.found[i]
		name := words.ClassName(f.Class)
		switch {
		case f.Best() == nil:
			text := "none: " + texts.Lower(words.NoneKeeps(b.run))
			if f.Missed != nil {
				text += ". Nearest: " + words.Miss(f.Missed)
			}
			p.Put(1, name, xlsx.Ruled(xlsx.Look{Bold: true, Colour: xlsx.Accent, Wrap: true}))
			p.Wide(2, last, text, xlsx.Ruled(xlsx.Plain))
			p.Link(1, b.rankings[i].sheet)
			p.Next()
		case !swept:
			line(f, f.Best())
			p.Link(1, b.rankings[i].sheet)
			p.Next()
		default:
			for n, e := range f.ByPayload {
				if e == nil {
					p.Put(1, name, xlsx.Ruled(xlsx.Look{Bold: true, Colour: xlsx.Accent, Wrap: true}))
					p.Wide(2, last, "none"+words.SoFar(b.run)+" with a payload of "+
						words.Mass(b.run.Values(sweep.Payload)[n]), xlsx.Ruled(xlsx.Plain))
				} else {
					line(f, e)
				}
				p.Link(1, b.rankings[i].sheet)
				p.Next()
			}
		}
	}
	for _, s := range b.edges() {
		p.Wide(1, last, s, xlsx.Note)
		p.Next()
	}
	if len(marks) > 0 {
		p.Wide(1, last, "* outside the model's validity limits, to be trusted less: "+strings.Join(marks, "; "),
			xlsx.Note)
		p.Next()
	}
}

// beforeUnit is the space between a number and a word after it, which may be its
// unit: no line is to end there.
var beforeUnit = regexp.MustCompile(`([0-9]) ([%°A-Za-z])`)

// inWords says what is best in each class, by how much, and what holds it.
func (b *review) inWords(p *xlsx.Page) {
	p.Keep(10) // with the words on a class
	section(p, "The answer in words")
	spans := [][2]int{{2, 4}, {5, 8}, {9, 11}, {12, len(p.Widths)}}
	put := func(l xlsx.Look, first string, words ...string) {
		p.Put(1, first, l)
		for n, s := range spans {
			if n > 0 {
				l.Indent = 1 // apart from the words before
			}
			p.Wide(s[0], s[1], beforeUnit.ReplaceAllString(words[n], "$1\u00a0$2"), l)
		}
		p.Next()
	}
	nominal := "Best design"
	if finding.AnyChoice(b.found) {
		nominal = "Nominal best, before any error"
	}
	put(xlsx.Heading, "Class", nominal, "Against other diameters", "Its use of the weight", "What holds it")
	for i := range b.found {
		f := &b.found[i]
		name := words.ClassName(f.Class)
		if f.Best() == nil {
			p.Put(1, name, xlsx.Ruled(xlsx.Strong))
			p.Wide(2, len(p.Widths), "No design of the grid keeps every requirement: see the nearest beneath.",
				xlsx.Ruled(xlsx.Plain))
			p.Next()
			continue
		}
		weight := []string{words.WeightOf(f.Best().Craft.Mass, f.Class.Limit) + " used"}
		if s := words.Unused(b.run.Unused(f)); s != "" {
			weight[0] = s
		}
		if s := words.Against(b.run, f); s != "" {
			weight = append(weight, s)
		}
		answer := texts.Upper(words.Answer(b.run, f))
		if s := words.Within(f); s != "" {
			answer += "; outside the limits of the model's validity, to be trusted less; " + s
		}
		put(xlsx.Ruled(xlsx.Plain), name, answer, texts.Upper(words.Lead(b.run.Study.Merit, f.Lead())),
			texts.Upper(strings.Join(weight, "; ")), texts.Upper(strings.Join(words.Held(b.run.Held(f)), "; ")))
	}
}

// edges says which classes have their best design at an end of the grid, those
// at the same end together.
func (b *review) edges() []string {
	if !b.run.Result.Complete {
		return nil // the best may yet lie elsewhere
	}
	var ends []string
	classes := map[string][]string{}
	for i := range b.found {
		f := &b.found[i]
		if f.Best() == nil {
			continue
		}
		if at := words.Edges(finding.Edges(b.run.Study.Grid, f.Best().Index, f.Best().Craft.Mass)); at != "" {
			if len(classes[at]) == 0 {
				ends = append(ends, at)
			}
			classes[at] = append(classes[at], words.ClassLabel(f.Class))
		}
	}
	for n, at := range ends {
		k := classes[at]
		ends[n] = fmt.Sprintf("Edge of the grid, %s %s: %s. %s.",
			texts.Plural(len(k), "class", "classes"), strings.Join(k, ", "), at,
			texts.Upper(words.Wider(b.run.Study.Grid)))
	}
	for i := range b.found {
		e := b.found[i].Best()
		if e == nil {
			continue
		}
		if past := words.Pasts(finding.Saturated(b.run.Study.Merit, e.Craft)); past != "" {
			ends = append(ends, fmt.Sprintf("Past the merit, class %s: %s. A wider range may rank otherwise.",
				words.ClassLabel(b.found[i].Class), past))
		}
	}
	return ends
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
