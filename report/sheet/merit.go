package sheet

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"rotorsieve/report/finding"
	"rotorsieve/report/sheet/xlsx"
	"rotorsieve/report/texts"
	"rotorsieve/sweep"
)

// term is one part of the merit as the workbook holds it, in the unit in which
// its metric is shown.
type term struct {
	sweep.Term
	name        string // in the names of its cells
	unit        string
	worst, best float64
}

// terms are those of the study's merit.
func terms(m sweep.Merit) []term {
	var out []term
	times := map[string]int{}
	for _, t := range m {
		name := strings.ReplaceAll(t.Metric.Name, "-", "_")
		if times[name]++; times[name] > 1 {
			name += "_" + strconv.Itoa(times[name])
		}
		out = append(out, term{t, name, t.Metric.Unit.Label, xlsx.Round10(t.Metric.Unit.FromSI(t.Worst)),
			xlsx.Round10(t.Metric.Unit.FromSI(t.Best))})
	}
	return out
}

// share and scale are cells of the sheet of merit: the term's part of all
// weights, and what it scores per unit.
func (t *term) share(weights float64) float64 { return t.Weight / weights }
func (t *term) scale() float64                { return 1 / (t.best - t.worst) }

// meritPlaces is the number of decimals to which merits are computed in the
// workbook, so that programs that add up differently rank alike.
const meritPlaces = 12

// scores computes merits from the numbers in the cells of a table, as the
// formulas in it do.
func (b *review) scores(rows []finding.Row) []float64 {
	sum := b.weights()
	out := make([]float64, len(rows))
	for i := range b.terms {
		t := &b.terms[i]
		at := finding.Place(t.Metric)
		share, scale := t.share(sum), t.scale()
		for j := range rows {
			v := written(t.Metric.Unit.FromSI(rows[j].Values[at]))
			if s := (v - t.worst) * scale; s > 0 { // a NaN scores nothing
				out[j] += share * math.Min(s, 1)
			}
		}
	}
	for j := range out {
		out[j] = math.Round(out[j]*1e12) / 1e12
	}
	return out
}

func (b *review) weights() float64 {
	var sum float64
	for i := range b.terms {
		sum += b.terms[i].Weight
	}
	return sum
}

// written is a number as a cell of the workbook holds it: 15 digits.
func written(v float64) float64 {
	if !finding.Finite(v) {
		return v
	}
	w, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 15, 64), 64)
	if err != nil {
		panic("sheet: " + err.Error())
	}
	return w
}

// meritFormula gives the formula of the merit in a row of a ranking.
func (b *review) meritFormula(t *table) func(at int) string {
	var parts []string // before and after the row
	for i := range b.terms {
		m := &b.terms[i]
		col := xlsx.ColumnName(t.column(m.Metric.Name))
		place := finding.Place(m.Metric)
		some := true
		for j := range t.rows {
			some = some && finding.Finite(t.rows[j].Values[place])
		}
		if some {
			parts = append(parts, fmt.Sprintf("share_%s*MAX(0,MIN(1,(%s%%d-worst_%s)*scale_%s))", m.name, col, m.name,
				m.name))
		} else { // an empty cell scores nothing
			parts = append(parts,
				fmt.Sprintf("share_%s*IF(ISNUMBER(%s%%[1]d),MAX(0,MIN(1,(%s%%[1]d-worst_%s)*scale_%s)),0)", m.name, col,
					col, m.name, m.name))
		}
	}
	pieces := strings.Split(strings.NewReplacer("%d", "\x00", "%[1]d", "\x00").Replace("ROUND("+strings.Join(parts,
		"+")+","+strconv.Itoa(meritPlaces)+")"), "\x00")
	return func(at int) string { return strings.Join(pieces, strconv.Itoa(at)) }
}

// merit is the sheet of weights and ranges, from which the rankings compute
// merit and rank.
func (b *review) merit() {
	names := b.meritNames()
	widths := []float64{24, 9.5, 11, 11, 9.5, 9.5, 11}
	for len(widths) < 4+len(names) {
		widths = append(widths, 9.5)
	}
	p := b.NewPage(MeritSheet, widths...)
	last := p.Printed
	p.Wide(1, last, "What ranks the designs", xlsx.Title)
	p.Next()
	var best []finding.Row
	for i := range b.rankings {
		if x := b.rankings[i].best; x != nil {
			best = append(best, *x)
		}
	}
	if said := b.nominalLine(b.found, best); said != "" {
		p.Wide(1, last, said, xlsx.Note)
		p.Next()
	}
	p.Wide(1, last, "Change the shaded cells: merit and rank on the ranking sheets follow at once, and sorting a "+
		"ranking by rank shows the new order. "+
		"A design scores 0 at the worst value of a metric, 1 at the best, in a line between and no further than "+
		"either; its merit is the mean of the scores by weight. "+
		fmt.Sprintf("Only the designs on the ranking sheets, the best %s of each class by the merit of the run, are "+
			"ranked anew: a new run with the flags below ranks all of them.",
			texts.Grouped(uint64(min(b.run.Study.Top, SheetRanks)))),
		xlsx.Note)
	p.Next()
	stale := p.Row
	p.Gap()

	section(p, "Weights and ranges")
	p.Head([]string{"Metric", "Weight", "Worst: scores\u00a00", "Best: scores\u00a01", "Unit", "Share of all",
		"Score per unit"}, 2, 3, 4, 6, 7)
	top, end := p.Row, p.Row+len(b.terms)-1
	weights := xlsx.Span(2, top, 2, end)
	sum := b.weights()
	for i := range b.terms {
		t := &b.terms[i]
		edit := xlsx.Look{Number: "General", Edit: true}
		p.Put(1, t.Metric.Title, xlsx.Ruled(xlsx.Plain))
		p.Put(2, t.Weight, edit)
		p.Put(3, t.worst, edit)
		p.Put(4, t.best, edit)
		p.Put(5, texts.Or(t.unit, "-"), xlsx.Ruled(xlsx.After))
		p.Put(6, xlsx.Live{Formula: fmt.Sprintf("IF(SUM(%s)>0,B%d/SUM(%s),0)", weights, p.Row, weights),
			Value: t.share(sum)}, xlsx.Ruled(xlsx.Look{Number: "0.0%"}))
		p.Put(7, xlsx.Live{Formula: fmt.Sprintf("IF(D%d=C%d,0,1/(D%d-C%d))", p.Row, p.Row, p.Row, p.Row),
			Value: t.scale()}, xlsx.Ruled(xlsx.Look{Number: "0.0000"}))
		for _, d := range []struct{ name, col string }{{"share_", "F"}, {"worst_", "C"}, {"scale_", "G"}} {
			b.Do(b.F.SetDefinedName(&excelize.DefinedName{Name: d.name + t.name,
				RefersTo: fmt.Sprintf("%s$%s$%d", xlsx.Quoted(MeritSheet), d.col, p.Row),
				Comment:  t.Metric.Title}))
		}
		p.Next()
	}
	decimals(b.Book, MeritSheet, fmt.Sprintf("B%d:B%d", top, end), true, "A weight is 0 or more.")
	decimals(b.Book, MeritSheet, fmt.Sprintf("C%d:D%d", top, end), false,
		"The value of the metric, in the unit of the row.")
	p.Gap()

	section(p, "Flags of a run with these weights")
	for i := range b.terms {
		t := &b.terms[i]
		at, symbol := top+i, t.Metric.Unit.Symbol
		p.WideLive(1, 7, xlsx.Live{
			Formula: fmt.Sprintf(`"--merit %s:"&B%d&":"&C%d&"%s:"&D%d&"%s"`, t.Metric.Name, at, at, symbol, at, symbol),
			Value: fmt.Sprintf("--merit %s:%s:%s%s:%s%s", t.Metric.Name, digits(t.Weight), digits(t.worst), symbol,
				digits(t.best), symbol)}, xlsx.Plain)
		p.Next()
	}
	p.Gap()

	b.stale(p, stale, top)
	b.meritBest(p, names, top)
	p.End("")
}

// digits prints a number as a formula puts it into text.
func digits(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// decimals lets only numbers into cells, not below 0 where asked.
func decimals(b *xlsx.Book, sheet, cells string, positive bool, prompt string) {
	v := excelize.NewDataValidation(true)
	v.Sqref = cells
	lowest := -1e15
	if positive {
		lowest = 0
	}
	b.Do(v.SetRange(lowest, 1e15, excelize.DataValidationTypeDecimal, excelize.DataValidationOperatorBetween))
	v.SetInput("Number", prompt)
	v.SetError(excelize.DataValidationErrorStyleStop, "Not a number", prompt)
	b.Do(b.F.AddDataValidation(sheet, v))
}

// meritNames are the inputs and metrics that the sheet of merit shows of the
// best designs: weight and what ranks them.
func (b *review) meritNames() []string {
	var names []string
	for _, n := range finding.Inputs {
		if n == sweep.Chord || n == sweep.Payload && !b.run.Swept(sweep.Payload) {
			continue
		}
		names = append(names, n.Name)
	}
	names = append(names, "auw")
	for i := range b.terms {
		if name := b.terms[i].Metric.Name; !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return names
}
