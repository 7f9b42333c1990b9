package finding

import (
	"math"
	"slices"

	"rotorsieve/model"
	"rotorsieve/sweep"
	"rotorsieve/sweep/decide"
)

// Versus holds two designs side by side, both by the requirements and the merit of the first,
// each under its own assumptions.
type Versus struct {
	Sides   [2]Side
	Merit   sweep.Merit
	Require []sweep.Requirement

	OtherMerit   bool         // the second is of a study of another merit
	OtherRequire bool         // or of other requirements
	Pair         *decide.Pair // over draws; nil for none
}

// Side is one of the designs.
type Side struct {
	File   string  // of flags that state it; "" for the command line or a run
	Of     *InHand // of a run; nil for none
	Design model.Design
	Craft  *model.Craft // of several scenarios that which tells of the design

	Scenarios *Scenarios // by the requirements and the merit of the comparison; nil for none
}

// Value is that of a metric; NaN where the craft has none.
func (s *Side) Value(m *model.Metric) float64 { return valueOf(m, s.Craft) }

func valueOf(m *model.Metric, c *model.Craft) float64 {
	if m.Stage > model.StageMass && !Operates(c) {
		return math.NaN()
	}
	return m.Of(c)
}

// Beyond says whether the value of a metric stands for all beyond it as well.
func (s *Side) Beyond(m *model.Metric) bool { return isBeyond(m, s.Craft) }

func isBeyond(m *model.Metric, c *model.Craft) bool {
	return Capped(m, valueOf(m, c)) || m.Name == "ceiling" && c.Explained() && c.CeilingIsLeast()
}

// counted are the crafts that the merit is the mean of: of several scenarios that of the least merit, or
// all in a mean.
func (s *Side) counted() []*model.Craft {
	x := s.Scenarios
	switch {
	case x == nil || !Operates(s.Craft):
		return []*model.Craft{s.Craft}
	case x.Over == sweep.Mean:
		return x.Crafts
	}
	least := slices.Index(x.Merits, slices.Min(x.Merits))
	return x.Crafts[least : least+1]
}

// TermPair is what a term of the merit gives to both designs.
type TermPair struct {
	sweep.Term
	Share  float64    // of all weights
	Values [2]float64 // of the metric; in a mean over scenarios its mean, which the term is not of
	Beyond [2]bool    // the value stands for all beyond it as well
	Gives  [2]float64 // of the merit: they add up to it
}

// Terms split the merits by term.
func (v *Versus) Terms() []TermPair {
	sum := 0.0
	for _, t := range v.Merit {
		sum += t.Weight
	}
	var out []TermPair
	for _, t := range v.Merit {
		p := TermPair{Term: t, Share: t.Weight / sum}
		for i := range v.Sides {
			of := v.Sides[i].counted()
			n := float64(len(of))
			for _, c := range of {
				x := valueOf(t.Metric, c)
				p.Values[i] += x / n
				p.Gives[i] += p.Share * t.Score(x) / n
				p.Beyond[i] = p.Beyond[i] || isBeyond(t.Metric, c)
			}
		}
		out = append(out, p)
	}
	return out
}

// Merits are those of both.
func (v *Versus) Merits() (out [2]float64) {
	for i := range v.Sides {
		if Operates(v.Sides[i].Craft) {
			of := v.Sides[i].counted()
			for _, c := range of {
				out[i] += v.Merit.Of(c) / float64(len(of))
			}
		}
	}
	return out
}

// Broken are the requirements that a design does not keep.
func (v *Versus) Broken(side int) (out []sweep.Requirement) {
	for _, r := range v.Require {
		if !r.Kept(v.Sides[side].Value(r.Metric)) {
			out = append(out, r)
		}
	}
	return out
}

// TooHeavy says whether a design exceeds the limit of its class.
func (s *Side) TooHeavy() bool { return s.Craft.Limit > 0 && s.Craft.Mass > s.Craft.Limit }

// Keeps says whether a design flies and keeps its class and all requirements.
func (v *Versus) Keeps(side int) bool {
	s := &v.Sides[side]
	return Operates(s.Craft) && !s.TooHeavy() && len(v.Broken(side)) == 0
}

// Winner is the place of the better design: of one that keeps all requirements and one that
// does not the first, else that of the higher merit; -1 where these are the same.
func (v *Versus) Winner() int {
	a, b := v.Keeps(0), v.Keeps(1)
	switch m := v.Merits(); {
	case a != b && a, a == b && m[0] > m[1]:
		return 0
	case a != b, m[1] > m[0]:
		return 1
	}
	return -1
}

// Others are the metrics that neither merit nor requirements name, of which one design at
// least has a value.
func (v *Versus) Others() (out []*model.Metric) {
	for _, m := range model.Metrics {
		named := slices.ContainsFunc(v.Merit, func(t sweep.Term) bool { return t.Metric == m }) ||
			slices.ContainsFunc(v.Require, func(r sweep.Requirement) bool { return r.Metric == m })
		if !named && (Finite(v.Sides[0].Value(m)) || Finite(v.Sides[1].Value(m))) {
			out = append(out, m)
		}
	}
	return out
}

// Inputs are those in which the designs differ.
func (v *Versus) Inputs() (out []*sweep.AxisDef) {
	for _, n := range Inputs {
		if n.Of(v.Sides[0].Design) != n.Of(v.Sides[1].Design) {
			out = append(out, n)
		}
	}
	return out
}
