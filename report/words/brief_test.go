package words_test

import (
	"strings"
	"testing"

	"rotorsieve/report/finding"
	"rotorsieve/report/trial"
	"rotorsieve/report/words"
	"rotorsieve/sweep/decide"
)

// What more weight buys is told of the widest class beyond its limit, and of one that was swept alone how
// to ask for more.
func TestBuys(t *testing.T) {
	t.Parallel()
	r := trial.DecidedRun(t)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	told := 0
	for i := range found {
		f := &found[i]
		said := words.Buys(r, f)
		if f.Weight == nil {
			if strings.Contains(said, "more would gain") {
				t.Errorf("%s: %q", f.Class.Label, said)
			}
			continue
		}
		told++
		for _, want := range []string{"60 g more would gain ", "the last 60 g gain ", ", by the nominal best"} {
			if !strings.Contains(said, want) {
				t.Errorf("%q does not say %q", said, want)
			}
		}
		if strings.Contains(said, "--class") {
			t.Errorf("%q asks for a second class of a study of %d", said, len(found))
		}
		alone := *f.Weight
		alone.Alone = true
		single := *f
		single.Weight = &alone
		if said := words.Buys(r, &single); !strings.HasSuffix(said, "; to ask for more: --class 600g,700g") {
			t.Errorf("%q does not say how to ask for more", said)
		}
	}
	if told != 1 {
		t.Errorf("%d classes told of", told)
	}
}

// A thing to measure is named once, of however many builds it is worth measuring.
func TestMeasureBrieflyOnce(t *testing.T) {
	t.Parallel()
	r := trial.DecidedRun(t)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	for i := range found {
		c := found[i].Choice
		if c == nil {
			continue
		}
		once := words.MeasureBriefly(c, 1)
		of := *c.Class
		of.Worth = append([]decide.Worth{c.Worth[0]}, c.Worth...)
		twice := finding.Choice{Class: &of, Of: c.Of, Grid: c.Grid, Gates: c.Gates, Merit: c.Merit}
		head, _, _ := strings.Cut(once, " (")
		if head, _, _ = strings.Cut(head, " at "); strings.Count(words.MeasureBriefly(&twice, 2), head) != 1 {
			t.Errorf("%q names it twice: %q", once, words.MeasureBriefly(&twice, 2))
		}
	}
}

// Cautious merits that are both 0 tell nothing of two designs, and are not held against each other.
func TestPairToldOfNothing(t *testing.T) {
	t.Parallel()
	pair := decide.Pair{Draws: 1024, Seed: 1, First: decide.AxisValue{Better: 0.59}}
	v := finding.Versus{Pair: &pair}
	if said := words.PairTold(&v); !strings.Contains(said, "better than B in 59 %") ||
		strings.Contains(said, "0.000 against") ||
		!strings.Contains(said, "fails in half of the draws or more") {
		t.Errorf("of merits of 0: %q", said)
	}
	pair.Of[1].Cautious = 0.2
	if said := words.PairTold(&v); !strings.HasSuffix(said, "with a cautious merit of 0.000 against 0.200") {
		t.Errorf("of one merit: %q", said)
	}
}
