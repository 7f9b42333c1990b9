package chart

import (
	"math"
	"testing"

	"gonum.org/v1/plot/vg"
)

var square = vg.Rectangle{Max: vg.Point{X: 108, Y: 72}}

// With two discrete axes the bands are exactly the cells.
func TestCelledBothDiscrete(t *testing.T) {
	t.Parallel()
	fr := frame{dpi: usualDPI, rect: square, x: Axis{Names: []string{"a", "b", "c"}},
		y: Axis{Names: []string{"p", "q"}}}
	f := &Field{X: steps(0, 2, 1), Y: steps(0, 1, 1), Z: [][]float64{{0.1, 0.6, math.NaN()}, {0.9, 0.4, 0.6}}}
	tr := celled(fr, f, []float64{0, 0.5, 1}, nil)
	const one = 36 * 36
	for k, want := range []float64{5 * one, 3 * one} {
		if got := area(tr.bands[k]); math.Abs(got-want) > 1e-6 {
			t.Errorf("band %d covers %g, want %g", k, got, want)
		}
	}
	if got := area(tr.barren); math.Abs(got-one) > 1e-6 {
		t.Errorf("barren ground covers %g, want one cell, %d", got, one)
	}
	if tr.open(fr.point(2, 0)) || !tr.open(fr.point(2, 1)) || !tr.open(fr.point(1, 0)) {
		t.Error("open does not follow the cells")
	}
	// The barren cell is at a corner: its boundary is its two inner sides.
	if len(tr.border) != 2 {
		t.Errorf("boundary has %d strokes, want 2", len(tr.border))
	}
}

// Along the continuous axis bands change between crossings; across strips
// they change only where strips meet.
func TestCelledStrips(t *testing.T) {
	t.Parallel()
	for _, turned := range []bool{false, true} {
		strips, along := Axis{Names: []string{"2S", "3S"}}, Axis{Min: 0, Max: 3}
		z := [][]float64{{0, 1, 2, 3}, {2, 2, 2, math.NaN()}}
		fr := frame{dpi: usualDPI, rect: square, x: along, y: strips}
		f := &Field{X: steps(0, 3, 1), Y: steps(0, 1, 1), Z: z}
		size, breadth := 108.0, 36.0
		if turned {
			fr.x, fr.y = strips, along
			f.X, f.Y, f.Z = f.Y, f.X, transposed(z)
			size, breadth = 72, 54
		}
		tr := celled(fr, f, []float64{-1, 1.5, 4}, []Overlay{{Z: f.Z, Levels: []float64{0.5}}})
		upper := breadth*size/2 + breadth*size // half the first strip, all of the second before hatching
		if got := area(tr.bands[1]); math.Abs(got-upper) > 1e-6 {
			t.Errorf("turned %t: upper band covers %g, want %g", turned, got, upper)
		}
		if got, want := area(tr.barren), breadth*size/6; math.Abs(got-want) > 1e-6 {
			t.Errorf("turned %t: barren ground covers %g, want the half step beyond the last value, %g", turned, got,
				want)
		}
		if n := len(tr.over[0][0].curves); n != 1 {
			t.Errorf("turned %t: level 0.5 has %d strokes, want 1, in the first strip", turned, n)
		}
	}
}
