package finding

import "rotorsieve/sweep"

// Part is what a design is to its class.
type Part int

// Parts of a design.
const (
	BestPart        Part = iota // best by merit, where no draws choose
	RecommendedPart             // planned of the recommended build
	NominalPart                 // best by merit, before any error
	BothPart                    // the draws recommend the nominal best
)

// Recommends says whether the draws do.
func (p Part) Recommends() bool { return p == RecommendedPart || p == BothPart }

// Pick is a design that a class is shown by.
type Pick struct {
	*Entry
	Part  Part
	Class *Class
}

// Picks are the designs that a class is shown by: that of the recommended build first and
// then the nominal best, or the best alone where no draws choose; none where no design is
// feasible.
func (f *Class) Picks() []Pick {
	best := f.Best()
	switch {
	case best == nil:
		return nil
	case f.Planned == nil:
		return []Pick{{best, BestPart, f}}
	case f.Planned.Index == best.Index:
		return []Pick{{best, BothPart, f}}
	}
	return []Pick{{f.Planned, RecommendedPart, f}, {best, NominalPart, f}}
}

// PicksOf are the first picks of all classes, then the second ones.
func PicksOf(found []Class) []Pick {
	var first, second []Pick
	for i := range found {
		if p := found[i].Picks(); len(p) > 0 {
			first, second = append(first, p[0]), append(second, p[1:]...)
		}
	}
	return append(first, second...)
}

// AnyChoice says whether the draws choose in some class.
func AnyChoice(found []Class) bool {
	for i := range found {
		if found[i].Choice != nil {
			return true
		}
	}
	return false
}

// planned is the planned design of the recommended build of a class, by the nominal model.
func (r *Run) planned(k *sweep.ClassResult, f *Class) (*Entry, error) {
	b := f.Choice.Recommended()
	if best := f.Best(); best != nil && best.Index == b.Index {
		return best, nil
	}
	e, err := r.entry(k, sweep.Ranked{Index: b.Index, Score: b.Nominal})
	if err != nil {
		return nil, err
	}
	e.Craft.Explain()
	return &e, nil
}
