package report

import (
	"math"
	"slices"
)

// Largest size of a picture on a printed page, in pixels of the screen.
const (
	pictureWidth  = 1150
	pictureHeight = 730
)

// mainFigure is the chart of size, or the first there is.
func (b *review) mainFigure() *Figure {
	for i := range b.figures {
		if b.figures[i].Name == "figures/size.png" {
			return &b.figures[i]
		}
	}
	if len(b.figures) > 0 {
		return &b.figures[0]
	}
	return nil
}

// illustrate places a figure with its caption on what is left of the printed page
// where that is most of it, and on a page of its own elsewhere.
func (p *page) illustrate(f *Figure) {
	width, height := p.paper()
	const most = 0.7
	if used, room := p.used(); used < (1-most)*room {
		p.gap()
		height *= 1 - used/room - 0.02
	} else {
		p.breakBefore()
	}
	p.picture(f, width, height)
	p.wide(1, len(p.widths), f.Caption, note)
	p.next()
}

// newFiguresPage lays out the columns under the pictures.
func (b *book) newFiguresPage() *page {
	return b.newPage(figuresSheet, slices.Repeat([]float64{13.3}, 11)...)
}

// figurePages is the sheet of pictures, one a printed page.
func (b *book) figurePages(figures []Figure) {
	p := b.newFiguresPage()
	last := len(p.widths)
	for i := range figures {
		f := &figures[i]
		if i > 0 {
			p.breakBefore()
		}
		p.picture(f, pictureWidth, pictureHeight)
		p.wide(1, last, f.Caption+" File: "+f.Name, note)
		p.next()
		p.gap()
	}
	p.end("")
}

// printedScale is the size at which a picture of a width and height in points is
// printed, over its own.
func printedScale(width, height float64) float64 {
	page := newBook("", "", "").newFiguresPage()
	const pixels = 96.0 / 72 // of the screen in a point
	return float64(page.scale()) / 100 * math.Min(pictureWidth/(width*pixels), pictureHeight/(height*pixels))
}
