package sheet

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"rotorsieve/report/finding"
	"rotorsieve/report/sheet/xlsx"
	"rotorsieve/report/texts"
	"rotorsieve/report/trial"
	"rotorsieve/sweep"
)

// The best of each class on the sheet of merit, computed from the workbook's formulas,
// is that by the weights which a reader has set, wherever the ranking has it.
func TestMeritBestFollowsTheWeights(t *testing.T) {
	t.Parallel()
	r := trial.SmallRun(t)
	f := trial.OpenBook(t, reviewOf(t, r))
	merit := append(sweep.Merit(nil), r.Study.Merit...)
	merit[0].Weight, merit[1].Weight = 0.2, 3
	for _, m := range merit {
		row, _ := trial.Find(t, f, MeritSheet, m.Metric.Title, 1)
		if err := f.SetCellFloat(MeritSheet, xlsx.CellName(2, row), m.Weight, -1, 64); err != nil {
			t.Fatal(err)
		}
	}
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	evaluator := sweep.NewEvaluator(r.Study)
	head, _ := trial.Find(t, f, MeritSheet, "Rank as run", 1)
	moved := 0
	for i := range found {
		k := &found[i]
		if len(k.Ranking) == 0 {
			continue
		}
		best, at := math.Inf(-1), 0
		for n, x := range k.Ranking {
			c, err := evaluator.Craft(x.Index, k.Class)
			if err != nil {
				t.Fatal(err)
			}
			if v := merit.Of(c); v > best+1e-12 {
				best, at = v, n+1
			}
		}
		if at != 1 {
			moved++
		}
		row := head + 1 + i
		for col, want := range map[int]float64{2: best, 3: float64(at)} {
			text, err := f.CalcCellValue(MeritSheet, xlsx.CellName(col, row), excelize.Options{RawCellValue: true})
			if err != nil {
				t.Fatal(err)
			}
			if got, err := strconv.ParseFloat(text, 64); err != nil || math.Abs(got-want) > 1e-9 {
				t.Errorf("%s, %s: %s, want %s", k.Class.Label, xlsx.CellName(col, row), text, fmt.Sprint(want))
			}
		}
	}
	if moved == 0 {
		t.Error("the weights change no best: nothing was tested")
	}
}

// A reviewer who changes the weights is told where the best of the ranking may not be the best of
// all, and never that it is where it is not; merits of the run are then marked on other sheets.
func TestBestOfAllIsNeverClaimedWrongly(t *testing.T) {
	t.Parallel()
	s, most := *trial.SmallRun(t).Study, *trial.SmallRun(t).Study
	s.Top, most.Top = 4, 1000
	result, err := sweep.Run(t.Context(), &s, sweep.Options{Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	r := &finding.Run{Study: &s, Result: result, Version: "test"}
	whole, err := sweep.Run(t.Context(), &most, sweep.Options{Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	evaluator := sweep.NewEvaluator(&s)
	said := map[string]int{}
	asked := [][2]float64{{0.5, 0.5}, {0.55, 0.45}, {0.6, 0.4}, {0.9, 0.1}, {0.1, 0.9}, {1, 0}, {0, 1}}
	for _, weights := range asked {
		f := trial.OpenBook(t, reviewOf(t, r))
		merit := append(sweep.Merit(nil), s.Merit...)
		for n := range merit {
			merit[n].Weight = weights[n]
			row, _ := trial.Find(t, f, MeritSheet, merit[n].Metric.Title, 1)
			if err := f.SetCellFloat(MeritSheet, xlsx.CellName(2, row), weights[n], -1, 64); err != nil {
				t.Fatal(err)
			}
		}
		value := func(sheet, cell string) string {
			t.Helper()
			text, err := f.CalcCellValue(sheet, cell, excelize.Options{RawCellValue: true})
			if err != nil {
				t.Fatal(sheet, cell, err)
			}
			return text
		}
		head, col := trial.Find(t, f, MeritSheet, "Best of all?", 4)
		for i := range whole.Classes {
			k := &whole.Classes[i]
			if len(k.Ranking) == 0 {
				continue
			}
			if uint64(len(k.Ranking)) != k.Feasible {
				t.Fatalf("class %s: %d of %d ranked: nothing can be said of all", k.Class.Label, len(k.Ranking),
					k.Feasible)
			}
			best := 0.0
			for _, x := range k.Ranking {
				c, err := evaluator.Craft(x.Index, k.Class)
				if err != nil {
					t.Fatal(err)
				}
				best = math.Max(best, merit.Of(c))
			}
			got, err := strconv.ParseFloat(value(MeritSheet, xlsx.CellName(2, head+1+i)), 64)
			if err != nil {
				t.Fatal(err)
			}
			says := value(MeritSheet, xlsx.CellName(col, head+1+i))
			said[says]++
			if says == "yes" && got < best-1e-9 || says != "yes" && says != "run again" {
				t.Errorf("class %s, weights %v: %q of the best with %g, where one of all has %g", k.Class.Label, weights,
					says, got, best)
			}
			if weights == [2]float64{0.5, 0.5} && says != "yes" {
				t.Errorf("class %s: with the weights of the run it says %q", k.Class.Label, says)
			}
		}
		for _, sheet := range []string{leadersSheet, frontSheet} {
			text, marked := value(sheet, xlsx.CellName(1, HeadRow-1)), weights != [2]float64{0.5, 0.5}
			if marked != (text == staleWords) || !marked && text != "" {
				t.Errorf("weights %v: %s says %q", weights, sheet, text)
			}
		}
	}
	if said["yes"] < 3 || said["run again"] < 3 {
		t.Errorf("it says %v: not both are tested", said)
	}
}

// What a formula holds as text has at most 255 characters.
func TestStaleWordsFitAFormula(t *testing.T) {
	t.Parallel()
	if n := len([]rune(staleWords)); n > 255 {
		t.Errorf("%d characters, want 255 at most", n)
	}
}

// A ranking that is longer than a sheet is to be ends there, and says where the rest is.
func TestLongRankingIsCut(t *testing.T) {
	t.Parallel()
	r, own := trial.SmallRun(t), *trial.SmallRun(t).Result
	own.Classes = slices.Clone(own.Classes) // others have the rest of it
	r.Result = &own
	at := slices.IndexFunc(r.Result.Classes, func(k sweep.ClassResult) bool { return len(k.Ranking) > 10 })
	k := &r.Result.Classes[at]
	for have := slices.Clone(k.Ranking); len(k.Ranking) <= SheetRanks; {
		k.Ranking = append(k.Ranking, have...)
	}
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	f := trial.OpenBook(t, reviewOf(t, r))
	rows, err := f.GetRows(RankingSheets(found)[at])
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != HeadRow+SheetRanks {
		t.Errorf("%d rows, want %d designs", len(rows)-HeadRow, SheetRanks)
	}
	want := fmt.Sprintf("The ranking goes on to %s designs in ranking.csv.", texts.Grouped(uint64(len(k.Ranking))))
	if !strings.Contains(rows[1][0], want) {
		t.Errorf("the sheet says %q, want %q", rows[1][0], want)
	}
}
