package finding

import (
	"fmt"
	"path/filepath"
	"slices"

	"rotorsieve/model"
	"rotorsieve/sweep"
)

// InHand is a design of a finished run that was asked for.
type InHand struct {
	Run         *Finished
	Class       *FinishedClass
	Index       uint64
	Design      model.Design
	Rank        int  // 0 where it is not of the ranking
	Recommended bool // over draws
	Changed     bool // the study was changed on the way: it is judged under other flags than the run's
}

// ByRank is the design of a rank, from 1.
func (f *Finished) ByRank(c *FinishedClass, rank int) (*InHand, error) {
	switch n := len(c.Ranking); {
	case n == 0:
		return nil, fmt.Errorf("class %s has no feasible design, want another class", c.Class.Label)
	case rank < 1 || rank > n:
		return nil, fmt.Errorf("rank %d: class %s has %d ranked, want 1 to %d", rank, c.Class.Label, n, n)
	}
	return f.hand(c, c.Ranking[rank-1].Index), nil
}

// ByIndex is the design of an index of the grid, feasible or not.
func (f *Finished) ByIndex(c *FinishedClass, index uint64) (*InHand, error) {
	if index >= f.Designs {
		return nil, fmt.Errorf("design %d: the grid has %d, want 0 to %d", index, f.Designs, f.Designs-1)
	}
	return f.hand(c, index), nil
}

// Answer is the design that the run answers with: the recommended build where it has chosen,
// else the first of the ranking.
func (f *Finished) Answer(c *FinishedClass) (*InHand, error) {
	if c.Chosen != nil {
		return f.hand(c, c.Chosen.Recommended.Index), nil
	}
	return f.ByRank(c, 1)
}

func (f *Finished) hand(c *FinishedClass, index uint64) *InHand {
	return &InHand{Run: f, Class: c, Index: index, Design: f.grid.Design(index),
		Rank:        1 + slices.IndexFunc(c.Ranking, func(x sweep.Ranked) bool { return x.Index == index }),
		Recommended: c.Chosen != nil && c.Chosen.Recommended.Index == index}
}

// Value is that of an axis of the run, as the grid has it.
func (h *InHand) Value(a *sweep.AxisDef) (v float64, ok bool) {
	at, ok := h.Run.grid.AxisIndex(a.Name)
	if !ok {
		return 0, false
	}
	return h.Run.grid.Axes()[at].Values[h.Run.grid.At(h.Index, at)], true
}

// Flags is the path of the flag file that makes the run's study again.
func (f *Finished) Flags() string { return filepath.Join(f.Dir, FlagsName) }

// Unchanged errs where a file of the run's folder is not as the run has left it.
func (f *Finished) Unchanged(name string) error {
	file, err := f.table(name)
	if err != nil {
		return fmt.Errorf("%s: %w", f.Dir, err)
	}
	return file.Close()
}
