package decide

import (
	"testing"

	"rotorsieve/sweep"
)

// What a looser limit gains is at least what the sweep has found in a heavier class: not more than the best
// by brute force of all within the limit, and not less than that of whole bins, or of what leads there.
func TestSweptHeavier(t *testing.T) {
	t.Parallel()
	for _, x := range trials {
		s := x.study(t)
		s.Classes = append(s.Classes, sweep.Class{Limit: 1.25 * x.limit, Label: "heavier"})
		s.Top = 5 // what is ranked tells little
		r, err := sweep.Run(t.Context(), s, sweep.Options{Workers: 2})
		if err != nil {
			t.Fatal(err)
		}
		own, _ := r.Classes[0].Best()
		bound := x.limit * (1 + loosening)
		whole, all := 0.0, 0.0 // best merit within the last whole bin, within the bound
		e := sweep.NewEvaluator(s)
		width := r.Classes[1].Size.Width
		for n := range s.Grid.Size() {
			in, err := e.Crafts(n, s.Classes[1])
			if err != nil || in[0].Mass > bound {
				continue
			}
			kept := true
			for _, q := range s.Require {
				kept = kept && q.Kept(q.Metric.Of(in[0]))
			}
			if !kept {
				continue
			}
			merit := s.Merit.Of(in[0])
			all = max(all, merit)
			if in[0].Mass < width*float64(int(bound/width)) {
				whole = max(whole, merit)
			}
		}
		c := Class{Loosened: []Loosened{{Gate: sweep.GateClass, Bound: bound, Merit: own.Score, Index: own.Index,
			Any: true}}}
		if err := c.sweptHeavier(t.Context(), s, r, 0); err != nil {
			t.Fatal(err)
		}
		l := c.Loosened[0]
		if !l.Swept || l.Merit < whole || l.Merit > all || l.Gain != l.Merit-own.Score || whole <= own.Score {
			t.Errorf("%s: %+v, by brute force %g in whole bins, %g in all, and %g as asked", x.name, l, whole, all,
				own.Score)
		}
		in, err := e.Crafts(l.Index, s.Classes[1])
		if err != nil || s.Merit.Of(in[0]) != l.Merit || in[0].Mass > bound {
			t.Errorf("%s: design %d is another than told: %v", x.name, l.Index, err)
		}
		widest := Class{Loosened: []Loosened{{Gate: sweep.GateClass, Bound: 1.1 * s.Classes[1].Limit}}}
		if err := widest.sweptHeavier(t.Context(), s, r, 1); err != nil {
			t.Fatal(err)
		}
		if l := widest.Loosened[0]; l.Swept || l.Any {
			t.Errorf("%s: beyond the widest class %+v", x.name, l)
		}
	}
}
