package chart

import (
	"math"

	"gonum.org/v1/plot/vg"
)

// box is a rectangle turned by an angle about its centre, in points.
type box struct {
	centre       vg.Point
	halfW, halfH float64
	angle        float64 // radians, counter-clockwise
}

func upright(r vg.Rectangle) box {
	return box{
		centre: vg.Point{X: (r.Min.X + r.Max.X) / 2, Y: (r.Min.Y + r.Max.Y) / 2},
		halfW:  float64(r.Max.X-r.Min.X) / 2,
		halfH:  float64(r.Max.Y-r.Min.Y) / 2,
	}
}

func (b box) grown(by float64) box {
	b.halfW += by
	b.halfH += by
	return b
}

func (b box) corners() [4]vg.Point {
	sin, cos := 0.0, 1.0
	if b.angle != 0 { // few are turned
		sin, cos = math.Sincos(b.angle)
	}
	var c [4]vg.Point
	for k, s := range [4][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
		x, y := s[0]*b.halfW, s[1]*b.halfH
		c[k] = vg.Point{
			X: b.centre.X + vg.Length(x*cos-y*sin),
			Y: b.centre.Y + vg.Length(x*sin+y*cos),
		}
	}
	return c
}

// overlaps tests the four edge directions of the two boxes as separating axes.
func (b box) overlaps(o box) bool {
	if distance(b.centre, o.centre) > math.Hypot(b.halfW, b.halfH)+math.Hypot(o.halfW, o.halfH) {
		return false
	}
	bc, oc := b.corners(), o.corners()
	for k, angle := range [4]float64{b.angle, b.angle + math.Pi/2, o.angle, o.angle + math.Pi/2} {
		if k == 2 && o.angle == b.angle {
			break // the same directions
		}
		sin, cos := math.Sincos(angle)
		bLo, bHi := spread(bc, cos, sin)
		oLo, oHi := spread(oc, cos, sin)
		if bHi <= oLo || oHi <= bLo {
			return false
		}
	}
	return true
}

func spread(pts [4]vg.Point, cos, sin float64) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, p := range pts {
		v := float64(p.X)*cos + float64(p.Y)*sin
		lo, hi = min(lo, v), max(hi, v)
	}
	return lo, hi
}

// within tells whether the whole box lies in the rectangle.
func (b box) within(r vg.Rectangle) bool {
	if w, h := vg.Length(b.halfW), vg.Length(b.halfH); b.angle == 0 {
		return b.centre.X-w >= r.Min.X && b.centre.X+w <= r.Max.X && b.centre.Y-h >= r.Min.Y && b.centre.Y+h <= r.Max.Y
	}
	for _, p := range b.corners() {
		if p.X < r.Min.X || p.X > r.Max.X || p.Y < r.Min.Y || p.Y > r.Max.Y {
			return false
		}
	}
	return true
}

func (b box) contains(p vg.Point) bool {
	sin, cos := math.Sincos(b.angle)
	x, y := float64(p.X-b.centre.X), float64(p.Y-b.centre.Y)
	return math.Abs(x*cos+y*sin) <= b.halfW && math.Abs(y*cos-x*sin) <= b.halfH
}

// crosses tells whether the straight line from p to q passes through the box.
func (b box) crosses(p, q vg.Point) bool {
	mid := vg.Point{X: (p.X + q.X) / 2, Y: (p.Y + q.Y) / 2}
	d := distance(p, q)
	line := box{centre: mid, halfW: d / 2, halfH: 0.01, angle: math.Atan2(float64(q.Y-p.Y), float64(q.X-p.X))}
	return b.overlaps(line)
}

func distance(p, q vg.Point) float64 { return math.Hypot(float64(p.X-q.X), float64(p.Y-q.Y)) }
