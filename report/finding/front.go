package finding

import (
	"math"
	"slices"

	"rotorsieve/model"
)

// leastKnee is how far a knee stands out from the straight way between the ends, both
// metrics scaled to 1.
const leastKnee = 0.05

// Knee finds the design of a front that lies farthest beyond the straight line
// between its ends, both metrics scaled to the front's range. It reports false
// where none stands out.
func Knee(front []Row, x, y *model.Metric) (int, bool) {
	scaled := func(m *model.Metric) []float64 {
		v := make([]float64, len(front))
		for n := range front {
			v[n] = front[n].Values[Place(m)]
			if m.Better == model.Lower {
				v[n] = -v[n]
			}
		}
		if len(v) == 0 {
			return v
		}
		lo, hi := slices.Min(v), slices.Max(v)
		for n := range v {
			v[n] = (v[n] - lo) / (hi - lo)
		}
		return v
	}
	u, v := scaled(x), scaled(y)
	best, at := leastKnee, -1
	for n := range u {
		// The ends are (0, 1) and (1, 0).
		if d := (u[n] + v[n] - 1) / math.Sqrt2; d > best {
			best, at = d, n
		}
	}
	return at, at >= 0
}
