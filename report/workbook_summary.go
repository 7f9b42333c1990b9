package report

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"rotorsieve/model"
	"rotorsieve/sweep"
)

// answer is a column of the table that answers a study.
type answer struct {
	Head   string
	Width  float64
	Number string // format; "" for words
	Cell   func(*row) any
}

// answers are the columns after the class, for the designs of a table.
func answers(rows []row) []answer {
	out := []answer{
		{"Propeller D × P × blades (in)", 14, "", func(x *row) any { return propellerText(x.Design, " × ") }},
		{"Motor stator", 8, "", func(x *row) any { return statorText(x.Design) }},
		{"KV (rpm/V)", 8, "General", func(x *row) any { return round10(x.Design.KV) }},
		{"Cells (S)", 6.5, "0", func(x *row) any { return x.Design.Cells }},
		{"Capacity (mAh)", 9.5, "General", func(x *row) any { return round10(mAh.FromSI(x.Design.Capacity)) }},
		{"Payload (g)", 8, "General", func(x *row) any { return round10(gram.FromSI(x.Design.Payload)) }},
	}
	for _, name := range []string{"auw", "class-margin", "hover-time", "thrust-to-weight", "top-speed", "tip-mach", "disk-loading"} {
		m, ok := model.LookupMetric(name)
		if !ok {
			continue
		}
		c := metricColumn(m, rows)
		width := 10.5
		switch name { // heads of long words
		case "tip-mach":
			width = 15
		case "disk-loading":
			width = 12.5
		}
		out = append(out, answer{c.Head, width, c.Look(nil).Number, c.Cell})
	}
	return append(out, answer{"Merit", 7, "0.000", func(x *row) any { return x.Score }})
}

// best are the designs that the summary shows.
func (b *review) best() []row {
	var out []row
	for i := range b.found {
		f := &b.found[i]
		for _, e := range append(slices.Clone(f.ByPayload), f.Best()) {
			if e != nil {
				out = append(out, e.row(&f.Class))
			}
		}
	}
	return out
}

// numberFormat is that of a column of values up to most.
func numberFormat(most float64) string {
	n := decimals(most)
	if n == 0 {
		return "0"
	}
	return "0." + "0000"[:n]
}

// summary is the sheet for those who were not there: question, answer, how far
// to trust it, and where the rest is.
func (b *review) summary() {
	columns := answers(b.best())
	widths := []float64{14}
	for _, c := range columns {
		widths = append(widths, c.Width)
	}
	last := len(widths)
	p := b.newPage(summarySheet, widths...)
	p.wide(1, last, b.run.Study.Name, title)
	p.next()
	p.wide(1, last, "Sizing of an electric quad: a sweep of the design space, for a design review. Written by "+b.versions+".", note)
	p.next()
	if mark := runMark(b.run); mark != "" {
		p.wide(1, last, mark+". What follows is the best so far, not the answer.", alarm)
		p.next()
	}
	p.gap()
	p.section("The mission")
	for _, s := range missionOf(b.run) {
		p.put(1, s.What, ruled(strong))
		p.wide(2, last, s.Words, ruled(plain))
		p.next()
	}
	p.gap()
	b.inWords(p)
	p.gap()
	p.block(0, func() { b.answerTable(p, columns) })
	p.gap()
	p.section("How far to trust it")
	p.wide(1, last, trust(b.run.Study)+" A lead in merit of less than "+closeText+", the median error in thrust at rest over all sizes, is called "+tooClose+". Validity limits, constants and sources are on the sheet "+basisSheet+".", plain)
	p.next()
	if n := len(b.run.Result.Failed); n > 0 {
		p.wide(1, last, fmt.Sprintf("%d %s could not be solved and count as without operating point.", n, plural(n, "propeller", "propellers")), plain)
		p.next()
	}
	p.gap()
	p.closing(b.sheets)
	if main := b.mainFigure(); main != nil {
		p.illustrate(main)
	}
	p.end("")
}

// answerTable writes the best design of each class, and of each payload where it
// is swept.
func (b *review) answerTable(p *page, columns []answer) {
	last := len(p.widths)
	swept := b.run.swept(sweep.Payload)
	what := "The answer: the best design of each class"
	if swept {
		what += " and payload"
	}
	p.section(what)
	p.headColumns(columns, "Class")
	var marks []string
	line := func(f *finding, e *entry) {
		class := className(f.Class)
		x := e.row(&f.Class)
		name := class
		for _, w := range markTexts(e.Craft.Warnings()) {
			name = class + " *"
			if w = class + ": " + w; !slices.Contains(marks, w) {
				marks = append(marks, w)
			}
		}
		p.put(1, name, ruled(look{Bold: true, Colour: accent, Wrap: true}))
		for n, c := range columns {
			l := look{Number: c.Number}
			if c.Number == "" {
				l.Align = "left"
			}
			p.put(n+2, c.Cell(&x), ruled(l))
		}
	}
	for i := range b.found {
		f := &b.found[i]
		name := className(f.Class)
		switch {
		case f.Best() == nil:
			text := "none: no design of the grid keeps every requirement"
			if f.Missed != nil {
				text += ". Nearest: " + missText(f.Missed)
			}
			p.put(1, name, ruled(look{Bold: true, Colour: accent, Wrap: true}))
			p.wide(2, last, text, ruled(plain))
			p.link(1, b.rankings[i].Sheet)
			p.next()
		case !swept:
			line(f, f.Best())
			p.link(1, b.rankings[i].Sheet)
			p.next()
		default:
			for n, e := range f.ByPayload {
				if e == nil {
					p.put(1, name, ruled(look{Bold: true, Colour: accent, Wrap: true}))
					p.wide(2, last, "none with a payload of "+mass(b.run.values(sweep.Payload)[n]), ruled(plain))
				} else {
					line(f, e)
				}
				p.link(1, b.rankings[i].Sheet)
				p.next()
			}
		}
	}
	for _, s := range b.edges() {
		p.wide(1, last, s, note)
		p.next()
	}
	if len(marks) > 0 {
		p.wide(1, last, "* outside the model's validity limits, to be trusted less: "+strings.Join(marks, "; "), note)
		p.next()
	}
}

// beforeUnit is the space between a number and a word after it, which may be its
// unit: no line is to end there.
var beforeUnit = regexp.MustCompile(`([0-9]) ([%°A-Za-z])`)

// inWords says what is best in each class, by how much, and what holds it.
func (b *review) inWords(p *page) {
	p.section("The answer in words")
	spans := [][2]int{{2, 4}, {5, 8}, {9, 11}, {12, len(p.widths)}}
	put := func(l look, first string, words ...string) {
		p.put(1, first, l)
		for n, s := range spans {
			if n > 0 {
				l.Indent = 1 // apart from the words before
			}
			p.wide(s[0], s[1], beforeUnit.ReplaceAllString(words[n], "$1\u00a0$2"), l)
		}
		p.next()
	}
	put(heading, "Class", "Best design", "Against other diameters", "Use of the weight", "What holds it")
	for i := range b.found {
		f := &b.found[i]
		name := className(f.Class)
		if f.Best() == nil {
			p.put(1, name, ruled(strong))
			p.wide(2, len(p.widths), "No design of the grid keeps every requirement: see the nearest beneath.", ruled(plain))
			p.next()
			continue
		}
		weight := []string{fmt.Sprintf("%s of %s used", gram.Format(f.Best().Craft.Mass, 3), mass(f.Class.Limit))}
		if s := unusedText(b.run.unused(f)); s != "" {
			weight[0] = s
		}
		if s := againstText(b.run, f); s != "" {
			weight = append(weight, s)
		}
		answer := upper(answerText(b.run, f))
		if s := validText(f); s != "" {
			answer += "; outside the limits of the model's validity, to be trusted less; " + s
		}
		put(ruled(plain), name, answer, upper(leadText(f.lead())), upper(strings.Join(weight, "; ")), upper(strings.Join(heldTexts(b.run.held(f)), "; ")))
	}
}

// edges says which classes have their best design at an end of the grid, those
// at the same end together.
func (b *review) edges() []string {
	var ends []string
	classes := map[string][]string{}
	for i := range b.found {
		f := &b.found[i]
		if f.Best() == nil {
			continue
		}
		if at := edgesText(edges(b.run.Study.Grid, f.Best().Index)); at != "" {
			if len(classes[at]) == 0 {
				ends = append(ends, at)
			}
			classes[at] = append(classes[at], f.Class.Label)
		}
	}
	for n, at := range ends {
		k := classes[at]
		ends[n] = fmt.Sprintf("Edge of the grid, %s %s: %s. A wider grid may have a better design.", plural(len(k), "class", "classes"), strings.Join(k, ", "), at)
	}
	for i := range b.found {
		e := b.found[i].Best()
		if e == nil {
			continue
		}
		if past := pastsText(saturated(b.run.Study.Merit, e.Craft)); past != "" {
			ends = append(ends, fmt.Sprintf("Past the merit, class %s: %s. A wider range may rank otherwise.", b.found[i].Class.Label, past))
		}
	}
	return ends
}

// section writes a heading, not alone at the foot of a page.
func (p *page) section(text string) {
	p.keep(4)
	p.wide(1, p.printed, text, section)
	p.next()
}

// closing ends a summary, the first of the sheets: cautions and where the rest is.
func (p *page) closing(sheets []bookSheet) {
	p.section("Cautions")
	p.wide(1, len(p.widths), caution(), strong)
	p.next()
	p.gap()
	p.block(0, func() {
		p.section("Sheets")
		p.contents(sheets[1:])
	})
}

// contents lists sheets with what is on them: down the left, then down the right.
func (p *page) contents(sheets []bookSheet) {
	half, last := (len(sheets)+1)/2, len(p.widths)
	for i := range half {
		p.leadTo(1, 2, sheets[i].Name, link)
		p.wide(3, 7, sheets[i].What, plain)
		if i+half < len(sheets) {
			l := link
			l.Indent = 1 // apart from the words before
			p.leadTo(8, 9, sheets[i+half].Name, l)
			p.wide(10, last, sheets[i+half].What, plain)
		}
		p.next()
	}
}

// leadTo writes a link to a sheet.
func (p *page) leadTo(from, to int, sheet string, l look) {
	p.wide(from, to, sheet, l)
	p.link(from, sheet)
}
