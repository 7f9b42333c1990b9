package sheet

import (
	"cmp"
	"fmt"
	"slices"

	"rotorsieve/report/finding"
	"rotorsieve/report/sheet/xlsx"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
)

// liveRanks is the longest ranking in which ranks are computed in the workbook:
// each looks at all others.
const liveRanks = 5000

// PrintedRanks is how many designs of a ranking are printed.
const PrintedRanks = 50

// rankingPlace is what other sheets know of a ranking.
type rankingPlace struct {
	Sheet   string
	Columns map[string]int // by name of input or metric, and those below
	Last    int            // row
	Best    *finding.Row   // of the highest merit in the workbook; nil where none is feasible
	Score   float64        // of the best
}

// Columns of a ranking that are neither input nor metric.
const (
	meritColumn = "merit"
	asRunColumn = "rank as run"
)

// rankingOf writes the ranking sheet of a class.
func (b *review) rankingOf(i int) {
	f := &b.found[i]
	rows, err := b.run.Ranking(b.Ctx, f.ClassResult)
	if b.Do(err); b.Err != nil {
		return
	}
	t := &table{Sheet: b.rankings[i].Sheet, Object: fmt.Sprintf("ranking_%d", i+1),
		Title: "Ranking of class " + words.ClassName(f.Class), Head: HeadRow, Frozen: 1, Rows: rows}
	if len(rows) == 0 {
		t.Note = "No design of the grid keeps every requirement."
		if f.Missed != nil {
			t.Note += "\nNearest: " + words.MissText(f.Missed)
		}
	} else {
		t.First = PrintedRanks
		t.Note = fmt.Sprintf("The best %s of %s feasible designs; point at a head for its meaning. * outside the model's validity; bold diameter: best of its diameter. "+
			"Merit and rank follow the sheet %s.\n", texts.Grouped(uint64(len(rows))), texts.Grouped(f.Feasible), MeritSheet)
		if len(rows) > PrintedRanks {
			t.Note += fmt.Sprintf("Printed are the first %d; the sheet goes on beneath, and to the right with all other metrics.", PrintedRanks)
		} else {
			t.Note += "The sheet goes on to the right with all other metrics, which are not printed."
		}
		if mark := words.RunMark(b.run); mark != "" {
			t.Note += "\n" + mark
		}
	}
	t.cut(b.rows, finding.RankingName)
	scores := b.scores(t.Rows)
	b.rankingColumns(t, scores)
	putTable(b.Book, t)

	p := &b.rankings[i]
	p.Last = t.last()
	p.Columns = map[string]int{}
	for k, c := range t.Columns {
		if c.Name != "" {
			p.Columns[c.Name] = k + 1
		}
	}
	for n := range scores {
		if p.Best == nil || scores[n] > p.Score {
			p.Best, p.Score = &t.Rows[n], scores[n]
		}
	}
	if p.Best != nil {
		p.Best = p.Best.Clone() // lets the others go: the next class needs the room
	}
}

// rankingColumns lays out a ranking: the design and what answers the study come
// first and are printed.
func (b *review) rankingColumns(t *table, scores []float64) {
	first, rest := designColumns(b.run, t.Rows)
	t.Columns = append(t.Columns, column{Head: "Rank", Note: "place in the class by the merit of this sheet, best first; * is outside the model's validity, see Warnings", Width: 6,
		Cell: func(x *finding.Row) any { return x.Rank }, Look: rankLook})
	t.Columns = append(t.Columns, first...)
	merit := len(t.Columns) + 1
	t.Columns = append(t.Columns, column{Name: meritColumn, Head: "Merit", Note: "the score that ranks, 0 to 1, with the weights and ranges of the sheet " + MeritSheet, Width: 9.5, Bar: true,
		Look: fixed(xlsx.Look{Number: "0.0000"})})
	t.Printed = merit
	t.Columns = append(t.Columns, rest[:len(rest)-2]...)
	t.Columns = append(t.Columns,
		column{Head: "Best of its diameter", Note: "no design of this diameter ranks before it", Width: 10, Words: true,
			Cell: func(x *finding.Row) any { return texts.YesNo(x.Leader) }, Look: fixed(xlsx.Look{})},
		column{Name: asRunColumn, Head: "Rank as run", Note: "place in the class by the merit of the run", Width: 8,
			Cell: func(x *finding.Row) any { return x.Rank }, Look: fixed(xlsx.Look{Number: "0"})})
	t.Columns = append(t.Columns, rest[len(rest)-2:]...)

	text := b.meritFormula(t)
	t.Columns[merit-1].Live = func(x *finding.Row, at int) xlsx.Live {
		return xlsx.Live{Formula: text(at), Value: scores[at-t.Head-1]}
	}
	if n := len(t.Rows); n > liveRanks {
		t.Columns[0].Note += fmt.Sprintf("; of more than %s designs it stays that of the run: sort by merit", texts.Grouped(liveRanks))
		return
	}
	ranks := RanksOf(scores)
	t.Columns[0].Live = func(x *finding.Row, at int) xlsx.Live {
		col := xlsx.ColumnName(merit)
		mine := fmt.Sprintf("%s%d", col, at)
		all := t.cells(merit)
		above := fmt.Sprintf("$%s$%d:%s", col, t.Head+1, mine)
		// Of equal merits the upper comes first.
		return xlsx.Live{Formula: fmt.Sprintf("RANK(%s,%s)+SUMPRODUCT(--(%s=%s))-1", mine, all, above, mine), Value: ranks[at-t.Head-1]}
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
