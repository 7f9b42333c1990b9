package xlsx

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"github.com/xuri/excelize/v2"

	"rotorsieve/report/chart"
	"rotorsieve/report/texts"
)

// Page is a sheet that is laid out from the top down and written at its end: what
// stands beside the cells must be there before a stream of cells begins.
type Page struct {
	*Book
	Name    string
	Widths  []float64 // of the columns, in characters
	Printed int       // columns of a printed page; where there are more, they go on to the next
	Close   bool      // lines stand closer, so that a page has more
	Titles  int       // columns that each further page across repeats
	group   int       // columns that stay on one page
	Rows    []pageRow
	merged  [][2]string
	beside  []func() // places what floats above the cells, once their sizes are known
	Row     int      // being laid out, from 1
	Broken  int      // rows before the printed page begun
	printed [][2]int // stretches of rows, first and last, that are printed
	from    int      // first row of the one begun, 0 where what is laid out is not printed
	lines   float64  // that the row needs
}

type pageRow struct {
	height float64 // points; 0 for the usual
	Cells  []any   // nil where there is none
}

// RowHeight is that of one line of text, in points, closeHeight that of one where lines stand close.
const (
	RowHeight   = 13.5
	closeHeight = 12.5
)

// rowPixels is the height of a row without one, in pixels of the screen.
const rowPixels = 20

// Sizes of type in points: that of cells, and the least that is read in print.
const (
	usualSize = 10
	leastSize = 7
)

// indentWidth is that of a step of indent, in digits of the default font.
const indentWidth = 1.5

// NewPage lays out a sheet's columns.
func (b *Book) NewPage(name string, widths ...float64) *Page {
	b.Do(b.F.SetSheetView(name, 0, &excelize.ViewOptions{ShowGridLines: new(false)}))
	p := &Page{Book: b, Name: name, Widths: slices.Clone(widths), Titles: 1, group: 1, Row: 1, from: 1}
	for p.Printed < len(widths) && Legible(widths[:p.Printed+1]) {
		p.Printed++
	}
	return p
}

// Groups has the columns after the first so many stay together in groups, where they
// go on to further pages, each of which repeats the titles.
func (p *Page) Groups(titles, first, group int) {
	p.Titles, p.group = titles, group
	if p.Printed < len(p.Widths) {
		p.Printed = first + (p.Printed-first)/group*group
	}
}

// across breaks a page that is wider than the paper into several.
func (p *Page) across() {
	for col, from := p.Printed, 0; col < len(p.Widths); col += from {
		p.Do(p.F.InsertPageBreak(p.Name, CellName(col+1, 1)))
		for from = p.group; col+from+p.group <= len(p.Widths); from += p.group {
			next := slices.Concat(p.Widths[:p.Titles], p.Widths[col:col+from+p.group])
			if fitted(next) < p.Scale() {
				break
			}
		}
	}
}

// fitted is the scale in per cent at which columns fill the width of the paper.
func fitted(widths []float64) uint {
	pixels := 0.0
	for _, w := range widths {
		pixels += ColumnPixels(w)
	}
	return uint(math.Min(100, 98*PaperWidth/pixels)) // 2 % for the letters of other programs
}

// at gives the cell of a column in the row.
func (p *Page) at(col int) *any {
	for len(p.Rows) < p.Row {
		p.Rows = append(p.Rows, pageRow{})
	}
	r := &p.Rows[p.Row-1]
	for len(r.Cells) < col {
		r.Cells = append(r.Cells, nil)
	}
	return &r.Cells[col-1]
}

// Put writes a cell of the row.
func (p *Page) Put(col int, v any, l Look) {
	*p.at(col) = p.Cell(v, l)
	if s, ok := v.(string); ok {
		p.need(s, p.Widths[col-1], l)
	}
}

// Wide writes text across columns.
func (p *Page) Wide(from, to int, text string, l Look) {
	for col := from; col <= to; col++ {
		*p.at(col) = p.Cell("", l)
	}
	*p.at(from) = p.Cell(text, l)
	width := 0.0
	for _, w := range p.Widths[from-1 : to] {
		width += w
	}
	if from != to {
		p.merged = append(p.merged, [2]string{CellName(from, p.Row), CellName(to, p.Row)})
	}
	p.need(text, width, l)
}

// WideLive writes a formula across columns.
func (p *Page) WideLive(from, to int, v Live, l Look) {
	text, _ := v.Value.(string)
	p.Wide(from, to, text, l)
	*p.at(from) = p.Cell(v, l)
}

// need makes the row high enough for a text in a width.
func (p *Page) need(text string, width float64, l Look) {
	size := 1.0
	if l.size > 0 {
		size = l.size / usualSize
	}
	lines := 1.0
	if l.Wrap {
		lines = float64(WrappedLines(text, (width-indentWidth*float64(l.Indent))/size, l.Bold))
	}
	p.lines = math.Max(p.lines, lines*size)
}

// ColumnPixels is the width of a column in pixels of the screen: a digit of the
// default font, 11 points, has 8, and a little more where a program does not round.
func ColumnPixels(width float64) float64 { return 8.2 * width }

// Measure is the height that rows would take, in points, which are not kept. They link and break nothing.
func (p *Page) Measure(layout func()) float64 {
	was, rows := *p, len(p.Rows)
	layout()
	height := p.Height(was.Row-1, p.Row-1)
	*p = was
	p.Rows = p.Rows[:rows]
	return height
}

// Next ends the row.
func (p *Page) Next() {
	p.at(1)
	if p.lines > 0 {
		line, apart := RowHeight, 1.5
		if p.Close {
			line, apart = closeHeight, 0.5
		}
		p.Rows[p.Row-1].height = math.Min(p.lines*line+apart, 400)
	}
	p.Row++
	p.lines = 0
}

// Gap leaves a little room.
func (p *Page) Gap() {
	p.at(1)
	p.Rows[p.Row-1].height = RowHeight / 2
	p.Row++
}

// Link makes a cell of the row lead to the top of a sheet.
func (p *Page) Link(col int, sheet string) {
	p.Do(p.F.SetCellHyperLink(p.Name, CellName(col, p.Row), "'"+sheet+"'!A1", "Location"))
}

// BreakBefore starts a printed page at the row.
func (p *Page) BreakBefore() {
	p.Do(p.F.InsertPageBreak(p.Name, "A"+strconv.Itoa(p.Row)))
	p.Broken = p.Row - 1
}

// End writes the page. The rows named by repeat are printed at the top of each
// page, "" for none, and the first columns at the left of those further across. A page with a long table alone is
// fitted to the paper; page breaks do not hold there, so that one with breaks is scaled to the width
// instead.
func (p *Page) End(repeat string) {
	var repeats []string
	across := p.Printed < len(p.Widths)
	if across {
		p.across()
		repeats = append(repeats, fmt.Sprintf("$A:$%s", ColumnName(p.Titles)))
	}
	if repeat != "" {
		repeats = append(repeats, repeat)
	}
	p.Aside()
	p.Print(p.Name, Areas(p.Name, len(p.Widths), p.printed), repeats...)
	if repeat == "" || p.Broken > 0 || across {
		scale := p.Scale()
		p.Do(p.F.SetSheetProps(p.Name, &excelize.SheetPropsOptions{FitToPage: new(false)}))
		p.Do(p.F.SetPageLayout(p.Name, &excelize.PageLayoutOptions{AdjustTo: &scale}))
	}
	for i, width := range p.Widths {
		name := ColumnName(i + 1)
		p.Do(p.F.SetColWidth(p.Name, name, name, width))
	}
	for i, r := range p.Rows {
		if r.height > 0 {
			p.Do(p.F.SetRowHeight(p.Name, i+1, r.height))
		}
	}
	for _, place := range p.beside {
		place()
	}
	w, err := p.F.NewStreamWriter(p.Name)
	if p.Do(err); p.Err != nil {
		return
	}
	for i, r := range p.Rows {
		if len(r.Cells) > 0 {
			p.Do(w.SetRow(CellName(1, i+1), r.Cells, excelize.RowOpts{Height: r.height}))
		}
	}
	for _, m := range p.merged {
		p.Do(w.MergeCell(m[0], m[1]))
	}
	p.Do(w.Flush())
}

// Marked says that a run is unfinished, where it is.
func (p *Page) Marked() {
	if p.Mark != "" {
		p.Wide(1, p.Printed, p.Mark, Alarm)
		p.Next()
	}
}

// Head writes the heads of a table, one a column from the first, those of
// numbers aligned right as the numbers are; one of words before empty heads is written
// over their columns as well.
func (p *Page) Head(heads []string, numbers ...int) {
	p.spread(heads, numbers)
	for i, h := range heads {
		l := Heading
		switch {
		case slices.Contains(numbers, i+1):
			l.Align = "right"
		case slices.Contains(numbers, i):
			l.Indent = 1 // apart from the numbers before
		}
		if h == "" && i > 0 {
			continue
		}
		last := i + 1
		for last < len(heads) && heads[last] == "" {
			last++
		}
		if l.Align == "right" && last > i+1 {
			p.Put(i+1, h, l)
			p.Wide(i+2, last, "", Heading)
			continue
		}
		p.Wide(i+1, last, h, l)
	}
	p.Next()
}

// Picture places a figure at the row, within a size in pixels of the screen, and
// goes on beneath it.
func (p *Page) Picture(f *chart.Picture, width, height float64) { p.PictureAt(1, f, width, height) }

// PictureBeside is Picture with a note to its right, on rows of their own, so that it takes no height.
func (p *Page) PictureBeside(f *chart.Picture, width, height float64, note string) {
	const apart = 24 // pixels
	start := p.Row
	p.Picture(f, width, height)
	end := p.Row
	col, left := 1, 0.0
	for scale := math.Min(width/float64(f.Width), height/float64(f.Height)); col < p.Printed &&
		left < scale*float64(f.Width)+apart; col++ {
		left += ColumnPixels(p.Widths[col-1])
	}
	room := 0.0
	for _, w := range p.Widths[col-1 : p.Printed] {
		room += w
	}
	p.Row = start
	for _, line := range texts.Wrap(note, max(20, int(1.15*room))) {
		p.Wide(col, p.Printed, line, Note)
		p.Next()
	}
	p.Row = max(p.Row, end)
}

// PictureAt is Picture from a column on.
func (p *Page) PictureAt(col int, f *chart.Picture, width, height float64) {
	scale := math.Min(width/float64(f.Width), height/float64(f.Height))
	at := CellName(col, p.Row)
	p.beside = append(p.beside, func() {
		p.Do(p.F.AddPictureFromBytes(p.Name, at, &excelize.Picture{
			Extension: ".png", File: f.PNG,
			Format: &excelize.GraphicOptions{AltText: f.Title + ". " + f.Caption, Name: f.Name, ScaleX: scale,
				ScaleY:          scale,
				LockAspectRatio: true, Positioning: "oneCell"}}))
	})
	p.Row += int(math.Ceil(scale*float64(f.Height)/rowPixels)) + 1
}
