package draw

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distmv"
	"gonum.org/v1/gonum/stat/samplemv"
)

// Even gives n draws of a number of standard normal numbers each, which fill their space
// more evenly than independent ones: a Halton sequence, scrambled by a seed (A.B. Owen, A
// randomized Halton algorithm in R, 2017). It is [draw][number]; a further draw or
// number leaves the others as they are.
func Even(seed uint64, n, numbers int) [][]float64 {
	src := rand.NewPCG(seed, 0x9e3779b97f4a7c15)
	points := mat.NewDense(n, numbers, nil)
	samplemv.Halton{Kind: samplemv.Owen, Q: distmv.NewUnitUniform(numbers, src), Src: src}.Sample(points)
	out := make([][]float64, n)
	for k := range out {
		out[k] = make([]float64, numbers)
		for i := range out[k] {
			// What the sums of digits round differently on other platforms is far below.
			u := math.Floor(points.At(k, i) * resolution)
			out[k][i] = Normal((math.Min(u, resolution-1) + 0.5) / resolution)
		}
	}
	return out
}
