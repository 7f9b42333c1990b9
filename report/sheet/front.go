package sheet

import (
	"fmt"
	"math"

	"github.com/xuri/excelize/v2"

	"rotorsieve/model"
	"rotorsieve/report/chart"
	"rotorsieve/report/finding"
	"rotorsieve/report/sheet/xlsx"
	"rotorsieve/report/words"
)

// chartRows is the room for a chart above a table, in rows of the sheet.
const chartRows = 25

// printedFront is how many designs of a front are printed, on the page of its chart.
const printedFront = 12

// front is the sheet of the Pareto front: the designs that none other beats in all of its
// metrics, with a chart of the first two.
func (b *review) front() {
	metrics := b.run.Study.Front
	t := &table{sheet: frontSheet, object: "front", title: "Pareto front: what can be had at once of " +
		words.Front(metrics), head: HeadRow, frozen: 2, ofRun: true}
	t.note = "Designs that none other of the class beats in all of these, at steps of 1 %" +
		words.Surely(b.run.Study) + ": to have more of one is to have less of another. " +
		"Point at a dot for its values. * outside the model's validity."
	t.note += fmt.Sprintf("\nPrinted are at most %d; the sheet goes on beneath, and to the right with all other "+
		"metrics.",
		printedFront)
	t.first = printedFront
	if b.Mark != "" {
		t.note += "\n" + b.Mark
	}
	var starts []int // of each class among the rows
	for i := range b.found {
		rows, err := b.run.Front(b.Ctx, &b.found[i])
		if b.Do(err); b.Err != nil {
			return
		}
		starts = append(starts, len(t.rows))
		t.rows = append(t.rows, rows...)
	}
	drawn := len(metrics) > 1
	if drawn {
		t.head += chartRows
	}
	t.cut(b.rows, finding.FrontName)
	b.nominal(t, b.found)
	b.classedColumns(t)
	if drawn {
		x, y := metrics[1], metrics[0]
		t.charts = func() { b.frontChart(t, x, y, append(starts, len(t.rows))) }
	}
	putTable(b.Book, t)
}

// frontChart draws the front, a family of dots for each class.
func (b *review) frontChart(t *table, x, y *model.Metric, starts []int) {
	c := &excelize.Chart{Type: excelize.Scatter}
	sheet := xlsx.Quoted(t.sheet)
	for i := range b.found {
		from, to := min(starts[i], len(t.rows)), min(starts[i+1], len(t.rows))
		if from == to {
			continue
		}
		cells := func(m *model.Metric) string {
			col := t.column(m.Name)
			return sheet + xlsx.Span(col, t.head+1+from, col, t.head+to)
		}
		n := len(c.Series)
		c.Series = append(c.Series, excelize.ChartSeries{
			Name:       fmt.Sprintf("%s$A$%d", sheet, t.head+1+from),
			Categories: cells(x), Values: cells(y),
			Line: excelize.LineOptions{Type: excelize.LineNone},
			Marker: excelize.ChartMarker{Symbol: xlsx.SeriesMarkers[n%len(xlsx.SeriesMarkers)], Size: 6,
				Fill: excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{xlsx.SeriesColour(n)}}},
		})
	}
	c.XAxis = b.frontAxis(t, x)
	c.YAxis = b.frontAxis(t, y)
	b.Chart(t.sheet, xlsx.CellName(1, HeadRow), "front", t.title, t.width(), 20*(chartRows-1), c)
}

// frontAxis covers the values of a metric, from 0 only where they reach near it.
func (b *review) frontAxis(t *table, m *model.Metric) excelize.ChartAxis {
	a := xlsx.ChartAxis(words.Bracketed(m.Title, m.Unit.Label), "General")
	at := finding.Place(m)
	lo, hi := math.Inf(1), math.Inf(-1)
	for i := range t.rows {
		if v := m.Unit.FromSI(t.rows[i].Values[at]); finding.Finite(v) {
			lo, hi = min(lo, v), max(hi, v)
		}
	}
	if lo > hi {
		return a
	}
	step := 1.0
	if hi > lo {
		step = chart.RoundUp((hi-lo)/6, 1, 2, 5)
	}
	a.Minimum, a.Maximum, a.MajorUnit = new(math.Floor(lo/step)*step), new(math.Ceil(hi/step)*step), step
	if *a.Minimum == *a.Maximum {
		a.Minimum, a.Maximum, a.MajorUnit = nil, nil, 0
	}
	return a
}
