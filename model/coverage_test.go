package model

import (
	"fmt"
	"hash/fnv"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// outer is how many standard deviations a normal number's 10th and 90th percentiles are
// from its mean.
const outer = 1.2815515655446004

// covered says which share of what was measured of one thing lies between the 10th and the
// 90th percentile of what the model draws for it. The errors of one cluster, a family of
// propellers or a motor, go together.
type covered struct {
	cluster   string
	share     float64
	propeller string // of a row of a stand
}

// byPropeller has propellers for clusters.
func byPropeller(all []covered) []covered {
	all = slices.Clone(all)
	for i := range all {
		all[i].cluster = all[i].propeller
	}
	return all
}

// coverage is a share over all things, with the 95 % interval of a bootstrap over
// clusters.
type coverage struct{ share, low, high float64 }

func (c coverage) String() string {
	return fmt.Sprintf("%.0f %% (%.0f to %.0f)", 100*c.share, 100*c.low, 100*c.high)
}

// right says whether the interval contains what it should, 80 %.
func (c coverage) right() bool { return c.low <= 0.8 && c.high >= 0.8 }

// alike has each thing of a cluster weigh the same, rooted a cluster of k things sqrt(k)
// in all, as where the prior of the generic blade is learnt, single each cluster the same.
func alike(k int) float64  { return float64(k) }
func rooted(k int) float64 { return math.Sqrt(float64(k)) }
func single(int) float64   { return 1 }

// bootstrap draws clusters with replacement, by a seed that the name of what is covered
// sets.
func bootstrap(name string, all []covered, weight func(k int) float64) coverage {
	const resamples = 4000
	share := map[string]float64{}
	count := map[string]int{}
	for _, c := range all {
		share[c.cluster] += c.share
		count[c.cluster]++
	}
	clusters := make([]string, 0, len(count))
	for c := range count {
		clusters = append(clusters, c)
	}
	slices.Sort(clusters)
	of := func(pick func(i int) string) float64 {
		var sum, sumOfWeights float64
		for i := range clusters {
			c := pick(i)
			w := weight(count[c])
			sum += w * share[c] / float64(count[c])
			sumOfWeights += w
		}
		return sum / sumOfWeights
	}
	r := numbers(name)
	drawn := make([]float64, resamples)
	for k := range drawn {
		drawn[k] = of(func(int) string { return clusters[r.IntN(len(clusters))] })
	}
	slices.Sort(drawn)
	const tail = resamples / 40 // 2.5 %
	return coverage{of(func(i int) string { return clusters[i] }), drawn[tail], drawn[resamples-1-tail]}
}

// numbers are random ones that a name seeds.
func numbers(name string) *rand.Rand {
	h := fnv.New64a()
	h.Write([]byte(name))
	return rand.New(rand.NewPCG(h.Sum64(), 0))
}

// A bootstrap over clusters of one thing each is that of a binomial, and one over clusters
// whose things go together is as wide as if each cluster were one thing.
func TestBootstrap(t *testing.T) {
	t.Parallel()
	var plain, joined []covered
	for i := range 50 {
		c := covered{cluster: fmt.Sprint(i), share: 1}
		if i < 10 {
			c.share = 0
		}
		plain = append(plain, c)
		for range 7 {
			joined = append(joined, c)
		}
	}
	sd := math.Sqrt(0.8 * 0.2 / 50)
	for _, all := range [][]covered{plain, joined} {
		for _, weight := range []func(int) float64{alike, rooted, single} {
			c := bootstrap("test", all, weight)
			low, high := 0.8-1.96*sd, 0.8+1.96*sd
			if math.Abs(c.share-0.8) > 1e-12 || math.Abs(c.low-low) > 0.025 || math.Abs(c.high-high) > 0.025 ||
				!c.right() {
				t.Errorf("40 of 50 clusters: %v, want 80 %% and %.3f on either side", c, 1.96*sd)
			}
		}
	}
	if c := bootstrap("test", plain[10:], alike); c.right() {
		t.Errorf("all are covered, and %v is told right", c)
	}
}

// components are the standard deviations of a quantity's errors between families and within
// them: those of a random effect, by the analysis of variance of groups of unequal size.
func components(family []string, off []float64) (between, within float64) {
	groups := map[string][]float64{}
	all := misfit(off)
	for i, f := range family {
		groups[f] = append(groups[f], off[i])
	}
	var inside, across, squares float64
	for _, g := range groups {
		m := misfit(g).mean()
		for _, x := range g {
			inside += (x - m) * (x - m)
		}
		k := float64(len(g))
		across += k * (m - all.mean()) * (m - all.mean())
		squares += k * k
	}
	n, k := float64(len(off)), float64(len(groups))
	inside /= n - k
	size := (n - squares/n) / (k - 1)
	return math.Sqrt(math.Max(0, (across/(k-1)-inside)/size)), math.Sqrt(inside)
}
