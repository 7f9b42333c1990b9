package report

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"rotorsieve/model"
	"rotorsieve/sweep"
)

// column is a column of a table of designs.
type column struct {
	Name  string // of the input or metric; "" for others
	Head  string
	Note  string
	Width float64
	Shade bool // the higher, the darker
	Bar   bool // a score from 0 to 1, with a bar as long
	Words bool // aligned left
	Cell  func(x *row) any
	Look  func(x *row) look
	Live  func(x *row, at int) live // in place of Cell, in the sheet's row at
	// Beyond says that a value stands for all beyond it as well; nil for never.
	Beyond func(x *row) bool
}

// table is a sheet of designs, one a row. It is streamed, so that it may be
// long.
type table struct {
	Sheet   string
	Object  string // name of the table in the workbook
	Title   string
	Note    string
	Columns []column
	Printed int // columns
	First   int // rows that are printed; 0 for all
	Frozen  int // columns
	Head    int // row of the heads; the designs follow
	Rows    []row
	Charts  func() // places charts over the rows between note and head; may be nil
}

// headRow is the row of the heads of a table without charts.
const headRow = 5

// sheetRows is how many rows a sheet has (ECMA-376 and common practice).
const sheetRows = 1 << 20

// column finds the column of an input or a metric.
func (t *table) column(name string) int {
	return 1 + slices.IndexFunc(t.Columns, func(c column) bool { return c.Name == name })
}

// width is that of the printed columns in pixels of the screen.
func (t *table) width() uint {
	pixels := 0.0
	for _, c := range t.Columns[:t.Printed] {
		pixels += columnPixels(c.Width)
	}
	return uint(0.96 * pixels) // 4 % for the letters of other programs
}

// last is the row of the last design.
func (t *table) last() int { return t.Head + len(t.Rows) }

// cells is the range of a column's designs.
func (t *table) cells(col int) string { return span(col, t.Head+1, col, t.last()) }

// cut leaves out the designs that a sheet has no row for, and says so in the
// note.
func (t *table) cut(most int, file string) {
	if n := len(t.Rows); t.last() > most {
		t.Rows = t.Rows[:max(0, most-t.Head)]
		t.Note = fmt.Sprintf("Only the first %s of %s designs: a sheet has no more rows; all are in %s. ", grouped(uint64(len(t.Rows))), grouped(uint64(n)), file) + t.Note
	}
}

// fixed is a look that is the same for all designs.
func fixed(l look) func(*row) look { return func(*row) look { return l } }

// inputColumn shows a choice of the design.
func inputColumn(n input) column {
	c := column{Name: n.Name, Head: headed(n.Title, inputLabel(n)), Note: inputMeaning(n), Width: 9.5,
		Cell: func(x *row) any { return round10(n.Unit.FromSI(n.Of(x.Design))) }, Look: fixed(look{})}
	switch n.AxisDef {
	case sweep.Diameter:
		c.Note += "; bold where the design is the best of its diameter"
		c.Look = func(x *row) look { return look{Bold: x.Leader} }
	case sweep.Pitch:
		c.Look = fixed(look{Number: "0.0##"})
	case sweep.Stator:
		c.Look = func(x *row) look {
			if v := n.Of(x.Design); v != math.Trunc(v) {
				return look{Number: "0000.0##"}
			}
			return look{Number: "0000"}
		}
	case sweep.Chord:
		c.Look = fixed(look{Number: "0.000"})
	}
	return c
}

// metricColumn shows a metric, with decimals for the largest of the designs.
func metricColumn(m *model.Metric, rows []row) column {
	at := place(m)
	most := 0.0
	for i := range rows {
		if v := math.Abs(m.Unit.FromSI(rows[i].values[at])); finite(v) {
			most = max(most, v)
		}
	}
	return column{Name: m.Name, Head: headed(m.Title, m.Unit.Label), Note: metricNote(m), Width: 11.5,
		Cell: func(x *row) any { return m.Unit.FromSI(x.values[at]) }, Look: func(x *row) look {
			if x != nil && x.beyond(m) {
				return look{Number: `"≥ "` + numberFormat(most)}
			}
			return look{Number: numberFormat(most)}
		}, Beyond: func(x *row) bool { return x.beyond(m) }}
}

// metricNote is what a head says of a metric when pointed at.
func metricNote(m *model.Metric) string {
	return m.Meaning + "\n" + m.FormulaText() + "\n" + m.Better.String() + "\nSource: " + m.Source
}

// designColumns are those of inputs and metrics: first what answers the study,
// which is printed, then all others that some design has.
func designColumns(r *Run, rows []row) (first, rest []column) {
	seen := map[string]bool{}
	for _, n := range inputs {
		if n.AxisDef == sweep.Chord || n.AxisDef == sweep.Payload && !r.swept(sweep.Payload) {
			continue
		}
		seen[n.Name] = true
		first = append(first, inputColumn(n))
	}
	for _, m := range headline {
		seen[m.Name] = true
		c := metricColumn(m, rows)
		c.Shade = m.Better == model.Higher
		first = append(first, c)
	}
	for _, n := range inputs {
		if !seen[n.Name] {
			rest = append(rest, inputColumn(n))
		}
	}
	ranks := func(m *model.Metric) bool {
		return slices.ContainsFunc(r.Study.Merit, func(t sweep.Term) bool { return t.Metric == m })
	}
	for _, m := range swept() {
		if !seen[m.Name] && (known(m, rows) || ranks(m)) {
			rest = append(rest, metricColumn(m, rows))
		}
	}
	return first, append(rest,
		column{Head: "Index in the grid", Note: "the design's number in the grid's order, from 0", Width: 12,
			Cell: func(x *row) any { return x.Index }, Look: fixed(look{Number: "0"})},
		column{Head: "Warnings", Note: "in what the design lies outside the model's validity", Width: 90, Words: true,
			Cell: func(x *row) any { return warningsText(x) }, Look: fixed(look{})})
}

// rankLook marks the designs outside the model's validity.
func rankLook(x *row) look {
	if x.marked() {
		return look{Number: `0"*"`}
	}
	return look{Number: "0"}
}

// table writes a table. What is not a cell must be set before the stream
// begins, the table object before it ends.
func (b *book) table(t *table) {
	sheet := t.Sheet
	b.do(b.f.SetSheetView(sheet, 0, &excelize.ViewOptions{ShowGridLines: new(false)}))
	lines := 1
	for k, c := range t.Columns {
		b.do(b.f.SetColWidth(sheet, columnName(k+1), columnName(k+1), c.Width))
		lines = max(lines, wrappedLines(c.Head, c.Width, true))
	}
	if n := len(t.Rows); n > 0 {
		if t.Charts == nil {
			b.do(b.f.SetPanes(sheet, &excelize.Panes{Freeze: true, XSplit: t.Frozen, YSplit: t.Head,
				TopLeftCell: cellName(t.Frozen+1, t.Head+1), ActivePane: "bottomRight"}))
		}
		printed := n
		if t.First > 0 {
			printed = min(n, t.First)
		}
		b.print(sheet, area(t.Printed, t.Head+printed), repeated(t.Head))
		for k, c := range t.Columns {
			b.comment(sheet, cellName(k+1, t.Head), c.Note)
			cells := cellName(k+1, t.Head+1) + ":" + cellName(k+1, t.last())
			if c.Shade && n > 1 {
				b.do(b.f.SetConditionalFormat(sheet, cells, []excelize.ConditionalFormatOptions{{Type: "2_color_scale", Criteria: "=",
					MinType: "min", MaxType: "max", MinColor: "#FFFFFF", MaxColor: "#" + high}}))
			}
			if c.Bar {
				b.do(b.f.SetConditionalFormat(sheet, cells, []excelize.ConditionalFormatOptions{{Type: "data_bar", Criteria: "=",
					MinType: "num", MinValue: "0", MaxType: "num", MaxValue: "1", BarColor: "#" + high}}))
			}
		}
		if t.Charts != nil {
			t.Charts()
		}
	} else {
		b.print(sheet, area(t.Printed, t.Head))
	}
	w, err := b.f.NewStreamWriter(sheet)
	if b.do(err); b.err != nil {
		return
	}
	put := func(r int, height float64, cells ...any) {
		b.do(w.SetRow("A"+strconv.Itoa(r), cells, excelize.RowOpts{Height: height}))
	}
	put(1, 24, b.cell(t.Title, title))
	for i, text := range strings.Split(t.Note, "\n") {
		put(2+i, rowHeight, b.cell(text, look{Colour: quiet}))
	}
	if len(t.Rows) == 0 {
		b.do(w.Flush())
		return
	}
	heads := make([]any, len(t.Columns))
	for k, c := range t.Columns {
		l := heading
		if !c.Words {
			l.Align = "right"
		}
		heads[k] = b.cell(c.Head, l)
	}
	put(t.Head, float64(lines)*rowHeight+4, heads...)
	cells := make([]any, len(t.Columns))
	for j := range t.Rows {
		x, at := &t.Rows[j], t.Head+1+j
		for k := range t.Columns {
			c := &t.Columns[k]
			l := ruled(c.Look(x))
			if l.Bold {
				l.Colour = accent
			}
			if c.Live != nil {
				cells[k] = b.cell(c.Live(x, at), l)
			} else {
				cells[k] = b.cell(c.Cell(x), l)
			}
		}
		if b.err != nil {
			return
		}
		put(at, rowHeight+1, cells...)
	}
	b.do(w.AddTable(&excelize.Table{Range: cellName(1, t.Head) + ":" + cellName(len(t.Columns), t.last()),
		Name: t.Object, ShowRowStripes: new(false)}))
	b.do(w.Flush())
}

// comment says what a head means when it is pointed at.
func (b *book) comment(sheet, cell, text string) {
	b.do(b.f.AddComment(sheet, excelize.Comment{Cell: cell, Author: "rotorsieve",
		Paragraph: []excelize.RichTextRun{{Text: text}}, Width: 340, Height: uint(24 + 18*len(wrap(text, 50)) + 14*strings.Count(text, "\n"))}))
}
