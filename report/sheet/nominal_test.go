package sheet

import (
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"rotorsieve/report/finding"
	"rotorsieve/report/sheet/xlsx"
	"rotorsieve/report/trial"
)

// What ranks by the nominal model says so, and tints the rows of what is recommended over the draws, no other.
func TestByNominal(t *testing.T) {
	t.Parallel()
	r := trial.DecidedRun(t)
	book, found := decidedBook(t, r)
	f := trial.OpenBook(t, book)
	for _, sheet := range slices.Concat(RankingSheets(found), []string{leadersSheet, frontSheet, MeritSheet}) {
		said, err := f.GetCellValue(sheet, "A2")
		if err != nil {
			t.Fatal(err)
		}
		if i := slices.Index(RankingSheets(found), sheet); i >= 0 && found[i].Choice == nil {
			continue
		}
		if !strings.HasPrefix(said, byNominal) {
			t.Errorf("under the title of %s stands %q", sheet, said)
		}
	}
	marked, ranked := 0, 0
	for i, sheet := range RankingSheets(found) {
		c := found[i].Choice
		if c == nil {
			continue
		}
		at := found[i].Ranks()[c.Recommended().Index]
		if at > 0 {
			ranked++
		}
		for n := range min(len(found[i].Ranking), SheetRanks) {
			id, err := f.GetCellStyle(sheet, xlsx.CellName(1, HeadRow+1+n))
			if err != nil {
				t.Fatal(err)
			}
			style, err := f.GetStyle(id)
			if err != nil {
				t.Fatal(err)
			}
			if tinted := len(style.Fill.Color) > 0; tinted != (n+1 == at) {
				t.Errorf("%s: rank %d is tinted: %v, recommended is rank %d", sheet, n+1, tinted, at)
			} else if tinted {
				marked++
			}
		}
	}
	if marked == 0 || marked != ranked {
		t.Errorf("%d rows are tinted, want %d", marked, ranked)
	}
	rows, err := f.GetRows(confidenceSheet, excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows {
		if len(row) > 0 && row[0] == "Rank" {
			t.Errorf("a rank on %s does not say that it is by the draws: %q", confidenceSheet, row)
		}
	}
}

// A sheet of plans prints every class that the page has room for, also beneath one that takes most of it.
func TestPlannedFills(t *testing.T) {
	t.Parallel()
	r := trial.DecidedRun(t)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		first, other int
		aside        bool
	}{{25, 2, false}, {25, 40, true}} {
		b := newReview(t.Context(), t.TempDir(), r, found, nil)
		if _, err := b.F.NewSheet(partsSheet); err != nil {
			t.Fatal(err)
		}
		_, plans := b.plans()
		if len(plans) < 2 {
			t.Fatalf("%d plans are too few", len(plans))
		}
		b.planned(planSheet{name: partsSheet, title: "t", note: "n", widths: []float64{60, 60},
			heads: []string{"a", "b"},
			block: func(p *xlsx.Page, of *finding.Plan) {
				lines := c.other
				if of.Craft == plans[0].Craft {
					lines = c.first
				}
				for range lines {
					p.Put(1, "x", inText)
					p.Next()
				}
			}})
		if b.Err != nil {
			t.Fatal(b.Err)
		}
		aside := slices.ContainsFunc(trial.Cells(t, b.F, partsSheet), func(s string) bool {
			return strings.HasPrefix(s, "Beneath on the sheet")
		})
		if aside != c.aside {
			t.Errorf("after %d lines those of %d are left aside: %v", c.first, c.other, aside)
		}
	}
}
