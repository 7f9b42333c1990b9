package chart

import (
	"math"
	"slices"
	"testing"
)

// Each piece of hatched ground is named for itself, and what is too small for a
// name is noted with its panel.
func TestGateOfEachPiece(t *testing.T) {
	t.Parallel()
	const n = 21
	none := math.NaN()
	fd := &Field{}
	for k := range n {
		fd.X, fd.Y = append(fd.X, float64(k)), append(fd.Y, float64(k))
	}
	for j := range n {
		z, gate := make([]float64, n), make([]string, n)
		for i := range n {
			switch {
			case i < 6 || i > 14: // two pieces of one gate
				z[i], gate[i] = none, "left and right"
			case i == 10 && j == 10:
				z[i], gate[i] = none, "amid"
			default:
				z[i] = 0.5
			}
		}
		fd.Z, fd.Gate = append(fd.Z, z), append(fd.Gate, gate)
	}
	axis := Axis{Max: n - 1}
	full := &Field{X: fd.X, Y: fd.Y, Z: table(fd.X, fd.Y, func(x, y float64) float64 { return 0.5 })}
	f := &Figure{Panels: []Panel{{X: axis, Y: axis, Field: full}, {X: axis, Y: axis, Field: fd}},
		Bar: Bar{Levels: []float64{0, 1}}, Width: 10}
	l, err := f.Layout()
	if err != nil {
		t.Fatal(err)
	}
	checkLayout(t, l)
	named := 0
	for _, text := range l.Texts {
		if text.Text == "left and right" || text.Text == "left and" || text.Text == "left" {
			named++
		}
	}
	if named != 2 {
		t.Errorf("two pieces of ground carry their gate %d times", named)
	}
	if want := []Lost{{1, "amid"}}; !slices.Equal(l.Unnamed, want) {
		t.Errorf("without a name: %v, want %v", l.Unnamed, want)
	}
}
