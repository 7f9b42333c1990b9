package xlsx

import (
	"strconv"

	"github.com/xuri/excelize/v2"
)

const margin = 0.45 // of a printed page at the sides, in

// Sizes of what is printed of A4 across.
const (
	PaperWidth  = 297/25.4*96 - 2*margin*96 // pixels of the screen
	paperHeight = 210/25.4*72 - 1.3*72      // points
)

// Scale is that of a printed page, in per cent: it fits the columns into the
// width.
func (p *Page) Scale() uint { return fitted(p.Widths[:p.Printed]) }

// Paper is the room for a picture with its caption on a printed page, in pixels of
// the screen, with a margin for programs whose columns are narrower.
func (p *Page) Paper() (width, height float64) {
	for _, w := range p.Widths[:p.Printed] {
		width += ColumnPixels(w)
	}
	return 0.92 * width, 0.88 * paperHeight * 96 / 72 * 100 / float64(p.Scale())
}

// PaperLeft is the height that is left for a picture on the printed page begun, in pixels of the
// screen.
func (p *Page) PaperLeft() float64 {
	used, room := p.Used()
	return 0.97 * (room - used - 2*usualHeight) * 96 / 72 // whole rows
}

// Height is that of rows, in points.
func (p *Page) Height(from, to int) float64 {
	sum := 0.0
	for i := from; i < to; i++ {
		if i < len(p.Rows) && p.Rows[i].height > 0 {
			sum += p.Rows[i].height
		} else {
			sum += usualHeight
		}
	}
	return sum
}

// usualHeight is that of a row without one, in points.
const usualHeight = 15

// Lines is the height of so many rows of one line, in points.
func Lines(n int) float64 { return usualHeight * float64(n) }

// Keep starts a printed page where the next rows, so many of one line, would not
// fit on the one begun, and says whether it did.
func (p *Page) Keep(rows int) bool {
	used, room := p.Used()
	if used == 0 || used+usualHeight*float64(rows) <= room {
		return false
	}
	p.BreakBefore()
	return true
}

// Block lays out rows that are to stay on one printed page: it starts one where
// they do not fit on the one begun, beneath so many points that each page repeats.
func (p *Page) Block(repeated float64, layout func()) {
	start := p.Row
	used, room := p.Used()
	layout()
	if used > 0 && used+repeated+p.Height(start-1, p.Row-1) > room {
		p.Do(p.F.InsertPageBreak(p.Name, "A"+strconv.Itoa(start)))
		p.Broken = start - 1
	}
}

// Used is how much of the printed page's room the rows take, in points.
func (p *Page) Used() (used, room float64) {
	room = 100 * paperHeight / float64(p.Scale())
	for i := p.Broken; i < p.Row-1; i++ {
		h := p.Height(i, i+1)
		if used += h; used > room { // a page that ended by itself
			used = h
		}
	}
	return used, room
}

// Continued repeats the heads of a long table where its next row, of up to so
// many lines, begins a printed page.
func (p *Page) Continued(lines int, heads []string) {
	if p.Keep(lines) {
		p.Head(heads)
	}
}

// Aside leaves what follows on the sheet without being printed.
func (p *Page) Aside() {
	if p.from > 0 {
		p.printed = append(p.printed, [2]int{p.from, max(p.from, p.Row-1)})
		p.from = 0
	}
}

// Again prints what follows, from the head of a page.
func (p *Page) Again() { p.from, p.Broken = p.Row, p.Row-1 }

// Beneath says what is on the sheet below, where it is not printed, and leaves that aside.
func (p *Page) Beneath(what string) {
	p.Gap()
	p.Wide(1, p.Printed, "Beneath on the sheet, not printed: "+what+".", Note)
	p.Next()
	p.Aside()
	p.Gap()
}

// Freeze keeps the first columns and rows in sight while the sheet is scrolled.
func (p *Page) Freeze(columns, rows int) { p.Book.Freeze(p.Name, columns, rows) }

// Freeze keeps the first columns and rows of a sheet in sight while it is scrolled.
func (b *Book) Freeze(sheet string, columns, rows int) {
	pane := "bottomRight"
	switch {
	case rows == 0:
		pane = "topRight"
	case columns == 0:
		pane = "bottomLeft"
	}
	b.Do(b.F.SetPanes(sheet, &excelize.Panes{Freeze: true, XSplit: columns, YSplit: rows,
		TopLeftCell: CellName(columns+1, rows+1), ActivePane: pane}))
}
