package chart

import (
	"math"

	"gonum.org/v1/plot/vg"
)

// lettering is a text set into a line, and the gap it needs there.
type lettering struct {
	text     string
	at       vg.Point
	angle    float64
	style    style
	from, to float64 // arc length along the line
}

// sampled is a curve in equal small steps.
type sampled struct {
	pts  []vg.Point
	step float64
}

func resample(c curve, step float64) sampled {
	pts := c.pts
	if c.closed {
		pts = append(append([]vg.Point(nil), pts...), pts[0])
	}
	var length float64
	for k := 1; k < len(pts); k++ {
		length += distance(pts[k-1], pts[k])
	}
	n := max(int(length/step), 1)
	s := sampled{step: length / float64(n)}
	s.pts = append(s.pts, pts[0])
	var run float64
	for k := 1; k < len(pts); k++ {
		d := distance(pts[k-1], pts[k])
		for len(s.pts) <= n {
			want := float64(len(s.pts)) * s.step
			if want > run+d {
				break
			}
			t := vg.Length((want - run) / d)
			s.pts = append(s.pts, vg.Point{
				X: pts[k-1].X + t*(pts[k].X-pts[k-1].X),
				Y: pts[k-1].Y + t*(pts[k].Y-pts[k-1].Y),
			})
		}
		run += d
	}
	return s
}

func (s sampled) length() float64 { return float64(len(s.pts)-1) * s.step }

// part returns the points from one arc length to another.
func (s sampled) part(from, to float64) curve {
	lo := max(int(math.Ceil(from/s.step)), 0)
	hi := int(math.Floor(min(to, s.length()) / s.step))
	if lo >= hi {
		return curve{}
	}
	return curve{pts: s.pts[lo : hi+1]}
}

const labelStep = 1.5 // points between the places tried along a line

// letter looks for the best place for the text on the line: the straightest
// stretch that is clear of everything placed before, away from the
// borders of the room and from other lines, near the preferred part (0 to 1) of
// the line. Others says how many other lines a box crosses, and whether it may. It
// reports false if no place will do.
func (l *labels) letter(c curve, text string, st style, prefer float64, others func(box) (n int, ok bool)) (lettering,
	bool) {
	const pad = 2.5
	s := resample(c, labelStep)
	w := l.pen.width(text, st)
	if s.length() < w+2*pad {
		return lettering{}, false
	}
	n := int(math.Ceil((w + 2*pad) / s.step))
	best, found := math.Inf(1), lettering{}
	for k := 0; k+n < len(s.pts); k += 2 {
		a, b := s.pts[k], s.pts[k+n]
		chord := distance(a, b)
		if chord < 0.93*float64(n)*s.step {
			continue
		}
		along := math.Atan2(float64(b.Y-a.Y), float64(b.X-a.X))
		sin, cos := math.Sincos(along)
		var most, sum float64 // deviation from the chord
		for _, q := range s.pts[k : k+n+1] {
			d := float64(q.Y-a.Y)*cos - float64(q.X-a.X)*sin
			most = max(most, math.Abs(d))
			sum += d
		}
		if most > 0.45*st.size {
			continue
		}
		mean := sum / float64(n+1)
		at := vg.Point{
			X: (a.X+b.X)/2 - vg.Length(mean*sin),
			Y: (a.Y+b.Y)/2 + vg.Length(mean*cos),
		}
		middle := (float64(k) + float64(n)/2) * s.step
		try := func(angle, half, cost float64) {
			bx := l.pen.textBox(text, st, at, angle).grown(0.5)
			if !bx.within(l.room) || l.taken(bx.grown(1)) {
				return
			}
			cost += 3 * most / st.size
			cost += 0.35 * math.Abs(sin)
			crossed, ok := others(bx)
			if !ok {
				return
			}
			cost += 0.5 * float64(crossed)
			if !bx.grown(4).within(l.room) {
				cost += 0.5
			}
			// Labels of neighbouring lines stand near one another if all prefer
			// the same part of their line.
			cost += 0.6 * math.Abs((float64(k)+float64(n)/2)/float64(len(s.pts))-prefer)
			if cost < best {
				best = cost
				found = lettering{text: text, at: at, angle: angle, style: st, from: middle - half, to: middle + half}
			}
		}
		turned := 0.0
		if angle := readable(along); math.Abs(angle) > steep && w <= crosswise*st.size {
			try(0, (halfTop*st.size+1)/math.Abs(sin), 0)
			turned = 1
		}
		try(readable(along), w/2+1.5, turned)
	}
	return found, !math.IsInf(best, 1)
}

// Across a steep line short texts are easier to read than along it.
const (
	steep     = 50 * math.Pi / 180
	nearlyUp  = 85 * math.Pi / 180
	crosswise = 3.8 // ems: numbers with a unit
)

// readable turns an angle so that text along it is never upside down; on a line that
// is upright or nearly so it reads upwards.
func readable(angle float64) float64 {
	for angle > math.Pi/2 {
		angle -= math.Pi
	}
	for angle <= -math.Pi/2 {
		angle += math.Pi
	}
	if angle < -nearlyUp {
		return math.Pi / 2
	}
	return angle
}

// labels places the texts of one panel, none over another.
type labels struct {
	pen    *pen
	room   vg.Rectangle
	placed []box
	dots   []box // marks of points: texts keep off them, leaders need not
}

func (l *labels) taken(b box) bool {
	for _, o := range l.placed {
		if o.overlaps(b) {
			return true
		}
	}
	for _, o := range l.dots {
		if o.overlaps(b) {
			return true
		}
	}
	return false
}

func (l *labels) add(b box) { l.placed = append(l.placed, b) }
