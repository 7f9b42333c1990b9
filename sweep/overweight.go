package sweep

import (
	"rotorsieve/model"
	"rotorsieve/model/pack"
)

// overweight counts designs that are too heavy for every class.
func (w *worker) overweight(count uint64) {
	for _, x := range w.found {
		x.rejected[GateClass] += count
	}
}

// nearer makes a design that is too heavy for every class the nearest miss where it
// is, least being a lower bound on its mass. It says whether that bound left it
// possible: only then is the full-throttle point computed, which the mass needs.
func (w *worker) nearer(index uint64, least float64) (possible bool) {
	mass := 0.0
	for i, x := range w.found {
		limit := w.study.Classes[i].Limit
		bound := Miss{Index: index, Gate: GateClass, Shortfall: classShortfall(least, limit), Any: true}
		if w.miss[i].Any && w.miss[i].compare(bound) < 0 || x.miss.Any && x.miss.compare(bound) < 0 {
			continue
		}
		possible = true
		if mass == 0 {
			var t model.Powertrain
			d, err := w.whole(&t, index, nil)
			if err != nil {
				continue
			}
			mass = t.AUW(d.Payload)
		}
		bound.Shortfall = classShortfall(mass, limit)
		x.miss.add(bound)
	}
	return possible
}

func (w *worker) pack(index uint64) *pack.Pack {
	at := w.study.Grid.coord(index)
	return w.packAt(&at)
}

func classShortfall(mass, limit float64) float64 { return (mass - limit) / limit }
