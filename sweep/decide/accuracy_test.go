package decide

import (
	"flag"
	"math"
	"slices"
	"testing"
)

// whole gives all builds of a grid as candidates.
func (s *space) whole() (out []*build) {
	n := uint64(len(s.axes[s.capacity].Values)) * s.grid.Step(s.capacity)
	for i := uint64(0); i < s.grid.Size(); i++ {
		if i%n < s.grid.Step(s.capacity) {
			out = append(out, s.build(0, i))
		}
	}
	return out
}

// accuracySeeds is 5 in make validate.
var accuracySeeds = flag.Int("seeds", 2, "on which the choice is held against whole grids")

// rows holds the best candidate with each value of an axis against the best of the whole grid
// on the same draws.
func (r *runner) rows(t *testing.T, name string, whole, some *choice) {
	t.Helper()
	const lost, least = 0.02, 0.02 // of merits that say something
	best := func(c *choice) map[axisPlace]float64 {
		out := map[axisPlace]float64{}
		for i, b := range c.builds {
			for _, axis := range r.space.swept() {
				v := axisPlace{axis, r.space.grid.At(b.index, axis)}
				out[v] = max(out[v], c.standing[i].cautious)
			}
		}
		return out
	}
	have, n, most := best(some), 0, 0.0
	for v, want := range best(whole) {
		if want < least {
			continue
		}
		n++
		loss := 1 - have[v]/want
		if most = max(most, loss); loss > lost {
			t.Errorf("%s: of value %d of axis %d the candidates lose %.2f %% of %.4f", name, v.at, v.axis, 100*loss,
				want)
		}
	}
	t.Logf("%s: of %d values the candidates lose %.2f %% at most", name, n, 100*most)
}

// The choice against an ensemble of the whole grid: what the candidates lose of the best
// cautious merit on the same 64 draws, and what the choice loses, and its P(feasible)
// misses, on many fresh draws, on the mean of several seeds. There the best is looked for
// among the 100 that are best of the whole grid on 256 others.
func TestAccuracy(t *testing.T) {
	t.Parallel()
	const lostByCandidates, lostByChoice, missed = 0.005, 0.015, 0.03
	many, seeds, trials := 16384, *accuracySeeds, trials
	if testing.Short() {
		many, seeds, trials = 4096, 1, trials[:1]
	}
	for _, x := range trials {
		s, r := x.run(t)
		from := drawn(s.Models())
		take := func(w *runner, builds []*build, seed uint64, draws int) *choice {
			e, err := from(seed, draws)
			if err != nil {
				t.Fatal(err)
			}
			c, err := w.judgeAll(t.Context(), e, draws, 0, builds)
			if err != nil {
				t.Fatal(err)
			}
			return c
		}
		w := testRunner(s)
		all, some := w.space.whole(), w.space.candidates(0, &r.Classes[0])
		for _, builds := range [][]*build{all, some} {
			if err := w.plan(t.Context(), builds); err != nil {
				t.Fatal(err)
			}
		}
		a, b := take(w, all, 11, 64), take(w, some, 11, 64)
		best, found := a.standing[a.order[0]].cautious, b.standing[b.order[0]].cautious
		loss := 1 - found/best
		w.rows(t, x.name, a, b)

		wide := take(w, all, 12, 256)
		var top []*build
		for _, i := range wide.order[:100] {
			top = append(top, all[i])
		}
		var chosen []int // in top, by seed
		var reads []float64
		for seed := range uint64(seeds) {
			e, err := from(1+seed, mostOf(DefaultDraws))
			if err != nil {
				t.Fatal(err)
			}
			c, err := w.choose(t.Context(), e, DefaultDraws, 0, some)
			if err != nil {
				t.Fatal(err)
			}
			own := some[c.order[0]]
			if e, err = from(other(1+seed, forFresh), Fresh); err != nil {
				t.Fatal(err)
			}
			f, err := w.watch(t.Context(), e, []*build{own}, 1)
			if err != nil {
				t.Fatal(err)
			}
			at := slices.IndexFunc(top, func(b *build) bool { return b.index == own.index })
			if at < 0 {
				at = len(top)
				top = append(top, own)
			}
			chosen, reads = append(chosen, at), append(reads, f.describe(0, f.top()).Feasible)
		}
		judged := take(w, top, 13, many)
		first := &judged.standing[judged.order[0]]
		var lost, worst float64
		for i, at := range chosen {
			own := &judged.standing[at]
			lost += (1 - own.cautious/first.cautious) / float64(len(chosen))
			if miss := math.Abs(reads[i] - own.feasible); miss > worst {
				worst = miss
			}
			t.Logf("%s, seed %d: the choice loses %.2f %% of %.4f on %d draws, P(feasible) %.3f reads %.3f", x.name,
				1+i, 100*(1-own.cautious/first.cautious), first.cautious, many, own.feasible, reads[i])
		}
		t.Logf("%s: %d builds, %d candidates, which lose %.2f %% of the best cautious merit of %.4f; the choice "+
			"loses %.2f %% on the mean", x.name, len(all), len(some), 100*loss, best, 100*lost)
		if !(best > 0.05) {
			t.Errorf("%s: the best cautious merit is %g: the test sees too little", x.name, best)
		}
		if loss > lostByCandidates {
			t.Errorf("%s: the candidates lose %.2f %%", x.name, 100*loss)
		}
		if lost > lostByChoice {
			t.Errorf("%s: the choice loses %.2f %%", x.name, 100*lost)
		}
		if worst > missed {
			t.Errorf("%s: P(feasible) misses by %.3f", x.name, worst)
		}
	}
}
