package sheet

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"rotorsieve/model"
	"rotorsieve/model/basis"
	"rotorsieve/report/chart"
	"rotorsieve/report/trial"
)

// Sheet Basis has the spread of each constant with its reach, as the table of parameters
// has them.
func TestBasisSpreads(t *testing.T) {
	t.Parallel()
	r := trial.SmallRun(t)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := WriteReview(t.Context(), &b, t.TempDir(), r, found, []chart.Picture{trial.Grey(t, "figures/other.png"),
		trial.Grey(t, "figures/size.png")}); err != nil {
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
	for _, p := range model.Submodels() {
		for _, c := range p.Constants {
			if c.Spread == "" {
				continue
			}
			spreads++
			found := slices.ContainsFunc(rows, func(row []string) bool {
				return len(row) == 6 && row[0] == c.Symbol && row[3] == spread(c)
			})
			if !found {
				t.Errorf("no row has %s with %s", c.Symbol, spread(c))
			}
			// The note tells the distribution from the spread's form.
			if strings.HasSuffix(c.Spread, " %") != (c.Distribution == basis.LogNormal) {
				t.Errorf("%s: %s of a %s distribution", c.Symbol, c.Spread, c.Distribution)
			}
		}
	}
	if spreads < 60 {
		t.Errorf("%d constants with a spread", spreads)
	}
	if got := spread(model.Constant("T0 slope")); got != "30 %, all, with T0 static" {
		t.Errorf("the spread of T0 slope is %q", got)
	}
}
