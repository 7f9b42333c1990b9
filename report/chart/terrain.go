package chart

import (
	"math"
	"sort"

	"gonum.org/v1/plot/vg"
)

// frame is a panel's plotting rectangle with its axes.
type frame struct {
	rect vg.Rectangle
	x, y Axis
	dpi  int
}

func (f frame) px(v float64) float64 {
	return float64(f.rect.Min.X) + f.x.unit(v)*float64(f.rect.Max.X-f.rect.Min.X)
}

func (f frame) py(v float64) float64 {
	return float64(f.rect.Min.Y) + f.y.unit(v)*float64(f.rect.Max.Y-f.rect.Min.Y)
}

func (f frame) point(x, y float64) vg.Point {
	return xy(f.px(x), f.py(y))
}

// levelled is the set of lines along which a value is level.
type levelled struct {
	level  float64
	curves []curve
}

// terrain is a field and its overlays turned into shapes on the canvas.
type terrain struct {
	bands  [][]curve // bands[k] is where z >= levels[k], each lies on the one before
	edges  []levelled
	barren []curve
	border []curve // between feasible and barren
	over   [][]levelled
	seams  []curve // between cells
	cells  []cell
	open   func(vg.Point) bool
}

// cell is the place of one crossing where both axes are discrete.
type cell struct {
	rect   vg.Rectangle
	z      float64
	values []float64 // of each overlay
}

// fineStep is the spacing, in points, to which fields are interpolated.
const fineStep = 1.25

// contoured makes the terrain of a field over two continuous axes.
func contoured(fr frame, f *Field, levels []float64, overlays []Overlay) terrain {
	x, y := place(f.X, fr.px), place(f.Y, fr.py)
	fineX, fineY := subdivided(x), subdivided(y)
	m := refined(x, y, sides(f.Z, true, true), fineX, fineY)
	t := terrain{open: func(p vg.Point) bool { return m.sample(p) >= 0 }}

	neg := grid{x: m.x, y: m.y, z: make([]float64, len(m.z))}
	for k, v := range m.z {
		// Zero margin is feasible: step over it so that both sides agree.
		neg.z[k] = math.Nextafter(-v, math.Inf(-1))
	}
	t.barren = neg.regions(0)
	t.border = m.isolines(0)
	if f.feasible() == 0 {
		return t
	}
	z := refined(x, y, extended(f.Z, true), fineX, fineY)
	for k, l := range levels[:len(levels)-1] {
		if k == 0 {
			// The lowest band is the ground of the others.
			t.bands = append(t.bands, []curve{rectangle(vg.Rectangle{
				Min: xy(x[0], y[0]),
				Max: xy(x[len(x)-1], y[len(y)-1]),
			})})
			continue
		}
		t.bands = append(t.bands, z.regions(l))
		t.edges = append(t.edges, levelled{l, kept(z.isolines(l), m.sample)})
	}
	for _, o := range overlays {
		t.over = append(t.over, o.lines(x, y, fineX, fineY, m))
	}
	return t
}

// lines are the level lines of an overlay where a margin is at least 0.
func (o *Overlay) lines(x, y, fineX, fineY []float64, margin grid) []levelled {
	z := refined(x, y, extended(o.Z, false), fineX, fineY)
	var lines []levelled
	for _, l := range o.Levels {
		lines = append(lines, levelled{l, kept(z.isolines(l), margin.sample)})
	}
	return lines
}

// own is the overlay of plain ground as a field.
func (o *Overlay) own() *Field { return &Field{X: o.X, Y: o.Y, Z: o.Z} }

// overPlain makes the level lines of overlays that stand on plain ground.
func overPlain(fr frame, overlays []Overlay) [][]levelled {
	var out [][]levelled
	for k := range overlays {
		o := &overlays[k]
		f := o.own()
		if f.feasible() == 0 {
			out = append(out, nil)
			continue
		}
		x, y := place(o.X, fr.px), place(o.Y, fr.py)
		fineX, fineY := subdivided(x), subdivided(y)
		out = append(out, o.lines(x, y, fineX, fineY, refined(x, y, sides(f.Z, true, true), fineX, fineY)))
	}
	return out
}

func place(v []float64, at func(float64) float64) []float64 {
	out := make([]float64, len(v))
	for k := range v {
		out[k] = at(v[k])
	}
	return out
}

// subdivided splits each gap into parts no longer than fineStep.
func subdivided(x []float64) []float64 {
	fine := []float64{x[0]}
	for k := 1; k < len(x); k++ {
		n := int(math.Ceil((x[k] - x[k-1]) / fineStep))
		for i := 1; i < n; i++ {
			fine = append(fine, x[k-1]+(x[k]-x[k-1])*float64(i)/float64(n))
		}
		fine = append(fine, x[k])
	}
	return fine
}

// sample interpolates bilinearly; outside the grid it is -Inf.
func (g grid) sample(p vg.Point) float64 {
	i, s := bracket(g.x, float64(p.X))
	j, t := bracket(g.y, float64(p.Y))
	if i < 0 || j < 0 {
		return math.Inf(-1)
	}
	return (g.at(i, j)*(1-s)+g.at(i+1, j)*s)*(1-t) + (g.at(i, j+1)*(1-s)+g.at(i+1, j+1)*s)*t
}

func bracket(x []float64, v float64) (int, float64) {
	const slack = 1e-6
	if v < x[0]-slack || v > x[len(x)-1]+slack {
		return -1, 0
	}
	i := min(max(sort.SearchFloat64s(x, v)-1, 0), len(x)-2)
	return i, min(max((v-x[i])/(x[i+1]-x[i]), 0), 1)
}

// kept returns the parts of the curves on which f is at least 0.
func kept(curves []curve, f func(vg.Point) float64) []curve {
	var out []curve
	for _, c := range curves {
		pts := c.pts
		if c.closed {
			pts = append(append([]vg.Point(nil), pts...), pts[0])
		}
		var run []vg.Point
		flush := func() {
			if len(run) > 1 {
				out = append(out, curve{pts: run})
			}
			run = nil
		}
		whole := true
		for k, p := range pts {
			v := f(p)
			if k > 0 {
				if before := f(pts[k-1]); (before >= 0) != (v >= 0) && finite(before) && finite(v) {
					t := vg.Length(before / (before - v))
					q := pts[k-1]
					cut := vg.Point{X: q.X + t*(p.X-q.X), Y: q.Y + t*(p.Y-q.Y)}
					run = append(run, cut)
				}
			}
			if v >= 0 {
				run = append(run, p)
			} else {
				whole = false
				flush()
			}
		}
		if c.closed && whole {
			out = append(out, c)
			continue
		}
		flush()
	}
	return out
}
