package chart

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

func newDrawn(l look, c curve) drawn {
	d := drawn{look: l, curve: c, lo: c.pts[0], hi: c.pts[0]}
	for _, p := range c.pts {
		d.lo.X, d.lo.Y = min(d.lo.X, p.X), min(d.lo.Y, p.Y)
		d.hi.X, d.hi.Y = max(d.hi.X, p.X), max(d.hi.Y, p.Y)
	}
	return d
}

func (d drawn) length() float64 {
	var sum float64
	for k := 1; k < len(d.curve.pts); k++ {
		sum += distance(d.curve.pts[k-1], d.curve.pts[k])
	}
	return sum
}

// enters tells whether the curve passes through the box.
func (d drawn) enters(b box) bool {
	r := vg.Length(math.Hypot(b.halfW, b.halfH))
	if d.hi.X < b.centre.X-r || d.lo.X > b.centre.X+r || d.hi.Y < b.centre.Y-r || d.lo.Y > b.centre.Y+r {
		return false
	}
	sin, cos := math.Sincos(b.angle)
	for k, p := range d.curve.pts {
		x, y := float64(p.X-b.centre.X), float64(p.Y-b.centre.Y)
		if math.Abs(x*cos+y*sin) <= b.halfW && math.Abs(y*cos-x*sin) <= b.halfH {
			return true
		}
		// Only a long segment can pass through without leaving a point inside.
		if k > 0 && distance(d.curve.pts[k-1], p) > 2*b.halfH && b.crosses(d.curve.pts[k-1], p) {
			return true
		}
	}
	return false
}

func (s *scene) strokeGroups(groups []group) {
	for _, g := range groups {
		for _, k := range g.own {
			if !s.drawn[k].hidden {
				s.stroke(s.drawn[k])
			}
		}
	}
}

// stroke draws a line with gaps where its texts stand.
func (s *scene) stroke(d drawn) {
	if len(d.texts) == 0 {
		s.pen.line(d.look, d.curve)
		return
	}
	slices.SortFunc(d.texts, func(a, b lettering) int { return cmp.Compare(a.from, b.from) })
	r := resample(d.curve, labelStep)
	at := 0.0
	for _, t := range d.texts {
		if c := r.part(at, t.from); len(c.pts) > 0 {
			s.pen.line(d.look, c)
		}
		at = t.to
	}
	if c := r.part(at, math.Inf(1)); len(c.pts) > 0 {
		s.pen.line(d.look, c)
	}
}

// shortest is the length in points from which a further line of a level is
// worth a number of its own.
const shortest = 60

// letterOne sets the text into up to most of the given lines, longest first,
// and reports into how many.
func (s *scene) letterOne(own []int, text string, most int, prefer float64) int {
	own = slices.Clone(own)
	slices.SortStableFunc(own, func(a, b int) int {
		return cmp.Compare(s.drawn[b].length(), s.drawn[a].length())
	})
	set := 0
	for _, k := range own {
		if set == most || set > 0 && s.drawn[k].length() < shortest && !s.drawn[k].spans {
			break
		}
		d := &s.drawn[k]
		st := d.look.letters()
		if d.look.casing == nil {
			st = style{size: labelSize, ink: black, halo: white}
		}
		others := func(b box) (n int, ok bool) {
			for o := range s.drawn {
				if o == k || !s.drawn[o].enters(b) {
					continue
				}
				if n++; s.drawn[o].look.heavy {
					if d.look.casing == nil { // a band can be read from the colour bar
						return n, false
					}
					n += 3
				}
			}
			for _, o := range s.borders {
				if o.enters(b) {
					n++
				}
			}
			return n, true
		}
		var l lettering
		var ok bool
		if d.spans {
			l, ok = s.stand(d.curve, text, st)
		} else {
			l, ok = s.letter(d.curve, text, st, prefer, others)
		}
		if !ok {
			continue
		}
		d.texts = append(d.texts, l)
		s.add(s.pen.textBox(text, st, l.at, l.angle).grown(1))
		set++
	}
	return set
}

// stand sets a text upright on a stroke that is too short to carry it along.
func (s *scene) stand(c curve, text string, st style) (lettering, bool) {
	a, b := c.pts[0], c.pts[len(c.pts)-1]
	length := distance(a, b)
	for _, part := range [...]float64{0.5, 0.35, 0.65, 0.2, 0.8} {
		t := vg.Length(part)
		l := lettering{text: text, at: vg.Point{X: a.X + t*(b.X-a.X), Y: a.Y + t*(b.Y-a.Y)}, style: st}
		bx := s.pen.textBox(text, st, l.at, 0)
		reach := bx.halfH
		if math.Abs(float64(b.X-a.X)) > math.Abs(float64(b.Y-a.Y)) {
			reach = bx.halfW
		}
		l.from, l.to = part*length-reach, part*length+reach
		if l.from > 1 && l.to < length-1 && bx.grown(1).within(s.room) && !s.taken(bx.grown(1)) {
			return l, true
		}
	}
	return lettering{}, false
}

// clipped maps a line onto the canvas and cuts it at the frame.
func (s *scene) clipped(l Line) []curve {
	pts := make([]vg.Point, len(l.X))
	for k := range pts {
		pts[k] = s.frame.point(l.X[k], l.Y[k])
	}
	room := draw.Canvas{Rectangle: s.room}
	var out []curve
	for _, part := range room.ClipLinesXY(pts) {
		if len(part) > 1 {
			out = append(out, curve{pts: part})
		}
	}
	return out
}
