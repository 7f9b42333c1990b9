package figure

import (
	"math"
	"slices"
	"testing"

	"rotorsieve/report/chart"
)

// groundOf is a panel of n by n crossings of which some square alone has values.
func groundOf(n, from, to int, names []string) chart.Panel {
	p := chart.Panel{X: chart.Axis{Min: 10, Max: 10 + float64(n-1)}, Y: chart.Axis{Names: names}, Field: &chart.Field{}}
	f := p.Field
	for k := range n {
		f.X, f.Y = append(f.X, 10+float64(k)), append(f.Y, float64(k))
	}
	for j := range n {
		f.Z, f.Gate = append(f.Z, make([]float64, n)), append(f.Gate, make([]string, n))
		for i := range n {
			if f.Z[j][i] = float64(100*j + i); i < from || i > to || j < from || j > to {
				f.Z[j][i], f.Gate[j][i] = math.NaN(), "a bound"
			}
		}
	}
	p.Markers = []chart.Marker{{X: f.X[from], Y: f.Y[from]}}
	return p
}

// A panel that is mostly hatched ends a step beyond what is feasible, with all that stands
// there at its place; one that is not stays as it is.
func TestCropToGround(t *testing.T) {
	t.Parallel()
	names := []string{"a", "b", "c", "d", "e", "f", "g", "h"}
	p := groundOf(8, 3, 4, names)
	if !cropToGround(&p) {
		t.Fatal("nothing is cut")
	}
	if !slices.Equal(p.Field.X, []float64{12, 13, 14, 15}) || p.X.Min != 12 || p.X.Max != 15 {
		t.Errorf("along x %v, from %g to %g", p.Field.X, p.X.Min, p.X.Max)
	}
	if !slices.Equal(p.Field.Y, []float64{0, 1, 2, 3}) || !slices.Equal(p.Y.Names, []string{"c", "d", "e", "f"}) {
		t.Errorf("along y %v, %q", p.Field.Y, p.Y.Names)
	}
	if m := p.Markers[0]; m.X != 13 || m.Y != 1 || p.Field.Z[1][1] != 303 || p.Field.Gate[0][0] != "a bound" {
		t.Errorf("marker at %g, %g, on %v", m.X, m.Y, p.Field.Z)
	}
	for _, c := range []struct{ from, to int }{{1, 6}, {0, 7}, {5, 4}} { // of the last nothing is feasible
		p, was := groundOf(8, c.from, c.to, names), groundOf(8, c.from, c.to, names)
		if cropToGround(&p) || !slices.Equal(p.Field.X, was.Field.X) {
			t.Errorf("from %d to %d it is cut to %v", c.from, c.to, p.Field.X)
		}
	}
}
