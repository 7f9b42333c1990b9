package flight

import (
	"math"
	"sync"
	"sync/atomic"

	"rotorsieve/model/rotor"
)

// Scale is how a propeller differs from the one that its table was solved for: factors,
// all above 0, 1 for no difference.
type Scale struct {
	CT, CP  float64 // at all speeds of rotation and of flight
	Density float64 // of the air, whose Reynolds and Mach numbers stay
}

// Scaled is the propulsor of a propeller that differs, in an air that does, with another
// share of the open thrust left, Installed. It costs little: nothing is solved anew.
func (p *Propulsor) Scaled(s Scale, installed float64) Propulsor {
	q := *p
	q.Density *= s.Density
	q.Installed = installed
	q.thrust *= s.CT * s.Density
	q.power *= s.CP * s.Density
	q.forces *= s.CT * s.Density
	q.work *= s.CP * s.Density
	q.wash = 2 / math.Sqrt(2*installed*q.Density*q.disc)
	// A speed of rotation gives c times the thrust, so that it holds c times as much.
	c := q.Installed * q.thrust / (p.Installed * p.thrust)
	root := math.Sqrt(c)
	q.hold.per /= root
	q.hold.unit /= root
	q.hold.least *= c
	q.hold.most *= c
	return q
}

// inclinedThrust is Table.InclinedThrust of the propeller as it is scaled. Its flow
// through the disc is that of the table's air at the thrust over the factor.
func (p *Propulsor) inclinedThrust(f rotor.Flow, thrust float64) (rotor.Load, bool) {
	l, ok := p.Table.InclinedThrust(f, thrust/p.forces)
	return p.load(l), ok
}

// inclined is Table.Inclined of the propeller as it is scaled.
func (p *Propulsor) inclined(f rotor.Flow, n float64) (rotor.Load, bool) {
	l, ok := p.Table.Inclined(f, n)
	return p.load(l), ok
}

func (p *Propulsor) load(l rotor.Load) rotor.Load {
	l.Thrust *= p.forces
	l.Drag *= p.forces
	l.Power *= p.work
	return l
}

// Envelopes are those of one propeller for crafts of other bodies, from which that of a
// scaled propeller and another body is told without a trim.
type Envelopes struct {
	by   Parameters
	hull Hull
	from [bodies]*Envelope
}

// bodies are those of an Envelopes, by steps of the drag and of the side: none, less and
// more of each, and more of both.
const bodies = 6

// Steps of the bodies, in logarithms: a little more than a standard deviation.
const (
	dragStep = 0.5
	sideStep = 0.5
)

// NewEnvelopes traces a propeller for several bodies, beside its envelope for the body of
// the parameters; arguments are as of NewEnvelope.
func NewEnvelopes(by *Parameters, p *Propulsor, own *Envelope, lightest float64, h Hull) *Envelopes {
	e := &Envelopes{by: *by, hull: h, from: [bodies]*Envelope{own}}
	for i, step := range [...][2]float64{{-1, 0}, {1, 0}, {0, -1}, {0, 1}, {1, 1}} {
		q := *by
		drag := math.Exp(dragStep * step[0])
		q.BodyDrag *= drag
		q.Broadside *= math.Exp(sideStep * step[1])
		e.from[1+i] = NewEnvelope(&q, p, lightest, Hull{h.Payload * drag, h.Area * drag})
	}
	return e
}

// Scaled is the envelope of the propeller as it is scaled, with other parameters of the
// body: it carries CT and density times the mass, and a body whose drag over the thrust is
// that of the table's is at the same place. All drag of the craft, a payload's too, goes
// with the parameter of the body, or with a stated area, which h has as it is in the draw.
// Between the traced bodies it is a parabola in the logarithms of drag and side.
func (e *Envelopes) Scaled(s Scale, by *Parameters, h Hull) *Envelope {
	carried := s.CT * s.Density
	x := -math.Log(s.CT)
	if e.hull.Area == 0 {
		x = (math.Log(by.BodyDrag/e.by.BodyDrag) + x + 2.0/3*math.Log(carried)) / dragStep
	} else {
		x = (math.Log(h.Area/e.hull.Area) + x) / dragStep
	}
	y := math.Log(by.Broadside/e.by.Broadside) / sideStep
	w := [bodies]float64{1 - x*x - y*y + x*y, x * (x - 1) / 2, x*(x+1)/2 - x*y, y * (y - 1) / 2, y*(y+1)/2 - x*y, x * y}
	mid := e.from[0]
	masses := mid.masses
	for _, f := range e.from {
		masses = min(masses, f.masses)
	}
	// Where more is carried than was thought, crafts are lighter than the lightest traced.
	const lighter = 1
	out := &Envelope{low: mid.low + math.Log(carried), masses: masses, lighter: lighter}
	if masses == 0 {
		return out
	}
	out.heaviest = out.last()
	out.least = mid.least[:masses]
	// Torque goes with CP and density, the mass with CT and density.
	out.blended = &blended{of: e, w: w, perMass: s.CP / s.CT, windows: make([]atomic.Pointer[window], masses-3)}
	return out
}

// blended are the nodes of a scaled envelope, added up where they are first read: few weights of
// it ever are.
type blended struct {
	of      *Envelopes
	w       [bodies]float64
	perMass float64
	windows []atomic.Pointer[window] // by the first of four weights
}

// window has the nodes at four weights, one after the other.
type window struct {
	level [4 * levelNodes]state
	climb [4 * climbNodes]state
}

// at gives the nodes from a weight on. What two add up at once is the same.
func (b *blended) at(first int) *window {
	if x := b.windows[first].Load(); x != nil {
		return x
	}
	x := windows.Get().(*window)
	var level, climb [bodies][]state
	for k, f := range b.of.from {
		level[k], climb[k] = f.level[first*levelNodes:], f.climb[first*climbNodes:]
	}
	blend(x.level[:], &level, &b.w, b.perMass)
	blend(x.climb[:], &climb, &b.w, b.perMass)
	if !b.windows[first].CompareAndSwap(nil, x) { // another was faster
		windows.Put(x)
		return b.windows[first].Load()
	}
	return x
}

// windows are those that nobody reads any more.
var windows = sync.Pool{New: func() any { return new(window) }}

// Release says that nobody reads the envelope any more, so that its memory serves another one.
// One that is not scaled keeps it.
func (e *Envelope) Release() {
	if e.blended == nil {
		return
	}
	for i := range e.blended.windows {
		if x := e.blended.windows[i].Swap(nil); x != nil {
			windows.Put(x)
		}
	}
}

// blend adds up the first nodes of several envelopes.
func blend(out []state, from *[bodies][]state, w *[bodies]float64, perMass float64) {
	n := len(out)
	a, b, c, d, e, f := from[0][:n], from[1][:n], from[2][:n], from[3][:n], from[4][:n], from[5][:n]
	for i := range out {
		a, b, c, d, e, f := &a[i], &b[i], &c[i], &d[i], &e[i], &f[i]
		out[i] = state{
			V:    w[0]*a.V + w[1]*b.V + w[2]*c.V + w[3]*d.V + w[4]*e.V + w[5]*f.V,
			n:    w[0]*a.n + w[1]*b.n + w[2]*c.n + w[3]*d.n + w[4]*e.n + w[5]*f.n,
			Q:    perMass * (w[0]*a.Q + w[1]*b.Q + w[2]*c.Q + w[3]*d.Q + w[4]*e.Q + w[5]*f.Q),
			tilt: w[0]*a.tilt + w[1]*b.tilt + w[2]*c.tilt + w[3]*d.tilt + w[4]*e.tilt + w[5]*f.tilt,
			wash: w[0]*a.wash + w[1]*b.wash + w[2]*c.wash + w[3]*d.wash + w[4]*e.wash + w[5]*f.wash,
		}
	}
}
