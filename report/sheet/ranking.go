package sheet

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"rotorsieve/report/finding"
	"rotorsieve/report/sheet/xlsx"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

// SheetRanks is how much of a ranking the workbook has: ranks are computed in it, and each looks
// at all others. The rest is in ranking.csv.
const SheetRanks = 5000

// PrintedRanks is how many designs of a ranking are printed, on one page.
const PrintedRanks = 40

// rankingPlace is what other sheets know of a ranking.
type rankingPlace struct {
	sheet   string
	columns map[string]int // by name of input or metric, and those below
	last    int            // row
	best    *finding.Row   // of the highest merit in the workbook; nil where none is feasible
	score   float64        // of the best
	least   float64        // merit of the run of the last
	all     bool           // no feasible design is left out
}

// Columns of a ranking that are neither input nor metric.
const (
	meritColumn = "merit"
	asRunColumn = "rank as run"
)

// rankingOf writes the ranking sheet of a class.
func (b *review) rankingOf(i int) {
	f := &b.found[i]
	k := *f.ClassResult
	k.Ranking = k.Ranking[:min(SheetRanks, len(k.Ranking))]
	rows, err := b.run.Ranking(b.Ctx, &k)
	if b.Do(err); b.Err != nil {
		return
	}
	t := &table{sheet: b.rankings[i].sheet, object: fmt.Sprintf("ranking_%d", i+1),
		title: "Ranking of class " + words.ClassName(f.Class), head: HeadRow, frozen: 1, rows: rows}
	if len(rows) == 0 {
		t.note = words.NoneKeeps(b.run) + "."
		if f.Missed != nil {
			t.note += "\nNearest: " + words.Miss(f.Missed)
		}
	} else {
		t.first = PrintedRanks
		t.note = fmt.Sprintf("The best %s of %s feasible designs%s; point at a head for its meaning. * outside the "+
			"model's validity; bold diameter: best of its diameter. "+
			"Merit and rank follow the sheet %s.\n", texts.Grouped(uint64(len(rows))), texts.Grouped(f.Feasible),
			words.SoFar(b.run), MeritSheet)
		t.note += words.RankedOver(b.run.Study)
		if n := len(f.Ranking); n > len(rows) {
			t.note = fmt.Sprintf("The ranking goes on to %s designs in %s. ", texts.Grouped(uint64(n)),
				finding.RankingName) + t.note
		}
		if len(rows) > PrintedRanks {
			t.note += fmt.Sprintf("Printed are the first %d; the sheet goes on beneath, and to the right with all "+
				"other metrics.", PrintedRanks)
		} else {
			t.note += "The sheet goes on to the right with all other metrics, which are not printed."
		}
		if mark := words.RunMark(b.run); mark != "" {
			t.note += "\n" + mark
		}
	}
	t.cut(b.rows, finding.RankingName)
	b.nominal(t, b.found[i:i+1])
	scores := b.scores(t.rows)
	if b.run.Study.Over == sweep.Mean && len(b.run.Study.Others) > 0 {
		for n := range scores { // the metrics of a row are those of one scenario
			scores[n] = math.Round(t.rows[n].Score*1e12) / 1e12
		}
	}
	b.rankingColumns(t, scores)
	putTable(b.Book, t)

	p := &b.rankings[i]
	p.last = t.last()
	p.all = uint64(len(t.rows)) == f.Feasible && b.run.Result.Complete
	if n := len(t.rows); n > 0 {
		p.least = t.rows[n-1].Score
	}
	p.columns = map[string]int{}
	for k, c := range t.columns {
		if c.name != "" {
			p.columns[c.name] = k + 1
		}
	}
	for n := range scores {
		if p.best == nil || scores[n] > p.score {
			p.best, p.score = &t.rows[n], scores[n]
		}
	}
	if p.best != nil {
		p.best = p.best.Clone() // lets the others go: the next class needs the room
	}
}

// rankingColumns lays out a ranking: the design and what answers the study come
// first and are printed.
func (b *review) rankingColumns(t *table, scores []float64) {
	first, rest := designColumns(b.run, t.rows)
	t.columns = append(t.columns, column{head: "Rank", note: "place in the class by the merit of this sheet, best " +
		"first; * is outside the model's validity, see Warnings", width: 6,
		cell: func(x *finding.Row) any { return x.Rank }, Look: rankLook})
	t.columns = append(t.columns, first...)
	merit := len(t.columns) + 1
	t.columns = append(t.columns, column{name: meritColumn, head: "Merit", note: "the score that ranks, 0 to 1, with " +
		"the weights and ranges of the sheet " + MeritSheet, width: 9.5, bar: true,
		Look: fixed(xlsx.Look{Number: "0.0000"})})
	t.printed = merit
	t.columns = append(t.columns, rest[:len(rest)-2]...)
	t.columns = append(t.columns,
		column{head: "Best of its diameter", note: "no design of this diameter ranks before it", width: 10, words: true,
			cell: func(x *finding.Row) any { return texts.YesNo(x.Leader) }, Look: fixed(xlsx.Look{})},
		column{name: asRunColumn, head: "Rank as run", note: "place in the class by the merit of the run", width: 8,
			cell: func(x *finding.Row) any { return x.Rank }, Look: fixed(xlsx.Look{Number: "0"})})
	t.columns = append(t.columns, rest[len(rest)-2:]...)

	if b.run.Study.Over == sweep.Mean && len(b.run.Study.Others) > 0 {
		t.columns[merit-1].note = "the score that ranks, 0 to 1: the mean of the merits in all scenarios, as the run " +
			"has it"
		t.columns[merit-1].cell = func(x *finding.Row) any { return math.Round(x.Score*1e12) / 1e12 }
	} else {
		t.columns[merit-1].live = b.meritLive(t, scores)
	}
	ranks := RanksOf(scores)
	t.columns[0].live = func(x *finding.Row, at int) xlsx.Live {
		col := xlsx.ColumnName(merit)
		mine := fmt.Sprintf("%s%d", col, at)
		all := t.cells(merit)
		above := fmt.Sprintf("$%s$%d:%s", col, t.head+1, mine)
		// Of equal merits the upper comes first.
		return xlsx.Live{Formula: fmt.Sprintf("RANK(%s,%s)+SUMPRODUCT(--(%s=%s))-1", mine, all, above, mine),
			Value: ranks[at-t.head-1]}
	}
}

// meritLive computes the merit of a row in the workbook.
func (b *review) meritLive(t *table, scores []float64) func(x *finding.Row, at int) xlsx.Live {
	text := b.meritFormula(t)
	return func(x *finding.Row, at int) xlsx.Live {
		return xlsx.Live{Formula: text(at), Value: scores[at-t.head-1]}
	}
}

// RanksOf ranks scores, the highest first, of equal ones the earlier.
func RanksOf(scores []float64) []int {
	order := make([]int, len(scores))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(scores[b], scores[a]) })
	ranks := make([]int, len(scores))
	for rank, i := range order {
		ranks[i] = rank + 1
	}
	return ranks
}
