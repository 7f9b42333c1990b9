package chart

import (
	"fmt"
	"image/color"

	"gonum.org/v1/plot/palette"
	"gonum.org/v1/plot/vg"
)

// Area is the ground between two values at each of some places of an axis, beneath
// lines and points of a panel without a field: joined from place to place, or with
// bars.
type Area struct {
	Family       string // in the legend; it has a colour as pieces of stacks have
	At, From, To []float64
	Half         float64  // half of a bar's width, as the axis of the places counts; 0 joins neighbours
	Lying        bool     // the places are along y, the values along x
	Pale         bool     // a light tint under lines, in place of the colour; one family of a figure may have it
	Labels       []string // of bars that lie, right of the greater value; nil for none
}

// pale is the tint of the first plain line's ink, light enough for others to be read on it.
var pale = color.NRGBA{0xcd, 0xd8, 0xe7, 0xff}

func (a *Area) validate(p *Panel) error {
	n := len(a.At)
	switch {
	case p.Field != nil:
		return fmt.Errorf("chart: area %q on a field: want a panel without one", a.Family)
	case len(a.From) != n || len(a.To) != n || a.Labels != nil && len(a.Labels) != n:
		return fmt.Errorf("chart: area %q has %d places, %d and %d values and %d labels: want as many of each",
			a.Family, n, len(a.From), len(a.To), len(a.Labels))
	case n == 0 || n == 1 && a.Half == 0 || !(a.Half >= 0):
		return fmt.Errorf("chart: area %q of %d places in bars of half a width of %g: want a place, and two to join",
			a.Family, n, a.Half)
	case a.Labels != nil && !a.Lying:
		return fmt.Errorf("chart: area %q has labels: want them on bars that lie", a.Family)
	}
	places, values := p.X, p.Y
	if a.Lying {
		places, values = values, places
	}
	for k, at := range a.At {
		for _, u := range [4]float64{places.unit(at - a.Half), places.unit(at + a.Half), values.unit(a.From[k]),
			values.unit(a.To[k])} {
			if !(u >= -1e-9 && u <= 1+1e-9) {
				return fmt.Errorf("chart: area %q at %g from %g to %g: want it within the axes", a.Family, at,
					a.From[k], a.To[k])
			}
		}
	}
	return nil
}

// rings are the outlines of an area.
func (s *scene) rings(a *Area) []curve {
	point := func(at, value float64) vg.Point {
		if a.Lying {
			return s.frame.point(value, at)
		}
		return s.frame.point(at, value)
	}
	if a.Half > 0 {
		var out []curve
		for k, at := range a.At {
			lo, hi := at-a.Half, at+a.Half
			out = append(out, curve{closed: true, pts: []vg.Point{point(lo, a.From[k]), point(hi, a.From[k]),
				point(hi, a.To[k]), point(lo, a.To[k])}})
		}
		return out
	}
	ring := curve{closed: true}
	for k, at := range a.At {
		ring.pts = append(ring.pts, point(at, a.From[k]))
	}
	for k := len(a.At) - 1; k >= 0; k-- {
		ring.pts = append(ring.pts, point(a.At[k], a.To[k]))
	}
	return []curve{ring}
}

// areaShade is the colour of an area, and that of its rim.
func (f *Figure) areaShade(colours palette.ColorMap, a *Area) (fill, rim color.Color) {
	if a.Pale {
		return pale, grey
	}
	return f.pieceShade(colours, a.Family), black
}

const areaRim = 0.5

func (s *scene) paintAreas() {
	for k := range s.panel.Areas {
		a := &s.panel.Areas[k]
		fill, rim := s.figure.areaShade(s.colours, a)
		for n, ring := range s.rings(a) {
			if a.Half > 0 && a.From[n] == a.To[n] {
				continue
			}
			s.pen.fill(fill, ring)
			s.pen.stroke(rim, areaRim, nil, ring)
		}
	}
}

// labelAreas sets the labels of bars that lie.
func (s *scene) labelAreas() {
	const gap = 4
	st := style{size: labelSize, ink: black, halo: white}
	for i := range s.panel.Areas {
		a := &s.panel.Areas[i]
		for k, text := range a.Labels {
			if text == "" {
				continue
			}
			at := s.frame.point(max(a.From[k], a.To[k]), a.At[k])
			at.X += vg.Length(gap + s.pen.width(text, st)/2)
			b := s.pen.textBox(text, st, at, 0)
			if !b.within(s.room) || s.taken(b) {
				s.dropped = append(s.dropped, text)
				continue
			}
			s.add(b)
			s.upright = append(s.upright, lettering{text: text, at: at, style: st})
		}
	}
}

// tinted is the pale family of areas, "" for none.
func (f *Figure) tinted() string {
	for _, pn := range f.Panels {
		for _, a := range pn.Areas {
			if a.Pale {
				return a.Family
			}
		}
	}
	return ""
}
