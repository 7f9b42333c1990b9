package report

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/xuri/excelize/v2"

	"rotorsieve/sweep"
)

// Sheets of a comparison, beside one a class.
const diametersSheet = "Diameters"

// comparisonBook is the workbook of a comparison.
type comparisonBook struct {
	*book
	*Comparison
	names   []string // sheets of the classes, by limit
	sheets  []bookSheet
	figures []Figure
}

func (c *Comparison) writeWorkbook(w io.Writer, figures []Figure) error {
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
			same = append(same, lower(a.What))
			continue
		}
		some = true
		for i, words := range a.Words {
			what, l := "", plain
			if i == 0 {
				what = a.What
			}
			if i == len(a.Words)-1 {
				l = ruled(plain)
			}
			p.wide(1, 2, what, look{Bold: true, Wrap: true, Rule: l.Rule})
			p.put(3, b.Runs[i].Name, l)
			p.wide(4, last, textOr(words, "not asked"), l)
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
		for i, s := range b.Comparison.sides(limit) {
			class := ""
			if i == 0 {
				class = b.className(limit)
				p.link(1, b.names[n])
			}
			p.put(1, class, ruled(look{Bold: true, Colour: accent, Wrap: true}))
			name := s.Name
			if s.Row != nil && s.Row.Warnings != "" {
				name += " *"
				if w := s.Row.Warnings; !slices.Contains(marks, w) {
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
	if merits := b.merits(); merits > 1 {
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
		words := append([]string{b.verdict(limit)}, b.Comparison.inWords(limit)...)
		for n, s := range words {
			if !slices.ContainsFunc(b.Runs, func(f *Finished) bool { return strings.HasPrefix(s, f.Name) }) {
				words[n] = upper(s) // a name stays as it is written
			}
		}
		p.put(1, b.className(limit), ruled(strong))
		p.wide(2, len(p.widths), strings.Join(words, ". ")+".", ruled(plain))
		p.next()
	}
	p.put(1, "Why", ruled(strong))
	p.wide(2, len(p.widths), b.why(), ruled(plain))
	p.next()
	p.gap()
}

// answers are the columns of the table that answers the question of each run.
func (b *comparisonBook) answers() []answer {
	var rows []row
	for _, limit := range b.limits() {
		for _, s := range b.Comparison.sides(limit) {
			if s.Row != nil {
				rows = append(rows, *s.Row)
			}
		}
	}
	return answers(rows)
}

// class is the sheet of the best designs of a class, run by run.
func (b *comparisonBook) class(n int, limit float64) {
	sides := b.Comparison.sides(limit)
	p := b.newPage(b.names[n], sideWidths(len(sides))...)
	p.groups(2, 3, 2)
	p.wide(1, p.printed, "Class "+b.className(limit)+": the best design of each run", title)
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
				at[i].None = "not asked"
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

// diameters is the sheet of the best design of each diameter, with a chart of
// merit against diameter for each class.
func (b *comparisonBook) diameters() {
	widths := []float64{14, 13}
	heads := []string{"Class", headed(sweep.Diameter.Title, sweep.Diameter.Unit.Label)}
	numbers := []int{2}
	for range 2 {
		for range b.Runs {
			widths = append(widths, 12)
		}
	}
	hover := metric("hover-time")
	for _, f := range b.Runs {
		heads = append(heads, f.Name+": merit")
	}
	for _, f := range b.Runs {
		heads = append(heads, f.Name+": "+lower(headed(hover.Title, hover.Unit.Label)))
	}
	for n := range heads[2:] {
		numbers = append(numbers, n+3)
	}
	columns := len(widths)
	widths = append(widths, 2) // between table and chart
	for range chartColumns {
		widths = append(widths, chartColumn)
	}
	p := b.newPage(diametersSheet, widths...)
	p.titles = 2
	if p.printed < len(widths) { // no room beside the tables
		p = b.newPage(diametersSheet, widths[:columns]...)
		p.titles = 2
	}
	beside := len(p.widths) > columns
	p.wide(1, p.printed, "The best design of each diameter, run by run", title)
	p.next()
	p.wide(1, p.printed, "By the merit of each run, and the hover time of the same design.", note)
	p.next()
	p.gap()
	for _, limit := range b.limits() {
		diameters := b.byDiameter(limit)
		if len(diameters) == 0 {
			continue
		}
		p.block(0, func() {
			p.section("Class " + b.className(limit))
			top := p.row
			p.head(heads, numbers...)
			for _, d := range diameters {
				p.put(1, b.label(limit), ruled(plain))
				p.put(2, round10(sweep.Diameter.Unit.FromSI(d)), ruled(look{Bold: true}))
				for i, f := range b.Runs {
					var merit, time any
					if k := f.Class(limit); k != nil {
						for _, l := range k.Leaders {
							if l.Diameter != d {
								continue
							}
							merit = l.Merit
							if v, ok := l.Metrics[hover.Name]; ok {
								time = hover.Unit.FromSI(v)
							}
						}
					}
					p.put(3+i, merit, ruled(look{Number: "0.0000"}))
					p.put(3+len(b.Runs)+i, time, ruled(look{Number: "0.0"}))
				}
				p.next()
			}
			if beside {
				b.diameterChart(p, cellName(columns+2, top), limit, top, p.row-1)
				p.row = max(p.row, top+chartHeight(chartPixels))
			} else {
				b.diameterChart(p, cellName(1, p.row), limit, top, p.row-1)
				p.row += chartHeight(chartPixels)
			}
		})
	}
	p.end("")
}

// The chart of a class stands beside its table, over columns of its own, or beneath
// where so many runs leave no room for it.
const (
	chartColumns = 5
	chartColumn  = 14 // characters
	chartPixels  = 340
)

// diameterChart draws merit against diameter, a line for each run, from the
// rows beneath a head.
func (b *comparisonBook) diameterChart(p *page, at string, limit float64, head, last int) {
	c := &excelize.Chart{Type: excelize.Scatter, XAxis: chartAxis(bracketed(sweep.Diameter.Title, sweep.Diameter.Unit.Label), "General"), YAxis: chartAxis("Merit [-]", "0.0#")}
	sheet := quoted(p.Name)
	for i := range b.Runs {
		c.Series = append(c.Series, excelize.ChartSeries{
			Name:       sheet + span(3+i, head, 3+i, head),
			Categories: sheet + span(2, head+1, 2, last),
			Values:     sheet + span(3+i, head+1, 3+i, last),
			Fill:       excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{seriesColour(i)}},
			Line:       excelize.LineOptions{Type: excelize.LineSolid, Width: 1.5, Dash: lineDashes[i%len(lineDashes)]},
			Marker: excelize.ChartMarker{Symbol: seriesMarkers[i%len(seriesMarkers)], Size: 6,
				Fill: excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{seriesColour(i)}}},
		})
	}
	p.chartAt(at, c, "diameters "+b.label(limit),
		"Merit of the best design of each diameter within "+mass(limit)+", a line for each run.", 8*chartColumns*chartColumn, chartPixels)
}

// requirements is the sheet of what each requirement turned away in each run, in
// per cent of its grid.
func (b *comparisonBook) requirements() {
	limits := b.limits()
	widths := []float64{32}
	for range b.Runs {
		widths = append(widths, 24, 13)
	}
	p := b.newPage(requirementsSheet, widths...)
	p.groups(1, 1, 2)
	p.wide(1, p.printed, "What each requirement turned away, run by run", title)
	p.next()
	p.wide(1, p.printed, "A design is counted at the first requirement that it does not keep, in the order of its run; shares are of the designs of the run.", note)
	p.next()
	p.gap()
	var gates []string // by name, as the runs have them
	titles := map[string]string{}
	for _, f := range b.Runs {
		for _, g := range f.Gates {
			if titles[g.Name] == "" {
				titles[g.Name] = gateTitle(g)
				gates = append(gates, g.Name)
			}
		}
	}
	for _, limit := range limits {
		p.block(0, func() {
			p.section("Class " + b.className(limit))
			heads := []string{"Requirement"}
			var numbers []int
			for _, f := range b.Runs {
				heads = append(heads, f.Name+": bound", "turned away (%)")
				numbers = append(numbers, len(heads))
			}
			p.head(heads, numbers...)
			for _, name := range gates {
				p.put(1, titles[name], ruled(plain))
				for i, f := range b.Runs {
					bound, share := "not asked", any(nil)
					if at := slices.IndexFunc(f.Gates, func(g sweep.Gate) bool { return g.Name == name }); at >= 0 {
						bound = gateBound(f.Gates[at])
						if k := f.Class(limit); k != nil {
							share = 100 * float64(k.Turned[at]) / float64(f.Designs)
						}
					}
					p.put(2+2*i, bound, ruled(after))
					p.put(3+2*i, share, ruled(look{Number: smallShare}))
				}
				p.next()
			}
			p.put(1, "Feasible", ruled(strong))
			for i, f := range b.Runs {
				var n any
				words := "class not asked"
				if k := f.Class(limit); k != nil {
					n, words = 100*float64(k.Feasible)/float64(f.Designs), grouped(k.Feasible)+" designs"
				}
				p.put(2+2*i, words, ruled(look{Bold: true, Wrap: true, Indent: 1}))
				p.put(3+2*i, n, ruled(look{Bold: true, Number: "0.000"}))
			}
			p.next()
		})
		p.gap()
	}
	p.end("")
}
