package chart

import (
	"math"

	"gonum.org/v1/plot/vg"
)

// grid holds values at the crossings of rising coordinates:
// z[j*len(x)+i] belongs to (x[i], y[j]). Every value is finite.
type grid struct {
	x, y []float64
	z    []float64
}

func (g grid) at(i, j int) float64 { return g.z[j*len(g.x)+i] }

// curve is a chain of points; a closed one does not repeat its first point.
type curve struct {
	pts    []vg.Point
	closed bool
}

// regions returns the closed rings around {z >= level}, the higher side on
// the left, so that outer rings and holes fill correctly by winding number.
// A border of -Inf around the grid closes every ring along the edge.
func (g grid) regions(level float64) []curve {
	return g.march(level, true)
}

// isolines returns the chains along which z is level. Chains that reach the
// edge of the grid stay open.
func (g grid) isolines(level float64) []curve {
	return g.march(level, false)
}

// march runs marching squares. A cell crossed twice (a saddle) is resolved by
// the mean of its corners. Each crossing on a grid edge is left by exactly
// one segment and entered by exactly one, because segments are directed, so a
// table of successors by edge is enough to chain them, always in the same order.
func (g grid) march(level float64, ghost bool) []curve {
	pad := 0
	if ghost {
		pad = 1
	}
	nx, ny := len(g.x)+2*pad, len(g.y)+2*pad
	value := func(i, j int) float64 {
		i, j = i-pad, j-pad
		if i < 0 || j < 0 || i >= len(g.x) || j >= len(g.y) {
			return math.Inf(-1)
		}
		return g.at(i, j)
	}
	place := func(i, j int) (float64, float64) {
		i = min(max(i-pad, 0), len(g.x)-1)
		j = min(max(j-pad, 0), len(g.y)-1)
		return g.x[i], g.y[j]
	}
	// Edge 2k runs from node k to the right, edge 2k+1 from node k upwards.
	right := func(i, j int) int { return 2 * (j*nx + i) }
	up := func(i, j int) int { return 2*(j*nx+i) + 1 }

	const none = -1
	next := make([]int32, 2*nx*ny)
	entered := make([]bool, 2*nx*ny)
	for k := range next {
		next[k] = none
	}
	var starts []int
	link := func(from, to int) {
		next[from] = int32(to)
		entered[to] = true
		starts = append(starts, from)
	}
	for j := 0; j+1 < ny; j++ {
		z00, z01 := 0.0, 0.0
		z10, z11 := value(0, j), value(0, j+1)
		for i := 0; i+1 < nx; i++ {
			z00, z01 = z10, z11 // what was at the right is at the left of the next
			z10, z11 = value(i+1, j), value(i+1, j+1)
			var code int
			if z00 >= level {
				code |= 1
			}
			if z10 >= level {
				code |= 2
			}
			if z11 >= level {
				code |= 4
			}
			if z01 >= level {
				code |= 8
			}
			if code == 0 || code == 15 {
				continue // most
			}
			S, E, N, W := right(i, j), up(i+1, j), right(i, j+1), up(i, j)
			high := (z00+z10+z01+z11)/4 >= level
			switch code {
			case 1:
				link(S, W)
			case 2:
				link(E, S)
			case 3:
				link(E, W)
			case 4:
				link(N, E)
			case 5:
				if high {
					link(S, E)
					link(N, W)
				} else {
					link(S, W)
					link(N, E)
				}
			case 6:
				link(N, S)
			case 7:
				link(N, W)
			case 8:
				link(W, N)
			case 9:
				link(S, N)
			case 10:
				if high {
					link(W, S)
					link(E, N)
				} else {
					link(E, S)
					link(W, N)
				}
			case 11:
				link(E, N)
			case 12:
				link(W, E)
			case 13:
				link(S, E)
			case 14:
				link(W, S)
			}
		}
	}

	crossing := func(edge int) vg.Point {
		k := edge / 2
		i, j := k%nx, k/nx
		i2, j2 := i+1, j
		if edge%2 == 1 {
			i2, j2 = i, j+1
		}
		za, zb := value(i, j), value(i2, j2)
		xa, ya := place(i, j)
		xb, yb := place(i2, j2)
		if math.IsInf(za, -1) || math.IsInf(zb, -1) {
			// The ghost node lies on the border node itself.
			return xy(xa, ya)
		}
		t := (level - za) / (zb - za)
		return xy(xa+t*(xb-xa), ya+t*(yb-ya))
	}
	var curves []curve
	trace := func(edge int) {
		var c curve
		for e := edge; ; {
			if p := crossing(e); len(c.pts) == 0 || p != c.pts[len(c.pts)-1] {
				c.pts = append(c.pts, p)
			}
			n := int(next[e])
			if n == none {
				break
			}
			next[e] = none
			if n == edge {
				c.closed = true
				break
			}
			e = n
		}
		if c.closed && len(c.pts) > 1 && c.pts[0] == c.pts[len(c.pts)-1] {
			c.pts = c.pts[:len(c.pts)-1]
		}
		if len(c.pts) > 1 {
			curves = append(curves, c)
		}
	}
	for _, e := range starts { // open chains first: nothing enters their start
		if !entered[e] && next[e] != none {
			trace(e)
		}
	}
	for _, e := range starts {
		if next[e] != none {
			trace(e)
		}
	}
	return curves
}
