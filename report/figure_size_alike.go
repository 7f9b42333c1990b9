package report

import (
	"math"
	"strings"

	"rotorsieve/report/chart"
)

// alikeName names, in a legend, the lines of alikeLines.
var alikeName = "bounds of the diameters within " + closeText + " of the best"

// alikeRange gives the places of the first and the last of the merits around the best
// that come within closeCall of it; ok is false where there is none.
func alikeRange(merit []float64) (lo, hi int, best float64, ok bool) {
	at := -1
	for n, v := range merit {
		if finite(v) && (at < 0 || v > merit[at]) {
			at = n
		}
	}
	if at < 0 {
		return 0, 0, 0, false
	}
	near := func(n int) bool { return n >= 0 && n < len(merit) && merit[n] >= (1-closeCall)*merit[at] }
	lo, hi = at, at
	for near(lo - 1) {
		lo--
	}
	for near(hi + 1) {
		hi++
	}
	return lo, hi, merit[at], true
}

// alikeLines are the ends of the range of diameters within closeCall of the best merit at
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
			lo, hi, best, ok := alikeRange(column)
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
			if in, beyond := f.Z[at][i], f.Z[next][i]; finite(beyond) {
				y += (in - (1-closeCall)*best) / (in - beyond) * (f.Y[next] - y)
			}
			run.X, run.Y = append(run.X, x), append(run.Y, y)
		}
		flush()
	}
	return out, cut
}

// alikeClasses says which diameters come within closeCall of the best merit of each class:
// "3 to 3.5 in at 249 g; only 5 in at 500 g".
func alikeClasses(found []finding) string {
	var all []finds
	for i := range found {
		k := &found[i]
		f := finds{limit: mass(k.Class.Limit)}
		if e := k.Best(); e != nil {
			if f.where = alike(k); f.where == "" {
				f.where = "only " + inch.Format(e.Design.Diameter, 4)
			}
		}
		all = append(all, f)
	}
	best, _ := gathered(all)
	return strings.Join(best, "; ")
}

// alike says which diameters around the best come within closeCall of its merit, "" for no
// other.
func alike(k *finding) string {
	merit := make([]float64, len(k.ByDiameter))
	for n, e := range k.ByDiameter {
		if merit[n] = math.NaN(); e != nil {
			merit[n] = e.Score
		}
	}
	from, to, _, ok := alikeRange(merit)
	if !ok || from == to {
		return ""
	}
	lo, hi := k.ByDiameter[from].Design.Diameter, k.ByDiameter[to].Design.Diameter
	return inch.Number(lo, 4) + " to " + inch.Format(hi, 4)
}
