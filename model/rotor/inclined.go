package rotor

import (
	"math"

	"rotorsieve/model/root"
)

// Flow is the undisturbed flow at a rotor disc in m/s, both parts at least 0:
// Axial through the disc, against the thrust, and InPlane along it. At an
// airspeed V and an angle alpha between flow and disc they are V sin(alpha) and
// V cos(alpha).
type Flow struct{ Axial, InPlane float64 }

// Load is the state of a rotor in inclined flow.
type Load struct {
	N       float64 // rev/s
	Thrust  float64 // N, along the axis
	Power   float64 // W, at the shaft
	Drag    float64 // N, along the disc, downstream
	Induced float64 // m/s, along the axis
	Mu      float64 // in-plane flow over tip speed
	J       float64 // the advance ratio J' of the equivalent axial flow; may be negative
}

// Inclined returns the load at n rev/s in a flow, by the table for axial flow.
//
// The induced speed v follows from the thrust (Glauert, A general theory of the
// autogyro, 1926), Va and Vp being the axial and the in-plane flow:
//
//	T' = 2 rho A v sqrt(Vp² + (Va + v)²)
//
// Blades that meet the flow lambda = Va + v through the disc would do so in
// axial flow at the airspeed V' = lambda - T'/(2 rho A lambda), J' = V'/(n D),
// where they give the thrust T' and take the power of the table. To this the
// uneven speed around the disc adds, with mu = Vp/(Omega R), CTu the thrust
// without flow through the disc and CT0, CP0 those at rest:
//
//	T = T' + 2.0 mu² CTu rho n² D⁴,  CTu = CT0/(1 - sqrt(2 CT0/pi)/J(T=0))
//	P = P' + mu² (2.8 CP0 - 1.2 CTu Va/(n D)) rho n³ D⁵
//	H = mu (0.6 CTu lambda/(n D) + 1.6 CP0/pi) rho n² D⁴, the drag along the disc
//
// The terms are those of strip theory for an ideally twisted blade (in T the
// factor of theory is ln(1/0.15) = 1.9); the factors are fitted to blade-element
// solutions averaged around the disc of 24 generic rotors. Against other such
// solutions, where T exceeds 0.15 of the static thrust T0, the errors of T and H
// over T0 and of P over P0 are, in per cent, root mean square / largest:
//
//	disc angle   mu        T          P          H
//	70° to 85°   to 0.12   0.16/1.0   0.11/0.6   0.4/2.2
//	10° to 60°   to 0.15   0.6/2.4    0.5/1.3    0.6/2.0
//	             0.2       1.4/3.3    1.2/2.4    1.1/2.4
//	             0.3       4.6/13     6.0/16     3.3/8
//	0 to 5°      to 0.15   0.5/1.1    0.7/1.7    0.5/1.1
//	             0.2       2.2/5.6    1.5/3.3    1.0/2.3
//	             0.3       11.4/25    6.7/14     2.2/5.2
//
// A multirotor that is fast enough for mu 0.2 in level flight tilts by more than
// 10°; one at its top speed tilts by up to some 80°, where all mu short of zero
// thrust lie in the first line. To 10° J' is negative. Beyond mu 0.3 nothing has been compared.
//
// It is false where n is outside SpeedRange or a part of the flow is negative.
func (t *Table) Inclined(f Flow, n float64) (Load, bool) {
	if nMin, nMax := t.SpeedRange(); !(f.Axial >= 0 && f.InPlane >= 0 && n >= nMin && n <= nMax) {
		return Load{}, false
	}
	D := t.geometry.Diameter
	follow := func(V float64) float64 { // the induced speed at V'
		CT, _ := t.At(V/(n*D), n)
		return induced(2/math.Pi*CT*n*n*D*D, f.Axial, f.InPlane)
	}
	// V' lies between Va - Vp and Va, and what follows from it less V' falls.
	lack := func(V float64) float64 { return equivalent(f, follow(V)) - V }
	V := f.Axial
	if v := follow(V); v > 0 && f.InPlane > 0 {
		var ok bool
		if V, ok = seek(1e-12*n*D).From(lack, f.Axial-f.InPlane, f.Axial, V, equivalent(f, v)); !ok {
			return Load{}, false
		}
	}
	return t.load(f, n, V, follow(V)), true
}

// InclinedThrust returns the load at which the rotor gives a thrust in N, above
// 0, in a flow; see Inclined. It is false where no speed within SpeedRange does,
// or a part of the flow is negative.
func (t *Table) InclinedThrust(f Flow, thrust float64) (Load, bool) {
	if !(f.Axial >= 0 && f.InPlane >= 0 && thrust > 0) {
		return Load{}, false
	}
	D := t.geometry.Diameter
	A := math.Pi / 4 * D * D
	at := func(lnN float64) (V, v, T float64) {
		n := math.Exp(lnN)
		q := t.air.Density * n * n * D * D * D * D
		mu := f.InPlane / (math.Pi * n * D)
		extra := advanceThrust * mu * mu * t.unopposed(n) * q
		v = induced((thrust-extra)/(2*t.air.Density*A), f.Axial, f.InPlane)
		V = equivalent(f, v)
		CT, _ := t.At(V/(n*D), n)
		return V, v, CT*q + extra
	}
	lack := func(lnN float64) float64 {
		_, _, T := at(lnN)
		return 1 - T/thrust
	}
	nMin, nMax := t.SpeedRange()
	CT0, _ := t.Static(nMax / 3)
	x0 := math.Log(thrust/(t.air.Density*CT0*D*D*D*D)) / 2 // as at rest
	x1 := x0 + lack(x0)/2
	lnN, ok := seek(1e-12).From(lack, math.Log(nMin), math.Log(nMax), x0, x1)
	if !ok {
		return Load{}, false
	}
	V, v, _ := at(lnN)
	return t.load(f, math.Exp(lnN), V, v), true
}

// seek ends where the function is within tol of 0.
func seek(tol float64) root.Secant { return root.Secant{Value: tol, Halve: 8} }

// load completes the load at n rev/s from the equivalent axial speed V' and the
// induced speed v.
func (t *Table) load(f Flow, n, V, v float64) Load {
	D := t.geometry.Diameter
	q := t.air.Density * n * n * D * D * D * D
	J := V / (n * D)
	mu := f.InPlane / (math.Pi * n * D)
	CT, CP := t.At(J, n)
	_, CP0 := t.Static(n)
	CTu := t.unopposed(n)
	return Load{
		N:       n,
		Thrust:  q * (CT + advanceThrust*mu*mu*CTu),
		Power:   q * n * D * (CP + mu*mu*(advancePower*CP0-advanceRelief*CTu*f.Axial/(n*D))),
		Drag:    q * mu * (dragTilt*CTu*(f.Axial+v)/(n*D) + dragProfile*CP0/math.Pi),
		Induced: v,
		Mu:      mu,
		J:       J,
	}
}

// unopposed returns CTu, the thrust coefficient of a rotor without flow through
// its disc: thrust falls linearly with that flow, which at rest is
// sqrt(T/(2 rho A)) and at zero thrust J(T=0) n D.
func (t *Table) unopposed(n float64) float64 {
	CT0, _ := t.Static(n)
	return CT0 / (1 - math.Sqrt(2*CT0/math.Pi)/t.zeroThrust)
}

// equivalent returns V' for an induced speed.
func equivalent(f Flow, v float64) float64 {
	lambda := f.Axial + v
	if lambda == 0 {
		return f.Axial
	}
	return f.Axial + v*(1-math.Hypot(f.InPlane, lambda)/lambda)
}

// induced solves v sqrt(Vp² + (Va + v)²) = w2 for v; without thrust, w2 ≤ 0, it
// is 0. The left side is convex in v, so that Newton's method from an upper
// bound comes down to the root.
func induced(w2, Va, Vp float64) float64 {
	if !(w2 > 0) {
		return 0
	}
	v := math.Min(math.Sqrt(w2), w2/math.Hypot(Va, Vp))
	for range 60 {
		lambda := Va + v
		m := math.Sqrt(Vp*Vp + lambda*lambda)
		step := (v*m - w2) / (m + v*lambda/m)
		v -= step
		if !(step > 1e-13*v) {
			break
		}
	}
	return v
}
