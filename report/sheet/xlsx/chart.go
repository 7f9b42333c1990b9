package xlsx

import (
	"math"

	"github.com/xuri/excelize/v2"
)

// Native charts, for what a reader wants to point at.

// seriesColours are the accent and others apart from it in lightness and hue, so that
// they differ without colour as well.
var seriesColours = []string{"17556B", "C9782B", "8FB8C4", "5B4A7D", "B9A44C", "7A7A7A", "3F8F6B", "A84A5B", "B7C9A8"}

// SeriesMarkers tell points of series apart, in their order.
var SeriesMarkers = []string{"circle", "triangle", "diamond", "square"}

// LineDashes tell lines of series apart, in their order.
var LineDashes = []excelize.LineDashType{excelize.LineDashSolid, excelize.LineDashDash, excelize.LineDashDot,
	excelize.LineDashSashDot}

// chartSize is the size of a chart's text in points, no smaller in print than that of
// the cells about it.
const chartSize = usualSize

// SeriesColour is that of the n-th series from 0, in hexadecimal; after the last comes the
// first again.
func SeriesColour(n int) string { return seriesColours[n%len(seriesColours)] }

func chartFont(size float64, bold bool) excelize.Font {
	return excelize.Font{Family: fontFamily, Size: size, Bold: bold, Color: ink}
}

func chartText(s string, size float64, bold bool) []excelize.RichTextRun {
	font := chartFont(size, bold)
	return []excelize.RichTextRun{{Text: s, Font: &font}}
}

// ChartAxis is an axis with a title.
func ChartAxis(title, number string) excelize.ChartAxis {
	return excelize.ChartAxis{MajorGridLines: true, Font: chartFont(chartSize, false),
		Title:  excelize.ChartTitle{Paragraph: chartText(title, chartSize, true)},
		NumFmt: excelize.ChartNumFmt{CustomNumFmt: number}}
}

// Chart places a chart of a size in pixels of the screen at a cell.
func (b *Book) Chart(sheet, cell, name, alt string, width, height uint, c *excelize.Chart) {
	c.Dimension = excelize.ChartDimension{Width: width, Height: height}
	c.Format = excelize.GraphicOptions{Name: name, AltText: alt, Positioning: "oneCell", PrintObject: new(true),
		Locked: new(false)}
	c.Legend = excelize.ChartLegend{Position: "bottom", Font: new(chartFont(chartSize, false))}
	c.ShowBlanksAs = "gap"
	b.Do(b.F.AddChart(sheet, cell, c))
}

// Chart places a chart at the row and goes on beneath it.
func (p *Page) Chart(c *excelize.Chart, name, alt string, width, height uint) {
	p.ChartAt(CellName(1, p.Row), c, name, alt, width, height)
	p.Row += ChartHeight(height)
}

// ChartAt places a chart at a cell.
func (p *Page) ChartAt(cell string, c *excelize.Chart, name, alt string, width, height uint) {
	p.beside = append(p.beside, func() { p.Book.Chart(p.Name, cell, name, alt, width, height, c) })
}

// ChartHeight is that of a chart in rows of the sheet, with room beneath.
func ChartHeight(pixels uint) int { return int(math.Ceil(float64(pixels)/rowPixels)) + 1 }
