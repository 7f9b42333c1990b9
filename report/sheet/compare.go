package sheet

import (
	"context"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"rotorsieve/report/chart"
	"rotorsieve/report/finding"
	"rotorsieve/report/sheet/xlsx"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

// comparisonBook is the workbook of a comparison.
type comparisonBook struct {
	*xlsx.Book
	*finding.Comparison
	names   []string // sheets of the classes, by limit
	sheets  []xlsx.BookSheet
	figures []chart.Picture
}

// WriteComparison writes the workbook of a comparison, unless the context ends. While it is
// written, some of it lies in files of the folder spool, which are removed.
func WriteComparison(ctx context.Context, w io.Writer, spool string, c *finding.Comparison,
	figures []chart.Picture) error {
	var names []string
	for _, f := range c.Runs {
		names = append(names, f.Name)
	}
	b := &comparisonBook{Book: xlsx.NewBook(ctx, spool, "Comparison of "+texts.JoinAnd(names), c.Version, ""),
		Comparison: c, figures: figures}
	b.Properties("Comparison of finished runs", "The best designs of several runs side by side. "+words.Caution())
	limits := c.Limits()
	var labels []string
	for _, limit := range limits {
		labels = append(labels, b.label(limit))
	}
	b.names = xlsx.SheetNames("Class ", labels)
	b.sheets = []xlsx.BookSheet{{Name: SummarySheet, What: "", Write: b.summary}}
	for i, limit := range limits {
		b.sheets = append(b.sheets, xlsx.BookSheet{Name: b.names[i], What: "the best designs of the runs side by side",
			Write: func() { b.class(i, limit) }})
	}
	b.sheets = append(b.sheets,
		xlsx.BookSheet{Name: diametersSheet, What: "the best design of each diameter, run by run", Write: b.diameters},
		xlsx.BookSheet{Name: requirementsSheet, What: "what each requirement rejected, run by run",
			Write: b.requirements})
	if n := len(figures); n > 0 {
		b.sheets = append(b.sheets, xlsx.BookSheet{Name: figuresSheet, What: fmt.Sprintf("%d %s with captions", n,
			texts.Plural(n, "picture", "pictures")), Write: func() { figurePages(b.Book, b.figures, nil) }})
	}
	var calls []func()
	for _, s := range b.sheets {
		calls = append(calls, s.Write)
	}
	return b.WriteTo(w, b.sheets, calls)
}

// label is that of the class of a limit, as the first run that has it says.
func (b *comparisonBook) label(limit float64) string {
	for _, f := range b.Runs {
		if k := f.Class(limit); k != nil {
			return k.Class.Label
		}
	}
	return words.Mass(limit)
}

// reordered says what is to be ordered by the first run, and by the others in its place.
func (b *comparisonBook) reordered(p *xlsx.Page) {
	begun := false
	for _, limit := range b.Limits() {
		for i, text := range words.Reordered(b.Comparison, limit) {
			if !begun {
				section(p, "What to order, by the first run and then by the "+texts.Plural(len(b.Runs)-1, "second",
					"others"))
				begun = true
			}
			class := ""
			if i == 0 {
				class = words.ClassOf(b.Comparison, limit)
			}
			p.Put(1, class, xlsx.Ruled(xlsx.Look{Bold: true, Colour: xlsx.Accent, Wrap: true}))
			p.Wide(2, len(p.Widths), text, xlsx.Ruled(xlsx.Plain))
			p.Next()
		}
	}
	if begun {
		p.Gap()
	}
}

// summary says what the runs were asked, in what they differ and what each
// found best.
func (b *comparisonBook) summary() {
	columns := b.answers()
	const leastNamed, mostNamed = 16, 28
	longest := leastNamed
	for _, f := range b.Runs {
		longest = max(longest, utf8.RuneCountInString(f.Name)+1)
	}
	widths := []float64{14, float64(min(longest, mostNamed))}
	for _, c := range columns {
		widths = append(widths, c.width)
	}
	p := b.NewPage(SummarySheet, widths...)
	last := len(widths)
	p.Wide(1, last, b.Name, xlsx.Title)
	p.Next()
	p.Wide(1, last, "Finished runs side by side, for a design review. Differences are to the first. Written by "+
		""+b.Versions+".", xlsx.Note)
	p.Next()
	p.Gap()

	b.reordered(p)
	b.inWords(p)
	section(p, "The runs")
	for i, f := range b.Runs {
		p.Put(1, fmt.Sprintf("Run %d", i+1), xlsx.Ruled(xlsx.Strong))
		p.Wide(2, 3, f.Name, xlsx.Ruled(xlsx.Look{Bold: true, Colour: xlsx.Accent, Wrap: true}))
		p.Wide(4, last, fmt.Sprintf("%s designs; from %s by rotorsieve %s, model %s; fingerprint %.12s",
			texts.Grouped(f.Designs), f.Dir, f.Program, f.Model, f.Fingerprint), xlsx.Ruled(xlsx.Plain))
		p.Next()
	}
	p.Gap()

	section(p, "What the runs differ in")
	some := false
	var same []string
	for _, a := range b.Aspects() {
		if !a.Differs() {
			same = append(same, texts.Lower(words.AspectTitle(&a)))
			continue
		}
		some = true
		said := words.AspectValues(&a)
		for i, wording := range said {
			what, l := "", xlsx.Plain
			if i == 0 {
				what = words.AspectTitle(&a)
			}
			if i == len(said)-1 {
				l = xlsx.Ruled(xlsx.Plain)
			}
			p.Wide(1, 2, what, xlsx.Look{Bold: true, Wrap: true, Rule: l.Rule})
			p.Put(3, b.Runs[i].Name, l)
			p.Wide(4, last, texts.Or(wording, words.NotAsked), l)
			p.Next()
		}
	}
	if !some {
		p.Wide(1, last, "Nothing that their results depend on.", xlsx.Plain)
		p.Next()
	}
	p.Wide(1, last, "The same in all: "+strings.Join(same, ", ")+".", xlsx.Note)
	p.Next()
	p.Gap()

	p.Keep(6 + len(b.Runs)) // heads of three lines, and the first class
	section(p, "The best design of each class and run")
	headColumns(p, columns, "Class", "Run")
	var marks []string
	for n, limit := range b.Limits() {
		for i, s := range sidesOf(b.Outcomes(limit)) {
			class := ""
			if i == 0 {
				class = words.ClassOf(b.Comparison, limit)
				p.Link(1, b.names[n])
			}
			p.Put(1, class, xlsx.Ruled(xlsx.Look{Bold: true, Colour: xlsx.Accent, Wrap: true}))
			name := s.Name
			if s.Row != nil && s.Row.Marked() {
				name += words.Star(true)
				if w := words.Warnings(s.Row); !slices.Contains(marks, w) {
					marks = append(marks, w)
				}
			}
			p.Put(2, name, xlsx.Ruled(xlsx.Plain))
			if s.Row == nil {
				p.Wide(3, last, s.None, xlsx.Ruled(xlsx.Plain))
				p.Next()
				continue
			}
			for k, c := range columns {
				l := xlsx.Look{Number: c.number}
				if c.number == "" {
					l.Align = "left"
				}
				p.Put(3+k, c.cell(s.Row), xlsx.Ruled(l))
			}
			p.Next()
		}
	}
	if len(marks) > 0 {
		p.Wide(1, last, "* outside the model's validity limits, to be trusted less: "+strings.Join(marks, "; "),
			xlsx.Note)
		p.Next()
	}
	if !b.OneMerit() {
		p.Wide(1, last, "The runs rank by different merits: compare metrics, not merits.", xlsx.Note)
		p.Next()
	}
	p.Gap()
	section(p, "How far to trust it")
	p.Wide(1, last, "The runs share the errors of the model, which are stated in the workbook of each: a difference "+
		"says more than a value, and a small difference says little. Where the versions of the model differ, part of "+
		"a difference may be theirs.", xlsx.Plain)
	p.Next()
	p.Gap()
	closing(p, b.sheets)
	if len(b.figures) > 0 {
		p.Again()
		illustrate(p, &b.figures[0], leastAlone, b.figures[0].Caption)
	}
	p.End("")
}

// inWords says of each class which run wins, by how much, and why.
func (b *comparisonBook) inWords(p *xlsx.Page) {
	section(p, "The finding in words")
	for _, limit := range b.Limits() {
		said := append([]words.Sentence{words.Verdict(b.Comparison, limit)}, words.AgainstFirst(b.Comparison, limit)...)
		wording := words.Each(said, words.Sentence.Begin)
		p.Put(1, words.ClassOf(b.Comparison, limit), xlsx.Ruled(xlsx.Strong))
		p.Wide(2, len(p.Widths), strings.Join(wording, ". ")+".", xlsx.Ruled(xlsx.Plain))
		p.Next()
	}
	p.Put(1, "Why", xlsx.Ruled(xlsx.Strong))
	p.Wide(2, len(p.Widths), words.Why(b.Comparison), xlsx.Ruled(xlsx.Plain))
	p.Next()
	p.Gap()
}

// sidesOf puts the best designs of the runs side by side.
func sidesOf(all []finding.Outcome) []Side {
	return words.Each(all, func(o finding.Outcome) Side { return Side{Name: o.Run, Row: o.Row, None: words.None(o)} })
}

// answers are the columns of the table that answers the question of each run.
func (b *comparisonBook) answers() []answer {
	var rows []finding.Row
	for _, limit := range b.Limits() {
		for _, o := range b.Outcomes(limit) {
			if o.Row != nil {
				rows = append(rows, *o.Row)
			}
		}
	}
	return answers(b.Asked(), rows)
}

// class is the sheet of the best designs of a class, run by run.
func (b *comparisonBook) class(n int, limit float64) {
	sides := sidesOf(b.Outcomes(limit))
	p := b.NewPage(b.names[n], SideWidths(len(sides))...)
	p.Groups(2, 3, 2)
	p.Wide(1, p.Printed, "Class "+words.ClassOf(b.Comparison, limit)+": the best design of each run", xlsx.Title)
	p.Next()
	p.Wide(1, p.Printed, "Differences in per cent are to the first run with a feasible design.", xlsx.Note)
	p.Next()
	p.Gap()
	b.payloads(p, limit, sides)
	b.ranks(p, limit, sides)
	section(p, "Designs and metrics")
	top := p.Row
	putSides(p, sides, false)
	p.End(words.Repeated(top))
}

// payloads writes the hover times of the best designs with each payload that
// some run swept.
func (b *comparisonBook) payloads(p *xlsx.Page, limit float64, sides []Side) {
	type best map[float64]*finding.Row // by payload in kg
	var all []float64
	var runs []best
	for _, f := range b.Runs {
		runs = append(runs, best{})
		k := f.Class(limit)
		if k == nil {
			continue
		}
		for _, a := range f.Axes {
			if a.Def != sweep.Payload || len(k.Payloads) != len(a.Values) {
				continue
			}
			for n, v := range a.Values {
				all = append(all, v)
				runs[len(runs)-1][v] = k.Payloads[n]
			}
		}
	}
	if len(all) == 0 {
		return
	}
	slices.Sort(all)
	hover := finding.Metric("hover-time")
	section(p, "Hover time (min) of the best design with each payload")
	sideHead(p, "Payload (g)", "", "diff. (%)", sides)
	for _, v := range slices.Compact(all) {
		var rows []finding.Row
		at := slices.Clone(sides)
		for i := range at {
			x, asked := runs[i][v]
			at[i].Row, at[i].None = x, "none"
			if !asked {
				at[i].None = words.NotAsked
			}
			if x != nil {
				rows = append(rows, *x)
			}
		}
		SideLine(p, finding.Gram.Number(v, 5), "", MetricColumn(hover, rows), true, at)
	}
	p.Gap()
}

// ranks writes where the best design of each run stands in the others.
func (b *comparisonBook) ranks(p *xlsx.Page, limit float64, sides []Side) {
	places := b.Places(limit)
	section(p, "Rank of each best design in the runs, whatever its payload")
	sideHead(p, "Best design of", "", "", sides)
	for i, s := range sides {
		if s.Row == nil {
			continue
		}
		p.Put(1, s.Name, xlsx.Ruled(xlsx.Strong))
		p.Put(2, "", xlsx.Ruled(xlsx.Plain))
		for j := range sides {
			col := SideColumn(j)
			if j > 0 {
				p.Put(col+1, "", xlsx.Ruled(xlsx.Plain))
			}
			if at := places[i][j]; at > 0 {
				p.Put(col, at, xlsx.Ruled(xlsx.Look{Number: "0"}))
			} else {
				p.Put(col, "not ranked", xlsx.Ruled(xlsx.Look{Align: "right", Colour: xlsx.Quiet}))
			}
		}
		p.Next()
	}
	p.Gap()
}
