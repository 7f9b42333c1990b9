package sheet

import (
	"fmt"
	"math"
	"strings"

	"github.com/xuri/excelize/v2"

	"rotorsieve/report/finding"
	"rotorsieve/report/sheet/xlsx"
	"rotorsieve/report/words"
)

// meritBest says which design of each class has the highest merit by the
// weights of the sheet.
func (b *review) meritBest(p *xlsx.Page, names []string, top int) {
	section(p, "The best of each class with these weights, of the designs on its ranking sheet")
	heads := []string{"Class", "Merit", "Rank as run", "Best of all?"}
	numbers := []int{2, 3}
	for n, name := range names {
		if a := finding.Input(name); a != nil {
			heads = append(heads, finding.Headed(a.Title, a.Unit.Label))
		} else {
			heads = append(heads, finding.Headed(finding.Metric(name).Title, finding.Metric(name).Unit.Label))
		}
		numbers = append(numbers, n+5)
	}
	p.Head(heads, numbers...)
	for i := range b.rankings {
		r := &b.rankings[i]
		p.Put(1, words.ClassName(b.found[i].Class), xlsx.Ruled(xlsx.Look{Bold: true, Colour: xlsx.Accent, Wrap: true}))
		p.Link(1, r.sheet)
		if r.best == nil {
			p.Wide(2, len(heads), "no feasible design"+words.SoFar(b.run), xlsx.Ruled(xlsx.Plain))
			p.Next()
			continue
		}
		lit := b.recommends(r.best)
		cells := func(name string) string {
			col := r.columns[name]
			return xlsx.Quoted(r.sheet) + xlsx.Span(col, HeadRow+1, col, r.last)
		}
		p.Put(2, xlsx.Live{Formula: "MAX(" + cells(meritColumn) + ")", Value: r.score},
			xlsx.Ruled(xlsx.Look{Number: "0.0000", Lit: lit}))
		pick := func(name string) string {
			return fmt.Sprintf("INDEX(%s,MATCH(B%d,%s,0))", cells(name), p.Row, cells(meritColumn))
		}
		p.Put(3, xlsx.Live{Formula: pick(asRunColumn), Value: r.best.Rank},
			xlsx.Ruled(xlsx.Look{Number: "0", Lit: lit}))
		p.Put(4, b.bestOfAll(r, top, p.Row), xlsx.Ruled(xlsx.Look{Bold: true, Colour: xlsx.Accent, Indent: 1}))
		for n, name := range names {
			var c column
			if a := finding.Input(name); a != nil {
				c = inputColumn(a)
			} else {
				c = MetricColumn(finding.Metric(name), []finding.Row{*r.best})
				c.Look = fixed(c.Look(nil)) // for whichever design becomes the best
			}
			l := c.Look(r.best)
			l.Bold, l.Lit = false, lit
			p.Put(5+n, xlsx.Live{Formula: pick(name), Value: c.cell(r.best)}, xlsx.Ruled(l))
		}
		p.Next()
	}
	p.Wide(1, p.Printed, "Best of all: yes where no feasible design that is not on the ranking sheet can have more "+
		"with these weights; otherwise one may have: run again with the flags above.", xlsx.Note)
	p.Next()
}

// staleName is that of the cell that says that the merits of other sheets are not those of the
// weights in the workbook, and is empty while they are.
const staleName = "merits_of_the_run"

// staleWords fit a text within a formula, which has up to 255 characters.
const staleWords = "The weights or ranges of the sheet " + MeritSheet + " were changed: merits and ranks that are " +
	"not on the ranking sheets are those of the run."

// stale puts that cell into a row that was left free.
func (b *review) stale(p *xlsx.Page, row, top int) {
	var same []string
	for i := range b.terms {
		t := &b.terms[i]
		same = append(same, fmt.Sprintf("B%d=%s", top+i, digits(t.Weight)))
	}
	same = append(same, b.sameRanges(top)...)
	at := p.Row
	p.Row = row
	p.WideLive(1, p.Printed, xlsx.Live{Formula: `IF(AND(` + strings.Join(same, ",") + `),"","` + staleWords + `")`,
		Value: ""}, xlsx.Alarm)
	p.Row = at
	b.Do(b.F.SetDefinedName(&excelize.DefinedName{Name: staleName,
		RefersTo: fmt.Sprintf("%s$A$%d", xlsx.Quoted(MeritSheet), row)}))
}

// staleMark is what a sheet with merits of the run says in a row of its own once the weights are
// changed.
func staleMark() xlsx.Live { return xlsx.Live{Formula: staleName + `&""`, Value: ""} }

// sameRanges are the conditions that the ranges of the merit are those of the run.
func (b *review) sameRanges(top int) (all []string) {
	for i := range b.terms {
		t := &b.terms[i]
		all = append(all, fmt.Sprintf("C%d=%s", top+i, digits(t.worst)), fmt.Sprintf("D%d=%s", top+i, digits(t.best)))
	}
	return all
}

// bestOfAll is the formula that says whether the best of a ranking with the weights of the sheet is
// the best of all feasible designs. One that is not ranked has at most the merit m of the last by
// the weights of the run, so that with others it scores at most m times the largest ratio of a
// weight to that of the run, and of each term at most what m leaves it.
func (b *review) bestOfAll(r *rankingPlace, top, row int) xlsx.Live {
	const yes, again = "yes", "run again"
	if r.all {
		return xlsx.Live{Formula: `"` + yes + `"`, Value: yes}
	}
	sum := b.weights()
	var ratios, capped []string
	for i := range b.terms {
		share := b.terms[i].share(sum)
		if share == 0 {
			ratios = append(ratios, fmt.Sprintf("IF(F%d>0,1E9,0)", top+i))
			capped = append(capped, fmt.Sprintf("F%d", top+i))
			continue
		}
		ratios = append(ratios, fmt.Sprintf("F%d/%s", top+i, digits(share)))
		capped = append(capped, fmt.Sprintf("F%d*%s", top+i, digits(math.Min(1, r.least/share))))
	}
	value := again
	if r.least <= r.score+meritSlack {
		value = yes
	}
	return xlsx.Live{Formula: fmt.Sprintf(`IF(AND(%s,MIN(%s*MAX(%s),%s)<=B%d+%s),"%s","%s")`,
		strings.Join(b.sameRanges(top), ","), digits(r.least), strings.Join(ratios, ","), strings.Join(capped, "+"),
		row, digits(meritSlack), yes, again), Value: value}
}

// meritSlack is what merits of the workbook may be off by.
const meritSlack = 1e-9
