package report

import (
	"fmt"
	"image/color"
	"slices"

	"github.com/xuri/excelize/v2"

	"rotorsieve/report/chart"
)

// colourCode writes a colour as a workbook names it: "17556B".
func colourCode(c color.Color) string {
	rgb := color.NRGBAModel.Convert(c).(color.NRGBA)
	return fmt.Sprintf("%02X%02X%02X", rgb.R, rgb.G, rgb.B)
}

// masses is the sheet of what the best designs weigh, part by part.
func (b *review) masses() {
	var best []*finding
	for i := range b.found {
		if b.found[i].Best() != nil {
			best = append(best, &b.found[i])
		}
	}
	widths := []float64{24}
	heads := []string{""}
	var numbers []int
	for _, f := range best {
		widths = append(widths, 14)
		heads = append(heads, className(f.Class))
		numbers = append(numbers, len(heads))
	}
	const words = 64
	p := b.newPage(massesSheet, append(widths, words)...)
	last := len(widths) + 1
	p.wide(1, p.printed, "What the best design of each class weighs", title)
	p.next()
	p.marked()
	p.gap()
	p.section("Mass (g)")
	p.head(append(heads, "From"), numbers...)
	top := p.row
	parts := masses(best[0].Best().Craft)
	for n, part := range parts {
		p.put(1, part.Title, ruled(plain))
		for i, f := range best {
			p.put(2+i, gram.FromSI(masses(f.Best().Craft)[n].Mass), ruled(look{Number: "0.0"}))
		}
		p.put(last, part.Formula, ruled(look{Wrap: true, Indent: 1, Colour: quiet}))
		p.next()
	}
	end := p.row - 1
	total := ruled(look{Bold: true, Number: "0.0"})
	p.put(1, "All-up weight", ruled(strong))
	for i, f := range best {
		col := columnName(2 + i)
		p.put(2+i, live{fmt.Sprintf("SUM(%s%d:%s%d)", col, top, col, end), gram.FromSI(f.Best().Craft.Mass)}, total)
	}
	p.put(last, "", ruled(note))
	p.next()
	p.gap()

	p.section("Share of the all-up weight (%)")
	p.head(append(heads, ""), numbers...)
	for n, part := range parts {
		p.put(1, part.Title, ruled(plain))
		for i, f := range best {
			col := columnName(2 + i)
			c := f.Best().Craft
			p.put(2+i, live{fmt.Sprintf("100*%s%d/%s%d", col, top+n, col, end+1), 100 * masses(c)[n].Mass / c.Mass}, ruled(look{Number: "0.0"}))
		}
		p.put(last, "", ruled(plain))
		p.next()
	}
	p.gap()

	p.breakBefore()
	p.section("Build-up of the all-up weight")
	c := &excelize.Chart{Type: excelize.ColStacked, GapWidth: new(uint(60)), Overlap: new(100),
		XAxis: chartAxis("", "General"), YAxis: chartAxis("mass [g]", "0")}
	c.XAxis.Title.Paragraph, c.XAxis.MajorGridLines = nil, false
	sheet := quoted(massesSheet)
	for k, n := range stacked(parts) {
		if !slices.ContainsFunc(best, func(f *finding) bool { return masses(f.Best().Craft)[n].Mass > 0 }) {
			continue
		}
		c.Series = append(c.Series, excelize.ChartSeries{
			Name:       fmt.Sprintf("%s$A$%d", sheet, top+n),
			Categories: sheet + span(2, top-1, 1+len(best), top-1),
			Values:     sheet + span(2, top+n, 1+len(best), top+n),
			Fill:       excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{colourCode(chart.StackShade(k, len(stackOrder)))}},
		})
	}
	p.chart(c, "masses", "Mass of each part of the best design of each class, in g, stacked.", uint(400+min(120*len(best), 700)), 560)
	p.end("")
}
