package rotor

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// bladeTexts are CSV texts and what the error of each contains; the first is
// good.
var bladeTexts = []struct{ csv, want string }{
	{"# a straight blade\nr/R,c/R,beta\n0.15,0.16,30\n0.4, 0.18, 22.5\n0.7,0.17,14\n1,0.05,9\n", ""},
	{"", "p.csv:1: no header; want r/R,c/R,beta"},
	{"r,c,b\n", `p.csv:1: header ["r" "c" "b"]; want r/R,c/R,beta`},
	{"r/R,c/R\n", `p.csv:1: header ["r/R" "c/R"]; want`},
	{"r/R,c/R,beta\n0.15,0.1\n", "p.csv:2: 2 fields; want 3: r/R,c/R,beta"},
	{"r/R,c/R,beta\n0.15,0.1,20\nx,0.1,20\n", `p.csv:3: "x" is no number; want r/R from 0 to 1`},
	{"r/R,c/R,beta\n0.15,0.1,steep\n", `p.csv:2: "steep" is no number; want beta in degrees`},
	{"r/R,c/R,beta\n1.5,0.1,20\n", "p.csv:2: r/R 1.5; want 0 to 1"},
	{"r/R,c/R,beta\n0.2,0.1,20\n\n0.2,0.1,20\n", "p.csv:4: r/R 0.2 after 0.2; want it to increase"},
	{"r/R,c/R,beta\n0.2,0,20\n", "p.csv:2: c/R 0; want above 0, at most 1"},
	{"r/R,c/R,beta\n0.2,NaN,20\n", "p.csv:2: c/R NaN; want above 0, at most 1"},
	{"r/R,c/R,beta\n0.2,0.1,95\n", "p.csv:2: beta 95°; want -30 to 90"},
	{"r/R,c/R,beta\n0.2,\"0.1,20\n", "p.csv:"},
	{"r/R,c/R,beta\n0.2,0.1,20\n0.5,0.1,20\n1,0.1,20\n", "p.csv:4: 3 stations; want at least 4"},
	{"r/R,c/R,beta\n0.3,0.1,20\n0.5,0.1,20\n0.7,0.1,20\n1,0.1,20\n",
		"p.csv:5: the first station is at r/R 0.3; want it at 0.25 or less"},
	{"r/R,c/R,beta\n0.2,0.1,20\n0.5,0.1,20\n0.7,0.1,20\n0.9,0.1,20\n",
		"p.csv:5: the last station is at r/R 0.9; want it at 0.95 or more"},
}

func readBlade(text string) (Blade, error) { return ReadBlade(strings.NewReader(text), "p.csv") }

func TestReadBlade(t *testing.T) {
	for _, c := range bladeTexts {
		b, err := readBlade(c.csv)
		if c.want != "" {
			if err == nil || !strings.Contains(err.Error(), c.want) || strings.Contains(err.Error(), "\n") {
				t.Errorf("%q: error %v, want %q", c.csv, err, c.want)
			}
			continue
		}
		if err != nil {
			t.Errorf("%q: %v", c.csv, err)
			continue
		}
		for _, p := range []struct{ x, c, beta float64 }{
			{0.1, 0.16, 30}, {0.15, 0.16, 30}, {0.4, 0.18, 22.5}, {0.7, 0.17, 14}, {1, 0.05, 9},
		} {
			if c, beta := b.At(p.x); math.Abs(c-p.c) > 1e-12 || math.Abs(beta/deg-p.beta) > 1e-12 {
				t.Errorf("at r/R %g: chord %g, pitch angle %g°, want %g, %g", p.x, c, beta/deg, p.c, p.beta)
			}
		}
		// Between stations nothing overshoots.
		for x := 0.7; x < 1; x += 0.01 {
			if c, beta := b.At(x); c > 0.17 || c < 0.05 || beta > 14*deg || beta < 9*deg {
				t.Errorf("at r/R %.2f: chord %g, pitch angle %g° leave the range of their neighbours", x, c, beta/deg)
			}
		}
	}
}

func TestGeneric(t *testing.T) {
	const D, P = 5 * inch, 4.3 * inch
	b, err := Generic(D, P, 2, 0.18)
	if err != nil {
		t.Fatal(err)
	}
	// At 70 % radius the pitch angle is 1.028 of that of the helix, at the tip 0.90.
	for _, c := range []struct{ x, chord, kappa float64 }{
		{0.75, 0.18, math.NaN()}, {0.7, 0.18 * 1.06, 1.028}, {1, 0.18 * 0.29, 0.90}, {0.15, 0.18 * 0.96, 0.70},
	} {
		chord, beta := b.At(c.x)
		if math.Abs(chord-c.chord) > 1e-12 {
			t.Errorf("chord %g at r/R %g, want %g", chord, c.x, c.chord)
		}
		if k := beta / math.Atan(P/(math.Pi*D*c.x)); !math.IsNaN(c.kappa) && math.Abs(k-c.kappa) > 1e-12 {
			t.Errorf("pitch angle %.4f of the helix's at r/R %g, want %g", k, c.x, c.kappa)
		}
	}
	// The default chord: 0.157 at 8 in, falling with the diameter.
	if c := DefaultChord(8*inch, 2); math.Abs(c-0.157) > 1e-12 {
		t.Errorf("default chord of 8 in %.4f, want 0.157", c)
	}
	if r := DefaultChord(4*inch, 2) / DefaultChord(8*inch, 2); math.Abs(r-math.Pow(2, 0.22)) > 1e-12 {
		t.Errorf("default chord at half the diameter grows by %.4f, want 2^0.22", r)
	}
	d, err := Generic(D, P, 2, 0)
	if err != nil {
		t.Fatal(err)
	}
	if c, _ := d.At(0.75); c != DefaultChord(D, 2) {
		t.Errorf("chord 0 gives %g, want the default %g", c, DefaultChord(D, 2))
	}
	for _, c := range []struct {
		D, P, chord float64
		want        string
	}{
		{0.01, 0.01, 0.1, "diameter 0.01 m: want 0.02 to 1 m"},
		{0.1, 0.005, 0.1, "pitch 0.005 m is 0.05 of the diameter: want 0.1 to 2"},
		{0.1, math.NaN(), 0.1, "pitch NaN m"},
		{0.1, 0.1, 0.6, "chord/radius 0.6 at 75 % radius: want 0.03 to 0.5"},
		{0.1, 0.1, -0.1, "chord/radius -0.1"},
	} {
		if _, err := Generic(c.D, c.P, 2, c.chord); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("Generic(%g, %g, %g): error %v, want %q", c.D, c.P, c.chord, err, c.want)
		}
	}
}

func TestBasis(t *testing.T) {
	seen := map[string]bool{}
	value := map[string]float64{}
	for _, c := range Basis() {
		if c.Symbol == "" || c.Meaning == "" || c.Source == "" || seen[c.Symbol] || math.IsNaN(c.Value) {
			t.Errorf("incomplete or doubled constant %+v", c)
		}
		seen[c.Symbol] = true
		value[c.Symbol] = c.Value
	}
	// The generic blade can be drawn from them.
	b, err := Generic(8*inch, 5*inch, 2, 0.15)
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range planformX {
		if c, _ := b.At(x); math.Abs(c-0.15*value[fmt.Sprintf("c/c75 at %.2f", x)]) > 1e-9 {
			t.Errorf("chord %g at r/R %g, listed %g of 0.15", c, x, value[fmt.Sprintf("c/c75 at %.2f", x)])
		}
	}
	for _, x := range twistX {
		if _, beta := b.At(x); math.Abs(beta-value[fmt.Sprintf("kappa at %.2f", x)]*math.Atan(5/(math.Pi*x*8))) > 1e-9 {
			t.Errorf("pitch angle %g at r/R %g, listed kappa %g", beta, x, value[fmt.Sprintf("kappa at %.2f", x)])
		}
	}
	if len(seen) < 30 {
		t.Errorf("%d constants", len(seen))
	}
}
