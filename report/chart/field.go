package chart

import (
	"fmt"
	"math"
)

// Field is what a panel maps: one value at each crossing of the coordinates.
//
// Z[j][i] belongs to (X[i], Y[j]). NaN means that nothing feasible is there.
// The boundary is the smoothest line that leaves each crossing on its own side.
// Along a discrete axis X or Y holds every position, 0 to the number of names less 1.
type Field struct {
	X, Y []float64 // rising, within the panel's axes
	Z    [][]float64

	// Gate, if known, names what stops the crossing where Z is NaN.
	Gate [][]string

	// Short gives, for some names of gates, shorter ones for where room is small.
	Short map[string]string
}

func (f *Field) validate(x, y Axis) error {
	if len(f.X) == 0 || len(f.Y) == 0 {
		return fmt.Errorf("chart: field without coordinates: %d by %d: want at least 1 by 1", len(f.X), len(f.Y))
	}
	if err := validateCoordinates("x", f.X, x); err != nil {
		return err
	}
	if err := validateCoordinates("y", f.Y, y); err != nil {
		return err
	}
	if err := validateShape("Z", f.Z, len(f.X), len(f.Y)); err != nil {
		return err
	}
	for j, row := range f.Z {
		for i, z := range row {
			if math.IsInf(z, 0) {
				return fmt.Errorf("chart: field Z[%d][%d] is %g: want a finite value, or NaN where nothing is feasible",
					j, i, z)
			}
		}
	}
	if f.Gate != nil {
		return validateShape("Gate", f.Gate, len(f.X), len(f.Y))
	}
	return nil
}

func validateCoordinates(name string, v []float64, a Axis) error {
	lo, hi := a.limits()
	slack := 1e-9 * (hi - lo)
	for k := range v {
		if !finite(v[k]) || v[k] < lo-slack || v[k] > hi+slack || k > 0 && v[k] <= v[k-1] {
			return fmt.Errorf("chart: field %s[%d] is %g: want rising values within the axis, %g to %g", name, k, v[k],
				lo, hi)
		}
		if len(a.Names) > 0 && v[k] != float64(k) {
			return fmt.Errorf("chart: field %s[%d] is %g: want %d, a discrete axis has each position once", name, k,
				v[k], k)
		}
	}
	if n := len(a.Names); n > 0 && len(v) != n {
		return fmt.Errorf("chart: field has %d positions along %s: want %d, one for each name", len(v), name, n)
	}
	if !a.discrete() && len(v) == 1 {
		return fmt.Errorf("chart: field has 1 position along the continuous axis %q: want at least 2, or an axis of "+
			"one value", a.Label)
	}
	return nil
}

func validateShape[T any](name string, rows [][]T, nx, ny int) error {
	if len(rows) != ny {
		return fmt.Errorf("chart: field %s has %d rows: want %d, one for each y", name, len(rows), ny)
	}
	for j, row := range rows {
		if len(row) != nx {
			return fmt.Errorf("chart: field %s[%d] has %d values: want %d, one for each x", name, j, len(row), nx)
		}
	}
	return nil
}

// feasible counts the crossings that have a value.
func (f *Field) feasible() int {
	n := 0
	for _, row := range f.Z {
		for _, z := range row {
			if !math.IsNaN(z) {
				n++
			}
		}
	}
	return n
}

// sides returns a margin whose sign says whether z has a value and whose zero
// line is as smooth as that leaves it. The distance to the boundary is known
// at each crossing to within a cell: it is less than the distance to the nearest
// crossing of the other side. Smoothing again and again, and each time
// putting every crossing back within these bounds, straightens steps that
// come only from the grid and never moves a crossing to the other side.
// Nothing is smoothed across a discrete axis.
func sides(z [][]float64, alongX, alongY bool) [][]float64 {
	const (
		keep   = 0.12 // least distance of the boundary from a crossing, in cells
		slack  = 1.2  // of the lower bound: a little less than a cell's diagonal
		reach  = 8    // cells; farther crossings do not matter
		rounds = 150
	)
	ny, nx := len(z), len(z[0])
	sign := func(j, i int) float64 {
		if math.IsNaN(z[j][i]) {
			return -1
		}
		return 1
	}
	m := make([][]float64, ny)
	far := make([][]float64, ny) // distance to the nearest crossing of the other side
	for j := range z {
		m[j] = make([]float64, nx)
		far[j] = make([]float64, nx)
		for i := range z[j] {
			far[j][i] = otherSide(sign, j, i, ny, nx, reach)
			m[j][i] = sign(j, i)
			if alongX && alongY {
				m[j][i] *= far[j][i] - 0.5
			}
		}
	}
	if !alongX || !alongY {
		return m // midway between neighbours along the one axis there is
	}
	for range rounds {
		// One pass blurs, the other gives back what a straight slope lost: ridges
		// keep their height and the boundary does not creep inwards (Taubin, A
		// Signal Processing Approach to Fair Surface Design, 1995).
		soft := blur(m)
		softer := blur(soft)
		for j := range m {
			for i := range m[j] {
				m[j][i] = 2*soft[j][i] - softer[j][i]
				lo, hi := max(keep, far[j][i]-slack), far[j][i]
				m[j][i] = sign(j, i) * min(max(sign(j, i)*m[j][i], lo), hi)
			}
		}
	}
	return m
}

// otherSide returns how many cells away the nearest crossing of the other sign
// is, at most reach.
func otherSide(sign func(j, i int) float64, j, i, ny, nx, reach int) float64 {
	best := float64(reach * reach)
	for dj := max(-reach, -j); dj <= min(reach, ny-1-j); dj++ {
		for di := max(-reach, -i); di <= min(reach, nx-1-i); di++ {
			if d := float64(dj*dj + di*di); d < best && sign(j+dj, i+di) != sign(j, i) {
				best = d
			}
		}
	}
	return math.Sqrt(best)
}

// blur is one pass of the 3 x 3 binomial kernel; beyond the edges the slope
// goes on.
func blur(m [][]float64) [][]float64 {
	ny, nx := len(m), len(m[0])
	along := func(v func(int) float64, k, n int) float64 {
		if n < 2 || k == 0 || k == n-1 {
			return v(k)
		}
		return (v(k-1) + 2*v(k) + v(k+1)) / 4
	}
	rows := make([][]float64, ny)
	for j := range rows {
		rows[j] = make([]float64, nx)
		for i := range rows[j] {
			rows[j][i] = along(func(k int) float64 { return m[j][k] }, i, nx)
		}
	}
	out := make([][]float64, ny)
	for j := range out {
		out[j] = make([]float64, nx)
		for i := range out[j] {
			out[j][i] = along(func(k int) float64 { return rows[k][i] }, j, ny)
		}
	}
	return out
}

// extended fills the NaN crossings of z outwards from their neighbours, so
// that bands and lines run straight up to the boundary, which hides the rest:
// the first two layers go on with the slope before them, the others are level.
// Bounded fills stay near the range of the values they were made from, so that
// no band shows only in what was filled.
func extended(z [][]float64, bounded bool) [][]float64 {
	ny, nx := len(z), len(z[0])
	out := make([][]float64, ny)
	missing := 0
	for j := range z {
		out[j] = append([]float64(nil), z[j]...)
		for _, v := range z[j] {
			if math.IsNaN(v) {
				missing++
			}
		}
	}
	if missing == nx*ny {
		return out
	}
	value := func(j, i int) float64 {
		if j < 0 || i < 0 || j >= ny || i >= nx {
			return math.NaN()
		}
		return out[j][i]
	}
	type fill struct {
		j, i int
		v    float64
	}
	for layer := 0; missing > 0; layer++ {
		var fills []fill
		for j := range ny {
			for i := range nx {
				if !math.IsNaN(out[j][i]) {
					continue
				}
				var sum, weight float64
				lo, hi := math.Inf(1), math.Inf(-1)
				for dj := -1; dj <= 1; dj++ {
					for di := -1; di <= 1; di++ {
						near, far := value(j+dj, i+di), value(j+2*dj, i+2*di)
						if math.IsNaN(near) {
							continue
						}
						lo, hi = min(lo, near), max(hi, near)
						w := 1 / float64(dj*dj+di*di)
						switch {
						case math.IsNaN(far):
							w /= 4 // no slope to go on with
						case layer < 2:
							near += near - far
						}
						sum += w * near
						weight += w
					}
				}
				if weight == 0 {
					continue
				}
				v := sum / weight
				if bounded {
					spare := 0.3 * (hi - lo)
					v = min(max(v, lo-spare), hi+spare)
				}
				fills = append(fills, fill{j, i, v})
			}
		}
		for _, f := range fills {
			out[f.j][f.i] = f.v
		}
		missing -= len(fills)
	}
	return out
}

// refined interpolates z, given at (x, y), at the finer coordinates, first
// along x and then along y.
func refined(x, y []float64, z [][]float64, fineX, fineY []float64) grid {
	rows := make([][]float64, len(y))
	for j := range rows {
		rows[j] = interpolated(x, z[j], fineX)
	}
	g := grid{x: fineX, y: fineY, z: make([]float64, len(fineX)*len(fineY))}
	column := make([]float64, len(y))
	for i := range fineX {
		for j := range column {
			column[j] = rows[j][i]
		}
		for j, v := range interpolated(y, column, fineY) {
			g.z[j*len(fineX)+i] = v
		}
	}
	return g
}
