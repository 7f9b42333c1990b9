// Package sweep runs a study: it takes every design of a grid through the
// model, rejects what breaks a requirement, and keeps of the rest a ranking, leaders,
// maps, a Pareto front and an exact tally. It knows nothing of drawing.
//
// Results do not depend on the number of workers: every accumulator is a count,
// or a best with ties broken by the design's index, so the order of adding has no
// effect. Memory does not grow with the grid.
package sweep

import (
	"fmt"
	"math"
	"slices"

	"rotorsieve/model"
)

// Class is a weight class: a limit on the all-up weight.
type Class struct {
	Limit float64 // kg
	Label string  // as the user wrote it, for example "249g"
	Note  string  // what the user calls it; may be empty
}

// Requirement is a bound on a metric that a feasible design keeps.
type Requirement struct {
	Metric  *model.Metric
	AtLeast bool    // the metric is at least the bound; otherwise at most
	Bound   float64 // SI
	Default bool    // set by the tool, not by the user
}

// Kept says whether a value keeps the requirement; a NaN does not, but see Idle.
func (r Requirement) Kept(v float64) bool {
	if r.AtLeast {
		return v >= r.Bound
	}
	return v <= r.Bound || r.Idle(v)
}

// Idle says whether a bound on how parts fit each other asks nothing of a craft, which has no such
// part that exists and so no value.
func (r Requirement) Idle(v float64) bool { return v != v && ReadsFit(r.Metric) }

// Shortfall is by how much of the bound a value misses it; 0 where it is kept.
func (r Requirement) Shortfall(v float64) float64 {
	if r.Kept(v) {
		return 0
	}
	s := math.Abs(v-r.Bound) / math.Max(math.Abs(r.Bound), 1e-9)
	if math.IsNaN(s) {
		return math.Inf(1)
	}
	return s
}

// Term is one part of a merit: a metric mapped linearly to 0 at Worst and 1 at Best, and
// clamped to 0..1.
type Term struct {
	Metric      *model.Metric
	Weight      float64 // above 0
	Worst, Best float64 // SI
}

// Score gives the mapped value of a metric's value, 0..1.
func (t Term) Score(v float64) float64 {
	return clamped((v - t.Worst) / (t.Best - t.Worst))
}

// clamped is a score within 0 and 1; a NaN scores nothing.
func clamped(s float64) float64 {
	switch {
	case s >= 1:
		return 1
	case s > 0:
		return s
	}
	return 0
}

// Merit ranks feasible designs: the weighted mean of its terms, 0..1.
type Merit []Term

// Of gives the merit of a craft.
func (m Merit) Of(c *model.Craft) float64 {
	var sum, weight float64
	for i := range m {
		sum += m[i].Weight * m[i].Score(m[i].Metric.Of(c))
		weight += m[i].Weight
	}
	return sum / weight
}

// MapSpec asks for a map over two axes: the best feasible design of each cell,
// by merit, or by a metric where one is given.
type MapSpec struct {
	X, Y    *AxisDef
	Metric  *model.Metric // nil for the merit
	Implied bool          // nobody asked for it by name
}

// Name is that of the map in flags and files.
func (m MapSpec) Name() string {
	return m.named(func(of *model.Metric) string { return of.Name })
}

func (m MapSpec) named(name func(*model.Metric) string) string {
	s := m.X.Name + "-" + m.Y.Name
	if m.Metric != nil {
		s += "-" + name(m.Metric)
	}
	return s
}

// Study is all that one run computes.
type Study struct {
	Name     string
	Grid     *Grid
	Model    *model.Model
	Others   []*model.Model // of further scenarios, in the order of model.Scenarios after Model
	Over     Over           // how merit follows from those of the scenarios
	Classes  []Class
	Require  []Requirement
	Merit    Merit
	Maps     []MapSpec
	Front    []*model.Metric // up to 3; none for no front
	Top      int             // length of a ranking
	SizeBins int             // of all-up weight in the size map
	Nominal  bool            // nothing is chosen under uncertainty: no candidates are kept
}

// DefaultSizeBins divides the weight up to the widest class for the size map.
const DefaultSizeBins = 60

// Check returns an error where the study cannot be run.
func (s *Study) Check() error {
	if len(s.Classes) == 0 {
		return fmt.Errorf("a study needs a weight class")
	}
	if len(s.Classes) > maxClasses {
		return &StudyError{"class", fmt.Errorf("%d classes, want up to %d", len(s.Classes), maxClasses)}
	}
	seen := map[string]bool{}
	for _, c := range s.Classes {
		if !(c.Limit > 0) || math.IsInf(c.Limit, 0) {
			return fmt.Errorf("class %s has no limit above 0", c.Label)
		}
		if seen[c.Label] {
			return fmt.Errorf("class %s is given twice", c.Label)
		}
		seen[c.Label] = true
	}
	if len(s.Merit) == 0 {
		return fmt.Errorf("a study needs a merit")
	}
	for _, r := range s.Require {
		if err := s.answers("require", "requirement on", r.Metric); err != nil {
			return err
		}
	}
	if err := s.checkScenarios(); err != nil {
		return err
	}
	a := s.Model.Assume
	if l := Limited(a, s.Require); l.PackLoad != a.PackLoad || l.CellMargin != a.CellMargin {
		return fmt.Errorf("the model flies to %g of the burst current and %g V a cell above the floor, "+
			"requirements say %g and %g V: want a model of Limited assumptions", a.PackLoad, a.CellMargin, l.PackLoad,
			l.CellMargin)
	}
	for _, t := range s.Merit {
		if err := s.answers("merit", "merit of", t.Metric); err != nil {
			return err
		}
	}
	for _, t := range s.Merit {
		if !(t.Weight > 0) || math.IsInf(t.Weight, 0) {
			return fmt.Errorf("merit of %s has a weight of %g, want one above 0", t.Metric.Name, t.Weight)
		}
		if t.Worst == t.Best {
			return fmt.Errorf("merit of %s has the same worst and best value", t.Metric.Name)
		}
	}
	for _, m := range s.Maps {
		if m.Metric != nil {
			if err := s.answers("map", "map of", m.Metric); err != nil {
				return err
			}
		}
		for _, a := range []*AxisDef{m.X, m.Y} {
			if _, ok := s.Grid.AxisIndex(a.Name); !ok {
				return fmt.Errorf("map %s: the grid has no axis %s", m.Name(), a.Name)
			}
		}
		if m.X == m.Y {
			return fmt.Errorf("map %s takes two different axes", m.Name())
		}
		if n := s.cells(m); n > maxMapCells {
			return &StudyError{"map " + m.Name(), fmt.Errorf("%d cells, want up to %d: fewer values on an axis", n,
				maxMapCells)}
		}
	}
	if len(s.Front) > maxFront {
		return fmt.Errorf("a Pareto front takes up to %d metrics, not %d", maxFront, len(s.Front))
	}
	for i, m := range s.Front {
		if slices.Contains(s.Front[:i], m) {
			return fmt.Errorf("front: metric %s is given twice", m.Name)
		}
		if m.Better == model.Neither {
			return fmt.Errorf("front: metric %s has no better direction", m.Name)
		}
		if m.ByClass && len(s.Classes) > 1 {
			return fmt.Errorf("front: metric %s differs by class, and there are several", m.Name)
		}
		if err := s.answers("front", "front of", m); err != nil {
			return err
		}
	}
	if s.Top < 1 || s.Top > 1e6 {
		return fmt.Errorf("a ranking keeps 1 to 1000000 designs, not %d", s.Top)
	}
	if n := len(s.Grid.axes[axCells].Values) * len(s.Grid.axes[axCapacity].Values); n > maxPacks {
		return &StudyError{"capacity", fmt.Errorf("%d packs with the cells in series, want up to %d: "+
			"fewer values on an axis", n, maxPacks)}
	}
	for _, m := range s.Models() {
		if err := (&plan{study: s.inScenario(m)}).buildParts(); err != nil {
			return err
		}
	}
	return nil
}

// answers refuses a metric that a sweep does not compute, or that no design has unless
// something is stated, or that no part of the grid has.
func (s *Study) answers(part, what string, m *model.Metric) error {
	if m.Stage == model.StageExplain {
		return fmt.Errorf("%s %s: too slow for a sweep, want a metric that is not for explain alone", what, m.Name)
	}
	if err := m.Unanswered(s.Model); err != nil {
		return &StudyError{part, err}
	}
	return s.Grid.readable(part, m)
}

const (
	maxMapCells = 4 << 20
	maxClasses  = 64
	maxPacks    = 1 << 20 // cells in series by capacities
)

func (s *Study) cells(m MapSpec) int {
	x, y := s.Grid.place(m.X), s.Grid.place(m.Y)
	return len(s.Grid.axes[x].Values) * len(s.Grid.axes[y].Values)
}
