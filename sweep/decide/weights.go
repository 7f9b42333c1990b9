package decide

import (
	"context"
	"math"
)

// weighing is the choice on the scores of the merit's terms, of the best builds.
type weighing struct {
	builds, draws, terms int
	scenes               int       // of which the least counts
	scores               []float64 // [((build*draws + draw)*scenes + scene)*terms + term]; 0 in a draw that fails
	shares               []float64 // of the weights
}

// weigh reads the terms of the builds of the last round of a choice, in the draws of all of
// its rounds: those of the draws that all builds were judged in are read once more.
func (r *runner) weigh(ctx context.Context, c *choice, e ensemble) (*weighing, error) {
	merit := r.study.Merit
	all := len(c.merits[c.order[0]])
	each := r.scored
	w := &weighing{builds: c.best, draws: all, terms: len(merit), scenes: each / len(merit),
		scores: make([]float64, c.best*all*each)}
	sum := 0.0
	for _, t := range merit {
		sum += t.Weight
	}
	for _, t := range merit {
		w.shares = append(w.shares, t.Weight/sum)
	}
	some := make([]*build, c.best)
	again := 0
	for b, i := range c.order[:c.best] {
		some[b] = c.builds[i]
		again = all - len(c.scores[i])/each
		copy(w.scores[(b*all+again)*each:(b+1)*all*each], c.scores[i])
	}
	r.expect(c.best * again)
	return w, r.pass(ctx, window{e, 0, again}, some, func(x *bench, k int, b *build, at int) {
		if x.judge(b).gate == kept {
			x.terms(w.scores[(at*all+k)*each:])
		}
	})
}

// first is the build of the best cautious merit where a term has a share of all weights and
// the others keep their ratios; the earlier one among equals.
func (w *weighing) first(term int, share float64) int {
	best, most := 0, -1.0
	rest := 1 - w.shares[term]
	merits := make([]float64, w.draws)
	for b := range w.builds {
		for k := range w.draws {
			least := math.Inf(1)
			for at := range w.scenes {
				s := w.scores[((b*w.draws+k)*w.scenes+at)*w.terms:][:w.terms]
				v := share * s[term]
				for i, x := range s {
					if i != term {
						v += (1 - share) * w.shares[i] / rest * x
					}
				}
				least = min(least, v)
			}
			merits[k] = least
		}
		if c := cautiousIn(merits); c > most+rounding {
			best, most = b, c
		}
	}
	return best
}

// rounding is a difference in cautious merit that sums in another order make.
const rounding = 1e-12

// Ranges of weights are looked for in steps of the share, and bounded to a part of it.
const (
	shareStep = 1.0 / 32
	shareFine = 1e-3
)

// ranges gives for each term over which share of all weights the first build stays first
// among the best, and what is first beyond.
func (r *runner) ranges(ctx context.Context, w *weighing) ([]WeightRange, error) {
	out := make([]WeightRange, w.terms)
	for term, own := range w.shares {
		out[term] = WeightRange{Term: term, Weight: own, Least: 0, Most: 1, Below: -1, Above: -1}
	}
	if w.terms == 1 {
		return out, nil
	}
	return out, r.each(ctx, 2*w.terms, func(n int) {
		x := &out[n/2]
		if n%2 == 0 {
			x.Least, x.Below = w.end(ctx, x.Term, x.Weight, 0)
		} else {
			x.Most, x.Above = w.end(ctx, x.Term, x.Weight, 1)
		}
	})
}

// end looks from a share towards 0 or 1 for the last at which the first build stays first,
// and what follows it; -1 where it stays to the end.
func (w *weighing) end(ctx context.Context, term int, own, to float64) (share float64, next int) {
	good := own
	steps := int(math.Ceil(math.Abs(to-own) / shareStep))
	for i := 1; i <= steps; i++ {
		if ctx.Err() != nil {
			return own, -1 // nobody asks any more
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
		return good, next
	}
	return to, -1
}
