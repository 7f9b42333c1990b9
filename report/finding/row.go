package finding

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"rotorsieve/model"
	"rotorsieve/sweep"
)

// Row is one design of a table: its numbers, without the craft that gave them,
// so that a long table fits into memory.
type Row struct {
	sweep.Ranked
	Class     *sweep.Class
	Rank      int // from 1; 0 where the design is not of a ranking
	Leader    bool
	Design    model.Design
	Marks     []model.Mark // outside the model's validity
	Told      []ToldMark   // in place of Marks, of a design that was read back
	Values    []float64    // by metric, in the registry's order, SI
	Highest   bool         // the ceiling is at least the value, which bounds the model
	Scenario  int          // of several, by its place: the one in which the design is told of
	Scenarios int          // of the study
	Calm      bool         // there is no wind, so that other metrics tell what windy ones do
}

// ToldMark is a mark as the record of a run tells it: its sentence, and what is outside
// in few words, "" in records of versions before that was told.
type ToldMark struct{ Words, Short string }

// Marked says whether a design lies outside the model's validity.
func (x *Row) Marked() bool { return len(x.Marks)+len(x.Told) > 0 }

// Place is where a metric stands in the registry, and in the values of a row.
func Place(m *model.Metric) int { return slices.Index(model.Metrics, m) }

// Row gives the numbers of an evaluated design.
func (e *Entry) Row(k *sweep.Class) Row {
	x := Row{Class: k, Values: make([]float64, len(model.Metrics))}
	x.read(e)
	return x
}

func (x *Row) read(e *Entry) {
	x.Ranked, x.Rank, x.Leader, x.Design = e.Ranked, e.Rank, e.leader, e.Design
	x.Marks = e.Craft.Warnings()
	for n, m := range model.Metrics {
		x.Values[n] = m.Of(e.Craft)
	}
	x.Scenario, x.Scenarios = e.Scenario(), len(e.In)
	x.Calm = e.Craft.Model.Assume.Wind == 0
	x.Highest = e.Craft.Explained() && e.Craft.CeilingIsLeast()
}

// Beyond says whether the value of a metric stands for all beyond it as well.
func (x *Row) Beyond(m *model.Metric) bool {
	return Capped(m, x.Values[Place(m)]) || m.Name == "ceiling" && x.Highest
}

// AtLeast names the metrics whose values stand for all beyond them as well.
func (x *Row) AtLeast() []string {
	var out []string
	for _, m := range model.Metrics {
		if x.Beyond(m) {
			out = append(out, m.Name)
		}
	}
	return out
}

// Ranking evaluates all that a class has ranked, best first, unless the context ends.
func (r *Run) Ranking(ctx context.Context, k *sweep.ClassResult) ([]Row, error) {
	rows, err := r.rows(ctx, k, k.Ranking)
	for n := range rows {
		rows[n].Rank = n + 1
	}
	return rows, err
}

// rows evaluates designs of a class and gives them in the order asked for. They
// are evaluated in the grid's order, in which each propeller is built once.
func (r *Run) rows(ctx context.Context, k *sweep.ClassResult, designs []sweep.Ranked) ([]Row, error) {
	order := make([]int, len(designs))
	for n := range order {
		order[n] = n
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Compare(designs[a].Index, designs[b].Index) })
	out := make([]Row, len(designs))
	values := make([]float64, len(designs)*len(model.Metrics))
	var last []model.Mark // equal marks of neighbours take memory once
	for _, n := range order {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		e, err := r.entry(k, designs[n])
		if err != nil {
			return nil, err
		}
		x := &out[n]
		x.Class = &k.Class
		x.Values = values[n*len(model.Metrics):][:len(model.Metrics)]
		x.read(&e)
		if slices.Equal(x.Marks, last) {
			x.Marks = last
		}
		last = x.Marks
	}
	return out, nil
}

// leads says whether a design is the best of its diameter in a class.
func leads(k *sweep.ClassResult, g *sweep.Grid, index uint64) bool {
	at, _ := g.AxisIndex(sweep.Diameter.Name)
	b := k.Leaders[g.At(index, at)]
	return b.Any && b.Index == index
}

// entry evaluates one design of a class. One without operating point is returned
// with model.ErrNoOperatingPoint.
func (r *Run) entry(k *sweep.ClassResult, x sweep.Ranked) (Entry, error) {
	if r.Evaluator == nil {
		r.Evaluator = sweep.NewEvaluator(r.Study)
	}
	in, err := r.Evaluator.Crafts(x.Index, k.Class)
	var c *model.Craft
	switch {
	case len(in) == 0:
	case err != nil:
		c = in[len(in)-1]
	default:
		c = in[r.Study.Telling(in)]
	}
	if err != nil {
		err = fmt.Errorf("class %s: %w", k.Class.Label, err)
	}
	g := r.Study.Grid
	return Entry{Ranked: x, Design: g.Design(x.Index), Craft: c, In: in, leader: leads(k, g, x.Index)}, err
}

// Scenario is the place of the scenario in which the design is told of.
func (e *Entry) Scenario() int {
	return max(0, slices.Index(e.In, e.Craft))
}

// Surely is a metric that the design has in every scenario: where it is worst.
func (e *Entry) Surely(m *model.Metric) float64 { return sweep.WorstOf(m, e.In) }

// Front evaluates the front of a class, the worst of its first metric first,
// unless the context ends.
func (r *Run) Front(ctx context.Context, f *Class) ([]Row, error) {
	designs := make([]sweep.Ranked, len(f.Front))
	for n, p := range f.Front {
		designs[n] = p.Ranked
	}
	rows, err := r.rows(ctx, f.ClassResult, designs)
	ranks := f.Ranks()
	for n := range rows {
		if len(r.Study.Others) > 0 && err == nil {
			err = r.surely(f, &rows[n])
		}
		rows[n].Rank = ranks[rows[n].Index]
	}
	return rows, err
}

// surely puts in a row of the front what the design has of its metrics in every scenario, by which the
// front judges.
func (r *Run) surely(f *Class, x *Row) error {
	in, err := r.Evaluator.Crafts(x.Index, f.Class)
	if err != nil {
		return fmt.Errorf("class %s: %w", f.Class.Label, err)
	}
	for _, m := range r.Study.Front {
		x.Values[Place(m)] = sweep.WorstOf(m, in)
	}
	return nil
}

// Ranks gives the places of the designs that the ranking of a class has.
func (f *Class) Ranks() map[uint64]int {
	out := make(map[uint64]int, len(f.Ranking))
	for n, x := range f.Ranking {
		out[x.Index] = n + 1
	}
	return out
}

// Clone is a row with values of its own.
func (x *Row) Clone() *Row {
	y := *x
	y.Values = slices.Clone(x.Values)
	return &y
}
