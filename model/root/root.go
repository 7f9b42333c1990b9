// Package root finds where a function of one number falls through zero, kept inside a
// bracket, and the last place at which something holds.
package root

import "math"

// steps are more than a search that converges takes.
const steps = 100

// Secant seeks a root by the secant rule: through the two places tried last. A place that
// leaves the bracket, which the signs narrow, and one that follows an infinite value are
// replaced by the middle of the bracket. Functions fall: at least 0 below the root, negative
// above it, where they may be -Inf.
type Secant struct {
	// Step ends the search at a step of at most this share of the bracket, which is taken
	// and not tried, since its error is of the order of its square. 0 is for none. It does
	// not end where the function is still half of what it was at that end of the bracket,
	// except at the first step: there a small one is due to a flat stretch, not to the root.
	Step float64
	// Value ends it where the function is within this of 0.
	Value float64
	// Halve sends every so many steps one to the middle; 0 is for none.
	Halve int
}

// Between is the root between a and b, a below b, where f is fa, at least 0, and fb,
// below 0.
func (s Secant) Between(f func(float64) float64, a, b, fa, fb float64) float64 {
	x, _ := s.find(f, a, b, a, fa, fb, next(a, fa, b, fb))
	return x
}

// From is the root between a and b from two guesses, of which the first is moved into the
// bracket if need be. It is false where there is none.
func (s Secant) From(f func(float64) float64, a, b, first, second float64) (float64, bool) {
	first = math.Max(a, math.Min(first, b))
	y := f(first)
	return s.find(f, a, b, first, y, y, second)
}

// next is where the line through two places is 0.
func next(x, fx, y, fy float64) float64 { return x - fx*(x-y)/(fx-fy) }

// find tries z next, after x with the value fx and another place with the value fy.
func (s *Secant) find(f func(float64) float64, a, b, x, fx, fy, z float64) (float64, bool) {
	step, nothing := s.Step, s.Step*s.Step
	flatBelow, flatAbove := fx/2, fy/2 // of Between, where x is a and y is b
	for k := range steps {
		small := math.Abs(z-x) <= step*(b-a) && step > 0
		switch {
		case math.IsInf(fx, -1) || math.IsInf(fy, -1):
			if z = (a + b) / 2; b-a <= nothing {
				return a, true
			}
		case small && (k == 0 || fx < flatBelow && fx > flatAbove) || b-a <= nothing && step > 0:
			return max(a, min(z, b)), true
		case small || !(z >= a && z <= b) || s.Halve > 0 && k%s.Halve == s.Halve-1:
			z = (a + b) / 2
		}
		fz := f(z)
		if math.Abs(fz) <= s.Value {
			return z, true
		}
		if fz >= 0 {
			a = z
		} else {
			b = z
		}
		y := x
		fy, x, fx = fx, z, fz
		z = next(x, fx, y, fy)
	}
	return a, false
}

// Last is the last place between lo and hi up to which something holds, to within tol,
// by halves. It holds at lo and does not at hi.
func Last(holds func(float64) bool, lo, hi, tol float64) float64 {
	for hi-lo > tol {
		mid := (lo + hi) / 2
		switch {
		case mid == lo || mid == hi: // no number is between
			return lo
		case holds(mid):
			lo = mid
		default:
			hi = mid
		}
	}
	return lo
}
