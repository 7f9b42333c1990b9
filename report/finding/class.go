package finding

import (
	"context"
	"errors"
	"math"
	"slices"

	"rotorsieve/model"
	"rotorsieve/sweep"
)

// Entry is one design of a ranking, evaluated.
type Entry struct {
	sweep.Ranked
	Rank   int // from 1; 0 where it was not asked for
	Design model.Design
	Craft  *model.Craft
	In     []*model.Craft // of several scenarios, the craft in each; see sweep.Study.Telling
	leader bool           // the best of its diameter
}

// ShownRanks is how many designs of a ranking a terminal shows.
const ShownRanks = 10

// Class is what a study found in one class, evaluated as far as it is spoken
// of; the whole ranking and the front are evaluated where they are written.
type Class struct {
	*sweep.ClassResult
	First []Entry // of the ranking, best first: as many as a terminal shows
	// ByPayload is the best design with each payload of the grid, in its order,
	// nil where none is feasible. It is empty unless payload is swept.
	ByPayload []*Entry
	// ByDiameter is the best design of each diameter of the grid, in its order,
	// nil where none is feasible.
	ByDiameter []*Entry
	Heaviest   heaviest
	// Within is the first of the ranking within the model's validity where the best
	// is not, nil for none.
	Within *Row
	Missed *Miss // the nearest design, where none is feasible
	// Choice is what the draws make of the class; nil where the run has no Decision or no
	// design is feasible. Planned is the design that is planned of its recommended build.
	Choice  *Choice
	Planned *Entry
	Weight  *Weight // what more and less of it would come to; of the widest class alone
}

// Findings evaluates what is spoken of in every class, once.
func (r *Run) Findings() ([]Class, error) {
	if r.evaluated != nil {
		return r.evaluated, nil
	}
	var all []Class
	for i := range r.Result.Classes {
		k := &r.Result.Classes[i]
		f := Class{ClassResult: k, Choice: r.choice(i)}
		for n, x := range k.Ranking[:min(ShownRanks, len(k.Ranking))] {
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
		if f.Choice != nil {
			if err = r.measured(k, f.Choice); err != nil {
				return nil, err
			}
		}
		if f.Choice != nil {
			if f.Planned, err = r.planned(k, &f); err != nil {
				return nil, err
			}
			f.Choice.AUW = f.Planned.Craft.Mass
		}
		if f.ByDiameter, err = r.bests(k, k.Leaders); err != nil {
			return nil, err
		}
		if f.Heaviest, err = r.heaviest(k); err != nil {
			return nil, err
		}
		if f.Outside() {
			if f.Within, err = r.within(k); err != nil {
				return nil, err
			}
		}
		if r.Swept(sweep.Payload) {
			if f.ByPayload, err = r.bests(k, k.Payloads); err != nil {
				return nil, err
			}
		}
		if len(k.Ranking) == 0 && k.Nearest.Any {
			if f.Missed, err = r.miss(k); err != nil {
				return nil, err
			}
		}
		if f.Weight, err = r.weight(&f); err != nil {
			return nil, err
		}
		all = append(all, f)
	}
	r.evaluated = all
	return all, nil
}

// bests evaluates the best designs along an axis, nil where there is none.
func (r *Run) bests(k *sweep.ClassResult, along []sweep.Best) ([]*Entry, error) {
	out := make([]*Entry, len(along))
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
func (f *Class) Best() *Entry {
	if len(f.First) == 0 {
		return nil
	}
	return &f.First[0]
}

// Marked says whether a design lies outside the model's validity.
func (e *Entry) Marked() bool { return len(e.Craft.Warnings()) > 0 }

// Outside says whether the best design lies outside the model's validity.
func (f *Class) Outside() bool { return f.Best() != nil && f.Best().Marked() }

// within finds the first of a ranking within the model's validity, nil for none.
func (r *Run) within(k *sweep.ClassResult) (*Row, error) {
	rank := 0
	for some := range slices.Chunk(k.Ranking, 200) { // few at once: it is mostly among the first
		rows, err := r.rows(context.Background(), k, some)
		if err != nil {
			return nil, err
		}
		for n := range rows {
			if rank++; !rows[n].Marked() {
				rows[n].Rank = rank
				return rows[n].Clone(), nil
			}
		}
	}
	return nil, nil
}

// Miss is the design that came nearest in a class without a feasible one, and how it
// failed.
type Miss struct {
	*Entry
	At   int // the gate that it fails, among those of the run
	Gate sweep.Gate
	// Value is what it has there and Bound what is wanted, SI; Short is by how much it
	// fails: kg over the limit of the class, a share of the bound of a requirement. They
	// are NaN where there is no such number.
	Value, Bound, Short float64
	Scenario            int // in which it fails, by its place
}

// miss tells which design came nearest in a class, which gate it failed and by how much.
func (r *Run) miss(k *sweep.ClassResult) (*Miss, error) {
	e, err := r.entry(k, sweep.Ranked{Index: k.Nearest.Index})
	if err != nil && !errors.Is(err, model.ErrNoOperatingPoint) {
		return nil, err
	}
	none := math.NaN()
	m := &Miss{Entry: &e, At: k.Nearest.Gate, Gate: r.Result.Gates[k.Nearest.Gate],
		Value: none, Bound: none, Short: none, Scenario: r.Study.Scenario(e.Craft)}
	switch q := m.Gate.Requirement; {
	case m.At == sweep.GateClass:
		m.Value, m.Bound = e.Craft.Mass, k.Class.Limit
		m.Short = m.Value - m.Bound
	case q != nil:
		m.Value, m.Bound = q.Metric.Of(e.Craft), q.Bound
		if q.Bound != 0 {
			m.Short = math.Abs(m.Value-q.Bound) / math.Abs(q.Bound)
		}
	}
	return m, nil
}

// heaviest is what a class has near its limit, from the first weight bin that lies
// within farBelow of it.
type heaviest struct {
	Least float64 // kg; at the limit or above where no bin lies so near to it
	seen  bool    // the grid has designs of so much
	Best  *Entry  // of them; nil where none is feasible
	gate  int     // the furthest at which one of them was rejected
}

// heaviest finds what a class has near its limit.
func (r *Run) heaviest(k *sweep.ClassResult) (heaviest, error) {
	s := &k.Size
	from := int(math.Ceil(farBelow*k.Class.Limit/s.Width - 1e-9))
	h := heaviest{Least: s.Width * float64(from)}
	var best sweep.Cell
	for d := range s.Diameters {
		for b := from; b < s.Bins; b++ {
			best.Gate = max(best.Gate, s.Cells[d*s.Bins+b].Gate)
			h.seen = h.seen || s.Seen[d*s.Bins+b]
			if c := s.Cells[d*s.Bins+b]; c.Any && (!best.Any || c.Score > best.Score) {
				best.Best = c.Best
			}
		}
	}
	h.gate = int(best.Gate)
	if !best.Any {
		return h, nil
	}
	e, err := r.entry(k, best.Ranked)
	h.Best = &e
	return h, err
}

// Outermost are the lightest and the widest class with a feasible design, nil for none.
func Outermost(found []Class) (first, last *Class) {
	for i := range found {
		k := &found[i]
		if k.Best() == nil {
			continue
		}
		if first == nil || k.Class.Limit < first.Class.Limit {
			first = k
		}
		if last == nil || k.Class.Limit > last.Class.Limit {
			last = k
		}
	}
	return first, last
}
