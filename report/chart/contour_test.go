package chart

import (
	"math"
	"testing"

	"gonum.org/v1/plot/vg"
)

// area is the signed area inside the rings: holes count against it.
func area(rings []curve) float64 {
	var sum float64
	for _, r := range rings {
		for k, p := range r.pts {
			q := r.pts[(k+1)%len(r.pts)]
			sum += float64(p.X*q.Y - q.X*p.Y)
		}
	}
	return sum / 2
}

func gridOf(lo, hi float64, n int, f func(x, y float64) float64) grid {
	var g grid
	for k := range n + 1 {
		v := lo + (hi-lo)*float64(k)/float64(n)
		g.x = append(g.x, v)
		g.y = append(g.y, v)
	}
	for _, y := range g.y {
		for _, x := range g.x {
			g.z = append(g.z, f(x, y))
		}
	}
	return g
}

func TestRegionsArea(t *testing.T) {
	t.Parallel()
	disc := func(x, y float64) float64 { return 1 - math.Hypot(x, y) }
	ring := func(x, y float64) float64 { return 0.5 - math.Abs(math.Hypot(x, y)-1.2) }
	saddle := func(x, y float64) float64 { return x * y }
	for _, c := range []struct {
		name  string
		f     func(x, y float64) float64
		level float64
		want  float64
		rings int
	}{
		{"disc", disc, 0, math.Pi, 1},
		{"disc cut by the edge", func(x, y float64) float64 { return disc(x-2, y) }, 0, math.Pi / 2, 1},
		{"ring with a hole", ring, 0, math.Pi * (1.7*1.7 - 0.7*0.7), 2},
		{"everything", disc, -9, 16, 1},
		{"nothing", disc, 2, 0, 0},
		{"two quadrants", saddle, 0.5, 2 * (2*1.75 - 0.5*math.Log(2/0.25)), 2},
		{"half plane", func(x, y float64) float64 { return x }, 0, 8, 1},
	} {
		g := gridOf(-2, 2, 200, c.f)
		rings := g.regions(c.level)
		if len(rings) != c.rings {
			t.Errorf("%s: %d rings, want %d", c.name, len(rings), c.rings)
		}
		for _, r := range rings {
			if !r.closed {
				t.Errorf("%s: an open ring", c.name)
			}
		}
		// Chords cut corners by about step squared over 8 times the curvature.
		if got := area(rings); math.Abs(got-c.want) > 2e-3*16 {
			t.Errorf("%s: area %.5f, want %.5f", c.name, got, c.want)
		}
	}
}

// What lies above a level and what lies below fill the grid between them.
func TestRegionsComplement(t *testing.T) {
	t.Parallel()
	wavy := func(x, y float64) float64 { return math.Sin(3*x+y) * math.Cos(4*y-x) }
	g := gridOf(-2, 2, 57, wavy)
	neg := gridOf(-2, 2, 57, func(x, y float64) float64 { return -wavy(x, y) })
	for _, l := range []float64{-0.7, -0.1, 0.013, 0.4} {
		if got := area(g.regions(l)) + area(neg.regions(-l)); math.Abs(got-16) > 1e-9 {
			t.Errorf("level %g: areas above and below sum to %.12f, want 16", l, got)
		}
	}
}

func TestIsolinesEnds(t *testing.T) {
	t.Parallel()
	g := gridOf(-2, 2, 80, func(x, y float64) float64 { return y - 0.5*math.Sin(2*x) })
	lines := g.isolines(0.1)
	if len(lines) != 1 || lines[0].closed {
		t.Fatalf("got %d lines, want 1 open one", len(lines))
	}
	pts := lines[0].pts
	for _, end := range []vg.Point{pts[0], pts[len(pts)-1]} {
		if math.Abs(math.Abs(float64(end.X))-2) > 1e-12 {
			t.Errorf("line ends at %v, want it at the edge", end)
		}
	}
	for _, p := range pts {
		if d := float64(p.Y) - 0.5*math.Sin(2*float64(p.X)) - 0.1; math.Abs(d) > 2e-3 {
			t.Errorf("point %v is off the level by %g", p, d)
		}
	}
	if rings := gridOf(-2, 2, 80, func(x, y float64) float64 {
		return -math.Hypot(x,
			y)
	}).isolines(-1); len(rings) != 1 || !rings[0].closed {
		t.Errorf("the line around a peak is not one closed ring: %d", len(rings))
	}
}
