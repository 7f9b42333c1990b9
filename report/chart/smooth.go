package chart

import (
	"math"
	"slices"
)

// smoothed quietens values that jump from crossing to crossing, because each
// belongs to another design: a median of three by three takes out what stands
// alone, passes of the binomial kernel even out the rest. Only crossings with a
// value take part, and nothing is mixed across a discrete axis.
func smoothed(z [][]float64, alongX, alongY bool) [][]float64 {
	const passes = 5
	di, dj := 0, 0
	if alongX {
		di = 1
	}
	if alongY {
		dj = 1
	}
	z = filtered(z, di, dj, func(near, _ []float64) float64 {
		near = slices.Sorted(slices.Values(near))
		n := len(near)
		return (near[(n-1)/2] + near[n/2]) / 2
	})
	for range passes {
		z = filtered(z, di, dj, func(near, weights []float64) float64 {
			var sum, total float64
			for k, v := range near {
				sum += weights[k] * v
				total += weights[k]
			}
			return sum / total
		})
	}
	return z
}

// filtered replaces each value by what f makes of it and its neighbours up to di
// and dj away, with their binomial weights. At an edge the pairs that lie
// opposite each other are dropped together, so that a slope stays.
func filtered(z [][]float64, di, dj int, f func(near, weights []float64) float64) [][]float64 {
	ny, nx := len(z), len(z[0])
	value := func(j, i int) float64 {
		if j < 0 || i < 0 || j >= ny || i >= nx {
			return math.NaN()
		}
		return z[j][i]
	}
	out := make([][]float64, ny)
	var near, weights []float64
	for j := range out {
		out[j] = slices.Clone(z[j])
		for i := range out[j] {
			if math.IsNaN(z[j][i]) {
				continue
			}
			near, weights = near[:0], weights[:0]
			for b := -dj; b <= dj; b++ {
				for a := -di; a <= di; a++ {
					v := value(j+b, i+a)
					if math.IsNaN(v) || math.IsNaN(value(j-b, i-a)) {
						continue
					}
					near = append(near, v)
					weights = append(weights, [3]float64{4, 2, 1}[a*a+b*b])
				}
			}
			out[j][i] = f(near, weights)
		}
	}
	return out
}
