package sheet

import (
	"fmt"
	"image/color"
	"slices"
	"strings"

	"github.com/xuri/excelize/v2"

	"rotorsieve/report/chart"
	"rotorsieve/report/finding"
	"rotorsieve/report/sheet/xlsx"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
)

// colourCode writes a colour as a workbook names it: "17556B".
func colourCode(c color.Color) string {
	rgb := color.NRGBAModel.Convert(c).(color.NRGBA)
	return fmt.Sprintf("%02X%02X%02X", rgb.R, rgb.G, rgb.B)
}

// mostWeighed is of how many designs the masses stand side by side: of more the first of each class alone.
const mostWeighed = 4

// pickName names a design that a class is shown by.
func pickName(k *finding.Pick) string {
	name := words.ClassName(k.Class.Class)
	if k.Part != finding.BestPart {
		name += ", " + words.PartName(k.Part)
	}
	return name
}

// theShown names the designs that the classes are shown by.
func (b *review) theShown() string {
	if b.run.Decides() {
		return "the recommended builds"
	}
	return "the best designs"
}

// shownTitle heads a sheet on the designs that the classes are shown by: "What the best design of each
// class weighs".
func (b *review) shownTitle(before, after string) string {
	if b.run.Decides() {
		return texts.Upper(strings.TrimSpace(before + " the recommended build of each class" + after))
	}
	return texts.Upper(strings.TrimSpace(before + " the best design of each class" + after))
}

// masses is the sheet of what the designs weigh that the classes are shown by, part by part.
func (b *review) masses() {
	var best []finding.Pick
	all := len(finding.PicksOf(b.found)) <= mostWeighed
	for i := range b.found {
		picks := b.found[i].Picks()
		if !all {
			picks = picks[:min(1, len(picks))]
		}
		best = append(best, picks...)
	}
	widths := []float64{24}
	heads := []string{""}
	var numbers []int
	for n := range best {
		widths = append(widths, 14)
		heads = append(heads, pickName(&best[n]))
		numbers = append(numbers, len(heads))
	}
	const wording = 64
	p := b.NewPage(massesSheet, append(widths, wording)...)
	last := len(widths) + 1
	p.Wide(1, p.Printed, b.shownTitle("What", " weighs"), xlsx.Title)
	p.Next()
	p.Marked()
	p.Gap()
	section(p, "Mass (g)")
	p.Head(append(heads, "From"), numbers...)
	top := p.Row
	parts := words.Masses(best[0].Craft)
	for n, part := range parts {
		p.Put(1, part.Title, xlsx.Ruled(xlsx.Plain))
		var from []string // which boards of several kinds differ in
		for i, f := range best {
			own := words.Masses(f.Craft)[n]
			p.Put(2+i, finding.Gram.FromSI(own.Mass), xlsx.Ruled(xlsx.Look{Number: "0.0"}))
			if !slices.Contains(from, own.Formula) {
				from = append(from, own.Formula)
			}
		}
		p.Put(last, strings.Join(from, "; or "), xlsx.Ruled(xlsx.Look{Wrap: true, Indent: 1, Colour: xlsx.Quiet}))
		p.Next()
	}
	end := p.Row - 1
	total := xlsx.Ruled(xlsx.Look{Bold: true, Number: "0.0"})
	p.Put(1, "All-up weight", xlsx.Ruled(xlsx.Strong))
	for i, f := range best {
		col := xlsx.ColumnName(2 + i)
		p.Put(2+i, xlsx.Live{Formula: fmt.Sprintf("SUM(%s%d:%s%d)", col, top, col, end),
			Value: finding.Gram.FromSI(f.Craft.Mass)}, total)
	}
	p.Put(last, "", xlsx.Ruled(xlsx.Note))
	p.Next()
	p.Gap()

	section(p, "Share of the all-up weight (%)")
	p.Head(append(heads, ""), numbers...)
	for n, part := range parts {
		p.Put(1, part.Title, xlsx.Ruled(xlsx.Plain))
		for i, f := range best {
			col := xlsx.ColumnName(2 + i)
			c := f.Craft
			p.Put(2+i, xlsx.Live{Formula: fmt.Sprintf("100*%s%d/%s%d", col, top+n, col, end+1),
				Value: 100 * words.Masses(c)[n].Mass / c.Mass}, xlsx.Ruled(xlsx.Look{Number: "0.0"}))
		}
		p.Put(last, "", xlsx.Ruled(xlsx.Plain))
		p.Next()
	}
	p.Gap()

	p.Beneath("the build-up as a chart")
	section(p, "Build-up of the all-up weight")
	c := &excelize.Chart{Type: excelize.ColStacked, GapWidth: new(uint(60)), Overlap: new(100),
		XAxis: xlsx.ChartAxis("", "General"), YAxis: xlsx.ChartAxis("mass [g]", "0")}
	c.XAxis.Title.Paragraph, c.XAxis.MajorGridLines = nil, false
	sheet := xlsx.Quoted(massesSheet)
	for k, n := range words.Stacked(parts) {
		if !slices.ContainsFunc(best, func(f finding.Pick) bool { return words.Masses(f.Craft)[n].Mass > 0 }) {
			continue
		}
		c.Series = append(c.Series, excelize.ChartSeries{
			Name:       fmt.Sprintf("%s$A$%d", sheet, top+n),
			Categories: sheet + xlsx.Span(2, top-1, 1+len(best), top-1),
			Values:     sheet + xlsx.Span(2, top+n, 1+len(best), top+n),
			Fill: excelize.Fill{Type: "pattern", Pattern: 1,
				Color: []string{colourCode(chart.StackShade(k, len(words.StackOrder)))}},
		})
	}
	p.Chart(c, "masses", "Mass of each part of these designs, in g, stacked.",
		uint(400+min(120*len(best), 700)), 560)
	p.End("")
}
