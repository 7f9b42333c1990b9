package root

import (
	"math"
	"testing"
)

// falling are functions that fall through 0, with their roots.
var falling = []struct {
	name string
	f    func(float64) float64
	a, b float64
	root float64
}{
	{"line", func(x float64) float64 { return 3 - 2*x }, 0, 2, 1.5},
	{"parabola", func(x float64) float64 { return 2 - x*x }, 0, 2, math.Sqrt2},
	{"exponential", func(x float64) float64 { return math.Exp(-3*x) - 0.1 }, 0, 2, math.Log(10) / 3},
	{"flat below", func(x float64) float64 { return 1 - math.Pow(x, 9) }, 0, 2, 1},
	{"flat above", func(x float64) float64 { return math.Pow(2-x, 9) - 1e-3 }, 0, 2, 2 - math.Pow(1e-3, 1.0/9)},
	{"cube root", func(x float64) float64 { return math.Cbrt(0.3 - x) }, 0, 2, 0.3},
	{"no value above 0.7", func(x float64) float64 {
		if x > 0.7 {
			return math.Inf(-1)
		}
		return 1 - x
	}, 0, 2, 0.7},
	{"at the lower end", func(x float64) float64 { return -x }, 0, 2, 0},
	{"large", func(x float64) float64 { return 1e9 - x*x }, 1e4, 1e6, math.Sqrt(1e9)},
}

func TestBetween(t *testing.T) {
	for _, c := range falling {
		for _, x := range []struct{ step, tol float64 }{{1e-5, 1e-7}, {1e-10, 1e-14}} {
			tried := 0
			f := func(at float64) float64 {
				if !(at >= c.a && at <= c.b) {
					t.Errorf("%s: tried at %g, outside %g to %g", c.name, at, c.a, c.b)
				}
				tried++
				return c.f(at)
			}
			got := Secant{Step: x.step}.Between(f, c.a, c.b, c.f(c.a), c.f(c.b))
			if !(math.Abs(got-c.root) <= x.tol*c.b) || tried > steps {
				t.Errorf("%s: %.17g after %d tries with steps to %g, want %.17g", c.name, got, tried, x.step, c.root)
			}
		}
	}
}

// From two guesses, wherever they lie, to a value; halving does no harm.
func TestFrom(t *testing.T) {
	const tol = 1e-11
	for _, c := range falling[:5] {
		for _, guess := range [][2]float64{{c.a, c.b}, {c.b, c.a}, {-5, 17}, {c.root, c.root}, {0.9, 0.9}} {
			got, ok := Secant{Value: tol, Halve: 8}.From(c.f, c.a, c.b, guess[0], guess[1])
			if !ok || math.Abs(c.f(got)) > tol || got < c.a || got > c.b {
				t.Errorf("%s from %v: %.17g with %g, %v", c.name, guess, got, c.f(got), ok)
			}
		}
	}
	for name, f := range map[string]func(float64) float64{
		"above":     func(x float64) float64 { return 1 + x },
		"below":     func(x float64) float64 { return -1 - x },
		"a step":    func(x float64) float64 { return math.Copysign(1, 0.5-x) },
		"no number": func(float64) float64 { return math.NaN() },
	} {
		if x, ok := (Secant{Value: tol, Halve: 8}).From(f, 0, 2, 0, 2); ok {
			t.Errorf("%s: a root at %g", name, x)
		}
	}
}

// One step in so many goes to the middle of the bracket.
func TestHalve(t *testing.T) {
	const halve = 4
	a, b, n := 0.0, 3.0, -2 // of the two guesses the second is the first step
	f := func(x float64) float64 {
		if n++; n%halve == halve-1 && x != (a+b)/2 {
			t.Errorf("step %d tries %g between %g and %g", n, x, a, b)
		}
		y := 1 - math.Pow(x, 40)
		if n >= 0 && y >= 0 {
			a = x
		} else if n >= 0 {
			b = x
		}
		return y
	}
	if x, ok := (Secant{Value: 1e-9, Halve: halve}).From(f, a, b, 0, 2.9); !ok || math.Abs(x-1) > 1e-9 || n < 2*halve {
		t.Errorf("%g, %v after %d steps", x, ok, n)
	}
}

func TestLast(t *testing.T) {
	for _, c := range []struct{ lo, hi, at, tol float64 }{
		{0, 12000, 7123.4, 1}, {0, 12000, 0, 1}, {0, 1, 1 / 3.0, 0}, {1e-3, 700, 52, 0}, {-1, 1, -0.25, 1e-6},
	} {
		tried := 0
		got := Last(func(x float64) bool { tried++; return x <= c.at }, c.lo, c.hi, c.tol)
		if !(got <= c.at && c.at-got <= c.tol) || tried > 1100 {
			t.Errorf("%g to %g: %.17g after %d tries, want %.17g within %g", c.lo, c.hi, got, tried, c.at, c.tol)
		}
	}
}
