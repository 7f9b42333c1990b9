package figure

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rotorsieve/report/chart"
	"rotorsieve/report/finding"
	"rotorsieve/report/trial"
	"rotorsieve/report/words"
)

// Of a decision each bound has its gain beside its share, of more bars than have room in rows below it,
// and the title says the largest.
func TestWhyNotGains(t *testing.T) {
	t.Parallel()
	r := trial.MappedRun(t)
	r.Decision = trial.Decided(t, r)
	r = decidedAnew(t, r)
	all, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	gained := 0
	for _, found := range [][]finding.Class{all, all[1:]} {
		f := whyNotFigure(r, found)
		n := len(f.Panels) / 2
		if n != len(found) || len(f.Panels) != 2*n {
			t.Fatalf("%d panels, want two of each of %d classes", len(f.Panels), len(found))
		}
		first, step := 1, 2 // of the gains
		if f.Columns == n && n > 2 {
			first, step = n, 1
		}
		if rows := len(f.Panels) / f.Columns; len(f.Rows) != rows || (step == 1) != (len(found) == 3) {
			t.Errorf("%d classes stand in %d columns and %d rows", len(found), f.Columns, len(f.Rows))
		}
		for i := range n {
			tally, gain := &f.Panels[i*step], &f.Panels[first+i*step]
			if d := cmp.Diff(tally.Y, gain.Y); d != "" {
				t.Errorf("class %d: shares and gains have other names: %s", i, d)
			}
			k := &found[i]
			if !strings.HasPrefix(tally.Title, words.ClassName(k.Class)+":") {
				t.Errorf("panel %q of %s", tally.Title, k.Class.Label)
			}
			if k.Choice == nil {
				continue
			}
			for _, l := range k.Choice.Loosened {
				name := words.GateLabel(r.Result.Gates[l.Gate])
				at := slices.IndexFunc(gain.Y.Names, func(x string) bool { return strings.TrimSuffix(x, " †") == name })
				if at < 0 && l.Gain == 0 {
					continue // hardly any fails there
				}
				i := slices.IndexFunc(gain.Stacks, func(s chart.Stack) bool { return s.At == at })
				if i < 0 || gain.Stacks[i].Pieces[0].Length != l.Gain {
					t.Errorf("%s: no bar of %g at %s", k.Class.Label, l.Gain, name)
				}
				if l.Gain > 0 {
					gained++
					if want := stops(r.Result.Gates[l.Gate]) + ", merit " + words.Signed(l.Gain); !strings.Contains(f.Title,
						want) {
						t.Errorf("title %q does not say %q", f.Title, want)
					}
				}
			}
		}
	}
	if gained == 0 {
		t.Error("no gain to compare")
	}
}
