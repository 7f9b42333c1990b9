package sweep

import (
	"math/bits"

	"rotorsieve/model"
	"rotorsieve/model/pack"
)

// nearer makes a design that is too heavy for every class the nearest miss where it
// is, least being a lower bound on its mass. It says whether that bound left it
// possible: only then is the full-throttle point computed, which the mass needs.
func (w *worker) nearer(index uint64, least float64) (possible bool) {
	if least > w.near {
		return false
	}
	for in := w.open; in != 0; in &= in - 1 {
		i := bits.TrailingZeros64(in)
		bound := Miss{Index: index, Gate: GateClass, Shortfall: classShortfall(least, w.limit(i)), Any: true}
		possible = possible || !w.missed(i, bound) && !(w.over[i].Any && w.over[i].compare(bound) < 0)
	}
	if !possible {
		return false
	}
	var t model.Powertrain
	if d, err := w.whole(&t, index, nil); err == nil {
		w.heavy(index, t.AUW(d.Payload), len(w.found))
	}
	return true
}

func (w *worker) pack(index uint64) *pack.Pack {
	at := w.study.Grid.coord(index)
	return w.packAt(&at)
}

func classShortfall(mass, limit float64) float64 { return (mass - limit) / limit }
