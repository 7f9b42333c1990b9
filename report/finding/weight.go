package finding

import (
	"slices"

	"rotorsieve/sweep"
	"rotorsieve/sweep/decide"
)

// weightStep is by which share of a limit more and less weight are told of.
const weightStep = 0.1

// Weight is what the last tenth of a class's limit has bought, and what a tenth more would, by the
// nominal model: of the widest class, beyond which nothing was swept.
type Weight struct {
	Limit float64 // kg
	Step  float64 // kg
	Alone bool    // no other class was swept
	Best  *Entry
	// Less is the best design that is a step lighter than the limit, nil where none is feasible.
	Less *Entry
	// Loosened is the limit a step looser, nil without draws; More the best design then, nil where
	// it gains nothing.
	Loosened *decide.Loosened
	More     *Entry
	// FromLess and ToMore are the changes of what ranks.
	FromLess, ToMore []Change
}

// weight finds it of a class, nil for one without a feasible design, or of a run that is not whole.
func (r *Run) weight(f *Class) (*Weight, error) {
	best := f.Best()
	if best == nil || !r.Result.Complete || r.Widest() != f.ClassResult {
		return nil, nil
	}
	w := &Weight{Limit: f.Class.Limit, Step: weightStep * f.Class.Limit, Alone: len(r.Result.Classes) == 1, Best: best}
	s := &f.Size
	var less sweep.Cell
	for b := range s.Bins {
		if s.Width*float64(b+1) > (f.Class.Limit-w.Step)*(1+1e-9) {
			break
		}
		for d := range s.Diameters {
			if c := s.Cells[d*s.Bins+b]; c.Any && (!less.Any || c.Score > less.Score) {
				less = c
			}
		}
	}
	if less.Any {
		e, err := r.entry(f.ClassResult, less.Ranked)
		if err != nil {
			return nil, err
		}
		w.Less, w.FromLess = &e, r.changes(&e, best)
	}
	if f.Choice == nil {
		return w, nil
	}
	i := slices.IndexFunc(f.Choice.Loosened, func(l decide.Loosened) bool { return l.Gate == sweep.GateClass })
	if i < 0 {
		return w, nil
	}
	w.Loosened = &f.Choice.Loosened[i]
	if w.Loosened.Any && w.Loosened.Gain > 0 {
		wider := *f.ClassResult
		wider.Class.Limit = w.Loosened.Bound
		e, err := r.entry(&wider, sweep.Ranked{Index: w.Loosened.Index, Score: w.Loosened.Merit})
		if err != nil {
			return nil, err
		}
		w.More, w.ToMore = &e, r.changes(best, &e)
	}
	return w, nil
}
