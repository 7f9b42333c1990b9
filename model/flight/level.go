package flight

import (
	"math"

	"rotorsieve/model/frame"
	"rotorsieve/model/rotor"
)

// Body is the drag area CdA of a craft in m2, at a tilt and for a mass m in kg,
//
//	CdA = 0.0125 m^(2/3) (cos tilt + 2.5 sin tilt) + payload
//
// Common practice; bodies of one shape and density have frontal areas that go as
// m^(2/3).
type Body struct {
	level     float64 // m2, without payload
	broadside float64 // over level, seen from above
	payload   float64 // m2
}

// Hull is what is known of a craft's drag besides its mass.
type Hull struct {
	Payload float64 // frontal area that a payload adds, m2, with a drag coefficient of 1
	Area    float64 // stated drag area of the level body, m2; 0 for that which follows from the mass
}

// Body gives the body of a craft of a mass in kg.
func (p *Parameters) Body(mass float64, h Hull) Body {
	b := Body{level: h.Area, broadside: p.Broadside, payload: h.Payload}
	if h.Area == 0 {
		c := math.Cbrt(mass)
		b.level = p.BodyDrag * c * c
	}
	return b
}

// DragArea is CdA in m2 at a tilt in rad, 0 to pi/2: the body meets the air from
// the front when level, and from above when it stands on edge or climbs.
func (b Body) DragArea(tilt float64) float64 {
	sin, cos := math.Sincos(tilt)
	return b.level*(cos+b.broadside*sin) + b.payload
}

// forces gives the drag of the body at a dynamic pressure q in Pa, the thrust that
// balances it and the weight, and the remainder along the discs, which the rotors' own
// drag balances.
func (b Body) forces(weight, q, tilt float64) (drag, thrust, along float64) {
	sin, cos := math.Sincos(tilt)
	drag = q * b.DragArea(tilt)
	return drag, weight*cos + drag*sin, weight*sin - drag*cos
}

// Trim is the state of steady flight of a craft of four rotors.
type Trim struct {
	Airspeed float64    // m/s
	Tilt     float64    // of the discs from the level, nose down, rad
	Drag     float64    // of the body, N
	Thrust   float64    // of all rotors, along their axes, net of the drag of the arms, N
	Wash     float64    // speed of the air in the fully developed slipstream, m/s
	Rotor    rotor.Load // of one rotor
}

// Torque is that of one shaft in N m.
func (t *Trim) Torque() float64 { return t.Rotor.Power / (2 * math.Pi * t.Rotor.N) }

// Level finds steady level flight of a weight in N at an airspeed in m/s, at
// least 0. With the drag D of the body along the flight and the drag H of the
// rotors along their discs,
//
//	W sin tilt = D cos tilt + H,  T = W cos tilt + D sin tilt
//
// which without H is T = sqrt(W^2 + D^2), tan tilt = D/W. It is false where no
// speed of rotation that the rotor model covers supports the craft.
func (p *Propulsor) Level(weight float64, b Body, airspeed float64) (Trim, bool) {
	q := p.Density / 2 * airspeed * airspeed
	g := lean{tilt: math.Atan2(q*(b.level+b.payload), weight), slope: 1}
	return p.level(weight, b, airspeed, &g, 1e-11)
}

// lean is a guess of the tilt in rad, and of how fast the forces out of balance
// grow with it, over the weight; after a trim, what was found.
type lean struct{ tilt, slope float64 }

// level is Level from a guess, to a tolerance of the forces over the weight. The
// forces out of balance, W sin tilt - D cos tilt - H, cross zero once from below,
// since the rotors' drag goes to zero as they come to face the flow. The search does not
// use package root, since it starts from the slope of the node before and some tilts have
// no trim.
func (p *Propulsor) level(weight float64, b Body, airspeed float64, g *lean, tol float64) (Trim, bool) {
	const maxSteps = 80
	q := p.Density / 2 * airspeed * airspeed
	lo, hi := 0.0, math.Pi/2
	last, missed := math.NaN(), math.NaN() // the tilt tried before, and by how much it missed
	t := Trim{Airspeed: airspeed, Tilt: g.tilt}
	for range maxSteps {
		sin, cos := math.Sincos(t.Tilt)
		var along float64
		t.Drag, t.Thrust, along = b.forces(weight, q, t.Tilt)
		var ok bool
		t.Rotor, ok = p.inclinedThrust(rotor.Flow{Axial: airspeed * sin, InPlane: airspeed * cos},
			t.Thrust/(frame.Rotors*p.Installed))
		miss := (along - frame.Rotors*t.Rotor.Drag) / weight
		step := math.NaN()
		switch {
		case !ok: // with too little tilt the flow drives the rotors
			lo = t.Tilt
		case math.Abs(miss) <= tol:
			g.tilt = t.Tilt
			t.Wash = wash(t.Rotor.Induced, airspeed, t.Tilt)
			return t, true
		default:
			if miss < 0 {
				lo = t.Tilt
			} else {
				hi = t.Tilt
			}
			if slope := (miss - missed) / (t.Tilt - last); slope > 0 {
				g.slope = slope
			}
			step = -miss / g.slope
			last, missed = t.Tilt, miss
		}
		if hi-lo <= 1e-13 {
			break
		}
		if next := t.Tilt + step; next > lo && next < hi {
			t.Tilt = next
		} else {
			t.Tilt = (lo + hi) / 2
		}
	}
	return t, false
}

// Climb finds steady vertical flight upwards of a weight in N at an airspeed in
// m/s, at least 0: T = W + D. It is false as Level is.
func (p *Propulsor) Climb(weight float64, b Body, airspeed float64) (Trim, bool) {
	t := Trim{Airspeed: airspeed}
	t.Drag = p.Density / 2 * airspeed * airspeed * b.DragArea(math.Pi/2)
	t.Thrust = weight + t.Drag
	var ok bool
	t.Rotor, ok = p.inclinedThrust(rotor.Flow{Axial: airspeed}, t.Thrust/(frame.Rotors*p.Installed))
	t.Wash = wash(t.Rotor.Induced, airspeed, math.Pi/2)
	return t, ok
}

// wash is the speed of the air in the fully developed slipstream, where the
// induced speed v at the disc has doubled (momentum theory).
func wash(v, airspeed, tilt float64) float64 {
	sin, cos := math.Sincos(tilt)
	return math.Hypot(airspeed*cos, airspeed*sin+2*v)
}
