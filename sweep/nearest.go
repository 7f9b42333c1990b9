package sweep

import (
	"cmp"
	"context"
	"errors"
	"math"
	"math/bits"
	"runtime"
	"slices"
	"sync"

	"rotorsieve/model"
)

// Stead is a craft in which parts that exist stand in place of those of another.
type Stead struct {
	Design   model.Design
	Craft    *model.Craft  // in Scenario; nil of a list's parts beyond those that are told
	Scenario int           // the first in which it breaks a requirement, or else that of the least merit
	Operates bool          // in every scenario
	Merit    float64       // over all scenarios; 0 where it does not operate
	Broken   []Requirement // there, the limit of the class among them; none of flight where it does not operate
}

// Keeps says whether the craft keeps all requirements.
func (s *Stead) Keeps() bool { return s.Operates && len(s.Broken) == 0 }

// compare puts crafts that keep all requirements first, then those that break fewer, each by merit.
func (s *Stead) compare(o *Stead) int {
	rank := func(s *Stead) int {
		if !s.Operates {
			return 1 << 30
		}
		return len(s.Broken)
	}
	return cmp.Or(cmp.Compare(rank(s), rank(o)), cmp.Compare(o.Merit, s.Merit))
}

// Nearest is what a craft does with parts that exist, each list alone and all together.
type Nearest struct {
	Of    Stead    // the design as it is
	Lists []Listed // in the order of the grid
	Best  *Stead   // of all lists together; nil where no combination keeps all requirements
	First *Stead   // the first of each list together; nil for a single list
	Exact bool     // Best is that of every combination; otherwise of the first MostOfList of each list
	Tried uint64   // combinations
	All   uint64   // combinations that there are
}

// Listed is one list, each of its parts alone in place of the design's own, best first.
type Listed struct {
	Axis  *AxisDef
	Parts []Stead
}

// judgedAtOnce bounds what is held of a long list.
const judgedAtOnce = 256

// MostOfList is how many of each list are combined where there are more combinations than are
// tried, usually MostCombined: seconds.
const (
	MostOfList   = 20
	MostCombined = 1 << 20
)

// FindNearest puts the parts of lists, one axis each, in place of those of the only design of a
// study, and judges each craft as the study does in its only class and all its scenarios. Its merit
// counts, not how close the numbers of a part are. At most so many combinations are tried as most says, each of
// them where there are no more. Of each list the crafts of the best shown are told.
func FindNearest(ctx context.Context, s *Study, lists []Axis, most uint64, shown int) (*Nearest, error) {
	d := s.Grid.Design(0)
	n := &Nearest{All: 1, Exact: true}
	if err := s.steadIn(&n.Of, d, s.Require); err != nil {
		return nil, err
	}
	for _, a := range lists {
		if hi, lo := bits.Mul64(n.All, uint64(len(a.Values))); hi == 0 {
			n.All = lo
		} else {
			n.All = math.MaxUint64
		}
		l, err := s.alone(ctx, d, a, max(shown, MostOfList))
		if err != nil {
			return nil, err
		}
		n.Lists = append(n.Lists, *l)
	}
	return n, s.together(ctx, n, lists, most)
}

// instead is the study with lists in place of what its design has of their kinds, and with the
// requirements that the parts fit each other.
func (s *Study) instead(lists ...Axis) (*Study, error) {
	axes := slices.Clone(lists)
	replaced := func(d *AxisDef) bool {
		return d != nil && slices.ContainsFunc(lists, func(a Axis) bool {
			return a.Def.place == d.place || slices.ContainsFunc(a.Def.brings, func(b *AxisDef) bool {
				return b.place == d.place
			})
		})
	}
	for _, a := range s.Grid.Axes() {
		if a.Of == nil && !replaced(a.Def) {
			axes = append(axes, a)
		}
	}
	out := &Study{Name: s.Name, Model: s.Model, Others: s.Others, Over: s.Over, Classes: s.Classes, Merit: s.Merit,
		Top: 1, SizeBins: s.SizeBins, Nominal: true, Require: slices.Clone(s.Require)}
	var err error
	if out.Grid, err = NewGrid(axes...); err != nil {
		return nil, err
	}
	fit := FitRequirements(out.Grid)
	out.Require = slices.DeleteFunc(out.Require, func(q Requirement) bool { // what the lists do not state
		return ReadsFit(q.Metric) && !slices.ContainsFunc(fit, func(r Requirement) bool { return r.Metric == q.Metric })
	})
	for _, r := range fit {
		if !slices.ContainsFunc(s.Require, func(q Requirement) bool {
			return q.Metric == r.Metric && q.AtLeast == r.AtLeast
		}) {
			out.Require = append(out.Require, r)
		}
	}
	return out, nil
}

// propellersFor builds the propeller of a design in every scenario; nil in those in which it cannot be
// solved, after the first.
func (s *Study) propellersFor(d *model.Design) ([]*model.Propeller, error) {
	var all []*model.Propeller
	for i, m := range s.Models() {
		p, err := m.PropellerFor(d)
		if err != nil && i == 0 {
			return nil, err
		}
		all = append(all, p)
	}
	return all, nil
}

// steadIn is judgeStead of a design that has propellers of its own.
func (s *Study) steadIn(to *Stead, d model.Design, require []Requirement) error {
	if err := d.Check(); err != nil {
		return err
	}
	in, err := s.propellersFor(&d)
	if err != nil {
		return err
	}
	return s.judgeStead(to, in, d, require)
}

// judgeStead evaluates a design on propellers that were built for it, one of each scenario, up to the
// first in which it does not operate.
func (s *Study) judgeStead(to *Stead, in []*model.Propeller, d model.Design, require []Requirement) error {
	*to = Stead{Design: d, Operates: true}
	var crafts []*model.Craft
	var built *model.Powertrain
	for i, m := range s.Models() {
		if in[i] == nil { // as the sweep judges it
			to.Operates = false
			break
		}
		c, err := m.CompleteAs(in[i], d, built)
		if err != nil && !errors.Is(err, model.ErrNoOperatingPoint) {
			return err
		}
		c.Limit = s.Classes[0].Limit
		crafts = append(crafts, c)
		if err != nil {
			to.Operates = false
			break
		}
		built = crafts[0].Powertrain
	}
	to.Scenario = len(crafts) - 1
	if to.Operates {
		judged := *s
		judged.Require = require
		to.Merit, to.Scenario = s.MeritOf(crafts), judged.Telling(crafts)
	}
	to.Craft = crafts[to.Scenario]
	auw, _ := model.LookupMetric("auw")
	for _, r := range append([]Requirement{{Metric: auw, Bound: to.Craft.Limit}}, require...) {
		if (to.Operates || r.Metric.Stage <= model.StageMass) && !r.Kept(r.Metric.Of(to.Craft)) {
			to.Broken = append(to.Broken, r)
		}
	}
	return nil
}

// alone judges each part of a list alone in place of the design's own.
// Crafts are kept of so many of the best as keep says, since one with a propeller of its own takes
// some 80 kB.
func (s *Study) alone(ctx context.Context, d model.Design, list Axis, keep int) (*Listed, error) {
	in, err := s.instead(list)
	if err != nil {
		return nil, err
	}
	judge := in.steadIn
	if list.Def.place != axPropeller { // its propeller is the same with every part
		own, err := s.propellersFor(&d)
		if err != nil {
			return nil, err
		}
		judge = func(to *Stead, d model.Design, require []Requirement) error {
			return in.judgeStead(to, own, d, require)
		}
	}
	out := &Listed{Axis: list.Def}
	for from := 0; from < len(list.Values); from += judgedAtOnce {
		some := make([]Stead, min(judgedAtOnce, len(list.Values)-from))
		errs := make([]error, len(some))
		var wait sync.WaitGroup
		next := make(chan int)
		for range min(runtime.GOMAXPROCS(0), len(some)) {
			wait.Go(func() {
				for i := range next {
					if ctx.Err() != nil {
						continue
					}
					errs[i] = judge(&some[i], in.Grid.Design(uint64(from+i)), in.Require)
				}
			})
		}
		for i := range some {
			next <- i
		}
		close(next)
		wait.Wait()
		if err := cmp.Or(ctx.Err(), errors.Join(errs...)); err != nil {
			return nil, err
		}
		out.Parts = append(out.Parts, some...)
		slices.SortStableFunc(out.Parts, func(a, b Stead) int { return a.compare(&b) })
		for i := keep; i < len(out.Parts); i++ {
			out.Parts[i].Craft = nil
		}
	}
	return out, nil
}

// together finds the best combination of parts, one of each list.
func (s *Study) together(ctx context.Context, n *Nearest, lists []Axis, most uint64) error {
	of := slices.Clone(lists)
	if n.All > most {
		n.Exact = false
		for i := range of {
			var first []int
			for k := range n.Lists[i].Parts[:min(MostOfList, len(n.Lists[i].Parts))] {
				first = append(first, int(of[i].Def.field.of(&n.Lists[i].Parts[k].Design)))
			}
			slices.Sort(first)
			of[i] = of[i].Only(first)
		}
	}
	in, err := s.instead(of...)
	if err != nil {
		return err
	}
	if len(lists) > 1 {
		d := s.Grid.Design(0)
		for i, a := range lists {
			a.Def.Apply(&d, a.Def.field.of(&n.Lists[i].Parts[0].Design))
		}
		n.First = new(Stead)
		if err := s.steadIn(n.First, d, in.Require); err != nil {
			return err
		}
	}
	r, err := Run(ctx, in, Options{})
	if err != nil {
		return err
	}
	if !r.Complete {
		return ctx.Err()
	}
	n.Tried = in.Grid.Size()
	if best := r.Classes[0].Ranking; len(best) > 0 {
		n.Best = new(Stead)
		return s.steadIn(n.Best, in.Grid.Design(best[0].Index), in.Require)
	}
	return nil
}
