package report

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"rotorsieve/sweep"
)

// comparisonBook is the workbook of a comparison.
type comparisonBook struct {
	*book
	*Comparison
	names   []string // sheets of the classes, by limit
	sheets  []bookSheet
	figures []Figure
}

func writeComparison(c *Comparison, w io.Writer, figures []Figure) error {
	var names []string
	for _, f := range c.Runs {
		names = append(names, f.Name)
	}
	b := &comparisonBook{book: newBook("Comparison of "+joinAnd(names), c.Version, ""), Comparison: c, figures: figures}
	b.properties("Comparison of finished runs", "The best designs of several runs side by side. "+caution())
	limits := c.limits()
	var labels []string
	for _, limit := range limits {
		labels = append(labels, b.label(limit))
	}
	b.names = sheetNames("Class ", labels)
	b.sheets = []bookSheet{{summarySheet, "", b.summary}}
	for i, limit := range limits {
		b.sheets = append(b.sheets, bookSheet{b.names[i], "the best designs of the runs side by side", func() { b.class(i, limit) }})
	}
	b.sheets = append(b.sheets,
		bookSheet{diametersSheet, "the best design of each diameter, run by run", b.diameters},
		bookSheet{requirementsSheet, "what each requirement turned away, run by run", b.requirements})
	if n := len(figures); n > 0 {
		b.sheets = append(b.sheets, bookSheet{figuresSheet, fmt.Sprintf("%d %s with captions", n, plural(n, "picture", "pictures")), func() { b.figurePages(b.figures) }})
	}
	var calls []func()
	for _, s := range b.sheets {
		calls = append(calls, s.write)
	}
	return b.writeTo(w, b.sheets, calls)
}

// label is that of the class of a limit, as the first run that has it says.
func (b *comparisonBook) label(limit float64) string {
	for _, f := range b.Runs {
		if k := f.Class(limit); k != nil {
			return k.Class.Label
		}
	}
	return mass(limit)
}

// summary says what the runs were asked, in what they differ and what each
// found best.
func (b *comparisonBook) summary() {
	columns := b.answers()
	widths := []float64{14, 16}
	for _, c := range columns {
		widths = append(widths, c.Width)
	}
	p := b.newPage(summarySheet, widths...)
	last := len(widths)
	p.wide(1, last, b.name, title)
	p.next()
	p.wide(1, last, "Finished runs side by side, for a design review. Differences are to the first. Written by "+b.versions+".", note)
	p.next()
	p.gap()

	b.inWords(p)
	p.section("The runs")
	for i, f := range b.Runs {
		p.put(1, fmt.Sprintf("Run %d", i+1), ruled(strong))
		p.wide(2, 3, f.Name, ruled(look{Bold: true, Colour: accent, Wrap: true}))
		p.wide(4, last, fmt.Sprintf("%s designs; from %s by rotorsieve %s, model %s; fingerprint %.12s", grouped(f.Designs), f.Dir, f.Program, f.Model, f.Fingerprint), ruled(plain))
		p.next()
	}
	p.gap()

	p.section("What the runs differ in")
	some := false
	var same []string
	for _, a := range b.aspects() {
		if !a.differs() {
			same = append(same, lower(aspectTitle(&a)))
			continue
		}
		some = true
		said := aspectTexts(&a)
		for i, words := range said {
			what, l := "", plain
			if i == 0 {
				what = aspectTitle(&a)
			}
			if i == len(said)-1 {
				l = ruled(plain)
			}
			p.wide(1, 2, what, look{Bold: true, Wrap: true, Rule: l.Rule})
			p.put(3, b.Runs[i].Name, l)
			p.wide(4, last, textOr(words, notAsked), l)
			p.next()
		}
	}
	if !some {
		p.wide(1, last, "Nothing that their results depend on.", plain)
		p.next()
	}
	p.wide(1, last, "The same in all: "+strings.Join(same, ", ")+".", note)
	p.next()
	p.gap()

	p.keep(6 + len(b.Runs)) // heads of three lines, and the first class
	p.section("The best design of each class and run")
	p.headColumns(columns, "Class", "Run")
	var marks []string
	for n, limit := range b.limits() {
		for i, s := range sidesOf(b.outcomes(limit)) {
			class := ""
			if i == 0 {
				class = classOf(b.Comparison, limit)
				p.link(1, b.names[n])
			}
			p.put(1, class, ruled(look{Bold: true, Colour: accent, Wrap: true}))
			name := s.Name
			if s.Row != nil && s.Row.marked() {
				name += star(true)
				if w := warningsText(s.Row); !slices.Contains(marks, w) {
					marks = append(marks, w)
				}
			}
			p.put(2, name, ruled(plain))
			if s.Row == nil {
				p.wide(3, last, s.None, ruled(plain))
				p.next()
				continue
			}
			for k, c := range columns {
				l := look{Number: c.Number}
				if c.Number == "" {
					l.Align = "left"
				}
				p.put(3+k, c.Cell(s.Row), ruled(l))
			}
			p.next()
		}
	}
	if len(marks) > 0 {
		p.wide(1, last, "* outside the model's validity limits, to be trusted less: "+strings.Join(marks, "; "), note)
		p.next()
	}
	if !b.oneMerit() {
		p.wide(1, last, "The runs rank by different merits: compare metrics, not merits.", note)
		p.next()
	}
	p.gap()
	p.section("How far to trust it")
	p.wide(1, last, "The runs share the errors of the model, which are stated in the workbook of each: a difference says more than a value, and a small difference says little. Where the versions of the model differ, part of a difference may be theirs.", plain)
	p.next()
	p.gap()
	p.closing(b.sheets)
	if len(b.figures) > 0 {
		p.illustrate(&b.figures[0])
	}
	p.end("")
}

// inWords says of each class which run wins, by how much, and why.
func (b *comparisonBook) inWords(p *page) {
	p.section("The finding in words")
	for _, limit := range b.limits() {
		said := append([]sentence{verdictText(b.Comparison, limit)}, againstFirst(b.Comparison, limit)...)
		words := each(said, sentence.begin)
		p.put(1, classOf(b.Comparison, limit), ruled(strong))
		p.wide(2, len(p.widths), strings.Join(words, ". ")+".", ruled(plain))
		p.next()
	}
	p.put(1, "Why", ruled(strong))
	p.wide(2, len(p.widths), whyText(b.Comparison), ruled(plain))
	p.next()
	p.gap()
}

// sidesOf puts the best designs of the runs side by side.
func sidesOf(all []outcome) []side {
	return each(all, func(o outcome) side { return side{Name: o.Run, Row: o.Row, None: noneText(o)} })
}

// answers are the columns of the table that answers the question of each run.
func (b *comparisonBook) answers() []answer {
	var rows []row
	for _, limit := range b.limits() {
		for _, o := range b.outcomes(limit) {
			if o.Row != nil {
				rows = append(rows, *o.Row)
			}
		}
	}
	return answers(rows)
}

// class is the sheet of the best designs of a class, run by run.
func (b *comparisonBook) class(n int, limit float64) {
	sides := sidesOf(b.outcomes(limit))
	p := b.newPage(b.names[n], sideWidths(len(sides))...)
	p.groups(2, 3, 2)
	p.wide(1, p.printed, "Class "+classOf(b.Comparison, limit)+": the best design of each run", title)
	p.next()
	p.wide(1, p.printed, "Differences in per cent are to the first run with a feasible design.", note)
	p.next()
	p.gap()
	b.payloads(p, limit, sides)
	b.ranks(p, limit, sides)
	p.section("Designs and metrics")
	top := p.row
	p.sides(sides)
	p.end(repeated(top))
}

// payloads writes the hover times of the best designs with each payload that
// some run swept.
func (b *comparisonBook) payloads(p *page, limit float64, sides []side) {
	type best map[float64]*row // by payload in kg
	var all []float64
	var runs []best
	for _, f := range b.Runs {
		runs = append(runs, best{})
		k := f.Class(limit)
		if k == nil {
			continue
		}
		for _, a := range f.Axes {
			if a.Def != sweep.Payload || len(k.payloads) != len(a.Values) {
				continue
			}
			for n, v := range a.Values {
				all = append(all, v)
				runs[len(runs)-1][v] = k.payloads[n]
			}
		}
	}
	if len(all) == 0 {
		return
	}
	slices.Sort(all)
	hover := metric("hover-time")
	p.section("Hover time (min) of the best design with each payload")
	p.sideHead("Payload (g)", "", "diff. (%)", sides)
	for _, v := range slices.Compact(all) {
		var rows []row
		at := slices.Clone(sides)
		for i := range at {
			x, asked := runs[i][v]
			at[i].Row, at[i].None = x, "none"
			if !asked {
				at[i].None = notAsked
			}
			if x != nil {
				rows = append(rows, *x)
			}
		}
		p.sideLine(gram.Number(v, 5), "", metricColumn(hover, rows), true, at)
	}
	p.gap()
}

// ranks writes where the best design of each run stands in the others.
func (b *comparisonBook) ranks(p *page, limit float64, sides []side) {
	places := b.places(limit)
	p.section("Rank of each best design in the runs, whatever its payload")
	p.sideHead("Best design of", "", "", sides)
	for i, s := range sides {
		if s.Row == nil {
			continue
		}
		p.put(1, s.Name, ruled(strong))
		p.put(2, "", ruled(plain))
		for j := range sides {
			col := sideColumn(j)
			if j > 0 {
				p.put(col+1, "", ruled(plain))
			}
			if at := places[i][j]; at > 0 {
				p.put(col, at, ruled(look{Number: "0"}))
			} else {
				p.put(col, "not ranked", ruled(look{Align: "right", Colour: quiet}))
			}
		}
		p.next()
	}
	p.gap()
}
