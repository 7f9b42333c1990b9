package chart

import (
	"math"
	"slices"

	"gonum.org/v1/plot/vg"
)

// hatch returns the strokes that hatch the inside of the rings with lines at
// the angle (radians) and spacing (points). Lines are fixed to the canvas, not
// to the rings, so that the hatching of neighbouring areas joins. The canvas
// cannot clip, hence every line is cut at its crossings with the rings and
// kept between each even and odd one.
func hatch(rings []curve, angle, spacing float64) [][2]vg.Point {
	sin, cos := math.Sincos(angle)
	turn := func(p vg.Point) (along, across float64) {
		x, y := float64(p.X), float64(p.Y)
		return x*cos + y*sin, y*cos - x*sin
	}
	crossings := map[int][]float64{} // hatch line number to places along it
	lo, hi := math.MaxInt, math.MinInt
	for _, r := range rings {
		for k, p := range r.pts {
			a0, c0 := turn(p)
			a1, c1 := turn(r.pts[(k+1)%len(r.pts)])
			if c0 == c1 {
				continue
			}
			// Half open, so that a line through a shared end counts once.
			first := int(math.Ceil(min(c0, c1) / spacing))
			last := int(math.Ceil(max(c0, c1)/spacing)) - 1
			for n := first; n <= last; n++ {
				t := (float64(n)*spacing - c0) / (c1 - c0)
				crossings[n] = append(crossings[n], a0+t*(a1-a0))
				lo, hi = min(lo, n), max(hi, n)
			}
		}
	}
	var strokes [][2]vg.Point
	for n := lo; n <= hi; n++ {
		at := crossings[n]
		slices.Sort(at)
		across := float64(n) * spacing
		back := func(along float64) vg.Point {
			return xy(along*cos-across*sin, along*sin+across*cos)
		}
		for k := 0; k+1 < len(at); k += 2 {
			if at[k+1]-at[k] > 0.3 { // shorter is a speck
				strokes = append(strokes, [2]vg.Point{back(at[k]), back(at[k+1])})
			}
		}
	}
	return strokes
}
