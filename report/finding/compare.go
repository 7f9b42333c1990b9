package finding

import (
	"cmp"
	"fmt"
	"path/filepath"
	"reflect"
	"slices"

	"rotorsieve/model"
	"rotorsieve/sweep"
)

// Comparison puts finished runs side by side.
type Comparison struct {
	Runs    []*Finished
	Version string // of the program
}

// ComparisonName is the workbook of a comparison.
const ComparisonName = "comparison.xlsx"

// Compare reads finished runs from their folders, two at least, to be put side
// by side in that order. Others are held against the first.
func Compare(dirs ...string) (*Comparison, error) {
	if len(dirs) < 2 {
		return nil, fmt.Errorf("%d folders to compare, want those of two finished runs or more", len(dirs))
	}
	c := new(Comparison)
	names := map[string]int{}
	for _, dir := range dirs {
		f, err := ReadFinished(dir)
		if err != nil {
			return nil, err
		}
		c.Runs = append(c.Runs, f)
		names[f.Name]++
	}
	for _, f := range c.Runs {
		if names[f.Name] > 1 { // the study's name does not tell them apart
			f.Name = filepath.ToSlash(filepath.Clean(f.Dir))
		}
	}
	return c, nil
}

// Limits are those of all classes in kg, the lightest first.
func (c *Comparison) Limits() []float64 {
	var out []float64
	for _, f := range c.Runs {
		for i := range f.Classes {
			out = append(out, f.Classes[i].Class.Limit)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// Outcome is the best design of a run within a limit.
type Outcome struct {
	Run   string
	Asked bool // the run has a class of the limit
	Row   *Row // nil where there is no design

	Chosen *Chosen // over draws; nil where there were none
}

// Outcomes are the best designs of the runs within a limit.
func (c *Comparison) Outcomes(limit float64) []Outcome {
	var out []Outcome
	for _, f := range c.Runs {
		o := Outcome{Run: f.Name}
		if k := f.Class(limit); k != nil {
			o.Row, o.Asked, o.Chosen = k.Best, true, k.Chosen
		}
		out = append(out, o)
	}
	return out
}

// Aspect is something asked of a study, as each run was asked it.
type Aspect struct {
	Kind aspectKind
	Name string // of the axis, the assumption or the requirement; "" for other kinds
	// Values are those of the runs, nil where it was not asked: a string, []sweep.Class,
	// sweep.Axis, Valued[any], sweep.Requirement, sweep.Merit or DrawsRecord.
	Values []any
}

// aspectKind is what an aspect is of.
type aspectKind int

const (
	ModelAspect       aspectKind = iota // the model's version
	ProgramAspect                       // the program's version
	ClassesAspect                       // all of them
	AxisAspect                          // values of one
	AssumptionAspect                    // one
	RequirementAspect                   // one
	MeritAspect                         // its terms
	DrawsAspect                         // what its decision rests on
)

// Differs says whether not all runs were asked it alike.
func (a *Aspect) Differs() bool {
	return slices.ContainsFunc(a.Values, func(v any) bool {
		if m, ok := v.(sweep.Merit); ok {
			first, ok := a.Values[0].(sweep.Merit)
			return !ok || !SameMerit(m, first)
		}
		if x, ok := v.(sweep.Axis); ok {
			first, ok := a.Values[0].(sweep.Axis)
			return !ok || !x.Same(first)
		}
		return !reflect.DeepEqual(v, a.Values[0])
	})
}

// Matters says whether the best design of a class depends on it.
func (a *Aspect) Matters() bool {
	return a.Kind != ProgramAspect && a.Kind != ClassesAspect && a.Kind != DrawsAspect
}

// Aspects lists what the runs were asked: version of the model, axes,
// assumptions, requirements and merit.
func (c *Comparison) Aspects() []Aspect {
	var out []Aspect
	for i, f := range c.Runs {
		set := func(kind aspectKind, name string, v any) {
			n := slices.IndexFunc(out, func(a Aspect) bool { return a.Kind == kind && a.Name == name })
			if n < 0 {
				n = len(out)
				out = append(out, Aspect{kind, name, make([]any, len(c.Runs))})
			}
			out[n].Values[i] = v
		}
		set(ModelAspect, "", f.Model)
		set(ProgramAspect, "", f.Program)
		var classes []sweep.Class
		for n := range f.Classes {
			classes = append(classes, f.Classes[n].Class)
		}
		set(ClassesAspect, "", classes)
		for _, a := range f.Axes {
			set(AxisAspect, a.Def.Name, a)
		}
		for _, a := range f.Assumptions {
			set(AssumptionAspect, a.Name, a.Valued)
		}
		for _, g := range f.Gates {
			if g.Requirement != nil {
				set(RequirementAspect, g.Name, *g.Requirement)
			}
		}
		set(MeritAspect, "", f.Merit)
		if f.Draws != nil {
			set(DrawsAspect, "", *f.Draws)
		}
	}
	return out
}

// Causes are what may make the best designs differ: what the studies do not share.
func (c *Comparison) Causes() []Aspect {
	return slices.DeleteFunc(c.Aspects(), func(a Aspect) bool { return !a.Differs() || !a.Matters() })
}

// Asked lists the metrics of the tables of a comparison: those that rank in some run, then those
// of Headline.
func (c *Comparison) Asked() []*model.Metric {
	var merits []sweep.Merit
	for _, f := range c.Runs {
		merits = append(merits, f.Merit)
	}
	return withMetric(ranking(merits...), Headline...)
}

// Differences are those of the headline metrics, and of those that rank in a run,
// of a design to those of another.
func (c *Comparison) Differences(from, to *Row) []Change {
	var main []*model.Metric
	add := func(m *model.Metric) {
		if !slices.Contains(main, m) && Relative(m) {
			main = append(main, m)
		}
	}
	for _, m := range Headline {
		add(m)
	}
	for _, f := range c.Runs {
		for _, t := range f.Merit {
			add(t.Metric)
		}
	}
	var all []Change
	for _, m := range main {
		a, b := from.Values[Place(m)], to.Values[Place(m)]
		if Finite(a) && Finite(b) && a != 0 && !from.Beyond(m) && !to.Beyond(m) {
			all = append(all, Change{m, a, b})
		}
	}
	return all
}

// Places says where the best design of each run stands in the rankings of the
// others, 0 for nowhere: [of][in].
func (c *Comparison) Places(limit float64) [][]int {
	out := make([][]int, len(c.Runs))
	for i, f := range c.Runs {
		out[i] = make([]int, len(c.Runs))
		k := f.Class(limit)
		if k == nil || k.Best == nil {
			continue
		}
		for j, g := range c.Runs {
			if other := g.Class(limit); other != nil {
				out[i][j] = other.Ranks[DesignKey(k.Best.Design)]
			}
		}
	}
	return out
}

// ByDiameter are the diameters in m at which some run has a design within a
// limit, rising.
func (c *Comparison) ByDiameter(limit float64) []float64 {
	var out []float64
	for _, f := range c.Runs {
		if k := f.Class(limit); k != nil {
			for _, l := range k.Leaders {
				out = append(out, l.Diameter)
			}
		}
	}
	slices.SortFunc(out, cmp.Compare)
	return slices.Compact(out)
}

// OneMerit says whether all runs rank alike.
func (c *Comparison) OneMerit() bool {
	return !slices.ContainsFunc(c.Runs, func(f *Finished) bool { return !SameMerit(f.Merit, c.Runs[0].Merit) })
}

// Verdict is which run has the best design within a limit.
type Verdict struct {
	// With are the runs that have one, and Without the others; of those that rank by one
	// merit the best come first, the winners alike.
	With, Without []Outcome
	Winners       int // of With, by the nominal model; 0 where the runs rank by different merits
	// Contests hold the recommended builds against each other; none where less than two runs
	// have one, or where they rank by different merits.
	Contests []Contest
	Unlike   bool // there are none since the throttle is held back for other requirements
}

// Verdict holds the best designs of the runs against each other.
func (c *Comparison) Verdict(limit float64) Verdict {
	var v Verdict
	for _, o := range c.Outcomes(limit) {
		if o.Row != nil {
			v.With = append(v.With, o)
		} else {
			v.Without = append(v.Without, o)
		}
	}
	if len(v.With) > 1 && !c.OneMerit() {
		return v
	}
	slices.SortStableFunc(v.With, func(a, b Outcome) int { return cmp.Compare(b.Row.Score, a.Row.Score) })
	for _, o := range v.With {
		if o.Row.Score == v.With[0].Row.Score {
			v.Winners++
		}
	}
	fair := true
	v.Contests, fair = contests(v.With)
	v.Unlike = !fair
	return v
}

// Moves says whether the diameter of the best design changes from run to run.
func Moves(all []Outcome) bool {
	const rounding = 1e-9 // m
	first := -1.0
	for _, o := range all {
		switch {
		case o.Row == nil:
		case first < 0:
			first = o.Row.Design.Diameter
		case o.Row.Design.Diameter > first+rounding || o.Row.Design.Diameter < first-rounding:
			return true
		}
	}
	return false
}
