package chart

import (
	"fmt"
	"image/color"
	"math"
	"slices"

	"gonum.org/v1/plot/palette"
	"gonum.org/v1/plot/vg"
)

// Points are marks of one family, which share shape and colour. A family that
// also has lines takes their ink; the others run over the colours of the bands
// in the order of their first use, empty ones counted.
type Points struct {
	Family string // in the legend
	X, Y   []float64
	Labels []string // beside the points, as far as there is room; nil for none
	Hollow bool     // white with a dark rim, apart from the colours of the others
	Ink    string   // family of lines whose ink the labels take; "" for their own
	Apart  bool     // labels stand above or below as the points of one x do: the topmost above, the lowest below
	Ring   int      // above 0 an open ring, wider for a higher number, that shows what it goes around
}

func (q *Points) validate(x, y Axis) error {
	if len(q.X) != len(q.Y) || q.Labels != nil && len(q.Labels) != len(q.X) {
		return fmt.Errorf("chart: points %q have %d x, %d y and %d labels: want as many of each", q.Family, len(q.X),
			len(q.Y), len(q.Labels))
	}
	for k := range q.X {
		for _, u := range [2]float64{x.unit(q.X[k]), y.unit(q.Y[k])} {
			if !(u >= -1e-9 && u <= 1+1e-9) {
				return fmt.Errorf("chart: point %d of %q at (%g, %g): want it within the axes", k, q.Family, q.X[k],
					q.Y[k])
			}
		}
	}
	return nil
}

// mark is how points look.
type mark struct {
	shape     []vg.Point // corners about the middle, for a radius of 1
	radius    float64
	fill, rim color.Color // a ring has no fill
}

const (
	markRadius   = 3.0
	hollowRadius = 3.8 // they stand out among others
	ringStep     = 2.2 // of radius, less from ring to ring
	legendRadius = 5.0 // at most
	borneRadius  = 2.2 // within a star
)

// radius is that of the marks.
func (q *Points) radius() float64 {
	if q.Hollow {
		return hollowRadius
	}
	ring := float64(q.Ring)
	return markRadius + ringStep*ring/(1+0.1*ring)
}

// shapes have about the same area and differ without colour.
var shapes = [][]vg.Point{
	polygon(20, 0, 1), polygon(4, math.Pi/4, 1.24), polygon(3, math.Pi/2, 1.5), polygon(4, math.Pi/2, 1.3),
	polygon(3, -math.Pi/2, 1.5), plus(1.35, 0.42),
}

// polygon has n corners at a radius, the first at an angle.
func polygon(n int, first, radius float64) []vg.Point {
	out := make([]vg.Point, n)
	for k := range out {
		sin, cos := math.Sincos(first + 2*math.Pi*float64(k)/float64(n))
		out[k] = xy(radius*cos, radius*sin)
	}
	return out
}

// plus is an upright cross with arms of a length and half a width.
func plus(long, half float64) []vg.Point {
	var out []vg.Point
	for k := range 4 {
		sin, cos := math.Sincos(float64(k) * math.Pi / 2)
		for _, c := range [3][2]float64{{half, -half}, {long, -half}, {long, half}} {
			out = append(out, xy(c[0]*cos-c[1]*sin, c[0]*sin+c[1]*cos))
		}
	}
	return out
}

// pointFamilies lists the families of points in the order of their first use:
// the solid ones, the hollow ones, and of the solid those that run over the ramp.
func (f *Figure) pointFamilies() (solid, hollow, tinted []string) {
	lined := map[string]bool{}
	for _, name := range f.families() {
		lined[name] = true
	}
	seen := map[string]bool{}
	for _, pn := range f.Panels {
		for _, q := range pn.Points {
			if seen[q.Family] {
				continue
			}
			seen[q.Family] = true
			if q.Hollow {
				hollow = append(hollow, q.Family)
				continue
			}
			solid = append(solid, q.Family)
			if !lined[q.Family] {
				tinted = append(tinted, q.Family)
			}
		}
	}
	return solid, hollow, tinted
}

func (f *Figure) markOf(q *Points, colours palette.ColorMap) mark {
	solid, hollow, tinted := f.pointFamilies()
	m := mark{radius: q.radius(), rim: black, fill: color.Color(white)}
	if q.Hollow {
		m.shape = shapes[slices.Index(hollow, q.Family)%len(shapes)]
		return m
	}
	m.shape = shapes[slices.Index(solid, q.Family)%len(shapes)]
	if k := slices.Index(tinted, q.Family); k >= 0 {
		m.fill = spacedShade(colours, k, len(tinted))
	} else {
		m.fill, m.rim = f.lookOf(q.Family).ink, white
	}
	if q.Ring > 0 {
		m.fill, m.rim = nil, m.fill
	}
	return m
}

// spacedShade is the k-th of n colours spaced over the ramp.
func spacedShade(colours palette.ColorMap, k, n int) color.Color {
	first := 0.0
	switch n {
	case 1:
		return shade(colours, 0.35)
	case 2:
		first = 0.2 // the ends would be harsh
	}
	return shade(colours, first+(1-first)*float64(k)/float64(n-1))
}

// markOfFamily is the mark of a family of points in a legend, false where none is drawn.
func (f *Figure) markOfFamily(name string) (mark, bool) {
	for k := range f.Panels {
		for i := range f.Panels[k].Points {
			if q := &f.Panels[k].Points[i]; q.Family == name && len(q.X) > 0 && name != "" {
				m := f.markOf(q, ramp())
				m.radius = min(m.radius, legendRadius)
				return m, true
			}
		}
	}
	return mark{}, false
}

func (p *pen) mark(m mark, at vg.Point) {
	c := curve{closed: true}
	for _, corner := range m.shape {
		c.pts = append(c.pts, vg.Point{X: at.X + vg.Length(m.radius)*corner.X, Y: at.Y + vg.Length(m.radius)*corner.Y})
	}
	if m.fill == nil {
		p.stroke(white, 2, nil, c)
		p.stroke(m.rim, 1.4, nil, c)
		return
	}
	p.fill(m.fill, c)
	p.stroke(m.rim, 0.7, nil, c)
}

// dotPoints keeps texts off the points.
func (s *scene) dotPoints() {
	for _, q := range s.panel.Points {
		for k := range q.X {
			s.dots = append(s.dots, box{centre: s.frame.point(q.X[k], q.Y[k]), halfW: q.radius(), halfH: q.radius()})
		}
	}
}

// labelPoints sets the labels beside their points, clear of all that was placed
// before and rather clear of lines.
func (s *scene) labelPoints() []lettering {
	st := style{size: labelSize, halo: white}
	lined := s.figure.families()
	var out []lettering
	for _, q := range s.panel.Points {
		st.ink = black
		for _, family := range [2]string{q.Ink, q.Family} {
			if slices.Contains(lined, family) { // told from those of other lines nearby
				st.ink = s.figure.lookOf(family).ink
				break
			}
		}
		for k, text := range q.Labels {
			if text == "" {
				continue
			}
			at, ok := s.beside(s.frame.point(q.X[k], q.Y[k]), text, st, q.radius(), s.side(&q, k))
			if !ok {
				s.dropped = append(s.dropped, text)
				continue
			}
			s.add(s.pen.textBox(text, st, at, 0))
			out = append(out, lettering{text: text, at: at, style: st})
		}
	}
	return out
}

// side is on which side of a point its label stands, 1 above, -1 below, 0 for either: of
// labelled points that are kept apart at one x the upper half above, so that none looks as
// if it were another's.
func (s *scene) side(q *Points, k int) int {
	if !q.Apart {
		return 0
	}
	above, below := 0, 0
	for _, o := range s.panel.Points {
		for i := range o.X {
			if !o.Apart || o.X[i] != q.X[k] || o.Labels == nil || o.Labels[i] == "" {
				continue
			}
			switch {
			case o.Y[i] > q.Y[k]:
				above++
			case o.Y[i] < q.Y[k]:
				below++
			}
		}
	}
	switch {
	case above < below:
		return 1
	case above > below:
		return -1
	}
	return 0
}

// beside finds a place for a text next to a mark of a radius, on a side of it.
func (s *scene) beside(p vg.Point, text string, st style, radius float64, side int) (vg.Point, bool) {
	b := s.pen.textBox(text, st, p, 0)
	best, found := math.Inf(1), vg.Point{}
	for ring, gap := range [...]float64{2.5, 6, 11, 17} {
		dx, dy := b.halfW+radius+gap, b.halfH+radius+gap
		for k, d := range [...][2]float64{{0, dy}, {0, -dy}, {dx, 0}, {-dx, 0}, {0.8 * dx, dy}, {-0.8 * dx, dy},
			{0.8 * dx, -dy}, {-0.8 * dx, -dy}} {
			b.centre = p.Add(xy(d[0], d[1]))
			if float64(side)*d[1] < 0 || !b.grown(1).within(s.room) || s.taken(b) {
				continue
			}
			cost := float64(ring) + 0.1*float64(k)
			for _, l := range s.drawn {
				if l.enters(b) {
					cost += 1.5
				}
			}
			if cost < best {
				best, found = cost, b.centre
			}
		}
	}
	return found, !math.IsInf(best, 1)
}

func (s *scene) paintPoints() {
	for k := range s.panel.Points {
		q := &s.panel.Points[k]
		m := s.figure.markOf(q, s.colours)
		for i := range q.X {
			s.pen.mark(m, s.frame.point(q.X[i], q.Y[i]))
		}
	}
}
