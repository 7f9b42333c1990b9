package rotor

import (
	"errors"
	"math"
)

// station is one strip of the blade.
type station struct {
	x     float64 // r/R at its middle
	r     float64 // m
	dr    float64 // m
	chord float64 // m
	cr    float64 // chord/r
	sigma float64 // local solidity B chord/(2 pi r)
	tip   float64 // exponent of the tip loss times |sin phi|
	root  float64 // the same at the root

	alpha          float64 // rad, pitch angle from the zero-lift line
	sAlpha, cAlpha float64
}

// element is one station in one flow: all that stays fixed while the inflow
// angle phi is sought.
type element struct {
	*station
	*polar
	flow flow
	V    float64 // m/s, axial
	U    float64 // m/s, Omega r

	dragFactor float64
}

// state is an element at one inflow angle.
type state struct {
	s, c, sign float64 // sin phi, cos phi, sign of sin phi
	sx         float64 // sine of the angle of attack from zero lift
	lifting
	kl, dkl float64 // sigma cl/(4 F) and its derivative with phi
}

func (e *element) at(phi float64) (a state) {
	a.s, a.c = math.Sincos(phi)
	a.sign = math.Copysign(1, phi)
	a.sx = e.sAlpha*a.c - e.cAlpha*a.s
	cx := e.cAlpha*a.c + e.sAlpha*a.s
	a.lifting = e.lift(&e.flow, e.alpha-phi, a.sx, cx)
	F, dF := loss(e.tip, a.sign*a.s)
	G, dG := loss(e.root, a.sign*a.s)
	dF = (dF*G + F*dG) * a.sign * a.c
	F *= G
	k := e.sigma / (4 * F)
	a.kl = k * a.cl
	a.dkl = -k*a.slope - a.kl*dF/F
	return a
}

// loss returns Prandtl's factor F = 2/pi acos(exp(-k/s)) and its derivative
// with s = |sin phi|.
func loss(k, s float64) (F, dF float64) {
	f := k / s
	if !(f < 40) { // F is 1 to the last bit; s may be 0
		return 1, 0
	}
	E := math.Exp(-f)
	return 2 / math.Pi * math.Acos(E), -2 / math.Pi * E * f / (s * math.Sqrt((1-E)*(1+E)))
}

// residual returns R(phi) and its derivative.
func (e *element) residual(a *state) (R, dR float64) {
	sc, ss := a.sign*a.s*a.c, a.sign*a.s*a.s
	R = e.V*(sc+a.kl*a.s) - e.U*(ss-a.kl*a.c)
	dR = e.V*(a.sign*(a.c*a.c-a.s*a.s)+a.dkl*a.s+a.kl*a.c) - e.U*(2*sc-a.dkl*a.c+a.kl*a.s)
	return R, dR
}

var (
	errBalance = errors.New("no inflow angle balances lift and momentum; want an advance ratio between hover and " +
		"zero thrust")
	errReversed = errors.New("the swirl of the wake exceeds the speed of the blade; want an advance ratio between " +
		"hover and zero thrust")
)

// solve returns the state of balance, found by Newton's method kept inside a
// bracket: at phi = 0, R has the sign of the lift there, and from there it falls
// to 90° and rises to -90°. It starts at *phi, or at a guess where that is 0, and
// leaves the angle found there. It is the innermost loop and has slopes, which package
// root does without.
func (e *element) solve(phi *float64) (state, error) {
	const (
		maxSteps = 100
		enough   = 1e-5  // rad; what is left after such a step is of the order of its square
		nothing  = 1e-14 // rad; a bracket that can shrink no more
	)
	lo, hi := 0.0, math.Pi/2
	if e.alpha < 0 {
		lo, hi = -math.Pi/2, 0
	}
	p := *phi
	if p == 0 {
		p = e.guess()
	}
	for k := range maxSteps {
		a := e.at(p)
		R, dR := e.residual(&a)
		if R > 0 {
			lo = p
		} else {
			hi = p
		}
		next := p - R/dR
		done := math.Abs(next-p) < enough
		if !(next >= lo && next <= hi) || k%12 == 11 {
			next = (lo + hi) / 2
			done = hi-lo < nothing
		}
		p = next
		if done {
			break
		}
	}
	*phi = p
	a := e.at(p)
	return a, e.check(&a)
}

// check refuses what is no balance, and a state in which the element would move
// backwards through the swirl of the wake.
func (e *element) check(a *state) error {
	const tolerance = 1e-6 // of the speed of the element
	R, _ := e.residual(a)
	switch {
	case !(math.Abs(R) <= tolerance*(e.U+math.Abs(e.V))):
		return errBalance
	case !(a.c+a.sign*a.kl > 0):
		return errReversed
	}
	return nil
}

// guess solves the residual for small angles, attached flow and F = 1.
func (e *element) guess() float64 {
	k := e.sigma * e.flow.slope / 4
	J := e.V / e.U
	if e.alpha > 0 {
		b := (J - k) / 2
		return math.Atan(b + math.Sqrt(b*b+k*e.alpha))
	}
	b := (J + k) / 2
	return math.Atan(b - math.Sqrt(b*b-k*e.alpha))
}

// force returns thrust and torque of the strip on one blade, per unit of air
// density.
func (e *element) force(a *state) (dT, dQ float64) {
	cd := e.dragFactor * e.drag(&e.flow, &a.lifting, a.sx)
	W := e.U / (a.c + a.sign*a.kl)
	q := 0.5 * W * W * e.chord * e.dr
	return q * (a.cl*a.c - cd*a.s), q * (a.cl*a.s + cd*a.c) * e.r
}
