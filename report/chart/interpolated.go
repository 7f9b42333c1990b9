package chart

import (
	"slices"

	"gonum.org/v1/gonum/interp"
)

// interpolated runs a cubic through the values v at x, whose slope at each is
// that of the parabola through it and its neighbours, and returns it in the
// rising places at, which lie within x. Between two values it is cut to the
// range of these and the next on either side, widened by the eighth that the
// top of a parabola needs, so that steps in the data raise no false ridges; and where
// these values only rise or only fall, so does it: there is no top between them.
func interpolated(x, v, at []float64) []float64 {
	out := make([]float64, len(at))
	n := len(x)
	if n == 1 {
		for k := range out {
			out[k] = v[0]
		}
		return out
	}
	var p interp.PiecewiseCubic
	p.FitWithDerivatives(x, v, slopes(x, v))
	gap := 0
	for k, a := range at {
		for gap+2 < n && a > x[gap+1] {
			gap++
		}
		near := v[max(gap-1, 0):min(gap+3, n)]
		lo, hi := slices.Min(near), slices.Max(near)
		spare := (hi - lo) / 8
		if oneWay(near) {
			lo, hi, spare = min(v[gap], v[gap+1]), max(v[gap], v[gap+1]), 0
			if k > 0 && at[k-1] >= x[gap] { // nor does it turn within the gap
				if v[gap] <= v[gap+1] {
					lo = max(lo, out[k-1])
				} else {
					hi = min(hi, out[k-1])
				}
			}
		}
		out[k] = min(max(p.Predict(a), lo-spare), hi+spare)
	}
	return out
}

// oneWay says whether values never fall, or never rise.
func oneWay(v []float64) bool {
	rises, falls := false, false
	for i := 1; i < len(v); i++ {
		rises, falls = rises || v[i] > v[i-1], falls || v[i] < v[i-1]
	}
	return !(rises && falls)
}

// slopes are those of the parabolas through three neighbours; the end ones
// make the last stretch a parabola too.
func slopes(x, v []float64) []float64 {
	n := len(x)
	chord := func(k int) float64 { return (v[k+1] - v[k]) / (x[k+1] - x[k]) }
	d := make([]float64, n)
	for k := 1; k+1 < n; k++ {
		before, after := x[k]-x[k-1], x[k+1]-x[k]
		d[k] = (before*chord(k) + after*chord(k-1)) / (before + after)
	}
	if n == 2 {
		d[0], d[1] = chord(0), chord(0)
		return d
	}
	d[0] = 2*chord(0) - d[1]
	d[n-1] = 2*chord(n-2) - d[n-2]
	return d
}
