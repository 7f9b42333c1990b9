package report

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rotorsieve/report/figure"
	"rotorsieve/report/finding"
	"rotorsieve/report/sheet"
	"rotorsieve/report/trial"
)

// The overlay has the lines and best designs of each run, and says what differs.
func TestCompareFigure(t *testing.T) {
	t.Parallel()
	first, second, dirs := twoRuns(t)
	c, err := finding.Compare(dirs...)
	if err != nil {
		t.Fatal(err)
	}
	f, err := figure.OverlayFigure(c)
	if err != nil {
		t.Fatal(err)
	}
	l, err := f.Layout()
	if err != nil {
		t.Fatal(err)
	}
	for _, fault := range l.Faults() {
		t.Error(fault)
	}
	p := f.Panels[0]
	for n, r := range []*finding.Run{first, second} {
		want := r.Sizes()
		if d := cmp.Diff(want.Merit, p.Overlays[n].Z, trial.NanEqual); d != "" {
			t.Errorf("run %d: %s", n, d)
		}
		best := 0
		for i := range r.Result.Classes {
			if _, ok := r.Result.Classes[i].Best(); ok {
				best++
			}
		}
		if len(p.Points[n].X) != best || best == 0 {
			t.Errorf("run %d has %d points, want %d", n, len(p.Points[n].X), best)
		}
		if p.Overlays[n].Name != r.Study.Name || p.Points[n].Family != r.Study.Name {
			t.Errorf("run %d is named %q and %q", n, p.Overlays[n].Name, p.Points[n].Family)
		}
	}
	if err := os.Remove(filepath.Join(dirs[1], finding.SizeName)); err != nil {
		t.Fatal(err)
	}
	if _, err := finding.Compare(dirs...); err == nil || !strings.Contains(err.Error(), finding.SizeName) {
		t.Errorf("a run without its table gave %v", err)
	}
}

// The overlay of a comparison is as it is kept, and can be read.
func TestCompareFigureGolden(t *testing.T) {
	t.Parallel()
	_, _, dirs := twoRuns(t)
	c, err := finding.Compare(dirs...)
	if err != nil {
		t.Fatal(err)
	}
	f, err := figure.OverlayFigure(c)
	if err != nil {
		t.Fatal(err)
	}
	trial.Legible(t, "size-overlay", f, sheet.PrintedScale)
	f.DPI = 72
	p, err := figure.Picture("size-overlay", figure.CompareCaption, f)
	if err != nil {
		t.Fatal(err)
	}
	trial.CheckGolden(t, p)
}
