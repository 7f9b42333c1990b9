package report

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"rotorsieve/sweep"
)

// term is one part of the merit as the workbook holds it, in the unit in which
// its metric is shown.
type term struct {
	sweep.Term
	Name        string // in the names of its cells
	Unit        string
	Worst, Best float64
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
		out = append(out, term{t, name, t.Metric.Unit.Label, round10(t.Metric.Unit.FromSI(t.Worst)), round10(t.Metric.Unit.FromSI(t.Best))})
	}
	return out
}

// share and scale are cells of the sheet of merit: the term's part of all
// weights, and what it scores per unit.
func (t *term) share(weights float64) float64 { return t.Weight / weights }
func (t *term) scale() float64                { return 1 / (t.Best - t.Worst) }

// meritPlaces is the number of decimals to which merits are computed in the
// workbook, so that programs that add up differently rank alike.
const meritPlaces = 12

// scores computes merits from the numbers in the cells of a table, as the
// formulas in it do.
func (b *review) scores(rows []row) []float64 {
	sum := b.weights()
	out := make([]float64, len(rows))
	for i := range b.terms {
		t := &b.terms[i]
		at := place(t.Metric)
		share, scale := t.share(sum), t.scale()
		for j := range rows {
			v := written(t.Metric.Unit.FromSI(rows[j].values[at]))
			if s := (v - t.Worst) * scale; s > 0 { // a NaN scores nothing
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
	if !finite(v) {
		return v
	}
	w, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 15, 64), 64)
	if err != nil {
		panic("report: " + err.Error())
	}
	return w
}

// meritFormula gives the formula of the merit in a row of a ranking.
func (b *review) meritFormula(t *table) func(at int) string {
	var parts []string // before and after the row
	for i := range b.terms {
		m := &b.terms[i]
		col := columnName(t.column(m.Metric.Name))
		place := place(m.Metric)
		some := true
		for j := range t.Rows {
			some = some && finite(t.Rows[j].values[place])
		}
		if some {
			parts = append(parts, fmt.Sprintf("share_%s*MAX(0,MIN(1,(%s%%d-worst_%s)*scale_%s))", m.Name, col, m.Name, m.Name))
		} else { // an empty cell scores nothing
			parts = append(parts, fmt.Sprintf("share_%s*IF(ISNUMBER(%s%%[1]d),MAX(0,MIN(1,(%s%%[1]d-worst_%s)*scale_%s)),0)", m.Name, col, col, m.Name, m.Name))
		}
	}
	pieces := strings.Split(strings.NewReplacer("%d", "\x00", "%[1]d", "\x00").Replace("ROUND("+strings.Join(parts, "+")+","+strconv.Itoa(meritPlaces)+")"), "\x00")
	return func(at int) string { return strings.Join(pieces, strconv.Itoa(at)) }
}

// merit is the sheet of weights and ranges, from which the rankings compute
// merit and rank.
func (b *review) merit() {
	names := b.meritNames()
	widths := []float64{24, 9.5, 11, 11, 9.5, 9.5, 11}
	for len(widths) < 3+len(names) {
		widths = append(widths, 9.5)
	}
	p := b.newPage(meritSheet, widths...)
	last := p.printed
	p.wide(1, last, "What ranks the designs", title)
	p.next()
	p.wide(1, last, "Change the shaded cells: merit and rank on the ranking sheets follow at once, and sorting a ranking by rank shows the new order. "+
		"A design scores 0 at the worst value of a metric, 1 at the best, in a line between and no further than either; its merit is the mean of the scores by weight. "+
		fmt.Sprintf("Only the designs on the ranking sheets, the best %s of each class by the merit of the run, are ranked anew: a new run with the flags below ranks all of them.", grouped(uint64(b.run.Study.Top))), note)
	p.next()
	p.gap()

	p.section("Weights and ranges")
	p.head([]string{"Metric", "Weight", "Worst: scores\u00a00", "Best: scores\u00a01", "Unit", "Share of all", "Score per unit"}, 2, 3, 4, 6, 7)
	top, end := p.row, p.row+len(b.terms)-1
	weights := span(2, top, 2, end)
	sum := b.weights()
	for i := range b.terms {
		t := &b.terms[i]
		edit := look{Number: "General", Edit: true}
		p.put(1, t.Metric.Title, ruled(plain))
		p.put(2, t.Weight, edit)
		p.put(3, t.Worst, edit)
		p.put(4, t.Best, edit)
		p.put(5, textOr(t.Unit, "1"), ruled(after))
		p.put(6, live{fmt.Sprintf("IF(SUM(%s)>0,B%d/SUM(%s),0)", weights, p.row, weights), t.share(sum)}, ruled(look{Number: "0.0%"}))
		p.put(7, live{fmt.Sprintf("IF(D%d=C%d,0,1/(D%d-C%d))", p.row, p.row, p.row, p.row), t.scale()}, ruled(look{Number: "0.0000"}))
		for _, d := range []struct{ name, col string }{{"share_", "F"}, {"worst_", "C"}, {"scale_", "G"}} {
			b.do(b.f.SetDefinedName(&excelize.DefinedName{Name: d.name + t.Name, RefersTo: fmt.Sprintf("%s$%s$%d", quoted(meritSheet), d.col, p.row),
				Comment: t.Metric.Title}))
		}
		p.next()
	}
	b.decimals(meritSheet, fmt.Sprintf("B%d:B%d", top, end), true, "A weight is 0 or more.")
	b.decimals(meritSheet, fmt.Sprintf("C%d:D%d", top, end), false, "The value of the metric, in the unit of the row.")
	p.gap()

	p.section("Flags of a run with these weights")
	for i := range b.terms {
		t := &b.terms[i]
		at, symbol := top+i, t.Metric.Unit.Symbol
		p.wideLive(1, 7, live{
			fmt.Sprintf(`"--merit %s:"&B%d&":"&C%d&"%s:"&D%d&"%s"`, t.Metric.Name, at, at, symbol, at, symbol),
			fmt.Sprintf("--merit %s:%s:%s%s:%s%s", t.Metric.Name, digits(t.Weight), digits(t.Worst), symbol, digits(t.Best), symbol)}, plain)
		p.next()
	}
	p.gap()

	b.meritBest(p, names)
	p.end("")
}

// digits prints a number as a formula puts it into text.
func digits(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// decimals lets only numbers into cells, not below 0 where asked.
func (b *book) decimals(sheet, cells string, positive bool, prompt string) {
	v := excelize.NewDataValidation(true)
	v.Sqref = cells
	lowest := -1e15
	if positive {
		lowest = 0
	}
	b.do(v.SetRange(lowest, 1e15, excelize.DataValidationTypeDecimal, excelize.DataValidationOperatorBetween))
	v.SetInput("Number", prompt)
	v.SetError(excelize.DataValidationErrorStyleStop, "Not a number", prompt)
	b.do(b.f.AddDataValidation(sheet, v))
}

// meritNames are the inputs and metrics that the sheet of merit shows of the
// best designs: weight and what ranks them.
func (b *review) meritNames() []string {
	var names []string
	for _, n := range inputs {
		if n.AxisDef == sweep.Chord || n.AxisDef == sweep.Payload && !b.run.swept(sweep.Payload) {
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

// meritBest says which design of each class has the highest merit by the
// weights of the sheet.
func (b *review) meritBest(p *page, names []string) {
	p.section("The best of each class with these weights, of the designs on its ranking sheet")
	heads := []string{"Class", "Merit", "Rank as run"}
	numbers := []int{2, 3}
	for n, name := range names {
		if at := inputAt(name); at >= 0 {
			heads = append(heads, headed(inputs[at].Title, inputs[at].Unit.Label))
		} else {
			heads = append(heads, headed(metric(name).Title, metric(name).Unit.Label))
		}
		numbers = append(numbers, n+4)
	}
	p.head(heads, numbers...)
	for i := range b.rankings {
		r := &b.rankings[i]
		p.put(1, className(b.found[i].Class), ruled(look{Bold: true, Colour: accent, Wrap: true}))
		p.link(1, r.Sheet)
		if r.Best == nil {
			p.wide(2, len(heads), "no feasible design", ruled(plain))
			p.next()
			continue
		}
		cells := func(name string) string {
			col := r.Columns[name]
			return quoted(r.Sheet) + span(col, headRow+1, col, r.Last)
		}
		p.put(2, live{"MAX(" + cells(meritColumn) + ")", r.Score}, ruled(look{Number: "0.0000"}))
		pick := func(name string) string {
			return fmt.Sprintf("INDEX(%s,MATCH(B%d,%s,0))", cells(name), p.row, cells(meritColumn))
		}
		p.put(3, live{pick(asRunColumn), r.Best.Rank}, ruled(look{Number: "0"}))
		for n, name := range names {
			var c column
			if at := inputAt(name); at >= 0 {
				c = inputColumn(inputs[at])
			} else {
				c = metricColumn(metric(name), []row{*r.Best})
				c.Look = fixed(c.Look(nil)) // for whichever design becomes the best
			}
			l := c.Look(r.Best)
			l.Bold = false
			p.put(4+n, live{pick(name), c.Cell(r.Best)}, ruled(l))
		}
		p.next()
	}
}
