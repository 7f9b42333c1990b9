package figure

import (
	"fmt"
	"math"

	"rotorsieve/report/chart"
)

// bounds widens lo and hi to the finite values of z.
func bounds(z [][]float64, lo, hi float64) (float64, float64) {
	for _, row := range z {
		for _, v := range row {
			if !math.IsNaN(v) {
				lo, hi = min(lo, v), max(hi, v)
			}
		}
	}
	return lo, hi
}

// bar makes the colour bar for values from lo to hi; lo above hi stands for
// none.
func bar(label string, lo, hi float64) chart.Bar {
	if lo > hi {
		lo, hi = 0, 1
	}
	levels := levelsFor(lo, hi, chart.MostBands)
	return chart.Bar{Label: label, Levels: levels, Format: numbersFor(levels[1] - levels[0])}
}

// finerBar is a bar whose highest steps are halved, since among the best designs small
// differences decide, or whose steps are all as fine where they are few enough.
func finerBar(label string, lo, hi float64) chart.Bar {
	if lo > hi {
		lo, hi = 0, 1
	}
	levels := levelsFor(lo, hi, chart.MostBands-2)
	step := levels[1] - levels[0]
	const rounded = 1e-9
	if even := levelsFor(lo, hi, chart.MostBands); even[1]-even[0] <= step/2*(1+rounded) { // as fine, and below as well
		return chart.Bar{Label: label, Levels: even, Format: numbersFor(even[1] - even[0])}
	}
	halved := finerTop(levels, min(3, chart.MostBands-len(levels)+1), hi)
	return chart.Bar{Label: label, Levels: halved, Format: numbersFor(step / 2)}
}

// levelsFor are about nine round levels, or fewer where that makes more bands than most.
func levelsFor(lo, hi float64, most int) []float64 {
	levels := chart.Levels(lo, hi, 9)
	for n := 8; len(levels)-1 > most; n-- {
		levels = chart.Levels(lo, hi, n)
	}
	return levels
}

// finerTop halves the highest steps of levels, so many of them, up to hi.
func finerTop(levels []float64, halved int, hi float64) (out []float64) {
	n := len(levels)
	step := levels[1] - levels[0]
	for k, l := range levels {
		if k > 0 && k >= n-halved {
			out = append(out, l-step/2)
		}
		if k < n-1 || len(out) == 0 || hi > out[len(out)-1] {
			out = append(out, l)
		}
	}
	return out
}

// numbersFor is the format of multiples of a step.
func numbersFor(step float64) string {
	places := 0
	for ; places < 6 && math.Abs(step-math.Round(step)) > 1e-6*step; step *= 10 {
		places++
	}
	return fmt.Sprintf("%%.%df", places)
}

func blankNames(nx, ny int) [][]string {
	z := make([][]string, ny)
	for j := range z {
		z[j] = make([]string, nx)
	}
	return z
}
