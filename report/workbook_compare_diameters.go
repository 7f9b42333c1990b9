package report

import (
	"github.com/xuri/excelize/v2"

	"rotorsieve/sweep"
)

// Sheets of a comparison, beside one a class.
const diametersSheet = "Diameters"

// diameters is the sheet of the best design of each diameter, with a chart of
// merit against diameter for each class.
func (b *comparisonBook) diameters() {
	widths := []float64{14, 13}
	heads := []string{"Class", headed(sweep.Diameter.Title, sweep.Diameter.Unit.Label)}
	numbers := []int{2}
	for range 2 {
		for range b.Runs {
			widths = append(widths, 12)
		}
	}
	hover := metric("hover-time")
	for _, f := range b.Runs {
		heads = append(heads, f.Name+": merit")
	}
	for _, f := range b.Runs {
		heads = append(heads, f.Name+": "+lower(headed(hover.Title, hover.Unit.Label)))
	}
	for n := range heads[2:] {
		numbers = append(numbers, n+3)
	}
	columns := len(widths)
	widths = append(widths, 2) // between table and chart
	for range chartColumns {
		widths = append(widths, chartColumn)
	}
	p := b.newPage(diametersSheet, widths...)
	p.titles = 2
	if p.printed < len(widths) { // no room beside the tables
		p = b.newPage(diametersSheet, widths[:columns]...)
		p.titles = 2
	}
	beside := len(p.widths) > columns
	p.wide(1, p.printed, "The best design of each diameter, run by run", title)
	p.next()
	p.wide(1, p.printed, "By the merit of each run, and the hover time of the same design.", note)
	p.next()
	p.gap()
	for _, limit := range b.limits() {
		diameters := b.byDiameter(limit)
		if len(diameters) == 0 {
			continue
		}
		p.block(0, func() {
			p.section("Class " + classOf(b.Comparison, limit))
			top := p.row
			p.head(heads, numbers...)
			for _, d := range diameters {
				p.put(1, b.label(limit), ruled(plain))
				p.put(2, round10(sweep.Diameter.Unit.FromSI(d)), ruled(look{Bold: true}))
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
					p.put(3+i, merit, ruled(look{Number: "0.0000"}))
					p.put(3+len(b.Runs)+i, time, ruled(look{Number: "0.0"}))
				}
				p.next()
			}
			if beside {
				b.diameterChart(p, cellName(columns+2, top), limit, top, p.row-1)
				p.row = max(p.row, top+chartHeight(chartPixels))
			} else {
				b.diameterChart(p, cellName(1, p.row), limit, top, p.row-1)
				p.row += chartHeight(chartPixels)
			}
		})
	}
	p.end("")
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
func (b *comparisonBook) diameterChart(p *page, at string, limit float64, head, last int) {
	c := &excelize.Chart{Type: excelize.Scatter, XAxis: chartAxis(bracketed(sweep.Diameter.Title, sweep.Diameter.Unit.Label), "General"), YAxis: chartAxis("Merit [-]", "0.0#")}
	sheet := quoted(p.Name)
	for i := range b.Runs {
		c.Series = append(c.Series, excelize.ChartSeries{
			Name:       sheet + span(3+i, head, 3+i, head),
			Categories: sheet + span(2, head+1, 2, last),
			Values:     sheet + span(3+i, head+1, 3+i, last),
			Fill:       excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{seriesColour(i)}},
			Line:       excelize.LineOptions{Type: excelize.LineSolid, Width: 1.5, Dash: lineDashes[i%len(lineDashes)]},
			Marker: excelize.ChartMarker{Symbol: seriesMarkers[i%len(seriesMarkers)], Size: 6,
				Fill: excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{seriesColour(i)}}},
		})
	}
	p.chartAt(at, c, "diameters "+b.label(limit),
		"Merit of the best design of each diameter within "+mass(limit)+", a line for each run.", 8*chartColumns*chartColumn, chartPixels)
}
