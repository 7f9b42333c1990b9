package sheet

import (
	"bytes"
	"slices"
	"testing"

	"github.com/xuri/excelize/v2"

	"rotorsieve/report/chart"
	"rotorsieve/report/trial"
	"rotorsieve/report/words"
)

// Sheet Basis has the spread of each constant with its distribution and reach, as the
// table of parameters has them.
func TestBasisSpreads(t *testing.T) {
	r := trial.SmallRun(t)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := WriteReview(&b, r, found, []chart.Picture{trial.Grey(t, "figures/other.png"), trial.Grey(t, "figures/size.png")}); err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(&b)
	if err != nil {
		t.Fatal(err)
	}
	rows, err := f.GetRows(basisSheet)
	if err != nil {
		t.Fatal(err)
	}
	spreads := 0
	for _, p := range words.Parts() {
		for _, c := range p.Constants {
			if c.Spread == "" {
				continue
			}
			spreads++
			found := slices.ContainsFunc(rows, func(row []string) bool {
				return len(row) >= 7 && row[0] == c.Symbol && row[3] == c.Spread && row[6] == c.Distribution.String() &&
					(reach(c) == "" && len(row) == 7 || len(row) == 8 && row[7] == reach(c))
			})
			if !found {
				t.Errorf("no row has %s with %s, %s, %s", c.Symbol, c.Spread, c.Distribution, reach(c))
			}
		}
	}
	if spreads < 60 {
		t.Errorf("%d constants with a spread", spreads)
	}
	if got := reach(words.Constant("T0 slope")); got != "all, with T0 static" {
		t.Errorf("T0 slope reaches %q", got)
	}
}
