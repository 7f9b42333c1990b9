package decide

import (
	"context"
	"math"
)

// weighing is the choice on the scores of the merit's terms, of the best builds.
type weighing struct {
	builds, draws, terms int
	scores               []float64 // [(build*draws + draw)*terms + term]; 0 in a draw that fails
	shares               []float64 // of the weights
	merits, memory       []float64
}

// weigh reads the terms of the best builds, which builds begin with, in the draws of the
// choice.
func (r *runner) weigh(ctx context.Context, e ensemble, builds []*build) (*weighing, error) {
	merit := r.study.Merit
	w := &weighing{builds: len(builds), draws: e.Draws(), terms: len(merit),
		scores: make([]float64, len(builds)*e.Draws()*len(merit)), merits: make([]float64, e.Draws()),
		memory: make([]float64, e.Draws())}
	sum := 0.0
	for _, t := range merit {
		sum += t.Weight
	}
	for _, t := range merit {
		w.shares = append(w.shares, t.Weight/sum)
	}
	r.expect(len(builds) * e.Draws())
	return w, r.pass(ctx, e, builds, func(x *bench, k int, b *build, at int) {
		if x.judge(b).gate == kept {
			for i, t := range merit {
				w.scores[(at*w.draws+k)*w.terms+i] = t.Score(x.read(t.Metric))
			}
		}
	})
}

// first is the build of the best cautious merit where a term has a share of all weights and
// the others keep their ratios; the earlier one among equals.
func (w *weighing) first(term int, share float64) int {
	best, most := 0, -1.0
	rest := 1 - w.shares[term]
	for b := range w.builds {
		for k := range w.draws {
			s := w.scores[(b*w.draws+k)*w.terms:][:w.terms]
			v := share * s[term]
			for i, x := range s {
				if i != term {
					v += (1 - share) * w.shares[i] / rest * x
				}
			}
			w.merits[k] = v
		}
		if c := cautiousOf(w.merits, w.memory); c > most+rounding {
			best, most = b, c
		}
	}
	return best
}

// rounding is a difference in cautious merit that sums in another order make.
const rounding = 1e-12

// Ranges of weights are looked for in steps of the share, and bounded to a part of it.
const (
	shareStep = 1.0 / 50
	shareFine = 1e-3
)

// ranges gives for each term over which share of all weights the first build stays first
// among the best, and what is first beyond.
func (w *weighing) ranges(ctx context.Context) (out []WeightRange, err error) {
	for term, own := range w.shares {
		x := WeightRange{Term: term, Weight: own, Least: 0, Most: 1, Below: -1, Above: -1}
		if w.terms > 1 {
			if x.Least, x.Below, err = w.end(ctx, term, own, 0); err != nil {
				return nil, err
			}
			if x.Most, x.Above, err = w.end(ctx, term, own, 1); err != nil {
				return nil, err
			}
		}
		out = append(out, x)
	}
	return out, nil
}

// end looks from a share towards 0 or 1 for the last at which the first build stays first,
// and what follows it; -1 where it stays to the end.
func (w *weighing) end(ctx context.Context, term int, own, to float64) (share float64, next int, err error) {
	good := own
	steps := int(math.Ceil(math.Abs(to-own) / shareStep))
	for i := 1; i <= steps; i++ {
		if ctx.Err() != nil {
			return 0, 0, ctx.Err()
		}
		at := own + (to-own)*float64(i)/float64(steps)
		next := w.first(term, at)
		if next == 0 {
			good = at
			continue
		}
		bad := at
		for math.Abs(bad-good) > shareFine {
			mid := (good + bad) / 2
			if n := w.first(term, mid); n == 0 {
				good = mid
			} else {
				bad, next = mid, n
			}
		}
		return good, next, nil
	}
	return to, -1, nil
}
