package chart

import (
	"math"
	"slices"

	"gonum.org/v1/plot/vg"
)

// celled makes the terrain of a field with a discrete axis. Each name owns a
// strip; within it values are interpolated along the other axis if that is
// continuous, and never across strips. With both axes discrete each crossing
// is one cell of one colour.
func celled(fr frame, f *Field, levels []float64, overlays []Overlay) terrain {
	margin := sides(f.Z, !fr.x.discrete(), !fr.y.discrete())
	if fr.y.discrete() {
		r := ruling{edges: fr.edgesY()}
		if fr.x.discrete() {
			r.steps = fr.edgesX()
		} else {
			r.x = place(f.X, fr.px)
			r.fine = subdivided(r.x)
		}
		return r.terrain(f.Z, margin, levels, overlays)
	}
	r := ruling{edges: fr.edgesX(), x: place(f.Y, fr.py), turned: true}
	r.fine = subdivided(r.x)
	turned := make([]Overlay, len(overlays))
	for k, o := range overlays {
		o.Z = transposed(o.Z)
		turned[k] = o
	}
	return r.terrain(transposed(f.Z), transposed(margin), levels, turned)
}

// edgesX returns where the cells of a discrete x axis meet, ends included.
func (f frame) edgesX() []float64 {
	return f.cellEdges(float64(f.rect.Min.X), float64(f.rect.Max.X), len(f.x.Names))
}

func (f frame) edgesY() []float64 {
	return f.cellEdges(float64(f.rect.Min.Y), float64(f.rect.Max.Y), len(f.y.Names))
}

// cellEdges lie on whole dots, so that neighbouring fills meet without a seam.
func (f frame) cellEdges(lo, hi float64, n int) []float64 {
	n = max(n, 1) // a single value without a name owns the whole axis
	edges := make([]float64, n+1)
	for k := range edges {
		edges[k] = snapped(lo+(hi-lo)*float64(k)/float64(n), f.dpi)
	}
	return edges
}

// snapped moves a place to the nearest whole dot.
func snapped(v float64, dpi int) float64 {
	dot := 72 / float64(dpi)
	return math.Round(v/dot) * dot
}

// ruling divides a frame into strips. Places along the strips are called a,
// places across them c.
type ruling struct {
	edges  []float64 // across: strip j lies from edges[j] to edges[j+1]
	turned bool      // strips stand upright

	// Along continuous strips: the crossings and the finer places between them.
	x, fine []float64
	// Along strips of cells: where these meet.
	steps []float64
}

func (r *ruling) point(a, c float64) vg.Point {
	if r.turned {
		a, c = c, a
	}
	return xy(a, c)
}

func (r *ruling) block(s span, j int) vg.Rectangle {
	return vg.Rectangle{Min: r.point(s.from, r.edges[j]), Max: r.point(s.to, r.edges[j+1])}
}

// across is the stroke across strip j at a.
func (r *ruling) across(a float64, j int) curve {
	return segment(r.point(a, r.edges[j]), r.point(a, r.edges[j+1]))
}

// ends are those of the strips.
func (r *ruling) ends() (lo, hi float64) {
	if r.steps != nil {
		return r.steps[0], r.steps[len(r.steps)-1]
	}
	return r.x[0], r.x[len(r.x)-1]
}

// span is a stretch along a strip.
type span struct{ from, to float64 }

// above returns where the values v along a strip are at least level.
func (r *ruling) above(v []float64, level float64) []span {
	if r.steps == nil {
		return above(r.fine, interpolated(r.x, v, r.fine), level)
	}
	var out []span
	for i := range v {
		if v[i] >= level {
			out = append(out, span{r.steps[i], r.steps[i+1]})
		}
	}
	return out
}

func (r *ruling) terrain(z, margin [][]float64, levels []float64, overlays []Overlay) terrain {
	t := terrain{bands: make([][]curve, len(levels)-1)}
	lo, hi := r.ends()
	barren := make([][]span, len(z))
	for j := range z {
		open := r.above(margin[j], 0)
		if r.steps == nil {
			open = above(r.x, margin[j], 0) // without a known margin: midway
		}
		barren[j] = complement(open, lo, hi)
		t.bandStrip(r, j, z[j], levels)
		t.barrenStrip(r, j, barren)
		if j > 0 {
			t.seams = append(t.seams, segment(r.point(lo, r.edges[j]), r.point(hi, r.edges[j])))
		}
	}
	for _, o := range overlays {
		var lines []levelled
		for _, l := range o.Levels {
			lines = append(lines, levelled{l, r.strokes(o.Z, l, barren)})
		}
		t.over = append(t.over, lines)
	}
	if r.steps != nil {
		t.cellStrips(r, z, overlays)
	}
	t.open = func(p vg.Point) bool {
		a, c := float64(p.X), float64(p.Y)
		if r.turned {
			a, c = c, a
		}
		for j := range z {
			if c >= r.edges[j] && c <= r.edges[j+1] {
				return !within(a, barren[j])
			}
		}
		return false
	}
	return t
}

// bandStrip adds the bands of strip j.
func (t *terrain) bandStrip(r *ruling, j int, z, levels []float64) {
	if !anyFinite(z) {
		return
	}
	if r.steps == nil {
		z = extended([][]float64{z}, true)[0]
	}
	for k, l := range levels[:len(levels)-1] {
		if k == 0 {
			l = -math.MaxFloat64 // the lowest band is the ground of the others
		}
		for _, s := range r.above(z, l) {
			t.bands[k] = append(t.bands[k], rectangle(r.block(s, j)))
		}
	}
}

// barrenStrip adds the barren ground of strip j and its boundary, that to the
// strip before it included.
func (t *terrain) barrenStrip(r *ruling, j int, barren [][]span) {
	lo, hi := r.ends()
	for _, s := range barren[j] {
		t.barren = append(t.barren, rectangle(r.block(s, j)))
		for _, end := range [2]float64{s.from, s.to} {
			if end > lo && end < hi {
				t.border = append(t.border, r.across(end, j))
			}
		}
	}
	if j == 0 {
		return
	}
	for _, s := range difference(barren[j-1], barren[j]) {
		t.border = append(t.border, segment(r.point(s.from, r.edges[j]), r.point(s.to, r.edges[j])))
	}
}

// strokes returns where a value passes a level: strokes across continuous
// strips, outside the barren spans.
func (r *ruling) strokes(z [][]float64, level float64, barren [][]span) []curve {
	if r.steps != nil {
		return nil
	}
	var out []curve
	lo, hi := r.ends()
	for j := range z {
		if !anyFinite(z[j]) {
			continue
		}
		for _, s := range r.above(extended([][]float64{z[j]}, false)[0], level) {
			for _, end := range [2]float64{s.from, s.to} {
				if end > lo && end < hi && !within(end, barren[j]) {
					out = append(out, r.across(end, j))
				}
			}
		}
	}
	return out
}

// cellStrips adds the cells of strips of cells and the seams between them.
func (t *terrain) cellStrips(r *ruling, z [][]float64, overlays []Overlay) {
	for i := 1; i+1 < len(r.steps); i++ {
		t.seams = append(t.seams, segment(r.point(r.steps[i], r.edges[0]), r.point(r.steps[i], r.edges[len(z)])))
	}
	for j := range z {
		for i := range z[j] {
			c := cell{rect: r.block(span{r.steps[i], r.steps[i+1]}, j), z: z[j][i]}
			for _, o := range overlays {
				c.values = append(c.values, o.Z[j][i])
			}
			t.cells = append(t.cells, c)
		}
	}
}

// above returns the spans on which v, linear between the places x, is at least level.
func above(x, v []float64, level float64) []span {
	var out []span
	for k := 1; k < len(x); k++ {
		a, b := v[k-1], v[k]
		s := span{x[k-1], x[k]}
		switch {
		case a < level && b < level:
			continue
		case a < level:
			s.from = x[k-1] + (level-a)/(b-a)*(x[k]-x[k-1])
		case b < level:
			s.to = x[k-1] + (level-a)/(b-a)*(x[k]-x[k-1])
		}
		if n := len(out); n > 0 && out[n-1].to == s.from {
			out[n-1].to = s.to
		} else {
			out = append(out, s)
		}
	}
	return out
}

// complement returns what the rising spans leave of lo to hi.
func complement(spans []span, lo, hi float64) []span {
	var out []span
	for _, s := range spans {
		if s.from > lo {
			out = append(out, span{lo, s.from})
		}
		lo = s.to
	}
	if lo < hi {
		out = append(out, span{lo, hi})
	}
	return out
}

// difference returns where exactly one of the two sets of rising spans is.
func difference(a, b []span) []span {
	var cuts []float64
	for _, s := range append(append([]span(nil), a...), b...) {
		cuts = append(cuts, s.from, s.to)
	}
	cuts = rising(cuts)
	var out []span
	for k := 1; k < len(cuts); k++ {
		mid := (cuts[k-1] + cuts[k]) / 2
		if within(mid, a) != within(mid, b) {
			out = append(out, span{cuts[k-1], cuts[k]})
		}
	}
	return out
}

func within(v float64, spans []span) bool {
	for _, s := range spans {
		if v >= s.from && v <= s.to {
			return true
		}
	}
	return false
}

func anyFinite(v []float64) bool {
	for _, x := range v {
		if finite(x) {
			return true
		}
	}
	return false
}

func transposed[T any](z [][]T) [][]T {
	out := make([][]T, len(z[0]))
	for i := range out {
		out[i] = make([]T, len(z))
		for j := range z {
			out[i][j] = z[j][i]
		}
	}
	return out
}

// rising sorts and removes doubles.
func rising(v []float64) []float64 {
	slices.Sort(v)
	return slices.Compact(v)
}
