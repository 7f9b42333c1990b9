package chart

import (
	"math"

	"gonum.org/v1/plot/vg"
)

// callout is a box of text tied to its marker by a straight leader.
type callout struct {
	lines  []string
	rect   vg.Rectangle
	marker vg.Point
}

const (
	calloutPad     = 4.5
	calloutLeading = 1.25 // line spacing in ems
)

func (p *pen) calloutSize(lines []string) (w, h float64) {
	for k, line := range lines {
		w = max(w, float64(p.face(labelSize, k == 0 && len(lines) > 1).Width(line)))
	}
	h = float64(len(lines))*calloutLeading*labelSize + 2*calloutPad - (calloutLeading-1)*labelSize
	return w + 2*calloutPad, h
}

// rim returns the point of the callout's edge nearest to its marker.
func (c callout) rim() vg.Point {
	clamp := func(v, lo, hi vg.Length) vg.Length { return min(max(v, lo), hi) }
	return vg.Point{
		X: clamp(c.marker.X, c.rect.Min.X, c.rect.Max.X),
		Y: clamp(c.marker.Y, c.rect.Min.Y, c.rect.Max.Y),
	}
}

// callout looks over the room for a place for the lines: clear of all that
// was placed before, the leader free of other boxes and leaders, near the
// marker, and rather over empty ground than over lines.
func (l *labels) callout(lines []string, marker vg.Point, leaders [][2]vg.Point,
	cost func(vg.Rectangle) float64) (callout, bool) {
	const (
		lattice = 5
		near    = starRadius + 9
	)
	w, h := l.pen.calloutSize(lines)
	best, found := math.Inf(1), callout{}
	inset := 4.0
	for y := float64(l.room.Min.Y) + inset; y+h <= float64(l.room.Max.Y)-inset; y += lattice {
		for x := float64(l.room.Min.X) + inset; x+w <= float64(l.room.Max.X)-inset; x += lattice {
			c := callout{lines: lines, marker: marker, rect: vg.Rectangle{
				Min: xy(x, y),
				Max: xy(x+w, y+h),
			}}
			rim := c.rim()
			d := distance(rim, marker)
			if d < near {
				continue
			}
			value := d / 60
			if value >= best {
				continue
			}
			if l.taken(upright(c.rect).grown(2)) || l.leaderBlocked(rim, marker) {
				continue
			}
			value += cost(c.rect)
			for _, o := range l.dots {
				if !o.contains(marker) && o.crosses(rim, marker) {
					value += 0.5
				}
			}
			for _, other := range leaders {
				if meet(rim, marker, other[0], other[1]) || upright(c.rect).crosses(other[0], other[1]) {
					value += 10
				}
			}
			if value < best {
				best, found = value, c
			}
		}
	}
	return found, !math.IsInf(best, 1)
}

// leaderBlocked tells whether anything placed, the marker itself apart, is
// in the way of a leader.
func (l *labels) leaderBlocked(rim, marker vg.Point) bool {
	for _, o := range l.placed {
		if !o.contains(marker) && o.crosses(rim, marker) {
			return true
		}
	}
	return false
}

// meet tells whether two straight lines cross.
func meet(a, b, c, d vg.Point) bool {
	side := func(p, q, r vg.Point) bool {
		return (q.X-p.X)*(r.Y-p.Y)-(q.Y-p.Y)*(r.X-p.X) > 0
	}
	return side(a, b, c) != side(a, b, d) && side(c, d, a) != side(c, d, b)
}

func (p *pen) callout(c callout) {
	rim := c.rim()
	d := distance(rim, c.marker)
	t := vg.Length((starRadius - 1) / d)
	tip := vg.Point{X: c.marker.X + t*(rim.X-c.marker.X), Y: c.marker.Y + t*(rim.Y-c.marker.Y)}
	p.stroke(white, 2.4, nil, segment(rim, tip))
	p.stroke(black, 0.9, nil, segment(rim, tip))
	p.fill(white, rectangle(c.rect))
	p.stroke(black, 0.8, nil, rectangle(c.rect))
	y := c.rect.Max.Y - calloutPad - labelSize/2
	for k, line := range c.lines {
		p.writeLeft(line, vg.Point{X: c.rect.Min.X + calloutPad, Y: y}, style{
			size: labelSize, ink: black, bold: k == 0 && len(c.lines) > 1,
		})
		y -= calloutLeading * labelSize
	}
}

// placeCallouts places the callouts of plain ground.
func (s *scene) placeCallouts() []callout {
	var out []callout
	if s.panel.carded() {
		return nil
	}
	var leaders [][2]vg.Point
	cost := func(r vg.Rectangle) float64 {
		const over = 1.5 // lines are the data
		value, b := 0.0, upright(r)
		for _, d := range s.drawn {
			if d.look.casing != nil && d.enters(b) {
				value += over
			}
		}
		return value
	}
	for _, m := range s.panel.Markers {
		if len(m.Lines) == 0 {
			continue
		}
		at := s.frame.point(m.X, m.Y)
		// Where there is little room the first lines have to do.
		var c callout
		ok := false
		shown := len(m.Lines)
		for ; shown > 0 && !ok; shown-- {
			c, ok = s.callout(m.Lines[:shown], at, leaders, cost)
		}
		if !ok {
			s.dropped = append(s.dropped, m.Lines...)
			continue
		}
		s.dropped = append(s.dropped, m.Lines[shown+1:]...)
		s.add(upright(c.rect).grown(1))
		rim := c.rim()
		mid := vg.Point{X: (rim.X + at.X) / 2, Y: (rim.Y + at.Y) / 2}
		s.add(box{
			centre: mid, halfW: distance(rim, at) / 2, halfH: 1.5,
			angle: math.Atan2(float64(at.Y-rim.Y), float64(at.X-rim.X)),
		})
		leaders = append(leaders, [2]vg.Point{rim, at})
		out = append(out, c)
	}
	return out
}
