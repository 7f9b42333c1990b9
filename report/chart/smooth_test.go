package chart

import (
	"math"
	"testing"
)

// Smoothing keeps a slope, also at edges and holes, quietens what jumps and
// mixes nothing across a discrete axis.
func TestSmoothed(t *testing.T) {
	t.Parallel()
	x, y := steps(0, 14, 1), steps(0, 9, 1)
	plane := func(x, y float64) float64 { return 4 + 0.5*x - 2*y }
	hole := func(x, y float64) bool { return x > 9 && y > 5 || x == 3 && y == 4 }
	z := table(x, y, func(x, y float64) float64 {
		if hole(x, y) {
			return math.NaN()
		}
		return plane(x, y)
	})
	for j, row := range smoothed(z, true, true) {
		for i, v := range row {
			if math.IsNaN(v) != hole(x[i], y[j]) {
				t.Fatalf("value %g at %d, %d", v, i, j)
			}
			if !math.IsNaN(v) && math.Abs(v-plane(x[i], y[j])) > 1e-9 {
				t.Errorf("plane at %d, %d became %g, want %g", i, j, v, plane(x[i], y[j]))
			}
		}
	}
	jumps := table(x, y, func(x, y float64) float64 { return math.Mod(3*x+5*y, 7) })
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, row := range smoothed(jumps, true, true)[2 : len(y)-2] {
		for _, v := range row[2 : len(x)-2] {
			lo, hi = min(lo, v), max(hi, v)
		}
	}
	if hi-lo > 1 {
		t.Errorf("values from 0 to 6 still run from %.2f to %.2f", lo, hi)
	}
	rows := table(x, y, func(_, y float64) float64 { return math.Mod(5*y, 7) })
	for j, row := range smoothed(rows, true, false) {
		for i, v := range row {
			if v != rows[j][i] {
				t.Errorf("row %d, which is constant, became %g at %d, want %g", j, v, i, rows[j][i])
			}
		}
	}
}

// No smoothed line puts a crossing on another side than its value is.
func TestAgree(t *testing.T) {
	t.Parallel()
	z := table(steps(0, 9, 1), steps(0, 9, 1), func(x, y float64) float64 {
		if x == 4 && y == 5 {
			return 0.66 // stands alone, so that smoothing takes it out
		}
		return 0.3 + 0.04*x
	})
	o := Overlay{Z: z, Levels: []float64{0.4, 0.5, 0.6, 0.7}, Smooth: true}
	if n := o.Agree(4, 5, true, true); n != 4 { // moved by 0.2
		t.Errorf("%d lines were left out, want all", n)
	}
	o.Levels = []float64{0.2, 0.35, 0.4, 0.45, 0.55}
	if n := o.Agree(3, 5, true, true); n != 0 { // 0.42, hardly moved
		t.Errorf("%d lines were left out away from what stands alone", n)
	}
	o = Overlay{Z: z, Levels: []float64{0.4, 0.5, 0.6, 0.7}}
	if n := o.Agree(4, 5, true, true); n != 0 {
		t.Errorf("%d lines of values that are not smoothed were left out", n)
	}
}
