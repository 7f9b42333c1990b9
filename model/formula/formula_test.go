package formula

import (
	"math"
	"strings"
	"testing"
)

// box is what the tests' formulas are about.
type box struct{ side, speed, unit float64 }

func notation() *Notation[box] {
	return New(
		Symbol[box]{Name: "a", Of: func(b box) float64 { return b.side }},
		Symbol[box]{Name: "a{mm}", Of: func(b box) float64 { return b.side }, Per: 1e3},
		Symbol[box]{Name: "n", Of: func(b box) float64 { return b.speed }, Per: 60, Put: "@/60"},
		Symbol[box]{Name: "t{0}", Of: func(b box) float64 { return b.speed }, Put: "@ - 1"},
		Symbol[box]{Name: "s", Is: "a + 2 n"},
		Symbol[box]{Name: "V", Of: func(b box) float64 { return b.side * b.side * b.side }},
		Symbol[box]{Name: "V'", Of: func(box) float64 { return 7 }},
		Symbol[box]{Name: "V/t", Of: func(box) float64 { return 9 }},
		Symbol[box]{Name: "by size", Of: func(box) float64 { return 5 }},
		Symbol[box]{Name: "[g]", Of: func(box) float64 { return 9.80665 }, Show: "9.8 m/s2"},
		Symbol[box]{Name: "{fit}", Of: func(b box) float64 { return b.unit }, One: true},
		Symbol[box]{Name: "x{other}", Of: func(box) float64 { return 11 }},
	)
}

func TestFormula(t *testing.T) {
	b := box{side: 3, speed: 2, unit: 1}
	for _, x := range []struct {
		text, shown, put string
		value            float64
	}{
		{"a + 2 n", "a + 2 n", "3 + 2 x 120/60", 7},
		{"a/n", "a/n", "3/(120/60)", 1.5},
		{"pi n^2 a{mm}", "pi n^2 a", "pi x (120/60)^2 x 3000", math.Pi * 12},
		{"1/s", "1/s", "1/(3 + 2 x 120/60)", 1. / 7},
		{"2 s", "2 s", "2 x (3 + 2 x 120/60)", 14},
		{"a - s", "a - s", "3 - (3 + 2 x 120/60)", -4}, // s is 7
		{"a - 2 - n", "a - 2 - n", "3 - 2 - 120/60", -1},
		{"a/2 n", "a/2 n", "3/2 x 120/60", 3},
		{"a - t{0}", "a - t", "3 - (2 - 1)", 1},
		{"acos(1/(a))", "acos(1/(a))", "acos(1/3)", math.Acos(1. / 3)},
		{"sqrt(a + 1) (a - 1)", "sqrt(a + 1) (a - 1)", "sqrt(3 + 1) x (3 - 1)", 4},
		{"a^(1/3)", "a^(1/3)", "3^(1/3)", math.Cbrt(3)},
		{"V' + V/t + V/a", "V' + V/t + V/a", "7 + 9 + 27/3", 25},
		{"4 by size", "4 by size", "4 x 5", 20},
		{"[g] a", "9.8 m/s2 a", "9.8066 x 3", 9.80665 * 3},
		{"a {fit}, n {fit}", "a, n", "3", 3},
		{"4 x 2 x{other}", "4 x 2 x", "4 x 2 x 11", 88},
		{`"as is"`, "as is", "", math.NaN()},
		{`"four of" V = a^3, "in metres"`, "four of V = a^3, in metres", "3^3", 27},
		{`a = 3, "so" V = a^3, "of the edge's a"`, "a = 3, so V = a^3, of the edge's a", "3^3", 27},
		{"a^3 = V", "a^3 = V", "", math.NaN()},
	} {
		f, err := notation().Parse(x.text)
		if err != nil {
			t.Error(err)
			continue
		}
		if f.String() != x.shown {
			t.Errorf("%s: printed %q, want %q", x.text, f, x.shown)
		}
		if got := f.Put("V", b); got != x.put || f.Solved("V") != (x.put != "") {
			t.Errorf("%s: put in %q, want %q", x.text, got, x.put)
		}
		if got := f.Value("V", b); !(math.Abs(got-x.value) < 1e-12) && !(math.IsNaN(got) && math.IsNaN(x.value)) {
			t.Errorf("%s: %g, want %g", x.text, got, x.value)
		}
		for _, e := range f.Equations(b) {
			if math.Abs(e[0]-e[1]) > 1e-12 {
				t.Errorf("%s: %g = %g", x.text, e[0], e[1])
			}
		}
	}
	b.unit = 1.25
	f, err := notation().Parse("a {fit}")
	if err != nil {
		t.Fatal(err)
	}
	if got := f.Put("V", b); got != "3 x 1.25" {
		t.Errorf("a factor that is not 1 is put in as %q", got)
	}
}

// What is no formula is refused with the place.
func TestParseRefuses(t *testing.T) {
	for text, want := range map[string]string{
		"a + z":       `no symbol is meant by "z"`,
		"a +":         `a number is missing before ""`,
		"(a + n":      `a bracket is not closed before ""`,
		`a "side`:     `the quote at "\"side" has no end`,
		"a ) n":       `a sign is missing before ") n"`,
		"1.2.3 a":     `"1.2.3" is no number`,
		"a = n = n":   `a sign is missing before "= n"`,
		"a{inch}":     `no symbol is meant by "a{inch}"`,
		"by sizes":    `no symbol is meant by "by sizes"`,
		`2, "so" , /`: `a number is missing before "/"`,
	} {
		if _, err := notation().Parse(text); err == nil || !strings.HasSuffix(err.Error(), want) {
			t.Errorf("%q: %v, want %s", text, err, want)
		}
	}
	defer func() {
		if r := recover(); r == nil {
			t.Error("two symbols of one name are taken")
		}
	}()
	New(Symbol[box]{Name: "a"}, Symbol[box]{Name: "a"})
}
