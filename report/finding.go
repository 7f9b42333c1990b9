package report

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"rotorsieve/model"
	"rotorsieve/sweep"
)

// entry is one design of a ranking, evaluated.
type entry struct {
	sweep.Ranked
	Rank   int // from 1; 0 where it was not asked for
	Design model.Design
	Craft  *model.Craft
	Leader bool // the best of its diameter
}

// finding is what a study found in one class, evaluated as far as it is spoken
// of; the whole ranking and the front are evaluated where they are written.
type finding struct {
	*sweep.ClassResult
	First []entry // of the ranking, best first: as many as a terminal shows
	// ByPayload is the best design with each payload of the grid, in its order,
	// nil where none is feasible. It is empty unless payload is swept.
	ByPayload []*entry
	// ByDiameter is the best design of each diameter of the grid, in its order,
	// nil where none is feasible.
	ByDiameter []*entry
	Heaviest   heaviest
	// Within is the first of the ranking within the model's validity where the best
	// is not, nil for none.
	Within *row
	Missed *entry // the nearest design, where none is feasible
	Miss   string // how it failed
}

// findings evaluates what is spoken of in every class, once.
func (r *Run) findings() ([]finding, error) {
	if r.evaluated != nil {
		return r.evaluated, nil
	}
	var all []finding
	for i := range r.Result.Classes {
		k := &r.Result.Classes[i]
		f := finding{ClassResult: k}
		for n, x := range k.Ranking[:min(shownRanks, len(k.Ranking))] {
			e, err := r.entry(k, x)
			if err != nil {
				return nil, err
			}
			if e.Rank = n + 1; n == 0 {
				e.Craft.Explain() // what is too slow for all of them
			}
			f.First = append(f.First, e)
		}
		var err error
		if f.ByDiameter, err = r.bests(k, k.Leaders); err != nil {
			return nil, err
		}
		if f.Heaviest, err = r.heaviest(k); err != nil {
			return nil, err
		}
		if f.outside() {
			if f.Within, err = r.within(k); err != nil {
				return nil, err
			}
		}
		if r.swept(sweep.Payload) {
			if f.ByPayload, err = r.bests(k, k.Payloads); err != nil {
				return nil, err
			}
		}
		if len(k.Ranking) == 0 && k.Nearest.Any {
			if err := r.miss(&f); err != nil {
				return nil, err
			}
		}
		all = append(all, f)
	}
	r.evaluated = all
	return all, nil
}

// bests evaluates the best designs along an axis, nil where there is none.
func (r *Run) bests(k *sweep.ClassResult, along []sweep.Best) ([]*entry, error) {
	out := make([]*entry, len(along))
	for n, b := range along {
		if !b.Any {
			continue
		}
		e, err := r.entry(k, b.Ranked)
		if err != nil {
			return nil, err
		}
		out[n] = &e
	}
	return out, nil
}

// Best is the first of the ranking; it is nil where no design is feasible.
func (f *finding) Best() *entry {
	if len(f.First) == 0 {
		return nil
	}
	return &f.First[0]
}

// outside says whether the best design lies outside the model's validity.
func (f *finding) outside() bool {
	return f.Best() != nil && len(f.Best().Craft.Warnings()) > 0
}

// within finds the first of a ranking within the model's validity, nil for none.
func (r *Run) within(k *sweep.ClassResult) (*row, error) {
	rank := 0
	for some := range slices.Chunk(k.Ranking, 200) { // few at once: it is mostly among the first
		rows, err := r.rows(k, some)
		if err != nil {
			return nil, err
		}
		for n := range rows {
			if rank++; rows[n].Warnings == "" {
				rows[n].Rank = rank
				return rows[n].clone(), nil
			}
		}
	}
	return nil, nil
}

// mark marks a design outside the model's validity.
func (e *entry) mark() string { return mark(strings.Join(e.Craft.Warnings(), "")) }

// miss says which design came nearest in a class without a feasible one, which
// gate it failed and by how much.
func (r *Run) miss(f *finding) error {
	e, err := r.entry(f.ClassResult, sweep.Ranked{Index: f.Nearest.Index})
	if err != nil && !errors.Is(err, model.ErrNoOperatingPoint) {
		return err
	}
	f.Missed = &e
	value, bound, short := r.shortfall(f)
	what := designText(e.Design)
	switch gate := r.Result.Gates[f.Nearest.Gate]; {
	case f.Nearest.Gate == sweep.GateClass:
		f.Miss = fmt.Sprintf("%s: all-up weight of %s is %s over the limit of %s", what, value, short, bound)
	case gate.Requirement == nil:
		f.Miss = fmt.Sprintf("%s: it has no operating point in hover or at full throttle", what)
	default:
		f.Miss = fmt.Sprintf("%s: %s of %s, where %s is required", what, lower(gate.Requirement.Metric.Title), value, bound)
		if short != "" {
			f.Miss += " (short by " + short + ")"
		}
	}
	return nil
}

// shortfall gives in words what the nearest design has at the gate that it
// fails, what is wanted there and by how much it fails; "" for what has no
// number.
func (r *Run) shortfall(f *finding) (value, bound, short string) {
	c, gate := f.Missed.Craft, r.Result.Gates[f.Nearest.Gate]
	switch q := gate.Requirement; {
	case f.Nearest.Gate == sweep.GateClass:
		return gram.Format(c.Mass, 4), mass(f.Class.Limit), gram.Format(c.Mass-f.Class.Limit, 3)
	case q == nil:
		return "", "", ""
	default:
		v := q.Metric.Of(c)
		value, bound = shown(q.Metric, v), boundText(q)
		if q.Bound != 0 && !math.IsNaN(v) {
			short = fmt.Sprintf("%.2g %%", 100*math.Abs(v-q.Bound)/math.Abs(q.Bound))
		}
		return value, bound, short
	}
}

// finite says whether a value can be written as a number.
func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// edges says on which axes a design lies at an end of the grid, so that a wider
// grid may have a better one: "pitch ratio 0.5 is the lowest". Axes without an
// order, of less than three values, and the payload have no such end, nor is there
// a wider grid beyond the bound of an axis.
func edges(g *sweep.Grid, index uint64) []string {
	var out []string
	for n, a := range g.Axes() {
		last := len(a.Values) - 1
		if last < 2 || a.Def == sweep.Stator || a.Def == sweep.Payload {
			continue
		}
		v := a.Values[g.At(index, n)]
		bound := a.Def.Bound()
		switch at := g.At(index, n); {
		case at == 0 && v > bound.Min*(1+1e-9):
			out = append(out, axisTitle(a.Def)+" "+a.Def.Text(v)+" is the lowest")
		case at == last && v < bound.Max*(1-1e-9):
			out = append(out, axisTitle(a.Def)+" "+a.Def.Text(v)+" is the highest")
		}
	}
	return out
}

// saturated says in which terms of the merit a craft is past the best value, so
// that more of it no longer counts.
func saturated(m sweep.Merit, c *model.Craft) []string {
	var out []string
	for _, t := range m {
		v := t.Metric.Of(c)
		if past := v > t.Best; t.Best > t.Worst && past || t.Best < t.Worst && v < t.Best {
			out = append(out, fmt.Sprintf("%s of %s counts no more than %s", lower(t.Metric.Title), t.Metric.Unit.Format(v, 3), t.Metric.Unit.Format(t.Best, 4)))
		}
	}
	return out
}
