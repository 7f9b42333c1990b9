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

// Of a decision each bound has its gain beside its share, and the title says the largest.
func TestWhyNotGains(t *testing.T) {
	t.Parallel()
	r := trial.MappedRun(t)
	r.Decision = trial.Decided(t, r)
	r = decidedAnew(t, r)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	f := whyNotFigure(r, found)
	if len(f.Panels)%2 != 0 || len(f.Rows) != len(f.Panels)/2 {
		t.Fatalf("%d panels in %d rows, want two in each", len(f.Panels), len(f.Rows))
	}
	gained := 0
	for n := 1; n < len(f.Panels); n += 2 {
		if d := cmp.Diff(f.Panels[n-1].Y, f.Panels[n].Y); d != "" {
			t.Errorf("row %d: shares and gains have other names: %s", n/2, d)
		}
		k := found[slices.IndexFunc(found, func(k finding.Class) bool {
			return strings.HasPrefix(f.Panels[n-1].Title, words.ClassName(k.Class)+":")
		})]
		if k.Choice == nil {
			continue
		}
		for _, l := range k.Choice.Loosened {
			name := words.GateLabel(r.Result.Gates[l.Gate])
			at := slices.IndexFunc(f.Panels[n].Y.Names, func(x string) bool { return strings.TrimSuffix(x, " †") == name })
			if at < 0 && l.Gain == 0 {
				continue // hardly any fails there
			}
			i := slices.IndexFunc(f.Panels[n].Stacks, func(s chart.Stack) bool { return s.At == at })
			if i < 0 || f.Panels[n].Stacks[i].Pieces[0].Length != l.Gain {
				t.Errorf("%s: no bar of %g at %s", k.Class.Label, l.Gain, name)
			}
			if l.Gain > 0 {
				gained++
				if want := stops(r.Result.Gates[l.Gate]) + ", merit " + words.Signed(l.Gain); !strings.Contains(f.Title, want) {
					t.Errorf("title %q does not say %q", f.Title, want)
				}
			}
		}
	}
	if gained == 0 {
		t.Error("no gain to compare")
	}
}
