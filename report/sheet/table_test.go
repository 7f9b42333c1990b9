package sheet

import (
	"testing"

	"rotorsieve/report/finding"
	"rotorsieve/report/sheet/xlsx"
)

// Words beside numbers, which end where they begin, stand a step apart from them, in a column that is wider by
// as much.
func TestWordsApart(t *testing.T) {
	t.Parallel()
	b := xlsx.NewBook(t.Context(), t.TempDir(), "apart", "", "")
	text := func(*finding.Row) any { return "Elm 2105" }
	plain := fixed(xlsx.Look{})
	tab := &table{sheet: "Ranking", object: "ranking_1", title: "apart", head: HeadRow, printed: 3,
		rows: make([]finding.Row, 2),
		columns: []column{
			{head: "Rank", width: 6, cell: func(*finding.Row) any { return 1 }, Look: plain},
			{head: "Motor", width: 12, words: true, cell: text, Look: plain},
			{head: "Pack", width: 12, words: true, cell: text, Look: plain},
		}}
	if _, err := b.F.NewSheet(tab.sheet); err != nil {
		t.Fatal(err)
	}
	if putTable(b, tab); b.Err != nil {
		t.Fatal(b.Err)
	}
	for col, want := range map[int]int{1: 0, 2: 1, 3: 0} {
		for _, row := range []int{HeadRow, HeadRow + 2} {
			id, err := b.F.GetCellStyle(tab.sheet, xlsx.CellName(col, row))
			if err != nil {
				t.Fatal(err)
			}
			style, err := b.F.GetStyle(id)
			if err != nil {
				t.Fatal(err)
			}
			if got := style.Alignment.Indent; got != want {
				t.Errorf("row %d, column %d is indented by %d, want %d", row, col, got, want)
			}
		}
		width, err := b.F.GetColWidth(tab.sheet, xlsx.ColumnName(col))
		if err != nil {
			t.Fatal(err)
		}
		if wide := tab.columns[col-1].width + float64(want); width != wide {
			t.Errorf("column %d is %v wide, want %v", col, width, wide)
		}
	}
}
