package decide

import (
	"math"
	"slices"
)

// Cautious merit is the mean over this part of the draws, from the worst up.
const (
	cautiousFrom = 0.1
	cautiousTo   = 0.5
)

// cautious is the mean of a sorted sample between its 10th and its 50th percentile: with
// each of n values standing for 1/n of the draws, those on the border count for the part
// within.
func cautious(sorted []float64) float64 {
	n := float64(len(sorted))
	sum := 0.0
	for i, v := range sorted {
		if part := within(float64(i), float64(i+1), n); part > 0 {
			sum += part * v
		} else if float64(i) >= cautiousTo*n {
			break
		}
	}
	return sum / ((cautiousTo - cautiousFrom) * n)
}

// within is how much of the stretch from a to b of n lies in the part that cautious merit
// is the mean of.
func within(a, b, n float64) float64 {
	return min(b, cautiousTo*n) - max(a, cautiousFrom*n)
}

// cautiousOf is cautious of a sample in any order, sorted into memory of the caller.
func cautiousOf(x, memory []float64) float64 {
	copy(memory, x)
	slices.Sort(memory[:len(x)])
	return cautious(memory[:len(x)])
}

// cautiousIn is cautious of a sample in any order, which it puts into another: what is
// below the part that counts before that, and what is above after it.
func cautiousIn(x []float64) float64 {
	n := float64(len(x))
	first, last := int(cautiousFrom*n), min(int(cautiousTo*n), len(x)-1)
	arrange(x, last)
	arrange(x[:last], min(first, max(last-1, 0)))
	sum := 0.0
	for i := first; i <= last; i++ {
		if part := within(float64(i), float64(i+1), n); part > 0 {
			sum += part * x[i]
		}
	}
	return sum / ((cautiousTo - cautiousFrom) * n)
}

// arrange puts the value at a place there that sorting would, and none greater before it
// and none less after it (C.A.R. Hoare, Algorithm 65: Find, 1961).
func arrange(x []float64, place int) {
	lo, hi := 0, len(x)-1
	for lo < hi {
		pivot := x[(lo+hi)/2]
		i, j := lo, hi
		for i <= j {
			for x[i] < pivot {
				i++
			}
			for x[j] > pivot {
				j--
			}
			if i <= j {
				x[i], x[j] = x[j], x[i]
				i++
				j--
			}
		}
		switch {
		case place <= j:
			hi = j
		case place >= i:
			lo = i
		default:
			return
		}
	}
}

// quantilesOf are those of a sample, which it sorts: order statistics, on a line between
// neighbours, the least being at 0 and the greatest at 1. Those of nothing are NaN.
func quantilesOf(x []float64) Quantiles {
	slices.Sort(x)
	return Quantiles{quantile(x, 0.1), quantile(x, 0.5), quantile(x, 0.9)}
}

func quantile(sorted []float64, share float64) float64 {
	if len(sorted) == 0 {
		return math.NaN()
	}
	at := share * float64(len(sorted)-1)
	i := min(int(at), len(sorted)-1)
	v := sorted[i]
	if rest := at - float64(i); rest > 0 {
		v += rest * (sorted[i+1] - v)
	}
	return v
}

// stepsOf are the quantiles of a sample of values of an axis, which it sorts: each the least value that is
// reached in its share of the draws, and so a value of the axis itself.
func stepsOf(x []float64) Quantiles {
	slices.Sort(x)
	at := func(share float64) float64 {
		const rounded = 1e-9 // by which a share may miss a whole number of draws
		return x[max(0, int(math.Ceil(share*float64(len(x))-rounded))-1)]
	}
	if len(x) == 0 {
		return Quantiles{math.NaN(), math.NaN(), math.NaN()}
	}
	return Quantiles{at(0.1), at(0.5), at(0.9)}
}

// moments are the mean of a sample and its standard error.
func moments(x []float64) (mean, standard float64) {
	n := float64(len(x))
	for _, v := range x {
		mean += v
	}
	mean /= n
	sum := 0.0
	for _, v := range x {
		sum += (v - mean) * (v - mean)
	}
	if n < 2 {
		return mean, 0
	}
	return mean, math.Sqrt(sum / (n - 1) / n)
}

// mix scatters a number over all of 64 bits (G.L. Steele, D. Lea, C.H. Flood, Fast
// splittable pseudorandom number generators, 2014).
func mix(x uint64) uint64 {
	x += 0x9e3779b97f4a7c15
	x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
	x = (x ^ x>>27) * 0x94d049bb133111eb
	return x ^ x>>31
}

// other is a seed that follows from one, for another purpose.
func other(seed, purpose uint64) uint64 { return mix(mix(seed) + purpose) }

// Purposes of seeds.
const (
	forFresh     = 1
	forBootstrap = 2
	forShuffle   = 3
)

// shuffled is the numbers from 0 to n-1 in an order that follows from a seed.
func shuffled(n int, seed uint64) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	for i := n - 1; i > 0; i-- {
		j := int(mix(seed+uint64(i)) % uint64(i+1))
		out[i], out[j] = out[j], out[i]
	}
	return out
}

// resamples is how many samples a paired bootstrap takes.
const resamples = 200

// bootstrap draws samples of paired draws with replacement; of each it keeps how often
// every draw is in it.
func bootstrap(draws int, seed uint64) [][]uint8 {
	out := make([][]uint8, resamples)
	for r := range out {
		out[r] = make([]uint8, draws)
		for k := range draws {
			out[r][mix(seed+uint64(r*draws+k))%uint64(draws)]++
		}
	}
	return out
}

// rising is a sample with the draws in rising order of its values.
type rising struct {
	values []float64
	order  []int
}

func rise(values []float64) rising {
	r := rising{values, make([]int, len(values))}
	for i := range r.order {
		r.order[i] = i
	}
	slices.SortStableFunc(r.order, func(a, b int) int {
		switch {
		case values[a] < values[b]:
			return -1
		case values[a] > values[b]:
			return 1
		}
		return 0
	})
	return r
}

// cautious is that of a sample in which each draw stands as often as counted.
func (r *rising) cautious(count []uint8) float64 {
	n := float64(len(r.values))
	sum, a := 0.0, 0.0
	for _, k := range r.order {
		if count[k] == 0 {
			continue
		}
		b := a + float64(count[k])
		if part := within(a, b, n); part > 0 {
			sum += part * r.values[k]
		}
		if a = b; a >= cautiousTo*n {
			break
		}
	}
	return sum / ((cautiousTo - cautiousFrom) * n)
}

// standardOf is the standard error of the difference between the cautious merits of two
// builds by paired samples, given the cautious merits of each in every sample.
func standardOf(a, b []float64) float64 {
	d := make([]float64, len(a))
	for i := range d {
		d[i] = a[i] - b[i]
	}
	_, se := moments(d)
	return se * math.Sqrt(float64(len(d))) // the spread of the samples, not of their mean
}

// Differ is by how much the cautious merit of a sample of draws is above that of another,
// with the standard error: of draws that both share where they are paired, and otherwise of
// draws of each on its own.
func Differ(a, b []float64, paired bool) (more, standard float64) {
	sampled := func(x []float64, seed uint64) (whole float64, samples []float64) {
		r := rise(x)
		for _, count := range bootstrap(len(x), seed) {
			samples = append(samples, r.cautious(count))
		}
		return cautiousOf(x, make([]float64, len(x))), samples
	}
	seed := other(0, forBootstrap)
	x, of := sampled(a, seed)
	if !paired {
		seed = other(1, forBootstrap)
	}
	y, against := sampled(b, seed)
	return x - y, standardOf(of, against)
}
