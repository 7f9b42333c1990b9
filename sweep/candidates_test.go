package sweep

import (
	"context"
	"math"
	"math/rand/v2"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"rotorsieve/model"
)

// The bounds of a requirement at the levels follow from what the quantity errs by.
func TestMargins(t *testing.T) {
	for name := range marginSpreads {
		metric(t, name)
	}
	s := study(t, small(t, nil))
	s.Classes = []Class{{Limit: 0.25, Label: "250g"}}
	p, err := newPlan(s)
	if err != nil {
		t.Fatal(err)
	}
	air := s.Model.Air.Temperature
	floor := p.packs[0].Floor / float64(p.packs[0].Cells)
	for _, c := range []struct {
		metric  string
		atLeast bool
		bound   float64
		want    [Levels]float64 // ratios to the bound's distance from the origin
		origin  float64
	}{
		{"thrust-to-weight", true, 2, exps(0.125, 0, 0.5, 1, 1.5, 2, 2.5), 0},
		{"tip-mach", false, 0.7, exps(-0.05, 0, 0.5, 1, 1.5, 2, 2.5), 0},
		{"range", true, 9e3, exps(0.12, 0, 0.5, 1, 1.5, 2, 2.5), 0},
		{"cruise-power", false, 90, exps(-0.12, 0, 0.5, 1, 1.5, 2, 2.5), 0},
		{"auw", false, 0.24, exps(-0.045, 0, 0, 0, 0, 0.5, 1), 0},
		{"auw", true, 0.1, exps(0.045, 0, 0, 0, 0, 0.5, 1), 0},
		{"class-margin", true, 0.01, exps(-0.045, 0, 0, 0, 0, 0.5, 1), 0.25},
		{"class-margin", false, 0.01, exps(0.045, 0, 0, 0, 0, 0.5, 1), 0.25},
		{"capacity-per-cell", true, 540, exps(0, 0, 0, 0, 0, 0, 0), 0},
		{"voltage-margin", true, 0, exps(0.02, 0, 0.5, 1, 1.5, 2, 2.5), -floor},
		{"voltage-margin", true, -0.2, exps(0.02, 0, 0.5, 1, 1.5, 2, 2.5), -floor},
		{"motor-temperature", false, 393.15, exps(-0.35, 0, 0.5, 1, 1.5, 2, 2.5), air},
		{"motor-temperature", false, air, exps(0, 0, 0, 0, 0, 0, 0), air},
		{"burst-time", true, 10, exps(0.35, 0, 0.5, 1, 1.5, 2, 2.5), 0},
		{"climb-rate", true, -1, exps(-0.12, 0, 0.5, 1, 1.5, 2, 2.5), 0},
		{"climb-rate", false, -1, exps(0.12, 0, 0.5, 1, 1.5, 2, 2.5), 0},
		{"climb-rate", true, 0, exps(0.12, 0, 0.5, 1, 1.5, 2, 2.5), 0},
	} {
		got := p.bounds(&Requirement{Metric: metric(t, c.metric), AtLeast: c.atLeast, Bound: c.bound}, 0.25)
		for i, ratio := range c.want {
			want := c.origin + (c.bound-c.origin)*ratio
			if math.Abs(got[i]-want) > 1e-12*(1+math.Abs(want)) || i == 0 && got[i] != c.bound {
				t.Errorf("%s, at least %v, %g: %g at level %d, want %g", c.metric, c.atLeast, c.bound, got[i], i, want)
			}
		}
	}
	// What stands for all beyond is asked of no design.
	long := metric(t, "burst-time")
	got := p.bounds(&Requirement{Metric: long, AtLeast: true, Bound: 0.9 * long.Cap}, 0.25)
	if got[0] != 0.9*long.Cap || got[1] != long.Cap || got[Levels-1] != long.Cap {
		t.Errorf("burst time of nearly an hour: %v, want up to %g", got, long.Cap)
	}
}

func exps(sigma float64, by ...float64) (out [Levels]float64) {
	for i, s := range by {
		out[i] = math.Exp(sigma * s)
	}
	return out
}

// Builds are listed once, by place, level and group.
func TestBuilds(t *testing.T) {
	b := func(index uint64, score float64) Build {
		return Build{Ranked{index, score}, index / 10 * 10}
	}
	k := ClassResult{OfValues: []Lists{
		{{b(13, 0.9), b(21, 0.8)}, {b(21, 0.8), b(14, 0.7)}, {b(31, 0.6)}},
	}, Candidates: []Lists{
		{},
		{{b(45, 0.5), b(51, 0.4), b(61, 0.3)}, {b(45, 0.5), b(72, 0.1)}, {b(46, 0.2)}},
	}}
	all := []Candidate{{13, 0.9, 0}, {45, 0.5, 0}, {21, 0.8, 0}, {31, 0.6, 2}, {51, 0.4, 0}, {72, 0.1, 1}, {61, 0.3, 0}}
	for _, limit := range []int{-1, 0, 1, 3, 7, 2000} {
		want := all[:max(0, min(limit, len(all)))]
		if got := k.Builds(limit); !slices.Equal(got, want) {
			t.Errorf("limit %d: %v, want %v", limit, got, want)
		}
	}
	if got := (&ClassResult{}).Builds(9); len(got) != 0 {
		t.Errorf("of nothing: %v", got)
	}
}

// Lists join to those of the whole however their designs are shared out.
func TestListsJoin(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 32))
	for round := range 300 {
		most := 1 + rng.IntN(6)
		var parts [3]candidates
		var whole candidates
		best := map[uint64]Build{}
		for range rng.IntN(60) {
			x := Build{Ranked: Ranked{Index: rng.Uint64N(80), Score: float64(rng.IntN(9))}}
			x.Parts = x.Index / 8
			parts[rng.IntN(3)].add(0, x, most)
			whole.add(0, x, most)
			if y, ok := best[x.Parts]; !ok || x.compare(y.Ranked) < 0 {
				best[x.Parts] = x
			}
		}
		var want []Build
		for _, x := range best {
			want = append(want, x)
		}
		slices.SortFunc(want, func(a, b Build) int { return a.compare(b.Ranked) })
		want = want[:min(len(want), most)]
		k := classTotal{listed: make([]*candidates, 1), lasts: newLasts(1)}
		for _, i := range rng.Perm(3) {
			k.list(0, &parts[i], &lengths{most})
			k.list(0, &parts[i], &lengths{most}) // twice is as once
		}
		if len(want) == 0 {
			continue
		}
		if got := k.listed[0].lists[0]; !slices.Equal(got, want) || !slices.Equal(whole.lists[0], want) {
			t.Fatalf("round %d: joined %v, at once %v, want %v", round, got, whole.lists[0], want)
		}
	}
}

// What full lists take is known before they are, and none do more.
func TestUnlisted(t *testing.T) {
	if n := reflect.TypeFor[Build]().Size(); n != ofBuild {
		t.Errorf("a build takes %d bytes, not %d", n, ofBuild)
	}
	s := medium(t)
	p, err := newPlan(s)
	if err != nil {
		t.Fatal(err)
	}
	// Two diameters, one number of blades and the payloads; and values.
	all := float64(len(s.Classes) * ofBuild * (2*len(s.Grid.axes[axPayload].Values)*Levels*maxListed +
		p.groups.shared*(4+8+12+16+24+40)))
	if got := p.newTotal(wholeStudy).unlisted(); got != all {
		t.Errorf("empty lists may take %g bytes, want %g", got, all)
	}
	r := &runner{plan: p, last: p.blocks, total: p.newTotal(wholeStudy), incumbents: p.newIncumbents(),
		options: Options{Workers: 1}}
	if err := r.run(t.Context()); err != nil {
		t.Fatal(err)
	}
	if got := r.total.unlisted(); got < 0 || got > all/2 {
		t.Errorf("lists may take %g bytes more, want less than half of %g", got, all)
	}
	for groups, want := range map[int]int{1: 30, 500: 30, 600: 27, 16384: 1, 1 << 20: 1} {
		if got := listLength(groups); got != want {
			t.Errorf("%d groups have lists of %d, want %d", groups, got, want)
		}
	}
}

// shortLists makes lists of so few builds that many fall out of them.
func shortLists(t testing.TB, n, ofValue int) {
	old, oldOfValue := maxListed, maxOfValue
	maxListed, maxOfValue = n, ofValue
	t.Cleanup(func() { maxListed, maxOfValue = old, oldOfValue })
}

// shuffled judges the blocks of a study in some order.
func shuffled(t *testing.T, s *Study, rng *rand.Rand) *Result {
	t.Helper()
	p, err := newPlan(s)
	if err != nil {
		t.Fatal(err)
	}
	r := &runner{plan: p, last: p.blocks, total: p.newTotal(wholeStudy), incumbents: p.newIncumbents()}
	workers := []*worker{p.newWorker(r.incumbents), p.newWorker(r.incumbents)}
	for i, b := range rng.Perm(int(p.blocks)) {
		w := workers[i%2]
		r.tell(w, uint64(b))
		at, end := p.extent(uint64(b))
		w.block(uint64(b), at, end)
		r.give(w, uint64(b), &at, &end)
	}
	return r.total.result()
}

// Candidates come out as by brute force: of random studies with requirements and merits of
// any metric, in any blocks, by any workers, of shards that were interrupted and merged.
func TestCandidatesAgainstBruteForce(t *testing.T) {
	rng := rand.New(rand.NewPCG(33, 34))
	some := func(from ...string) string {
		at := rng.Perm(len(from))[:1+rng.IntN(len(from))]
		slices.Sort(at)
		var out []string
		for _, i := range at {
			out = append(out, from[i])
		}
		return strings.Join(out, ",")
	}
	readable := slices.DeleteFunc(slices.Clone(model.Metrics), func(m *model.Metric) bool {
		return m.Stage == model.StageExplain || m.Asks != "" || ofParts(m)
	})
	rounds := 200
	if testing.Short() {
		rounds = 25
	}
	reached := [Levels]int{}
	full, fullOfValues := 0, 0
	for round := range rounds {
		cutBlocks(t, []uint64{1 << 16, 1, 7, 40}[rng.IntN(4)])
		shortLists(t, 1+rng.IntN(12), 1+rng.IntN(12))
		s := study(t, small(t, map[*AxisDef]string{
			Diameter: some("3", "5"), PitchRatio: "0.7", Blades: some("2", "3"),
			Stator: some("1404", "2004", "2207"), KV: some("1300", "1700", "2100", "2900", "3800"),
			Cells: some("3", "4"), Capacity: some("500", "700", "900", "1300", "1800"), Payload: some("0", "25g"),
		}))
		s.Front = nil
		s.Maps = s.Maps[:rng.IntN(len(s.Maps)+1)]
		s.SizeBins, s.Top = 1+rng.IntN(4), 1+rng.IntN(9)
		s.Classes = []Class{{Limit: 0.25 + 0.4*rng.Float64(), Label: "a"}, {Limit: 0.7, Label: "b"}}[:1+rng.IntN(2)]
		if rng.IntN(3) == 0 {
			nest(t, s, rng, 2+rng.IntN(11))
		}
		c, err := NewEvaluator(s).Craft(rng.Uint64N(s.Grid.Size()), s.Classes[0])
		if err != nil {
			continue
		}
		value := func() (*model.Metric, float64) {
			m := readable[rng.IntN(len(readable))]
			return m, m.Of(c)
		}
		if rng.IntN(3) == 0 {
			s.Require = without(s.Require, "tip-mach", "winding-load", "burst-time")
		}
		for range rng.IntN(4) { // so that about half of the designs keep each
			m, v := value()
			if math.IsNaN(v) {
				continue
			}
			s.Require = append(s.Require, Requirement{Metric: m, AtLeast: rng.IntN(2) == 0, Bound: v})
			if r := &s.Require[len(s.Require)-1]; rng.IntN(4) > 0 { // mostly loose, as a user's
				if r.AtLeast == (v > 0) {
					r.Bound /= 1.4
				} else {
					r.Bound *= 1.4
				}
			}
		}
		if rng.IntN(3) > 0 {
			s.Merit = nil
			for range 1 + rng.IntN(3) {
				m, v := value()
				if !(math.Abs(v) > 0) || math.IsInf(v, 0) {
					continue
				}
				best := []float64{2, 0.9}[rng.IntN(2)] * v // few or many ties
				x := Term{Metric: m, Weight: 1, Worst: 0.5 * v, Best: best}
				if rng.IntN(4) == 0 {
					x.Worst, x.Best = x.Best, x.Worst
				}
				s.Merit = append(s.Merit, x)
			}
			if s.Merit == nil {
				continue
			}
		}
		s.Model = limited(t, s)
		if err := s.Check(); err != nil {
			t.Fatal(err)
		}
		want := brute(t, s)
		equalResults(t, "run", run(t, s, Options{Workers: 1 + rng.IntN(3)}), want)
		equalResults(t, "blocks in another order", shuffled(t, s, rng), want)
		for _, k := range want.Classes {
			for _, lists := range k.Candidates {
				for level, list := range lists {
					reached[level] += len(list)
					if len(list) == maxListed {
						full++
					}
				}
			}
			for _, lists := range k.OfValues {
				for level, list := range lists {
					if len(list) == max(1, maxOfValue*ofValueShares[level]/40) {
						fullOfValues++
					}
				}
			}
		}
		if round%4 > 0 {
			continue
		}
		shards := 1 + rng.IntN(3)
		var paths []string
		var states []*State
		for n := range shards {
			path := filepath.Join(t.TempDir(), "checkpoint")
			o := Options{Shard: Shard{n + 1, shards}, Checkpoint: path, Workers: 2}
			ctx, cancel := context.WithCancel(t.Context())
			cut := o
			cut.Every, cut.Progress = time.Nanosecond, func(Progress) { cancel() }
			if _, err := Run(ctx, s, cut); err != nil {
				t.Fatal(err)
			}
			o.Resume = true
			run(t, s, o)
			st, err := ReadState(path)
			if err != nil {
				t.Fatal(err)
			}
			paths, states = append(paths, path), append(states, st)
		}
		merged, err := Merge(t.Context(), s, paths, states)
		if err != nil {
			t.Fatal(err)
		}
		equalResults(t, "merged", merged, want)
		for i := range want.Classes {
			got, all := merged.Classes[i].Builds(50), want.Classes[i].Builds(50)
			if d := cmp.Diff(all, got); d != "" {
				t.Errorf("builds: %s", d)
			}
		}
	}
	t.Logf("%v builds by level, %d lists full, and %d of values", reached, full, fullOfValues)
	for level, n := range reached {
		if n < rounds {
			t.Errorf("%d builds at level %d, want %d", n, level, rounds)
		}
	}
	if full < rounds || fullOfValues < rounds {
		t.Errorf("%d lists are full and %d of values, want %d", full, fullOfValues, rounds)
	}
}
