package rotor

import (
	"fmt"
	"math"

	"rotorsieve/model/air"
)

// strips is the number of strips of a blade. The result is within 0.1 % of that
// of 300.
const strips = 24

// minAdvance is the lowest advance ratio that is solved.
const minAdvance = -0.5

// Solver finds thrust and power of one rotor in one air by blade-element
// momentum theory. It is safe for concurrent use.
//
// At each station the inflow angle phi is the root of
//
//	R(phi) = V(|s| c + kl s) - Omega r (|s| s - kl c)
//	s = sin phi, c = cos phi, kl = sigma cl/(4 F), sigma = B chord/(2 pi r)
//
// which balances axial and swirl momentum with the lift; drag is left out of
// the induction. The form is regular at phi = 0 and at V = 0 (derived here,
// after Ning, A simple solution method for the blade element momentum
// equations with guaranteed convergence, 2014). Reynolds and Mach numbers use
// the speed without induction, hypot(Omega r, V), which leaves phi the only
// unknown. F is Prandtl's factor of tip and root loss (Glauert, Airplane
// Propellers, 1935).
type Solver struct {
	geometry Geometry
	air      air.Air
	polar    *polar
	drag     float64 // factor of the section drag
	stations [strips]station
}

// New prepares a solver for a rotor in air. The error says what in the
// geometry or the air is out of range.
func New(g Geometry, a air.Air) (*Solver, error) {
	return newSolver(g, a, &section)
}

func newSolver(g Geometry, a air.Air, p *polar) (*Solver, error) {
	if err := g.check(); err != nil {
		return nil, err
	}
	if !(a.Density > 0 && a.Viscosity > 0 && a.SoundSpeed > 0) {
		return nil, fmt.Errorf("rotor: air of density %g kg/m³, viscosity %g Pa s and sound speed %g m/s: want all "+
			"positive, as package air gives them",
			a.Density, a.Viscosity, a.SoundSpeed)
	}
	s := &Solver{geometry: g, air: a, polar: p, drag: 1 + g.Correction.Drag}
	for i := range s.stations {
		s.stations[i] = s.station(stripEdge(i), stripEdge(i+1))
	}
	return s, nil
}

// station returns the strip between two values of r/R.
func (s *Solver) station(x0, x1 float64) station {
	g := &s.geometry
	R := g.Diameter / 2
	B := float64(g.Blades)
	x := (x0 + x1) / 2
	c, beta := g.Blade.At(x)
	c *= 1 + g.Correction.Chord
	alpha := beta + g.Correction.Pitch - s.polar.alpha0
	sin, cos := math.Sincos(alpha)
	return station{
		x: x, r: x * R, dr: (x1 - x0) * R,
		chord: c * R, cr: c / x,
		sigma: B * c / (2 * math.Pi * x),
		tip:   B / 2 * (1 - x) / x,
		root:  B / 2 * (x - rootEdge) / x,
		alpha: alpha, sAlpha: sin, cAlpha: cos,
	}
}

// stripEdge returns r/R of the i-th edge between strips, which lie closer together
// towards the tip, where the load falls steeply.
func stripEdge(i int) float64 {
	t := float64(i) / strips
	return bladeRoot + (1-bladeRoot)*(1-math.Pow(1-t, 1.5))
}

// Point is what a rotor does at one advance ratio and speed.
type Point struct {
	CT float64 // T/(rho n² D⁴)
	CP float64 // P/(rho n³ D⁵)
}

// Solve returns thrust and power at advance ratio J = V/(n D), -0.5 or more, and
// speed n in rev/s. Far below J = 0 the rotor meets its own wake, and momentum
// theory has no answer. It does not allocate. The error names the station at
// which no state of flow was found.
func (s *Solver) Solve(J, n float64) (Point, error) {
	var phi inflow
	return s.solve(J, n, &phi)
}

// inflow holds the inflow angle of each station.
type inflow [strips]float64

// solve is Solve with a first guess of the inflow angles, which it replaces by
// the angles found; a guess of 0 stands for none.
func (s *Solver) solve(J, n float64, phi *inflow) (Point, error) {
	D := s.geometry.Diameter
	V := J * n * D
	Omega := 2 * math.Pi * n
	if !(n > 0 && J >= minAdvance) || math.IsInf(Omega*D, 0) || math.IsInf(V, 0) {
		return Point{}, fmt.Errorf("rotor: J = %g at n = %g rev/s: want a finite advance ratio, %g or more, and a "+
			"positive speed", J, n, minAdvance)
	}
	var T, Q float64 // of one blade, per unit of air density
	for i := range s.stations {
		e := s.element(&s.stations[i], V, Omega)
		a, err := e.solve(&phi[i])
		if err != nil {
			return Point{}, fmt.Errorf("rotor: J = %g, n = %g rev/s: station r/R = %.3f: %w", J, n, e.x, err)
		}
		dT, dQ := e.force(&a)
		T += dT
		Q += dQ
	}
	B := float64(s.geometry.Blades)
	n2D4 := n * n * D * D * D * D
	return Point{CT: B * T / n2D4, CP: 2 * math.Pi * B * Q / (n2D4 * D)}, nil
}

func (s *Solver) element(st *station, V, Omega float64) element {
	U := Omega * st.r
	W := math.Sqrt(U*U + V*V)
	return element{
		station: st, polar: s.polar, dragFactor: s.drag, V: V, U: U,
		flow: s.polar.at(s.air.Density*W*st.chord/s.air.Viscosity, W/s.air.SoundSpeed, st.cr),
	}
}
