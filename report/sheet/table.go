package sheet

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"

	"rotorsieve/model"
	"rotorsieve/report/finding"
	"rotorsieve/report/sheet/xlsx"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

// column is a column of a table of designs.
type column struct {
	name  string // of the input or metric; "" for others
	head  string
	note  string
	width float64
	shade bool // the higher, the darker
	bar   bool // a score from 0 to 1, with a bar as long
	words bool // aligned left
	cell  func(x *finding.Row) any
	Look  func(x *finding.Row) xlsx.Look
	live  func(x *finding.Row, at int) xlsx.Live // in place of Cell, in the sheet's row at
	// Beyond says that a value stands for all beyond it as well; nil for never.
	Beyond func(x *finding.Row) bool
}

// table is a sheet of designs, one a row. It is streamed, so that it may be
// long.
type table struct {
	sheet   string
	object  string // name of the table in the workbook
	title   string
	note    string
	columns []column
	printed int  // columns
	first   int  // rows that are printed, on one page; 0 for all
	ofRun   bool // its merits do not follow the weights of the workbook
	frozen  int  // columns
	head    int  // row of the heads; the designs follow
	rows    []finding.Row
	lit     func(x *finding.Row) bool // rows that are spoken of; nil for none
	charts  func()                    // places charts over the rows between note and head; may be nil
}

// HeadRow is the row of the heads of a table without charts.
const HeadRow = 6

// sheetRows is how many rows a sheet has (ECMA-376 and common practice).
const sheetRows = 1 << 20

// column finds the column of an input or a metric.
func (t *table) column(name string) int {
	return 1 + slices.IndexFunc(t.columns, func(c column) bool { return c.name == name })
}

// width is that of the printed columns in pixels of the screen.
func (t *table) width() uint {
	pixels := 0.0
	for k := range t.columns[:t.printed] {
		pixels += xlsx.ColumnPixels(t.widthOf(k))
	}
	return uint(0.96 * pixels) // 4 % for the letters of other programs
}

// apart says whether a column of words stands beside one of numbers, which end where it begins.
func (t *table) apart(k int) bool { return k > 0 && t.columns[k].words && !t.columns[k-1].words }

// widthOf is that of a column, in characters.
func (t *table) widthOf(k int) float64 {
	c := &t.columns[k]
	if t.apart(k) {
		return xlsx.HeadWidth(c.head, c.width) + 1
	}
	return xlsx.HeadWidth(c.head, c.width)
}

// last is the row of the last design.
func (t *table) last() int { return t.head + len(t.rows) }

// cells is the range of a column's designs.
func (t *table) cells(col int) string { return xlsx.Span(col, t.head+1, col, t.last()) }

// cut leaves out the designs that a sheet has no row for, and says so in the
// note.
func (t *table) cut(most int, file string) {
	if n := len(t.rows); t.last() > most {
		t.rows = t.rows[:max(0, most-t.head)]
		t.note = fmt.Sprintf("Only the first %s of %s designs: a sheet has no more rows; all are in %s. ",
			texts.Grouped(uint64(len(t.rows))), texts.Grouped(uint64(n)), file) + t.note
	}
}

// fixed is a look that is the same for all designs.
func fixed(l xlsx.Look) func(*finding.Row) xlsx.Look {
	return func(*finding.Row) xlsx.Look { return l }
}

// namedWidth is that of a column of names of parts, in characters; longer ones take two lines.
func namedWidth(k finding.PartKind, rows []finding.Row) float64 {
	const least, most = 12, 22
	n := least
	for i := range rows {
		n = max(n, utf8.RuneCountInString(k.Of(rows[i].Design)))
	}
	return float64(min(n, most))
}

// partColumn shows the part of a design that exists.
func partColumn(k finding.PartKind, rows []finding.Row) column {
	return column{head: k.Title, note: "the " + k.Name + " that exists, by its name", width: namedWidth(k, rows),
		words: true, cell: func(x *finding.Row) any { return k.Of(x.Design) }, Look: fixed(xlsx.Look{})}
}

// brought says whether a choice of the design comes with a part that is named beside it.
func brought(r *finding.Run, n *sweep.AxisDef) bool {
	return n != sweep.Diameter && slices.ContainsFunc(r.Study.Grid.Axes(), func(a sweep.Axis) bool {
		return a.Def == n && a.Of != nil
	})
}

// inputColumn shows a choice of the design.
func inputColumn(n *sweep.AxisDef) column {
	c := column{name: n.Name, head: finding.Headed(n.Title, words.InputLabel(n)), note: words.InputMeaning(n),
		width: 9.5,
		cell:  func(x *finding.Row) any { return xlsx.Round10(n.Unit.FromSI(n.Of(x.Design))) },
		Look:  fixed(xlsx.Look{})}
	switch n {
	case sweep.Diameter:
		c.note += "; bold where the design is the best of its diameter"
		c.Look = func(x *finding.Row) xlsx.Look { return xlsx.Look{Bold: x.Leader} }
	case sweep.Pitch:
		c.Look = fixed(xlsx.Look{Number: "0.0##"})
	case sweep.Stator:
		c.Look = func(x *finding.Row) xlsx.Look {
			if v := n.Of(x.Design); v != math.Trunc(v) {
				return xlsx.Look{Number: "0000.0##"}
			}
			return xlsx.Look{Number: "0000"}
		}
	case sweep.Chord:
		c.Look = fixed(xlsx.Look{Number: "0.000"})
	}
	return c
}

// MetricColumn shows a metric, with decimals for the largest of the designs.
func MetricColumn(m *model.Metric, rows []finding.Row) column {
	at := finding.Place(m)
	most := 0.0
	for i := range rows {
		if v := math.Abs(m.Unit.FromSI(rows[i].Values[at])); finding.Finite(v) {
			most = max(most, v)
		}
	}
	return column{name: m.Name, head: finding.Headed(m.Title, m.Unit.Label), note: metricNote(m), width: 11.5,
		cell: func(x *finding.Row) any { return m.Unit.FromSI(x.Values[at]) }, Look: func(x *finding.Row) xlsx.Look {
			if x != nil && x.Beyond(m) {
				return xlsx.Look{Number: `"≥ "` + numberFormat(most)}
			}
			return xlsx.Look{Number: numberFormat(most)}
		}, Beyond: func(x *finding.Row) bool { return x.Beyond(m) }}
}

// metricNote is what a head says of a metric when pointed at.
func metricNote(m *model.Metric) string {
	return m.Meaning + "\n" + m.FormulaText() + "\n" + m.Better.String() + "\nSource: " + m.Source
}

// designColumns are those of inputs and metrics: first what answers the study,
// which is printed, then all others that some design has.
func designColumns(r *finding.Run, rows []finding.Row) (first, rest []column) {
	seen := map[string]bool{}
	for _, k := range finding.PartsOf(r.Study.Grid) {
		first = append(first, partColumn(k, rows))
	}
	for _, n := range finding.Inputs {
		if n == sweep.Chord || n == sweep.Payload && !r.Swept(sweep.Payload) || brought(r, n) {
			continue
		}
		seen[n.Name] = true
		first = append(first, inputColumn(n))
	}
	for _, m := range told(finding.Asked(r.Study), printedMetrics) {
		seen[m.Name] = true
		c := MetricColumn(m, rows)
		c.shade = m.Better == model.Higher
		first = append(first, c)
	}
	if len(r.Study.Others) > 0 {
		first = append(first, column{head: "Scenario", width: 9,
			note: "in which the merit is least, and of which the metrics are: " + words.Scenarios(r.Study),
			cell: func(x *finding.Row) any { return x.Scenario + 1 }, Look: fixed(xlsx.Look{Number: "0"})})
	}
	for _, n := range finding.Inputs {
		if !seen[n.Name] {
			rest = append(rest, inputColumn(n))
		}
	}
	ranks := func(m *model.Metric) bool {
		return slices.ContainsFunc(r.Study.Merit, func(t sweep.Term) bool { return t.Metric == m })
	}
	for _, m := range finding.Swept() {
		if !seen[m.Name] && (finding.Known(m, rows) || ranks(m)) {
			rest = append(rest, MetricColumn(m, rows))
		}
	}
	return first, append(rest,
		column{head: "Index in the grid", note: "the design's number in the grid's order, from 0", width: 12,
			cell: func(x *finding.Row) any { return x.Index }, Look: fixed(xlsx.Look{Number: "0"})},
		column{head: "Warnings", note: "in what the design lies outside the model's validity", width: 90, words: true,
			cell: func(x *finding.Row) any { return words.Warnings(x) }, Look: fixed(xlsx.Look{})})
}

// rankLook marks the designs outside the model's validity.
func rankLook(x *finding.Row) xlsx.Look {
	if x.Marked() {
		return xlsx.Look{Number: `0"*"`}
	}
	return xlsx.Look{Number: "0"}
}

// putTable writes a table. What is not a cell must be set before the stream
// begins, the table object before it ends.
func putTable(b *xlsx.Book, t *table) {
	sheet := t.sheet
	b.Do(b.F.SetSheetView(sheet, 0, &excelize.ViewOptions{ShowGridLines: new(false)}))
	lines := 1
	for k, c := range t.columns {
		b.Do(b.F.SetColWidth(sheet, xlsx.ColumnName(k+1), xlsx.ColumnName(k+1), t.widthOf(k)))
		lines = max(lines, xlsx.WrappedLines(c.head, xlsx.HeadWidth(c.head, c.width), true))
	}
	if n := len(t.rows); n > 0 {
		if t.charts == nil {
			b.Freeze(sheet, t.frozen, t.head)
		} else { // the heads stand too low
			b.Freeze(sheet, t.frozen, 0)
		}
		printed := n
		if t.first > 0 {
			printed = min(n, t.first)
		}
		b.Print(sheet, xlsx.Area(t.printed, t.head+printed), words.Repeated(t.head))
		if t.first > 0 {
			b.Do(b.F.SetPageLayout(sheet, &excelize.PageLayoutOptions{FitToHeight: new(1)}))
		}
		for k, c := range t.columns {
			comment(b, sheet, xlsx.CellName(k+1, t.head), c.note)
			cells := xlsx.CellName(k+1, t.head+1) + ":" + xlsx.CellName(k+1, t.last())
			if c.shade && n > 1 {
				b.Do(b.F.SetConditionalFormat(sheet, cells,
					[]excelize.ConditionalFormatOptions{{Type: "2_color_scale", Criteria: "=",
						MinType: "min", MaxType: "max", MinColor: "#FFFFFF", MaxColor: "#" + xlsx.High}}))
			}
			if c.bar {
				b.Do(b.F.SetConditionalFormat(sheet, cells,
					[]excelize.ConditionalFormatOptions{{Type: "data_bar", Criteria: "=",
						MinType: "num", MinValue: "0", MaxType: "num", MaxValue: "1", BarColor: "#" + xlsx.High}}))
			}
		}
		if t.charts != nil {
			t.charts()
		}
	} else {
		b.Print(sheet, xlsx.Area(t.printed, t.head))
	}
	w, err := b.F.NewStreamWriter(sheet)
	if b.Do(err); b.Err != nil {
		return
	}
	put := func(r int, height float64, cells ...any) {
		b.Do(w.SetRow("A"+strconv.Itoa(r), cells, excelize.RowOpts{Height: height}))
	}
	put(1, 24, b.Cell(t.title, xlsx.Title))
	for i, text := range strings.Split(t.note, "\n") {
		put(2+i, xlsx.RowHeight, b.Cell(text, xlsx.Look{Colour: xlsx.Quiet}))
	}
	if len(t.rows) == 0 {
		b.Do(w.Flush())
		return
	}
	if t.ofRun && strings.Count(t.note, "\n")+1 < HeadRow-2 {
		put(HeadRow-1, xlsx.RowHeight, b.Cell(staleMark(), xlsx.Alarm))
	}
	heads := make([]any, len(t.columns))
	for k, c := range t.columns {
		l := xlsx.Heading
		if !c.words {
			l.Align = "right"
		} else if t.apart(k) {
			l.Indent = 1
		}
		heads[k] = b.Cell(c.head, l)
	}
	put(t.head, float64(lines)*xlsx.RowHeight+4, heads...)
	cells := make([]any, len(t.columns))
	for j := range t.rows {
		x, at := &t.rows[j], t.head+1+j
		lit := t.lit != nil && t.lit(x)
		for k := range t.columns {
			c := &t.columns[k]
			l := xlsx.Ruled(c.Look(x))
			if l.Bold {
				l.Colour = xlsx.Accent
			}
			l.Lit = lit
			if t.apart(k) {
				l.Indent = 1
			}
			if c.live != nil {
				cells[k] = b.Cell(c.live(x, at), l)
			} else {
				cells[k] = b.Cell(c.cell(x), l)
			}
		}
		if b.Err != nil {
			return
		}
		put(at, xlsx.RowHeight+1, cells...)
	}
	b.Do(w.AddTable(&excelize.Table{Range: xlsx.CellName(1, t.head) + ":" + xlsx.CellName(len(t.columns), t.last()),
		Name: t.object, ShowRowStripes: new(false)}))
	b.Do(w.Flush())
}

// comment says what a head means when it is pointed at.
func comment(b *xlsx.Book, sheet, cell, text string) {
	b.Do(b.F.AddComment(sheet, excelize.Comment{Cell: cell, Author: "rotorsieve",
		Paragraph: []excelize.RichTextRun{{Text: text}}, Width: 340,
		Height: uint(24 + 18*len(texts.Wrap(text, 50)) + 14*strings.Count(text, "\n"))}))
}
