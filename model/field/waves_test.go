package field

import (
	"math"
	"testing"
)

// The correlation of the waves against that of the field, over distances in many
// directions, about several places.
func TestWaves(t *testing.T) {
	t.Parallel()
	for _, lengths := range [][]float64{{0.3}, {0.05, 0.05, 0.1}, {0.15, 0.5, 1.5}} {
		w := NewWaves(lengths...)
		worst, sum, n := 0.0, 0.0, 0.0
		for way := range 40 {
			x, y, long := make([]float64, len(lengths)), make([]float64, len(lengths)), 0.0
			for k := range x {
				x[k] = math.Cos(float64(way * (k + 1)))
				y[k] = math.Sin(1.3*float64(way*(k+1)) + float64(k))
				long += y[k] * y[k]
			}
			a := w.At(x...)
			for d := 0.0; d <= 4; d += 0.1 {
				z := make([]float64, len(lengths))
				for k := range z {
					z[k] = x[k] + d*y[k]/math.Sqrt(long)*lengths[k]
				}
				got := 0.0
				for i, v := range w.At(z...) {
					got += v * a[i]
				}
				off := math.Abs(got - math.Exp(-d*d/2))
				if d == 0 && off > 1e-12 {
					t.Fatalf("variance %g", got)
				}
				worst, sum, n = math.Max(worst, off), sum+off*off, n+1
			}
		}
		if rms := math.Sqrt(sum / n); rms > 0.05 || worst > 0.2 {
			t.Errorf("lengths %v: the correlation is off by %.3f, at most %.3f", lengths, rms, worst)
		}
	}
}
