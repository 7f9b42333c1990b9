package sheet

import (
	"fmt"
	"math"
	"strconv"
	"testing"

	"github.com/xuri/excelize/v2"

	"rotorsieve/report/sheet/xlsx"
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
