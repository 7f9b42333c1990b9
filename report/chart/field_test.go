package chart

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/plot/vg"
)

// Every crossing stays on its own side of the boundary, however ragged.
func TestSidesKeepCrossings(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(1, 2))
	for trial := range 40 {
		nx, ny := 2+rng.IntN(20), 2+rng.IntN(20)
		z := make([][]float64, ny)
		for j := range z {
			z[j] = make([]float64, nx)
			for i := range z[j] {
				if rng.Float64() < 0.4 {
					z[j][i] = math.NaN()
				}
			}
		}
		x, y := steps(0, float64(nx-1)*10, 10), steps(0, float64(ny-1)*10, 10)
		m := refined(x, y, sides(z, true, true), subdivided(x), subdivided(y))
		for j := range z {
			for i := range z[j] {
				got := m.sample(vg.Point{X: vg.Length(x[i]), Y: vg.Length(y[j])})
				if (got >= 0) == math.IsNaN(z[j][i]) {
					t.Fatalf("trial %d: crossing %d, %d has margin %g where z is %g", trial, i, j, got, z[j][i])
				}
			}
		}
	}
}

// The boundary of a slanted half plane, known only at the crossings, is
// straight again to within half a cell, and not the staircase of the grid.
func TestSidesStraighten(t *testing.T) {
	t.Parallel()
	const slope, offset = 0.31, 5.3
	x, y := steps(0, 300, 10), steps(0, 200, 10)
	z := table(x, y, func(x, y float64) float64 {
		if y > slope*x+offset*10 {
			return math.NaN()
		}
		return 1
	})
	m := refined(x, y, sides(z, true, true), subdivided(x), subdivided(y))
	lines := m.isolines(0)
	if len(lines) != 1 {
		t.Fatalf("got %d boundaries, want 1", len(lines))
	}
	steepest, flattest := math.Inf(-1), math.Inf(1)
	s := resample(lines[0], 5)
	for k, p := range s.pts {
		if d := float64(p.Y) - slope*float64(p.X) - offset*10; math.Abs(d) > 5 {
			t.Errorf("boundary is off by %.1f of 10 at %v", d, p)
		}
		if k > 0 && p.X > 40 && p.X < 260 {
			g := float64((p.Y - s.pts[k-1].Y) / (p.X - s.pts[k-1].X))
			steepest, flattest = max(steepest, g), min(flattest, g)
		}
	}
	if flattest < 0.1 || steepest > 0.6 {
		t.Errorf("boundary's slope runs from %.2f to %.2f, want it near %.2f", flattest, steepest, slope)
	}
}

func TestInterpolated(t *testing.T) {
	t.Parallel()
	x := []float64{0, 1, 3, 4, 6.5, 7}
	parabola := make([]float64, len(x))
	step := []float64{0, 0, 0, 1, 1, 1}
	for k, v := range x {
		parabola[k] = 2 - v + 0.3*v*v
	}
	at := steps(0, 7, 0.05)
	for k, v := range interpolated(x, parabola, at) {
		if want := 2 - at[k] + 0.3*at[k]*at[k]; math.Abs(v-want) > 1e-12 {
			t.Errorf("parabola at %.2f is %g, want %g", at[k], v, want)
		}
	}
	for k, v := range interpolated(x, step, at) {
		if v < -0.125-1e-12 || v > 1.125+1e-12 {
			t.Errorf("step at %.2f is %g, want at most an eighth beyond 0 to 1", at[k], v)
		}
	}
	for k, v := range interpolated(x, step, x) {
		if v != step[k] {
			t.Errorf("step at its own place %g is %g, want %g", x[k], v, step[k])
		}
	}
}

func TestExtendedGoesOnStraight(t *testing.T) {
	t.Parallel()
	x, y := steps(0, 9, 1), steps(0, 7, 1)
	plane := func(x, y float64) float64 { return 3 + 2*x - y }
	z := table(x, y, func(x, y float64) float64 {
		if x > 6 {
			return math.NaN()
		}
		return plane(x, y)
	})
	out := extended(z, false)
	for j := range y {
		for i, v := range out[j] {
			if x[i] <= 6 && v != z[j][i] {
				t.Errorf("a known value %g at %d, %d became %g", z[j][i], i, j, v)
			}
			// Rows at the rim have one-sided neighbours, whose slope along y tells.
			if x[i] == 7 && j > 1 && j < 6 && math.Abs(v-plane(7, y[j])) > 1e-9 {
				t.Errorf("the plane goes on with %g at row %d, want %g", v, j, plane(7, y[j]))
			}
			if math.IsNaN(v) {
				t.Errorf("no fill at %d, %d", i, j)
			}
		}
	}
	for j, row := range extended(z, true) {
		for i, v := range row {
			if v > plane(6, 0)+2 {
				t.Errorf("a bounded fill at %d, %d is %g, far beyond the data", i, j, v)
			}
		}
	}
}

// Up to the boundary, half a step beyond the last values, no band shows that
// the values do not reach.
func TestContouredShowsNoMoreThanTheData(t *testing.T) {
	t.Parallel()
	fr := frame{rect: vg.Rectangle{Max: vg.Point{X: 200, Y: 100}}, x: Axis{Max: 20}, y: Axis{Max: 10}}
	x, y := steps(0, 20, 1), steps(0, 10, 1)
	f := &Field{X: x, Y: y, Z: table(x, y, func(x, _ float64) float64 {
		if x > 10 {
			return math.NaN()
		}
		return 0.08 * x
	})}
	tr := contoured(fr, f, []float64{0, 0.5, 0.82, 1}, nil)
	if got := area(tr.bands[2]); got > 1e-9 {
		t.Errorf("a band from 0.82 covers %g, where no value exceeds 0.8", got)
	}
	const step = 10.0 * 100 // area of one step; smoothing may move the boundary by a fiftieth of it
	if got, want := area(tr.barren), 9.5*step; math.Abs(got-want) > step/50 {
		t.Errorf("barren ground covers %g, want the ground from half a step beyond the last values, %g", got, want)
	}
	for _, c := range []struct {
		x    float64
		open bool
	}{{10, true}, {10.45, true}, {10.55, false}, {11, false}} {
		if got := tr.open(fr.point(c.x, 5)); got != c.open {
			t.Errorf("open at %g is %t", c.x, got)
		}
	}
}

// Values that never fall are drawn as such: beside a flat there is no ridge.
func TestInterpolatedOneWay(t *testing.T) {
	t.Parallel()
	x, v := []float64{0, 1, 2, 3, 4, 5}, []float64{0, 0.2, 0.62, 0.65, 0.65, 0.65}
	var at []float64
	for n := range 51 {
		at = append(at, float64(n)/10)
	}
	out := interpolated(x, v, at)
	for k := range out {
		if k > 0 && out[k] < out[k-1] || out[k] > 0.65 {
			t.Errorf("at %.1f it is %g after %g", at[k], out[k], out[max(k-1, 0)])
		}
	}
}
