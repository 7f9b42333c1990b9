package sheet_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"rotorsieve/report/finding"
	"rotorsieve/report/sheet"
	"rotorsieve/report/trial"
	"rotorsieve/sweep"
)

// The whole ranking stands in its sheet, of which the best are printed.
func TestPrintedRanking(t *testing.T) {
	t.Parallel()
	s := *trial.SmallRun(t).Study
	s.Top = sheet.PrintedRanks + 7
	result, err := sweep.Run(t.Context(), &s, sweep.Options{Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	r := &finding.Run{Study: &s, Result: result, Version: "test"}
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := sheet.WriteReview(t.Context(), &b, t.TempDir(), r, found, nil); err != nil {
		t.Fatal(err)
	}
	f := trial.OpenBook(t, b.Bytes())
	cut := 0
	for i := range found {
		n := len(found[i].Ranking)
		if n == 0 {
			continue
		}
		page := sheet.RankingSheets(found)[i]
		rows, err := f.GetRows(page)
		if err != nil {
			t.Fatal(err)
		}
		if len(rows) != sheet.HeadRow+n {
			t.Errorf("%s has %d rows, want %d designs", page, len(rows), n)
		}
		if got, want := trial.Printed(t, f, page).Rows, sheet.HeadRow+min(n, sheet.PrintedRanks); got != want {
			t.Errorf("%s is printed to row %d, want %d", page, got, want)
		}
		says := strings.Contains(rows[2][0], fmt.Sprintf("Printed are the first %d", sheet.PrintedRanks))
		if says != (n > sheet.PrintedRanks) {
			t.Errorf("%s of %d designs says %q", page, n, rows[2][0])
		}
		if says {
			cut++
		}
	}
	if cut == 0 {
		t.Error("no ranking is longer than what is printed")
	}
}
