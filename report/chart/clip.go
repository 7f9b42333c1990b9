package chart

import "gonum.org/v1/plot/vg"

// clip cuts a straight line to a rectangle (Liang and Barsky, A New Concept and
// Method for Line Clipping, 1984).
func clip(a, b vg.Point, r vg.Rectangle) (p, q vg.Point, ok bool) {
	t0, t1 := 0.0, 1.0
	dx, dy := float64(b.X-a.X), float64(b.Y-a.Y)
	for _, side := range [4][2]float64{
		{-dx, float64(a.X - r.Min.X)}, {dx, float64(r.Max.X - a.X)},
		{-dy, float64(a.Y - r.Min.Y)}, {dy, float64(r.Max.Y - a.Y)},
	} {
		d, room := side[0], side[1]
		switch {
		case d == 0 && room < 0:
			return a, b, false
		case d < 0:
			t0 = max(t0, room/d)
		case d > 0:
			t1 = min(t1, room/d)
		}
	}
	if t0 >= t1 {
		return a, b, false
	}
	p, q = a, b
	if t0 > 0 {
		p = vg.Point{X: a.X + vg.Length(t0*dx), Y: a.Y + vg.Length(t0*dy)}
	}
	if t1 < 1 {
		q = vg.Point{X: a.X + vg.Length(t1*dx), Y: a.Y + vg.Length(t1*dy)}
	}
	return p, q, true
}
