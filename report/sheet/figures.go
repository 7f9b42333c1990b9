package sheet

import (
	"context"
	"fmt"
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

// mainFigure is that of how sure the choice is, the chart of size where there is none, or
// the first there is.
func (b *review) mainFigure() *chart.Picture {
	for _, name := range [2]string{"figures/confidence.png", "figures/size.png"} {
		for i := range b.figures {
			if b.figures[i].Name == name {
				return &b.figures[i]
			}
		}
	}
	if len(b.figures) > 0 {
		return &b.figures[0]
	}
	return nil
}

// Least shares of a printed page that a figure takes: under what it illustrates, of many classes, whose
// panels stand side by side, and else.
const (
	leastBeside  = 0.55
	leastAbreast = 0.4
	leastAlone   = 0.6
)

// illustrate places a figure on what is left of the printed page where that is at least a share of
// it, with its caption beside it, and on a page of its own elsewhere, with the caption beneath.
func illustrate(p *xlsx.Page, f *chart.Picture, least float64, caption string) {
	width, height := p.Paper()
	switch used, room := p.Used(); {
	case used == 0:
	case used < (1-least)*room:
		p.Gap()
		p.PictureBeside(f, width, p.PaperLeft(), caption)
		return
	default:
		p.BreakBefore()
	}
	characters := 0.0
	for _, w := range p.Widths {
		characters += w
	}
	height -= lineHeight * float64(max(0, xlsx.WrappedLines(caption, characters, false)-1)) / 72 * 96
	p.Picture(f, width, height)
	p.Wide(1, len(p.Widths), caption, xlsx.Note)
	p.Next()
}

// figuresWidth is the width of the sheet of pictures in characters; a caption has lines of lineHeight in pixels of
// the screen, and those beyond usualLines are taken from the height of its picture.
const (
	figuresWidth = 146.3
	lineHeight   = 18
	usualLines   = 2
)

// newFiguresPage lays out the columns under the pictures.
func newFiguresPage(b *xlsx.Book) *xlsx.Page {
	return b.NewPage(figuresSheet, slices.Repeat([]float64{figuresWidth / 11}, 11)...)
}

// beneathHeight is what the note of those that are not printed takes, in pixels of the screen.
const beneathHeight = 70

// printedFigures is how many pictures are printed.
const printedFigures = 3

// figurePages is the sheet of pictures, one a printed page. One that has been printed, nil for none,
// comes last and is not printed again, nor are those after the first few.
func figurePages(b *xlsx.Book, figures []chart.Picture, main *chart.Picture) {
	p := newFiguresPage(b)
	last := len(p.Widths)
	var order []*chart.Picture
	for i := range figures {
		if f := &figures[i]; f != main {
			order = append(order, f)
		}
	}
	if main != nil {
		order = append(order, main)
	}
	for i, f := range order {
		switch {
		case i == printedFigures:
			p.Beneath(fmt.Sprintf("%d more, which are files beside this workbook as well", len(order)-i))
		case i > 0:
			p.BreakBefore()
		}
		height := float64(pictureHeight)
		if i == printedFigures-1 && i+1 < len(order) {
			height -= beneathHeight // its page has the note as well
		}
		caption := f.Caption + " File: " + f.Name
		height -= lineHeight * float64(max(0, xlsx.WrappedLines(caption, figuresWidth, false)-usualLines))
		p.Picture(f, pictureWidth, height)
		p.Wide(1, last, caption, xlsx.Note)
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
	fit := math.Min(pictureWidth/width, pictureHeight/height)
	return float64(page.Scale()) / 100 * fit / pixels
}
