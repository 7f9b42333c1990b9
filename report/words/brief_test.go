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
	told, others := 0, 0
	for i := range found {
		f := &found[i]
		said := words.Buys(r, f, false)
		if f.Best() == nil {
			continue
		}
		if !f.Weight.Widest {
			others++
			short, more := words.Buys(r, f, true), words.More(f)
			if short != "" || more != "24.9 g more would gain at least merit +0.017" ||
				!strings.HasPrefix(said, more+" (hover") || !strings.HasSuffix(said, "), by the nominal best") {
				t.Errorf("%s: %q, in short %q and %q", f.Class.Label, said, short, more)
			}
			continue
		}
		told++
		for _, want := range []string{"60 g more would gain at least merit +0.017 (", ", by the nominal best; ",
			"; the recommended build leaves 219 g unused"} {
			if !strings.Contains(said, want) {
				t.Errorf("%q does not say %q", said, want)
			}
		}
		if strings.Contains(said, "--class") {
			t.Errorf("%q asks for a second class of a study of %d", said, len(found))
		}
		if short := words.Buys(r, f, true); strings.Contains(short, "more would") {
			t.Errorf("%q is not short", short)
		}
		alone := *f.Weight
		alone.Alone = true
		single := *f
		single.Weight = &alone
		if said := words.Buys(r, &single, true); !strings.HasSuffix(said, "; to ask for more: --class 600g,700g") {
			t.Errorf("%q does not say how to ask for more", said)
		}
	}
	all := words.MoreOfAll(found)
	if all != "10 % more: merit at least +0.017 at 249 g, at least +0.017 at 600 g" {
		t.Errorf("of all classes %q", all)
	}
	if told != 1 || others != 1 {
		t.Errorf("%d widest classes and %d others told of", told, others)
	}
}

// Where nothing was found it is not said that there is nothing; where a heavier class was swept it has been
// looked at; and the last weight is told of where the recommended build uses it.
func TestBuysInVain(t *testing.T) {
	t.Parallel()
	r := trial.DecidedRun(t)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	f := found[len(found)-1]
	w, l := *f.Weight, *f.Weight.Loosened
	l.Swept, w.Unused, w.Loosened = true, w.Step, &l
	f.Weight = &w
	if said := words.Buys(r, &f, false); !strings.Contains(said, "; 60 g more would gain merit +0.017 (") ||
		!strings.Contains(said, "; the last 60 g gain ") || strings.Contains(said, "unused") {
		t.Errorf("%q", said)
	}
	w.More, l.Gain = nil, 0
	if said := words.Buys(r, &f, false); !strings.Contains(said, "; 60 g more: no gain found; the last 60 g gain ") {
		t.Errorf("%q", said)
	}
	if said := words.MoreOfAll([]finding.Class{f}); said != "10 % more: no gain found at 600 g" {
		t.Errorf("%q", said)
	}
	said := words.MoreOfAll([]finding.Class{found[1], f})
	if !strings.HasSuffix(said, " at 249 g; none found at 600 g") {
		t.Errorf("%q", said)
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
