package sweep

import (
	"cmp"
	"math"
	"slices"
)

// Rest is an estimate of how much better than the best of a class the designs may be that
// an unfinished run has not judged.
//
// Blocks are visited in an order that knows nothing of merit, so that the best block lies
// as likely among those left as their share is: that is the chance of a better one. How much
// better rests on the best merits of blocks. Near the best of all, merit is about a quadric
// of the d axes that blocks differ in, so that a share of blocks proportional to h^(d/2) is
// worse by less than h, and the n best of them lie below an end as points of a Poisson process: the i-th
// by scale x S^(2/d), where S is the sum of i exponential variates (extreme values of bounded
// support: Weissman, Estimation of parameters and large quantiles based on the k largest
// observations, 1978; from memory). The scale is that of the best few over the next.
type Rest struct {
	Chance  float64 // that a better design is left
	Typical float64 // merit that the best gains from it: the mean
	Most    float64 // and what it gains at most in nine of ten runs
	Blocks  int     // that the scale rests on; 0 where they are too few, so that Chance alone is told
}

const (
	mostHeads  = 12 // blocks that the scale rests on at most
	leastHeads = 4
)

// Rest estimates what is left of a class, by its place; of a complete run nothing is.
func (r *Result) Rest(class int) Rest {
	k := &r.Classes[class]
	if r.Done == r.Share {
		return Rest{}
	}
	out := Rest{Chance: 1 - float64(r.Done)/float64(r.Share)}
	heads := k.heads(r.block)
	if len(heads) < leastHeads {
		return out
	}
	heads = heads[:min(len(heads), mostHeads)]
	last := len(heads) - 1
	e := tail(1 / (float64(max(r.between, 1)) / 2))
	var above, expected float64
	for i, x := range heads[:last] {
		above += x - heads[last]
		expected += e.below(last) - e.below(i)
	}
	scale := above / expected
	room := 1 - heads[0] // no merit is above 1
	more := float64(r.Share-r.Done) / float64(r.Done)
	out.Typical = min(scale*e.gain(more), room)
	// The scale itself is off by its share of one over the root of the blocks.
	out.Most = min(scale*(1+1/math.Sqrt(float64(last)))*e.most(more), room)
	out.Blocks = last
	return out
}

// tail is the power with which the best merits of blocks fall off, in units of its scale.
type tail float64

// below is how far the best but i lies below the end, in the mean.
func (e tail) below(i int) float64 {
	a, _ := math.Lgamma(float64(i+1) + float64(e))
	b, _ := math.Lgamma(float64(i + 1))
	return math.Exp(a - b)
}

// gain is how much the best gains, in the mean, where so many times the blocks are added.
func (e tail) gain(more float64) float64 { return e.below(0) * (1 - math.Pow(1+more, -float64(e))) }

// most is what the best gains at most in nine of ten runs.
func (e tail) most(more float64) float64 {
	lo, hi := 0.0, math.Pow(40, float64(e))
	for range 50 {
		if g := (lo + hi) / 2; e.exceeds(g, more) > 0.1 {
			lo = g
		} else {
			hi = g
		}
	}
	return hi
}

// exceeds is how likely the best gains more than g: the best lies below the end by S^e, and
// the best of those added by less than that less g.
func (e tail) exceeds(g, more float64) float64 {
	const steps, end = 400, 40.0 // of S, which is exponential
	sum := 0.0
	for k := range steps {
		u := (float64(k) + 0.5) / steps // of the variate
		s := min(-math.Log(u), end)
		if left := math.Pow(s, float64(e)) - g; left > 0 {
			sum -= math.Expm1(-more * math.Pow(left, 1/float64(e)))
		}
	}
	return sum / steps
}

// heads are the best merits of blocks, the best first, as far down as all are known. What
// scores less than the last of a full list may be missing in it, and need not have been
// flown: of the ranking and of all lists of candidates those count that reach farther down.
func (c *ClassResult) heads(block uint64) []float64 {
	ranked, listed := math.Inf(-1), math.Inf(-1)
	if n := len(c.Ranking); uint64(n) < c.Feasible {
		ranked = math.Inf(1)
		if n > 0 {
			ranked = c.Ranking[n-1].Score
		}
	}
	most := listLength(len(c.Candidates))
	all := slices.Clone(c.Ranking)
	for _, g := range c.Candidates {
		for _, x := range g[0] {
			all = append(all, x.Ranked)
		}
		if len(g[0]) == most {
			listed = max(listed, g[0][most-1].Score)
		}
	}
	down := min(ranked, listed)
	best := map[uint64]float64{}
	for _, x := range all {
		if x.Score >= down {
			b := x.Index / block
			best[b] = max(best[b], x.Score)
		}
	}
	out := make([]float64, 0, len(best))
	for _, score := range best {
		out = append(out, score)
	}
	slices.SortFunc(out, func(a, b float64) int { return cmp.Compare(b, a) })
	return out
}
