package sheet

import (
	"context"
	"math"
	"slices"

	"rotorsieve/report/chart"
	"rotorsieve/report/sheet/xlsx"
)

// Largest size of a picture on a printed page, in pixels of the screen.
const (
	pictureWidth  = 1150
	pictureHeight = 730
)

// mainFigure is the chart of size, or the first there is.
func (b *review) mainFigure() *chart.Picture {
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
func illustrate(p *xlsx.Page, f *chart.Picture) {
	width, height := p.Paper()
	const most = 0.7
	if used, room := p.Used(); used < (1-most)*room {
		p.Gap()
		height *= 1 - used/room - 0.02
	} else {
		p.BreakBefore()
	}
	p.Picture(f, width, height)
	p.Wide(1, len(p.Widths), f.Caption, xlsx.Note)
	p.Next()
}

// newFiguresPage lays out the columns under the pictures.
func newFiguresPage(b *xlsx.Book) *xlsx.Page {
	return b.NewPage(figuresSheet, slices.Repeat([]float64{13.3}, 11)...)
}

// figurePages is the sheet of pictures, one a printed page.
func figurePages(b *xlsx.Book, figures []chart.Picture) {
	p := newFiguresPage(b)
	last := len(p.Widths)
	for i := range figures {
		f := &figures[i]
		if i > 0 {
			p.BreakBefore()
		}
		p.Picture(f, pictureWidth, pictureHeight)
		p.Wide(1, last, f.Caption+" File: "+f.Name, xlsx.Note)
		p.Next()
		p.Gap()
	}
	p.End("")
}

// PrintedScale is the size at which a picture of a width and height in points is
// printed, over its own.
func PrintedScale(width, height float64) float64 {
	page := newFiguresPage(xlsx.NewBook(context.Background(), "", "", "", ""))
	const pixels = 96.0 / 72 // of the screen in a point
	return float64(page.Scale()) / 100 * math.Min(pictureWidth/(width*pixels), pictureHeight/(height*pixels))
}
