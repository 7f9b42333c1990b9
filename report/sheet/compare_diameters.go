package sheet

import (
	"github.com/xuri/excelize/v2"

	"rotorsieve/report/finding"
	"rotorsieve/report/sheet/xlsx"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

// Sheets of a comparison, beside one a class.
const diametersSheet = "Diameters"

// diameters is the sheet of the best design of each diameter, with a chart of
// merit against diameter for each class.
func (b *comparisonBook) diameters() {
	widths := []float64{14, 13}
	heads := []string{"Class", finding.Headed(sweep.Diameter.Title, sweep.Diameter.Unit.Label)}
	numbers := []int{2}
	for range 2 {
		for range b.Runs {
			widths = append(widths, 12)
		}
	}
	hover := finding.Metric("hover-time")
	for _, f := range b.Runs {
		heads = append(heads, f.Name+": merit")
	}
	for _, f := range b.Runs {
		heads = append(heads, f.Name+": "+texts.Lower(finding.Headed(hover.Title, hover.Unit.Label)))
	}
	for n := range heads[2:] {
		numbers = append(numbers, n+3)
	}
	columns := len(widths)
	widths = append(widths, 2) // between table and chart
	for range chartColumns {
		widths = append(widths, chartColumn)
	}
	p := b.NewPage(diametersSheet, widths...)
	p.Titles = 2
	if p.Printed < len(widths) { // no room beside the tables
		p = b.NewPage(diametersSheet, widths[:columns]...)
		p.Titles = 2
	}
	beside := len(p.Widths) > columns
	p.Wide(1, p.Printed, "The best design of each diameter, run by run", xlsx.Title)
	p.Next()
	p.Wide(1, p.Printed, "By the merit of each run, and the hover time of the same design.", xlsx.Note)
	p.Next()
	p.Gap()
	for _, limit := range b.Limits() {
		diameters := b.ByDiameter(limit)
		if len(diameters) == 0 {
			continue
		}
		p.Block(0, func() {
			section(p, "Class "+words.ClassOf(b.Comparison, limit))
			top := p.Row
			p.Head(heads, numbers...)
			for _, d := range diameters {
				p.Put(1, b.label(limit), xlsx.Ruled(xlsx.Plain))
				p.Put(2, xlsx.Round10(sweep.Diameter.Unit.FromSI(d)), xlsx.Ruled(xlsx.Look{Bold: true}))
				for i, f := range b.Runs {
					var merit, time any
					if k := f.Class(limit); k != nil {
						for _, l := range k.Leaders {
							if l.Diameter != d {
								continue
							}
							merit = l.Merit
							if v, ok := l.Metrics[hover.Name]; ok {
								time = hover.Unit.FromSI(v)
							}
						}
					}
					p.Put(3+i, merit, xlsx.Ruled(xlsx.Look{Number: "0.0000"}))
					p.Put(3+len(b.Runs)+i, time, xlsx.Ruled(xlsx.Look{Number: "0.0"}))
				}
				p.Next()
			}
			if beside {
				b.diameterChart(p, xlsx.CellName(columns+2, top), limit, top, p.Row-1)
				p.Row = max(p.Row, top+xlsx.ChartHeight(chartPixels))
			} else {
				b.diameterChart(p, xlsx.CellName(1, p.Row), limit, top, p.Row-1)
				p.Row += xlsx.ChartHeight(chartPixels)
			}
		})
	}
	p.End("")
}

// The chart of a class stands beside its table, over columns of its own, or beneath
// where so many runs leave no room for it.
const (
	chartColumns = 5
	chartColumn  = 14 // characters
	chartPixels  = 340
)

// diameterChart draws merit against diameter, a line for each run, from the
// rows beneath a head.
func (b *comparisonBook) diameterChart(p *xlsx.Page, at string, limit float64, head, last int) {
	c := &excelize.Chart{Type: excelize.Scatter, XAxis: xlsx.ChartAxis(words.Bracketed(sweep.Diameter.Title,
		sweep.Diameter.Unit.Label), "General"), YAxis: xlsx.ChartAxis("Merit [-]", "0.0#")}
	sheet := xlsx.Quoted(p.Name)
	for i := range b.Runs {
		c.Series = append(c.Series, excelize.ChartSeries{
			Name:       sheet + xlsx.Span(3+i, head, 3+i, head),
			Categories: sheet + xlsx.Span(2, head+1, 2, last),
			Values:     sheet + xlsx.Span(3+i, head+1, 3+i, last),
			Fill:       excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{xlsx.SeriesColour(i)}},
			Line: excelize.LineOptions{Type: excelize.LineSolid, Width: 1.5,
				Dash: xlsx.LineDashes[i%len(xlsx.LineDashes)]},
			Marker: excelize.ChartMarker{Symbol: xlsx.SeriesMarkers[i%len(xlsx.SeriesMarkers)], Size: 6,
				Fill: excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{xlsx.SeriesColour(i)}}},
		})
	}
	p.ChartAt(at, c, "diameters "+b.label(limit),
		"Merit of the best design of each diameter within "+words.Mass(limit)+", a line for each run.",
		8*chartColumns*chartColumn, chartPixels)
}
