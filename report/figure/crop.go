package figure

import (
	"math"
	"slices"

	"rotorsieve/report/chart"
)

// mostBarren is the share of the crossings of a panel without a value up to which its axes
// stay as they are shared.
const mostBarren = 0.5

// cropToGround cuts a panel that is mostly hatched to what has a value, or may yet, and a step
// about it, and says whether it did.
func cropToGround(p *chart.Panel) bool {
	f := p.Field
	i0, i1, j0, j1 := len(f.X), -1, len(f.Y), -1
	some := 0
	for j, row := range f.Z {
		for i, z := range row {
			if math.IsNaN(z) && f.Gate[j][i] != notJudged {
				continue
			}
			some++
			i0, i1, j0, j1 = min(i0, i), max(i1, i), min(j0, j), max(j1, j)
		}
	}
	if some == 0 || float64(some) >= (1-mostBarren)*float64(len(f.X)*len(f.Y)) {
		return false
	}
	i0, i1 = beside(i0, i1, len(f.X), p.X)
	j0, j1 = beside(j0, j1, len(f.Y), p.Y)
	if i1-i0+1 == len(f.X) && j1-j0+1 == len(f.Y) {
		return false
	}
	cut := func(z [][]float64) [][]float64 { return window(z, i0, i1, j0, j1) }
	f.Z, f.Gate = cut(f.Z), window(f.Gate, i0, i1, j0, j1)
	for k := range p.Overlays {
		p.Overlays[k].Z = cut(p.Overlays[k].Z)
	}
	dx, dy := 0.0, 0.0
	p.X, f.X, dx = axisPart(p.X, f.X, i0, i1)
	p.Y, f.Y, dy = axisPart(p.Y, f.Y, j0, j1)
	for k := range p.Markers {
		p.Markers[k].X -= dx
		p.Markers[k].Y -= dy
	}
	return true
}

// beside widens a stretch by a step either way, on a continuous axis to two places at least.
func beside(from, to, n int, a chart.Axis) (int, int) {
	from, to = max(from-1, 0), min(to+1, n-1)
	if len(a.Names) == 0 && from == to && n > 1 {
		from, to = max(from-1, 0), min(to+1, n-1)
	}
	return from, to
}

// axisPart cuts an axis and the places along it, and tells by how much places move.
func axisPart(a chart.Axis, at []float64, from, to int) (chart.Axis, []float64, float64) {
	out := slices.Clone(at[from : to+1])
	if len(a.Names) == 0 {
		if len(at) > 1 {
			a.Min, a.Max = out[0], out[len(out)-1]
		}
		return a, out, 0
	}
	a.Names = a.Names[from : to+1]
	for k := range out {
		out[k] = float64(k)
	}
	return a, out, float64(from)
}

func window[T any](z [][]T, i0, i1, j0, j1 int) [][]T {
	var out [][]T
	for _, row := range z[j0 : j1+1] {
		out = append(out, row[i0:i1+1])
	}
	return out
}
