package report

import "strconv"

// Sizes of what is printed of A4 across.
const (
	paperWidth  = 297/25.4*96 - 2*margin*96 // pixels of the screen
	paperHeight = 210/25.4*72 - 1.3*72      // points
)

// scale is that of a printed page, in per cent: it fits the columns into the
// width.
func (p *page) scale() uint { return fitted(p.widths[:p.printed]) }

// paper is the room for a picture with its caption on a printed page, in pixels of
// the screen, with a margin for programs whose columns are narrower.
func (p *page) paper() (width, height float64) {
	for _, w := range p.widths[:p.printed] {
		width += columnPixels(w)
	}
	return 0.92 * width, 0.88 * paperHeight * 96 / 72 * 100 / float64(p.scale())
}

// height is that of rows, in points.
func (p *page) height(from, to int) float64 {
	sum := 0.0
	for i := from; i < to; i++ {
		if i < len(p.rows) && p.rows[i].height > 0 {
			sum += p.rows[i].height
		} else {
			sum += usualHeight
		}
	}
	return sum
}

// usualHeight is that of a row without one, in points.
const usualHeight = 15

// keep starts a printed page where the next rows, so many of one line, would not
// fit on the one begun, and says whether it did.
func (p *page) keep(rows int) bool {
	used, room := p.used()
	if used == 0 || used+usualHeight*float64(rows) <= room {
		return false
	}
	p.breakBefore()
	return true
}

// block lays out rows that are to stay on one printed page: it starts one where
// they do not fit on the one begun, beneath so many points that each page repeats.
func (p *page) block(repeated float64, layout func()) {
	start := p.row
	used, room := p.used()
	layout()
	if used > 0 && used+repeated+p.height(start-1, p.row-1) > room {
		p.do(p.f.InsertPageBreak(p.Name, "A"+strconv.Itoa(start)))
		p.broken = start - 1
	}
}

// used is how much of the printed page's room the rows take, in points.
func (p *page) used() (used, room float64) {
	room = 100 * paperHeight / float64(p.scale())
	for i := p.broken; i < p.row-1; i++ {
		h := p.height(i, i+1)
		if used += h; used > room { // a page that ended by itself
			used = h
		}
	}
	return used, room
}

// continued repeats the heads of a long table where its next row, of up to so
// many lines, begins a printed page.
func (p *page) continued(lines int, heads []string) {
	if p.keep(lines) {
		p.head(heads)
	}
}
