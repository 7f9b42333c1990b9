package finding

import "rotorsieve/sweep"

// Judged is how many designs of a diameter a run has judged, each of them in every class.
type Judged struct {
	Diameter float64 // m
	Done, Of uint64  // designs
}

// All says whether all were.
func (j Judged) All() bool { return j.Done == j.Of }

// Judged tells it of the diameter of a place in the grid.
func (r *Run) Judged(d int) Judged {
	g := r.Study.Grid
	return Judged{r.Values(sweep.Diameter)[d], r.Result.Judged[d], g.With(MustPlace(g, sweep.Diameter), d)}
}

// Rest estimates what of a class the run has not judged; all is 0 where it is complete.
func (r *Run) Rest(f *Class) sweep.Rest {
	for i := range r.Result.Classes {
		if &r.Result.Classes[i] == f.ClassResult {
			return r.Result.Rest(i)
		}
	}
	panic("finding: a class of another run")
}
