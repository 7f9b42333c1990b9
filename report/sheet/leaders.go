package sheet

import (
	"fmt"

	"rotorsieve/report/finding"
	"rotorsieve/report/sheet/xlsx"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

// leaders is the sheet of the best design of each diameter in each class, also
// of those that no ranking kept.
func (b *review) leaders() {
	t := &table{sheet: leadersSheet, object: "leaders", head: HeadRow, frozen: 2, ofRun: true,
		title: "The best design of each diameter" + words.SoFar(b.run)}
	t.note = fmt.Sprintf("Of all feasible designs%s, whether a ranking kept them or not: one without a rank has %s "+
		"designs of its class before it. * outside the model's validity.", words.SoFar(b.run),
		texts.Grouped(uint64(b.run.Study.Top)))
	if n := b.leading(); n > PrintedRanks {
		t.first = PrintedRanks
		t.note += fmt.Sprintf("\nPrinted are the first %d of %d; the sheet goes on beneath, and to the right with "+
			"all other "+
			"metrics.", t.first, n)
	} else {
		t.first = n
		t.note += "\nThe sheet goes on to the right with all other metrics, which are not printed."
	}
	if b.Mark != "" {
		t.note += "\n" + b.Mark
	}
	for i := range b.found {
		f := &b.found[i]
		ranks := f.Ranks()
		for _, e := range f.ByDiameter {
			if e != nil {
				x := e.Row(&f.Class)
				x.Rank = ranks[x.Index]
				t.rows = append(t.rows, x)
			}
		}
	}
	t.cut(b.rows, finding.RecordName)
	b.nominal(t, b.found)
	b.classedColumns(t)
	t.columns[t.column(sweep.Diameter.Name)-1].Look = fixed(xlsx.Look{}) // all are
	putTable(b.Book, t)
}

// leading is how many designs lead a diameter of a class.
func (b *review) leading() (n int) {
	for i := range b.found {
		for _, e := range b.found[i].ByDiameter {
			if e != nil {
				n++
			}
		}
	}
	return n
}

// classedColumns lays out a table of designs of several classes.
func (b *review) classedColumns(t *table) {
	first, rest := designColumns(b.run, t.rows)
	t.columns = append(t.columns,
		column{head: "Class", note: "weight class in which the design is judged", width: 12, words: true,
			cell: func(x *finding.Row) any { return words.ClassLabel(*x.Class) }, Look: fixed(xlsx.Look{Bold: true})},
		column{head: "Rank", note: "place in the class by the merit of the run, where the ranking has it; * is " +
			"outside the model's validity, see Warnings", width: 6,
			cell: func(x *finding.Row) any {
				switch {
				case x.Rank > 0:
					return x.Rank
				case x.Marked():
					return "*"
				}
				return nil
			}, Look: func(x *finding.Row) xlsx.Look {
				l := rankLook(x)
				l.Align = "right"
				return l
			}})
	t.columns = append(t.columns, first...)
	t.columns = append(t.columns, column{name: meritColumn, head: "Merit", note: "the score that ranks, 0 to 1: " +
		"" + words.Merit(b.run.Study.Merit), width: 9.5, bar: true,
		cell: func(x *finding.Row) any { return x.Score }, Look: fixed(xlsx.Look{Number: "0.0000"})})
	t.printed = len(t.columns)
	t.columns = append(t.columns, rest...)
}
