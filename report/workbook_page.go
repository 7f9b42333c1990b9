package report

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"
)

// page is a sheet that is laid out from the top down and written at its end: what
// stands beside the cells must be there before a stream of cells begins.
type page struct {
	*book
	Name    string
	widths  []float64 // of the columns, in characters
	printed int       // columns of a printed page; where there are more, they go on to the next
	titles  int       // columns that each further page across repeats
	group   int       // columns that stay on one page
	rows    []pageRow
	merged  [][2]string
	beside  []func() // places what floats above the cells, once their sizes are known
	row     int      // being laid out, from 1
	broken  int      // rows before the printed page begun
	lines   float64  // that the row needs
}

type pageRow struct {
	height float64 // points; 0 for the usual
	cells  []any   // nil where there is none
}

// rowHeight is that of one line of text, in points.
const rowHeight = 13.5

// rowPixels is the height of a row without one, in pixels of the screen.
const rowPixels = 20

// Sizes of type in points: that of cells, and the least that is read in print.
const (
	usualSize = 10
	leastSize = 7
)

// newPage lays out a sheet's columns.
func (b *book) newPage(name string, widths ...float64) *page {
	b.do(b.f.SetSheetView(name, 0, &excelize.ViewOptions{ShowGridLines: new(false)}))
	p := &page{book: b, Name: name, widths: widths, titles: 1, group: 1, row: 1}
	for p.printed < len(widths) && 100*leastSize/usualSize <= fitted(widths[:p.printed+1]) {
		p.printed++
	}
	return p
}

// groups has the columns after the first so many stay together in groups, where they
// go on to further pages, each of which repeats the titles.
func (p *page) groups(titles, first, group int) {
	p.titles, p.group = titles, group
	if p.printed < len(p.widths) {
		p.printed = first + (p.printed-first)/group*group
	}
}

// across breaks a page that is wider than the paper into several.
func (p *page) across() {
	for col, from := p.printed, 0; col < len(p.widths); col += from {
		p.do(p.f.InsertPageBreak(p.Name, cellName(col+1, 1)))
		for from = p.group; col+from+p.group <= len(p.widths); from += p.group {
			next := slices.Concat(p.widths[:p.titles], p.widths[col:col+from+p.group])
			if fitted(next) < p.scale() {
				break
			}
		}
	}
}

// fitted is the scale in per cent at which columns fill the width of the paper.
func fitted(widths []float64) uint {
	pixels := 0.0
	for _, w := range widths {
		pixels += columnPixels(w)
	}
	return uint(math.Min(100, 98*paperWidth/pixels)) // 2 % for the letters of other programs
}

// at gives the cell of a column in the row.
func (p *page) at(col int) *any {
	for len(p.rows) < p.row {
		p.rows = append(p.rows, pageRow{})
	}
	r := &p.rows[p.row-1]
	for len(r.cells) < col {
		r.cells = append(r.cells, nil)
	}
	return &r.cells[col-1]
}

// put writes a cell of the row.
func (p *page) put(col int, v any, l look) {
	*p.at(col) = p.cell(v, l)
	if s, ok := v.(string); ok {
		p.need(s, p.widths[col-1], l)
	}
}

// wide writes text across columns.
func (p *page) wide(from, to int, text string, l look) {
	for col := from; col <= to; col++ {
		*p.at(col) = p.cell("", l)
	}
	*p.at(from) = p.cell(text, l)
	width := 0.0
	for _, w := range p.widths[from-1 : to] {
		width += w
	}
	if from != to {
		p.merged = append(p.merged, [2]string{cellName(from, p.row), cellName(to, p.row)})
	}
	p.need(text, width, l)
}

// wideLive writes a formula across columns.
func (p *page) wideLive(from, to int, v live, l look) {
	text, _ := v.value.(string)
	p.wide(from, to, text, l)
	*p.at(from) = p.cell(v, l)
}

// need makes the row high enough for a text in a width.
func (p *page) need(text string, width float64, l look) {
	size := 1.0
	if l.Size > 0 {
		size = l.Size / usualSize
	}
	lines := 1.0
	if l.Wrap {
		lines = float64(wrappedLines(text, width/size, l.Bold))
	}
	p.lines = math.Max(p.lines, lines*size)
}

// columnPixels is the width of a column in pixels of the screen: a digit of the
// default font, 11 points, has 8, and a little more where a program does not round.
func columnPixels(width float64) float64 { return 8.2 * width }

// wrappedLines estimates how many lines a text takes in a column of a width in
// digits of the default font, with a margin for the letters of other programs.
func wrappedLines(text string, width float64, bold bool) int {
	perLine := width * 1.3
	if bold {
		perLine = width * 1.15
	}
	n := 0
	for _, l := range wrap(text, max(1, int(perLine))) {
		n += max(1, int(math.Ceil(float64(utf8.RuneCountInString(l))/perLine)))
	}
	return n
}

// next ends the row.
func (p *page) next() {
	p.at(1)
	if p.lines > 0 {
		p.rows[p.row-1].height = math.Min(p.lines*rowHeight+1.5, 400)
	}
	p.row++
	p.lines = 0
}

// gap leaves a little room.
func (p *page) gap() {
	p.at(1)
	p.rows[p.row-1].height = rowHeight / 2
	p.row++
}

// link makes a cell of the row lead to the top of a sheet.
func (p *page) link(col int, sheet string) {
	p.do(p.f.SetCellHyperLink(p.Name, cellName(col, p.row), "'"+sheet+"'!A1", "Location"))
}

// breakBefore starts a printed page at the row.
func (p *page) breakBefore() {
	p.do(p.f.InsertPageBreak(p.Name, "A"+strconv.Itoa(p.row)))
	p.broken = p.row - 1
}

// end writes the page. The rows named by repeat are printed at the top of each
// page, "" for none, and the first columns at the left of those further across. A page with a long table alone is fitted to the paper;
// page breaks do not hold there, so that one with breaks is scaled to the width
// instead.
func (p *page) end(repeat string) {
	var repeats []string
	across := p.printed < len(p.widths)
	if across {
		p.across()
		repeats = append(repeats, fmt.Sprintf("$A:$%s", columnName(p.titles)))
	}
	if repeat != "" {
		repeats = append(repeats, repeat)
	}
	p.print(p.Name, area(len(p.widths), max(1, p.row-1)), repeats...)
	if repeat == "" || p.broken > 0 || across {
		scale := p.scale()
		p.do(p.f.SetSheetProps(p.Name, &excelize.SheetPropsOptions{FitToPage: new(false)}))
		p.do(p.f.SetPageLayout(p.Name, &excelize.PageLayoutOptions{AdjustTo: &scale}))
	}
	for i, width := range p.widths {
		name := columnName(i + 1)
		p.do(p.f.SetColWidth(p.Name, name, name, width))
	}
	for i, r := range p.rows {
		if r.height > 0 {
			p.do(p.f.SetRowHeight(p.Name, i+1, r.height))
		}
	}
	for _, place := range p.beside {
		place()
	}
	w, err := p.f.NewStreamWriter(p.Name)
	if p.do(err); p.err != nil {
		return
	}
	for i, r := range p.rows {
		if len(r.cells) > 0 {
			p.do(w.SetRow(cellName(1, i+1), r.cells, excelize.RowOpts{Height: r.height}))
		}
	}
	for _, m := range p.merged {
		p.do(w.MergeCell(m[0], m[1]))
	}
	p.do(w.Flush())
}

// marked says that a run is unfinished, where it is.
func (p *page) marked() {
	if p.mark != "" {
		p.wide(1, p.printed, p.mark, alarm)
		p.next()
	}
}

// headColumns writes the heads of a table of designs after those that come first.
func (p *page) headColumns(columns []answer, first ...string) {
	heads := first
	var numbers []int
	for _, c := range columns {
		heads = append(heads, c.Head)
		if c.Number != "" {
			numbers = append(numbers, len(heads))
		}
	}
	p.head(heads, numbers...)
}

// head writes the heads of a table, one a column from the first, those of
// numbers aligned right as the numbers are; one before empty heads is written over
// their columns as well.
func (p *page) head(heads []string, numbers ...int) {
	for i, h := range heads {
		l := heading
		switch {
		case slices.Contains(numbers, i+1):
			l.Align = "right"
		case slices.Contains(numbers, i):
			l.Indent = 1 // apart from the numbers before
		}
		last := i + 1
		for last < len(heads) && heads[last] == "" {
			last++
		}
		if h != "" || i == 0 {
			p.wide(i+1, last, h, l)
		}
	}
	p.next()
}

// picture places a figure at the row, within a size in pixels of the screen, and
// goes on beneath it.
func (p *page) picture(f *Figure, width, height float64) {
	scale := math.Min(width/float64(f.Width), height/float64(f.Height))
	at := cellName(1, p.row)
	p.beside = append(p.beside, func() {
		p.do(p.f.AddPictureFromBytes(p.Name, at, &excelize.Picture{
			Extension: ".png", File: f.PNG,
			Format: &excelize.GraphicOptions{AltText: f.Title + ". " + f.Caption, Name: f.Name, ScaleX: scale, ScaleY: scale,
				LockAspectRatio: true, Positioning: "oneCell"}}))
	})
	p.row += int(math.Ceil(scale*float64(f.Height)/rowPixels)) + 1
}
