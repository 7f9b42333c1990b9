package decide

import (
	"context"
	"math"

	"rotorsieve/model"
	"rotorsieve/sweep"
)

// fresh is what becomes of the builds that are told of over draws that had no part in the
// choice.
type fresh struct {
	*rules
	builds   []*build
	draws    int
	results  []outcome // [build*draws + draw]
	values   []float64 // of the metrics: [(build*draws + draw)*metrics + metric]
	merits   []float64 // [build*draws + draw]
	rising   []rising  // merits by build
	cautious []float64 // by build
	samples  [][]float64
}

// watch takes builds through the draws of an ensemble and notes all metrics.
func (r *runner) watch(ctx context.Context, e ensemble, builds []*build, seed uint64) (*fresh, error) {
	n := len(builds) * e.Draws()
	f := &fresh{rules: r.rules, builds: builds, draws: e.Draws(), results: make([]outcome, n),
		values: make([]float64, n*len(r.metrics)), merits: make([]float64, n)}
	for i := range f.results {
		f.results[i].gate = sweep.GateOperating // of a propeller that cannot be solved
	}
	err := r.pass(ctx, e, builds, func(w *bench, k int, b *build, at int) {
		n := at*f.draws + k
		f.results[n] = w.look(b, f.values[n*len(r.metrics):][:len(r.metrics)])
		f.merits[n] = f.results[n].merit
	})
	if err != nil {
		return nil, err
	}
	counts := bootstrap(f.draws, seed)
	f.rising, f.samples = make([]rising, len(builds)), make([][]float64, len(builds))
	f.cautious = make([]float64, len(builds))
	return f, r.each(ctx, len(builds), func(i int) {
		x := rise(f.of(i))
		samples := make([]float64, len(counts))
		for s, count := range counts {
			samples[s] = x.cautious(count)
		}
		f.rising[i], f.samples[i] = x, samples
		f.cautious[i] = cautiousOf(f.of(i), make([]float64, f.draws))
	})
}

// Apart is how many standard errors the cautious merits of two builds differ by that are
// told apart.
const Apart = 2

// difference is by how much the cautious merit of a build is above that of the first, with
// its standard error by paired samples.
func (f *fresh) difference(build int) (more, standard float64) {
	return f.cautious[build] - f.cautious[0], standardOf(f.samples[build], f.samples[0])
}

// of are the merits of a build.
func (f *fresh) of(build int) []float64 { return f.merits[build*f.draws:][:f.draws] }

// metric gives the values of a metric, by its place, of a build over the draws in which it
// exists.
func (f *fresh) metric(build, metric int) []float64 {
	out := make([]float64, 0, f.draws)
	for k := range f.draws {
		if v := f.value(build, k, metric); !math.IsNaN(v) {
			out = append(out, v)
		}
	}
	return out
}

// value is that of a metric in a draw; NaN where the craft does not operate.
func (f *fresh) value(build, k, metric int) float64 {
	n := build*f.draws + k
	if !f.results[n].operates {
		return math.NaN()
	}
	return f.values[n*len(f.metrics)+metric]
}

// place is that of a metric in the list of metrics.
func (r *rules) place(m *model.Metric) int {
	for i := range r.metrics {
		if r.metrics[i] == m {
			return i
		}
	}
	panic("decide: no metric " + m.Name)
}

// describe tells what the draws say of each build.
func (r *runner) describe(ctx context.Context, f *fresh) ([]Build, error) {
	out, top := make([]Build, len(f.builds)), f.top()
	return out, r.each(ctx, len(out), func(i int) { out[i] = f.describe(i, top) })
}

// top is the best merit in each draw.
func (f *fresh) top() []float64 {
	top := make([]float64, f.draws)
	for i := range f.builds {
		for k, v := range f.of(i) {
			top[k] = max(top[k], v)
		}
	}
	return top
}

// describe is what is told of a build, top being the best merit in each draw.
func (f *fresh) describe(i int, top []float64) Build {
	s, b := f.space, f.builds[i]
	capacities := s.axes[s.capacity].Values
	o := Build{Index: b.index, Design: b.design, Filled: b.filled, Cause: -1, Nominal: b.nominal,
		Causes: make([]float64, f.gates()), Cautious: f.cautious[i]}
	share := 1 / float64(f.draws)
	var packs []float64
	fails := make([]int, f.gates())
	n, still := 0, 0
	for k, x := range f.results[i*f.draws:][:f.draws] {
		if x.gate == kept {
			n++
		} else {
			fails[x.gate]++
		}
		if !x.operates {
			still++
		}
		o.Regret += (top[k] - x.merit) * share
		packs = append(packs, capacities[s.grid.At(s.withPack(b.index, x.capacity), s.capacity)])
	}
	o.Feasible = float64(n) * share
	for g, n := range fails {
		o.Causes[g] = float64(n) * share
		if n > 0 && (o.Cause < 0 || n > fails[o.Cause]) {
			o.Cause = g
		}
	}
	o.Merit = quantilesOf(append([]float64(nil), f.of(i)...))
	o.Pack = stepsOf(packs)
	for m := range f.metrics {
		o.Metrics = append(o.Metrics, quantilesOf(f.metric(i, m)))
	}
	o.Fails = []float64{o.Causes[sweep.GateClass], float64(still) * share} // the class comes before all else
	for _, r := range f.require {
		x := f.metric(i, f.place(r.Metric))
		for k := range x {
			x[k] = margin(&r, x[k])
		}
		o.Margins = append(o.Margins, quantilesOf(x))
		keeps := 0
		for k := range f.draws {
			if r.Kept(f.value(i, k, f.place(r.Metric))) {
				keeps++
			}
		}
		o.Kept = append(o.Kept, float64(keeps)*share)
		o.Fails = append(o.Fails, float64(f.draws-keeps)*share)
	}
	less, se := f.difference(i)
	o.Tied = i == 0 || less >= -Apart*se
	return o
}

// farthest bounds a margin, since a metric may be 0 or endless.
var farthest = math.Log(1000)

// margin is by how much a value keeps a requirement, below 0 where it does not: as a
// logarithm, within a factor of 1000, or in the metric's SI unit where the bound is not
// above 0.
func margin(r *sweep.Requirement, v float64) float64 {
	if r.Idle(v) {
		return farthest
	}
	sign := 1.0
	if !r.AtLeast {
		sign = -1
	}
	if r.Bound <= 0 {
		return sign * (v - r.Bound)
	}
	if v <= 0 {
		return -sign * farthest
	}
	return sign * max(-farthest, min(math.Log(v/r.Bound), farthest))
}

// line is the best that can be had at each share of feasible draws.
func line(builds []Build) (out []LinePoint) {
	for _, p := range pointsOf {
		x := LinePoint{Feasible: p}
		for i := range builds {
			b := &builds[i]
			if b.Feasible < p {
				continue
			}
			if !x.Any || b.Cautious > x.Cautious {
				x.Build, x.Cautious = i, b.Cautious
			}
			x.Median = max(x.Median, b.Merit.P50)
			x.Any = true
		}
		out = append(out, x)
	}
	return out
}

// surest is the build of the highest share of feasible draws, by rank among equals.
func surest(builds []Build) int {
	best := -1
	for i := range builds {
		if best < 0 || builds[i].Feasible > builds[best].Feasible {
			best = i
		}
	}
	return best
}
