package figure

import (
	"rotorsieve/report/chart"
	"rotorsieve/report/finding"
	"rotorsieve/report/words"
)

// alikeName names, in a legend, the lines of alikeLines.
var alikeName = "bounds of the diameters within " + words.CloseCall + " of the best"

// alikeLines are the ends of the range of diameters within finding.CloseCall of the best merit at
// each weight. An end lies where merit, straight between two diameters, falls to that
// share, or at the last feasible one. Where the range is cut by the end of the grid
// there is no line.
func alikeLines(f *chart.Field) (out []chart.Line, cut bool) {
	for _, step := range [2]int{-1, 1} {
		var run chart.Line
		flush := func() {
			if len(run.X) == 1 { // a stub as wide as its weights
				half := (f.X[1] - f.X[0]) / 2
				x, last := run.X[0], f.X[len(f.X)-1]
				run.X, run.Y = []float64{max(x-half, f.X[0]), min(x+half, last)}, []float64{run.Y[0], run.Y[0]}
			}
			if len(run.X) > 0 {
				run.Family, run.Outline = alikeName, true
				out = append(out, run)
			}
			run = chart.Line{}
		}
		for i, x := range f.X {
			column := make([]float64, len(f.Y))
			for j := range column {
				column[j] = f.Z[j][i]
			}
			lo, hi, best, ok := finding.AlikeRange(column)
			at := lo
			if step > 0 {
				at = hi
			}
			next := at + step
			if ends := next < 0 || next >= len(f.Y); !ok || ends {
				cut = cut || ok && ends
				flush()
				continue
			}
			y := f.Y[at]
			if in, beyond := f.Z[at][i], f.Z[next][i]; finding.Finite(beyond) {
				y += (in - (1-finding.CloseCall)*best) / (in - beyond) * (f.Y[next] - y)
			}
			run.X, run.Y = append(run.X, x), append(run.Y, y)
		}
		flush()
	}
	return out, cut
}

// alikeClasses says which diameters come within finding.CloseCall of the best merit of each class:
// "3 to 3.5 in at 249 g; only 5 in at 500 g".
func alikeClasses(found []finding.Class) string {
	var all []finds
	for i := range found {
		k := &found[i]
		f := finds{limit: words.Mass(k.Class.Limit)}
		if s, ok := k.Alike(); ok && k.Best() != nil {
			if f.where = words.Diameters(s); s.From == s.To {
				f.where = "only " + f.where
			}
		}
		all = append(all, f)
	}
	best, _ := gathered(all)
	return allAt(best, "", "; ")
}
