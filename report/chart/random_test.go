package chart

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// Whatever is drawn, texts keep off one another and within the figure.
func TestRandomFigures(t *testing.T) {
	t.Parallel()
	seeds := uint64(30)
	if testing.Short() {
		seeds = 6
	}
	for seed := range seeds {
		f := randomFigure(rand.New(rand.NewPCG(seed, 17)))
		l, err := f.Layout()
		if err != nil {
			t.Errorf("seed %d: %v", seed, err)
			continue
		}
		for _, fault := range l.Faults() {
			t.Errorf("seed %d: %s", seed, fault)
		}
	}
}

func randomAxis(r *rand.Rand, label string) (Axis, []float64) {
	n := 1 + r.IntN(25)
	if r.IntN(3) == 0 {
		a := Axis{Label: label}
		for k := range n {
			a.Names = append(a.Names, strings.Repeat("x", r.IntN(9))+fmt.Sprint(k))
		}
		return a, steps(0, float64(n-1), 1)
	}
	v := []float64{math.Exp(3 * r.NormFloat64())}
	for k := 1; k < n; k++ {
		v = append(v, v[k-1]+0.1*v[0]*math.Exp(r.NormFloat64()))
	}
	return Axis{Label: label, Min: v[0], Max: v[n-1], Log: r.IntN(3) == 0}, v
}

// randomFigure has up to six panels of a ragged field with a noisy overlay, gates,
// a line and markers.
func randomFigure(r *rand.Rand) *Figure {
	ax, x := randomAxis(r, "x [m]")
	ay, y := randomAxis(r, "y [m]")
	f := &Figure{
		Title:      strings.Repeat("a long title ", 1+r.IntN(12)),
		Subtitle:   strings.Repeat("subtitle ", r.IntN(40)),
		Note:       strings.Repeat("note ", r.IntN(80)),
		Infeasible: "infeasible", Star: "star", Bar: Bar{Label: "value [-]", Format: "%.4g"},
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for range 1 + r.IntN(6) {
		share, phase := r.Float64(), 9*r.Float64()
		z := table(x, y, func(x, y float64) float64 {
			if r.Float64() < share && math.Sin(x+phase) > 0 {
				return math.NaN()
			}
			v := math.Sin(x+phase)*math.Cos(y) + 0.1*r.NormFloat64()
			lo, hi = min(lo, v), max(hi, v)
			return v
		})
		over := table(x, y, func(x, y float64) float64 { return math.Mod(x+y, 4) + r.NormFloat64() })
		for j := range z {
			for i := range z[j] {
				if math.IsNaN(z[j][i]) {
					over[j][i] = math.NaN()
				}
			}
		}
		p := Panel{
			Title: strings.Repeat("panel ", r.IntN(12)), X: ax, Y: ay,
			Field: &Field{X: x, Y: y, Z: z, Gate: names(x, y, func(_, _ float64) string {
				return [...]string{"a gate", "another gate of note ≥ 5 kN", "tip"}[r.IntN(3)]
			})},
			Overlays: []Overlay{{Name: "overlay", Z: over, Levels: steps(0, 5, 1)}},
			Lines: []Line{{Family: "lines", Label: "a line", X: []float64{x[0], x[len(x)-1]},
				Y: []float64{y[0], y[len(y)-1]}}},
		}
		for range r.IntN(5) {
			p.Markers = append(p.Markers, Marker{
				X: x[r.IntN(len(x))], Y: y[r.IntN(len(y))],
				Lines: []string{"the first line", "a second", "a third and longer line"}[:r.IntN(4)],
			})
		}
		f.Panels = append(f.Panels, p)
	}
	if lo > hi {
		lo, hi = 0, 1
	}
	f.Bar.Levels = Levels(lo, hi, 9)
	return f
}
