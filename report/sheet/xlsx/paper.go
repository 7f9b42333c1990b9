package xlsx

import (
	"strconv"
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
