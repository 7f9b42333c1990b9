package finding

import (
	"slices"

	"rotorsieve/model"
	"rotorsieve/sweep"
)

// Alike are designs of a ranking that are one answer to who builds them: of one propeller,
// number of cells and payload, with motors and packs near those of the best.
type Alike struct {
	Entry              // the best of them
	Ranks    []int     // of all, from 1
	KV       Ends      // least and greatest
	Capacity Ends      // A s
	Stators  []float64 // trade codes, as in unit.Stator, in order of rank
}

// Ends are the least and the greatest of some values.
type Ends struct{ Least, Most float64 }

func (e *Ends) take(v float64) { e.Least, e.Most = min(e.Least, v), max(e.Most, v) }

// AlikeShare is by how much the KV, the capacity and the volume of the stator of alike designs
// differ from those of the best of them, at most: 2207 and 2306 differ by 6 % in volume, 1507 and
// 1404 by half. Chosen here.
const AlikeShare = 0.15

// Lines folds the ranking of a class into at most so many answers, best first.
func (r *Run) Lines(f *Class, most int) ([]Alike, error) {
	g := r.Study.Grid
	var all []Alike
	for n, x := range f.Ranking {
		d := g.Design(x.Index)
		i := slices.IndexFunc(all, func(a Alike) bool { return alike(&a.Design, &d) })
		if i < 0 && len(all) == most {
			continue // those before may yet take more
		}
		if i < 0 {
			e := Entry{}
			if n < len(f.First) {
				e = f.First[n]
			} else {
				var err error
				if e, err = r.entry(f.ClassResult, x); err != nil {
					return nil, err
				}
				e.Rank = n + 1
			}
			i = len(all)
			all = append(all, Alike{Entry: e, KV: Ends{d.KV, d.KV}, Capacity: Ends{d.Capacity, d.Capacity}})
		}
		a := &all[i]
		a.Ranks = append(a.Ranks, n+1)
		a.KV.take(d.KV)
		a.Capacity.take(d.Capacity)
		if code := sweep.Stator.Of(d); !slices.Contains(a.Stators, code) {
			a.Stators = append(a.Stators, code)
		}
	}
	return all, nil
}

// alike says whether a design is the same answer as the best of a line.
func alike(best, d *model.Design) bool {
	b := *best
	b.Stator, b.KV, b.Capacity = d.Stator, d.KV, d.Capacity
	near := func(x, y float64) bool { return max(x, y) <= (1+AlikeShare)*min(x, y) }
	return b == *d && near(best.KV, d.KV) && near(best.Capacity, d.Capacity) &&
		near(best.Stator.Volume(), d.Stator.Volume())
}
