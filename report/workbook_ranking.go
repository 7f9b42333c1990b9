package report

import (
	"cmp"
	"fmt"
	"slices"
)

// liveRanks is the longest ranking in which ranks are computed in the workbook:
// each looks at all others.
const liveRanks = 5000

// printedRanks is how many designs of a ranking are printed.
const printedRanks = 50

// rankingPlace is what other sheets know of a ranking.
type rankingPlace struct {
	Sheet   string
	Columns map[string]int // by name of input or metric, and those below
	Last    int            // row
	Best    *row           // of the highest merit in the workbook; nil where none is feasible
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
	rows, err := b.run.ranking(f.ClassResult)
	if b.do(err); b.err != nil {
		return
	}
	t := &table{Sheet: b.rankings[i].Sheet, Object: fmt.Sprintf("ranking_%d", i+1),
		Title: "Ranking of class " + className(f.Class), Head: headRow, Frozen: 1, Rows: rows}
	if len(rows) == 0 {
		t.Note = "No design of the grid keeps every requirement."
		if f.Missed != nil {
			t.Note += "\nNearest: " + missText(f.Missed)
		}
	} else {
		t.First = printedRanks
		t.Note = fmt.Sprintf("The best %s of %s feasible designs; point at a head for its meaning. * outside the model's validity; bold diameter: best of its diameter. "+
			"Merit and rank follow the sheet %s.\n", grouped(uint64(len(rows))), grouped(f.Feasible), meritSheet)
		if len(rows) > printedRanks {
			t.Note += fmt.Sprintf("Printed are the first %d; the sheet goes on beneath, and to the right with all other metrics.", printedRanks)
		} else {
			t.Note += "The sheet goes on to the right with all other metrics, which are not printed."
		}
		if mark := runMark(b.run); mark != "" {
			t.Note += "\n" + mark
		}
	}
	t.cut(b.rows, RankingName)
	scores := b.scores(t.Rows)
	b.rankingColumns(t, scores)
	b.table(t)

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
		p.Best = p.Best.clone() // lets the others go: the next class needs the room
	}
}

// rankingColumns lays out a ranking: the design and what answers the study come
// first and are printed.
func (b *review) rankingColumns(t *table, scores []float64) {
	first, rest := designColumns(b.run, t.Rows)
	t.Columns = append(t.Columns, column{Head: "Rank", Note: "place in the class by the merit of this sheet, best first; * is outside the model's validity, see Warnings", Width: 6,
		Cell: func(x *row) any { return x.Rank }, Look: rankLook})
	t.Columns = append(t.Columns, first...)
	merit := len(t.Columns) + 1
	t.Columns = append(t.Columns, column{Name: meritColumn, Head: "Merit", Note: "the score that ranks, 0 to 1, with the weights and ranges of the sheet " + meritSheet, Width: 9.5, Bar: true,
		Look: fixed(look{Number: "0.0000"})})
	t.Printed = merit
	t.Columns = append(t.Columns, rest[:len(rest)-2]...)
	t.Columns = append(t.Columns,
		column{Head: "Best of its diameter", Note: "no design of this diameter ranks before it", Width: 10, Words: true,
			Cell: func(x *row) any { return yesNo(x.Leader) }, Look: fixed(look{})},
		column{Name: asRunColumn, Head: "Rank as run", Note: "place in the class by the merit of the run", Width: 8,
			Cell: func(x *row) any { return x.Rank }, Look: fixed(look{Number: "0"})})
	t.Columns = append(t.Columns, rest[len(rest)-2:]...)

	text := b.meritFormula(t)
	t.Columns[merit-1].Live = func(x *row, at int) live { return live{text(at), scores[at-t.Head-1]} }
	if n := len(t.Rows); n > liveRanks {
		t.Columns[0].Note += fmt.Sprintf("; of more than %s designs it stays that of the run: sort by merit", grouped(liveRanks))
		return
	}
	ranks := ranksOf(scores)
	t.Columns[0].Live = func(x *row, at int) live {
		col := columnName(merit)
		mine := fmt.Sprintf("%s%d", col, at)
		all := t.cells(merit)
		above := fmt.Sprintf("$%s$%d:%s", col, t.Head+1, mine)
		// Of equal merits the upper comes first.
		return live{fmt.Sprintf("RANK(%s,%s)+SUMPRODUCT(--(%s=%s))-1", mine, all, above, mine), ranks[at-t.Head-1]}
	}
}

// ranksOf ranks scores, the highest first, of equal ones the earlier.
func ranksOf(scores []float64) []int {
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
