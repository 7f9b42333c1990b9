package flight

import (
	"math"

	"rotorsieve/model/frame"
)

// The nodes of an Envelope.
const (
	levelNodes = 26 // airspeeds of level flight
	climbNodes = 12 // airspeeds of climb
	massStep   = 0.4
	// Nodes of airspeed lie closest about turnSpeed, where the tilt rises fastest,
	// evenly within evenSpeeds of it, and ever further apart beyond; both over the
	// airspeed at which the drag of the level body is the weight.
	turnSpeed  = 0.28
	evenSpeeds = 0.14

	fastest = 0.88 // of the speeds of rotation that the rotor model covers, at the last node
	hardest = 0.65 // of the same, in hover at the heaviest weight
	idlest  = 2.0  // times the slowest, in hover at the lightest weight
)

// Envelope holds what a propeller must do to carry a craft through the air: speed
// of rotation and torque over all-up weight and airspeed, in level flight and in
// climb. They do not depend on motor, controller and pack, so that one envelope
// serves all of them. It is read-only and safe for concurrent use.
//
// Weights are evenly spaced in their logarithm, and each has its own airspeeds,
// from 0 to the fastest that the rotor model covers. In between, Lagrange's cubic
// through four weights and four airspeeds is within 0.2 % of the power of the
// trim itself.
type Envelope struct {
	low      float64      // ln of the lightest mass in kg
	masses   int          // 0 where the propeller carries nothing
	heaviest float64      // mass in kg
	lighter  float64      // how far below the lightest it may be read, in steps of massStep
	level    []state      // [mass*levelNodes + speed]
	climb    []state      // [mass*climbNodes + speed]
	least    []leastNodes // [mass]
	blended  *blended     // in place of level and climb; nil for none
}

// state is what an envelope holds at a node.
type state struct {
	V    float64 // airspeed, m/s
	n    float64 // rev/s
	Q    float64 // torque of a shaft over the mass of the craft, N m/kg
	tilt float64 // rad
	wash float64 // m/s
}

// leastNodes are the nodes of level flight at which shaft power, and shaft power over
// airspeed, are least.
type leastNodes struct{ power, far int }

// NewEnvelope trims a propeller over the weights from the lightest craft in kg
// to what it can carry, of a hull, in a few
// milliseconds.
func NewEnvelope(by *Parameters, p *Propulsor, lightest float64, h Hull) *Envelope {
	hover := func(n float64) float64 { // mass carried at n
		T, _ := p.static(n)
		return frame.Rotors * T / Gravity
	}
	low := math.Max(lightest, hover(idlest*p.nMin))
	high := hover(hardest * p.nMax)
	e := &Envelope{low: math.Log(low)}
	masses := max(4, 2+int(math.Log(high/low)/massStep))
	if !(high > low) {
		masses = 0
	}
	e.level = make([]state, 0, masses*levelNodes)
	e.climb = make([]state, 0, masses*climbNodes)
	var end, top [2]float64 // of the airspeeds, at the two weights before
	for i := range masses {
		c := course{p: p, mass: math.Exp(e.low + massStep*float64(i))}
		c.body = by.Body(c.mass, h)
		if !c.end(c.trimLevel, &end) || !c.end(c.trimClimb, &top) {
			break
		}
		heavy := math.Sqrt(2 * c.mass * Gravity / (p.Density * c.body.DragArea(0)))
		first, last := math.Asinh(-turnSpeed/evenSpeeds), math.Asinh((end[1]/heavy-turnSpeed)/evenSpeeds)
		level, ok := c.trace(c.trimLevel, e.level, levelNodes, func(u float64) float64 {
			return heavy * math.Max(0, turnSpeed+evenSpeeds*math.Sinh(first+u*(last-first)))
		})
		if !ok {
			break
		}
		climb, ok := c.trace(c.trimClimb, e.climb, climbNodes, func(u float64) float64 { return u * top[1] })
		if !ok {
			break
		}
		row := level[len(e.level):]
		at := leastNodes{0, 1}
		for j := range row {
			if row[j].n*row[j].Q < row[at.power].n*row[at.power].Q {
				at.power = j
			}
			if j > 0 && row[j].n*row[j].Q/row[j].V < row[at.far].n*row[at.far].Q/row[at.far].V {
				at.far = j
			}
		}
		e.level, e.climb, e.least = level, climb, append(e.least, at)
		e.masses++
	}
	if e.masses < 4 { // too few for a cubic
		return &Envelope{low: e.low}
	}
	e.heaviest = e.last()
	return e
}

// last is the heaviest mass in kg.
func (e *Envelope) last() float64 { return math.Exp(e.low + massStep*float64(e.masses-1)) }

// course is one weight of an envelope while it is traced.
type course struct {
	p    *Propulsor
	mass float64
	body Body
	lean lean
}

func (c *course) trimLevel(V float64) (Trim, bool) {
	return c.p.level(c.mass*Gravity, c.body, V, &c.lean, 2e-5)
}

func (c *course) trimClimb(V float64) (Trim, bool) {
	return c.p.Climb(c.mass*Gravity, c.body, V)
}

// trace appends the nodes of one weight.
func (c *course) trace(trim func(float64) (Trim, bool), to []state, nodes int, speed func(u float64) float64) ([]state,
	bool) {
	first := len(to)
	c.lean = lean{slope: 1}
	for j := range nodes {
		// The tilt goes on as it did over the last nodes.
		if done := to[first:]; j >= 3 {
			c.lean.tilt = math.Min(3*(done[j-1].tilt-done[j-2].tilt)+done[j-3].tilt, math.Pi/2)
		}
		V := speed(float64(j) / float64(nodes-1))
		t, ok := trim(V)
		if !ok {
			return nil, false
		}
		to = append(to, state{V: V, n: t.Rotor.N, Q: t.Torque() / c.mass, tilt: t.Tilt, wash: t.Wash})
	}
	return to, true
}

// end finds the airspeed at which the speed of rotation comes to the end of what
// the rotor model covers, from those of the two weights before, and puts it after
// them. It is false where there is none. The search does not use package root, since its
// bracket is not known beforehand and it ends early.
func (c *course) end(trim func(float64) (Trim, bool), ends *[2]float64) bool {
	const near = 2e-3 // the nodes need not end exactly there
	want := fastest * c.p.nMax
	// over is ln n less that wanted; a speed without trim is over.
	over := func(V float64) float64 {
		t, ok := trim(V)
		if !ok {
			return math.Inf(1)
		}
		return math.Log(t.Rotor.N / want)
	}
	V := ends[1]
	switch {
	case V == 0:
		V = 0.2 * c.p.nMax * math.Sqrt(c.p.disc) // J near 0.2, which all propellers reach
	case ends[0] > 0:
		V *= V / ends[0]
	}
	c.lean = lean{tilt: 1, slope: 1}
	lo, hi := 0.0, math.Inf(1)
	flo, fhi := math.NaN(), math.Inf(1)
	for range 80 {
		f := over(V)
		switch {
		case math.Abs(f) <= near:
			ends[0], ends[1] = ends[1], V
			return true
		case V < 1e-3:
			return false
		case f < 0:
			lo, flo = V, f
		default:
			hi, fhi = V, f
		}
		switch {
		case math.IsInf(hi, 1):
			V *= 1.12
		case lo == 0:
			V /= 1.12
		case math.IsInf(fhi, 1):
			V = (lo + hi) / 2
		default:
			V = lo + (hi-lo)*flo/(flo-fhi)
		}
	}
	return false
}

// Carries says that a mass in kg is below the heaviest of the envelope.
func (e *Envelope) Carries(mass float64) bool { return mass < e.heaviest }

// row is an envelope at one weight, between its nodes.
type row struct {
	level, climb path
	least        leastNodes // roughly
}

// path is level flight or climb of one weight over its airspeeds. Places on it
// are counted in nodes, from 0 to nodes-1, and may lie between them.
type path struct {
	s     []state // of four weights, one after the other
	nodes int
	w     [4]float64 // of each weight
	mass  float64    // kg
}

// at gives the row of a mass in kg. It is false outside the envelope.
func (e *Envelope) at(mass float64) (r row, ok bool) {
	ok = e.find(&r, mass)
	return r, ok
}

// find is at with its result written to memory of the caller.
func (e *Envelope) find(r *row, mass float64) bool {
	x := (math.Log(mass) - e.low) / massStep
	const rounding = 1e-9
	if e.masses == 0 || !(x >= -rounding-e.lighter && x <= float64(e.masses-1)+rounding) {
		return false
	}
	i := max(0, min(int(x)-1, e.masses-4))
	w := lagrange(x - float64(i))
	r.level.nodes, r.level.w, r.level.mass = levelNodes, w, mass
	r.climb.nodes, r.climb.w, r.climb.mass = climbNodes, w, mass
	if e.blended == nil {
		r.level.s, r.climb.s = e.level[i*levelNodes:(i+4)*levelNodes], e.climb[i*climbNodes:(i+4)*climbNodes]
	} else {
		x := e.blended.at(i)
		r.level.s, r.climb.s = x.level[:], x.climb[:]
	}
	r.least = e.least[max(0, min(int(x), e.masses-1))]
	return true
}

// lagrange gives the weights of the cubic through 0, 1, 2 and 3 at x.
func lagrange(x float64) [4]float64 {
	a, b, c, d := x, x-1, x-2, x-3
	return [4]float64{-b * c * d / 6, a * c * d / 2, -a * b * d / 2, a * b * c / 6}
}

func dot(a, b *[4]float64) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] + a[3]*b[3] }

// node gives airspeed, speed of rotation and torque at node j.
func (p *path) node(j int) (V, n, Q float64) {
	s := p.s[j : j+3*p.nodes+1]
	a, b, c, d := &s[0], &s[p.nodes], &s[2*p.nodes], &s[3*p.nodes]
	V = p.w[0]*a.V + p.w[1]*b.V + p.w[2]*c.V + p.w[3]*d.V
	n = p.w[0]*a.n + p.w[1]*b.n + p.w[2]*c.n + p.w[3]*d.n
	Q = p.w[0]*a.Q + p.w[1]*b.Q + p.w[2]*c.Q + p.w[3]*d.Q
	return V, n, Q * p.mass
}

// speed gives the speed of rotation at node j.
func (p *path) speed(j int) float64 {
	s := p.s[j : j+3*p.nodes+1]
	return p.w[0]*s[0].n + p.w[1]*s[p.nodes].n + p.w[2]*s[2*p.nodes].n + p.w[3]*s[3*p.nodes].n
}

// about gives the four nodes about a place on the path, to read between them.
func (p *path) about(u float64) (s stretch) {
	p.fill(&s, int(u))
	return s
}

// fill is about at a node, with its result written to memory of the caller.
func (p *path) fill(s *stretch, j int) {
	first := max(0, min(j-1, p.nodes-4))
	s.first = float64(first)
	for k := range 4 {
		s.V[k], s.n[k], s.Q[k] = p.node(first + k)
	}
}

// attitude gives tilt in rad and wash in m/s.
func (p *path) attitude(u float64) (tilt, wash float64) {
	first := max(0, min(int(u)-1, p.nodes-4))
	w := lagrange(u - float64(first))
	for k := range 4 {
		for l := range 4 {
			s := &p.s[first+k+l*p.nodes]
			tilt += w[k] * p.w[l] * s.tilt
			wash += w[k] * p.w[l] * s.wash
		}
	}
	return tilt, wash
}

// stretch is four nodes of a path.
type stretch struct {
	first   float64
	V, n, Q [4]float64
}

// turn gives speed of rotation and torque at a place.
func (s *stretch) turn(u float64) (n, Q float64) {
	w := lagrange(u - s.first)
	return dot(&w, &s.n), dot(&w, &s.Q)
}

func (s *stretch) airspeed(u float64) float64 {
	w := lagrange(u - s.first)
	return dot(&w, &s.V)
}
