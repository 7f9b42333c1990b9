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
	t := &table{Sheet: leadersSheet, Object: "leaders", Title: "The best design of each diameter", Head: HeadRow, Frozen: 2}
	t.Note = fmt.Sprintf("Of all feasible designs, whether a ranking kept them or not: one without a rank has %s designs of its class before it. * outside the model's validity.",
		texts.Grouped(uint64(b.run.Study.Top)))
	t.Note += "\nThe sheet goes on to the right with all other metrics, which are not printed."
	if b.Mark != "" {
		t.Note += "\n" + b.Mark
	}
	for i := range b.found {
		f := &b.found[i]
		ranks := f.Ranks()
		for _, e := range f.ByDiameter {
			if e != nil {
				x := e.Row(&f.Class)
				x.Rank = ranks[x.Index]
				t.Rows = append(t.Rows, x)
			}
		}
	}
	t.cut(b.rows, finding.RecordName)
	b.classedColumns(t)
	t.Columns[t.column(sweep.Diameter.Name)-1].Look = fixed(xlsx.Look{}) // all are
	putTable(b.Book, t)
}

// classedColumns lays out a table of designs of several classes.
func (b *review) classedColumns(t *table) {
	first, rest := designColumns(b.run, t.Rows)
	t.Columns = append(t.Columns,
		column{Head: "Class", Note: "weight class in which the design is judged", Width: 12, Words: true,
			Cell: func(x *finding.Row) any { return words.ClassLabel(*x.Class) }, Look: fixed(xlsx.Look{Bold: true})},
		column{Head: "Rank", Note: "place in the class by the merit of the run, where the ranking has it; * is outside the model's validity, see Warnings", Width: 6,
			Cell: func(x *finding.Row) any {
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
	t.Columns = append(t.Columns, first...)
	t.Columns = append(t.Columns, column{Name: meritColumn, Head: "Merit", Note: "the score that ranks, 0 to 1: " + words.MeritText(b.run.Study.Merit), Width: 9.5, Bar: true,
		Cell: func(x *finding.Row) any { return x.Score }, Look: fixed(xlsx.Look{Number: "0.0000"})})
	t.Printed = len(t.Columns)
	t.Columns = append(t.Columns, rest...)
}
