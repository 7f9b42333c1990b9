package finding

import (
	"cmp"
	"slices"

	"rotorsieve/sweep"
	"rotorsieve/sweep/decide"
)

// weightStep is by which share of a limit more and less weight are told of.
const weightStep = 0.1

// Weight is what a tenth more than a class's limit would buy, by the nominal model, and of the widest
// class, beyond which nothing was swept, what the last tenth has bought.
type Weight struct {
	Limit  float64 // kg
	Step   float64 // kg
	Alone  bool    // no other class was swept
	Widest bool
	Best   *Entry
	// Unused is what the recommended build leaves of the limit, as planned, kg; 0 without draws.
	Unused float64
	// Less is the best design that is a step lighter than the limit, nil where none is feasible, or
	// of another class than the widest.
	Less *Entry
	// Loosened is the limit a step looser, nil without draws; More the best design then, nil where
	// it gains nothing.
	Loosened *decide.Loosened
	More     *Entry
	// FromLess and ToMore are the changes of what ranks.
	FromLess, ToMore []Change
}

// weight finds it of a class, nil for one of which nothing can be told: without a feasible design, of a run
// that is not whole, or of another than the widest without draws.
func (r *Run) weight(f *Class) (*Weight, error) {
	best := f.Best()
	widest := r.Widest() == f.ClassResult
	if best == nil || !r.Result.Complete || !widest && f.Choice == nil {
		return nil, nil
	}
	w := &Weight{Limit: f.Class.Limit, Step: weightStep * f.Class.Limit, Alone: len(r.Result.Classes) == 1,
		Widest: widest, Best: best}
	if widest {
		if err := r.lastStep(f, w); err != nil {
			return nil, err
		}
	}
	if f.Choice == nil {
		return w, nil
	}
	w.Unused = max(0, f.Class.Limit-f.Planned.Craft.Mass)
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

// lastStep finds what the last step of a class has bought.
func (r *Run) lastStep(f *Class, w *Weight) error {
	lighter, _ := f.Size.Within(f.Class.Limit - w.Step)
	if len(lighter) == 0 {
		return nil
	}
	less := slices.MaxFunc(lighter, func(a, b sweep.Ranked) int { return cmp.Compare(a.Score, b.Score) })
	e, err := r.entry(f.ClassResult, less)
	if err != nil {
		return err
	}
	w.Less, w.FromLess = &e, r.changes(&e, w.Best)
	return nil
}
