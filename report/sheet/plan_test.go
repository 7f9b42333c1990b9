package sheet

import (
	"testing"

	"rotorsieve/report/finding"
	"rotorsieve/report/sheet/xlsx"
	"rotorsieve/report/trial"
)

// In few lines a class has the requirements that some draws break, and the names of all others.
func TestBriefChecks(t *testing.T) {
	t.Parallel()
	r := trial.DecidedRun(t)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	of := found[len(found)-1].Plan(r.Result.Gates)
	b := xlsx.NewBook(t.Context(), t.TempDir(), "brief", "", "")
	lines := func(name string, block func(p *xlsx.Page, of *finding.Plan)) (n int) {
		if _, err := b.F.NewSheet(name); err != nil {
			t.Fatal(err)
		}
		p := b.NewPage(name, 31, 19, 12, 10, 10, 10, 10, 64)
		block(p, of)
		for _, row := range p.Rows {
			if len(row.Cells) > 0 {
				n++
			}
		}
		return n
	}
	few := lines("few", briefChecks)
	broken := 0
	for i := range of.Checks {
		if c := &of.Checks[i]; c.Shown != finding.ShownComputed || c.Kept < 0.99 {
			broken++
		}
	}
	if broken == 0 || broken == len(of.Checks) || few != broken+1 {
		t.Errorf("%d lines of %d requirements, of which draws break %d", few, len(of.Checks), broken)
	}
}
