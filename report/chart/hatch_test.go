package chart

import (
	"math"
	"testing"

	"gonum.org/v1/plot/vg"
)

func reversed(c curve) curve {
	out := curve{closed: c.closed}
	for k := len(c.pts) - 1; k >= 0; k-- {
		out.pts = append(out.pts, c.pts[k])
	}
	return out
}

// Strokes fill the ground between outline and hole and nothing else: their
// length times their spacing is its area, and their middles lie in it.
func TestHatch(t *testing.T) {
	t.Parallel()
	square := func(lo, hi vg.Length) curve {
		return rectangle(vg.Rectangle{Min: vg.Point{X: lo, Y: lo}, Max: vg.Point{X: hi, Y: hi}})
	}
	outline, hole := square(10, 110), square(40, 80)
	const spacing = 0.5
	for _, angle := range []float64{0, 0.3, math.Pi / 4, math.Pi / 2, 2.5} {
		strokes := hatch([]curve{outline, reversed(hole)}, angle, spacing)
		var length float64
		for _, s := range strokes {
			length += distance(s[0], s[1])
			mid := vg.Point{X: (s[0].X + s[1].X) / 2, Y: (s[0].Y + s[1].Y) / 2}
			if mid.X < 10 || mid.X > 110 || mid.Y < 10 || mid.Y > 110 {
				t.Fatalf("angle %g: stroke %v is outside", angle, s)
			}
			if mid.X > 40 && mid.X < 80 && mid.Y > 40 && mid.Y < 80 {
				t.Fatalf("angle %g: stroke %v is in the hole", angle, s)
			}
		}
		const want = 100*100 - 40*40
		if got := length * spacing; math.Abs(got-want) > 0.01*want {
			t.Errorf("angle %g: strokes cover %.0f, want %d", angle, got, want)
		}
	}
}

// Hatching of two areas side by side is that of both together.
func TestHatchJoins(t *testing.T) {
	t.Parallel()
	part := func(x0, x1 vg.Length) []curve {
		return []curve{rectangle(vg.Rectangle{Min: vg.Point{X: x0}, Max: vg.Point{X: x1, Y: 50}})}
	}
	length := func(rings []curve) (sum float64) {
		for _, s := range hatch(rings, math.Pi/4, 6) {
			sum += distance(s[0], s[1])
		}
		return sum
	}
	apart := length(part(0, 37)) + length(part(37, 90))
	if whole := length(part(0, 90)); math.Abs(apart-whole) > 0.7 { // specks are left out
		t.Errorf("parts have %.2f points of strokes, the whole has %.2f", apart, whole)
	}
}
