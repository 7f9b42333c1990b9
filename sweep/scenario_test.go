package sweep

import (
	"context"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"rotorsieve/model"
)

var sceneStudies = flag.Int("scenarios", 0, "random studies of TestScenariosAgainstBruteForce; 0 for 60, 16 with "+
	"-short")

// under gives a study scenarios: its own assumptions, changed.
func under(t testing.TB, s *Study, changes ...func(*model.Assumptions)) {
	t.Helper()
	var all []*model.Model
	for _, change := range changes {
		a := s.Model.Assume
		change(&a)
		m, err := model.New(a)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, m)
	}
	all, err := model.Scenarios(all)
	if err != nil {
		t.Fatal(err)
	}
	s.Model, s.Others = all[0], all[1:]
}

// scenes gives a study up to four random scenarios.
func scenes(t testing.TB, s *Study, rng *rand.Rand) {
	t.Helper()
	high, hot := 200+2500*rng.Float64(), 290+25*rng.Float64()
	cold, wind := 275+15*rng.Float64(), 3+8*rng.Float64()
	kinds := []func(*model.Assumptions){
		func(*model.Assumptions) {},
		func(a *model.Assumptions) { a.Altitude, a.Temperature = high, hot },
		func(a *model.Assumptions) { a.PackTemperature = cold },
		func(a *model.Assumptions) { a.PackAged = !a.PackAged },
		func(a *model.Assumptions) { a.Wind += wind },
		func(a *model.Assumptions) { a.Altitude, a.PackTemperature = high/2, cold },
	}
	var some []func(*model.Assumptions)
	for _, i := range rng.Perm(len(kinds))[:2+rng.IntN(3)] {
		some = append(some, kinds[i])
	}
	under(t, s, some...)
	if s.Over = Worst; rng.IntN(3) == 0 {
		s.Over = Mean
	}
	// What some design just has in all of them others lack in one.
	e := NewEvaluator(s)
	for _, name := range []string{"thrust-to-weight", "hover-time", "range", "voltage-margin", "station-time"} {
		if rng.IntN(3) > 0 {
			continue
		}
		m := metric(t, name)
		for range 20 {
			all, err := e.Crafts(rng.Uint64N(s.Grid.Size()), s.Classes[0])
			if v := 0.0; err == nil {
				if v = WorstOf(m, all); v > 0 {
					v *= 0.97 + 0.06*rng.Float64()
					s.Require = append(s.Require, Requirement{Metric: m, AtLeast: true, Bound: v})
					break
				}
			}
		}
	}
	under(t, s, same(limited(t, s), s.Others)...)
}

// same are the conditions of the models, under the limits of another.
func same(limits *model.Model, others []*model.Model) (out []func(*model.Assumptions)) {
	for _, m := range append([]*model.Model{limits}, others...) {
		out = append(out, func(a *model.Assumptions) {
			*a = m.Assume
			a.PackLoad, a.CellMargin = limits.Assume.PackLoad, limits.Assume.CellMargin
		})
	}
	return out
}

// Studies of several scenarios come out as by brute force, whatever is asked of them, and keep the
// bounds by which designs are spared.
func TestScenariosAgainstBruteForce(t *testing.T) {
	rounds := 60
	if testing.Short() {
		rounds = 16
	}
	if *sceneStudies > 0 {
		rounds = *sceneStudies
	}
	rng := rand.New(rand.NewPCG(*runSeed, 61))
	defer func(n uint64) { smallBlock = n }(smallBlock)
	shortLists(t, maxListed, maxOfValue)
	shortRuns(t, leastRun)
	var designs, passed, feasible, fallen, checked uint64
	for round := range rounds {
		seed := rng.Uint64()
		own := rand.New(rand.NewPCG(seed, 62))
		s := fine(t, own)
		s.Nominal = round%4 == 3
		scenes(t, s, own)
		smallBlock = []uint64{1 << 16, 1, 30, 1000}[rng.IntN(4)]
		maxListed, leastRun = []int{1, 2, 5, 30}[rng.IntN(4)], 2+rng.IntN(4)
		maxOfValue = 1 + rng.IntN(12)
		what := fmt.Sprintf("round %d, seed %d, %v of %d", round, seed, s.Over, 1+len(s.Others))
		want := brute(t, s)
		got, n := byOne(t, s, math.MaxUint64/8, nil)
		equalResults(t, what, got, want)
		if a := got.Audit; a.Breaches > 0 {
			t.Fatalf("%s: a design breaks a bound: %+v of %s", what, a.First, a.First.Metric.Name)
		}
		if round%4 == 0 {
			two, err := Run(context.Background(), s, Options{Workers: 2})
			if err != nil {
				t.Fatal(err)
			}
			equalResults(t, what+", two workers", two, want)
		}
		designs, passed, checked = designs+s.Grid.Size(), passed+n, checked+got.Audit.Checked
		feasible += want.Classes[0].Feasible
		for _, n := range want.Classes[0].Fallen {
			fallen += n
		}
	}
	t.Logf("%d studies, %d designs, %d of them passed in runs; %d feasible, %d rejected in further scenarios; %d "+
		"audited", rounds, designs, passed, feasible, fallen, checked)
	if rounds < 50 {
		return // too few to say how many of their kind there are
	}
	if passed < designs/50 || feasible < designs/40 || fallen < designs/100 {
		t.Errorf("of %d designs %d passed in runs, %d are feasible and %d fall in further scenarios", designs, passed,
			feasible, fallen)
	}
}

// hotAndHigh is a study that keeps at sea level and on a mountain, in the cold and in the heat.
func hotAndHigh(t testing.TB) *Study {
	s := study(t, small(t, map[*AxisDef]string{Diameter: "3,5", Stator: "1404,2004,2207", KV: "1300:2500:200",
		Cells: "3,4,6", Capacity: "700:2500:100", Payload: "0,15g,40g"}))
	s.Classes = []Class{{Limit: 0.9, Label: "900g"}, {Limit: 0.5, Label: "500g"}}
	s.Front = []*model.Metric{metric(t, "hover-time"), metric(t, "thrust-to-weight")}
	s.Maps = append(s.Maps, MapSpec{X: Capacity, Y: KV, Metric: metric(t, "range")})
	s.Require = append(s.Require, Requirement{Metric: metric(t, "top-speed"), AtLeast: true, Bound: 18})
	s.Model = limited(t, s)
	at := func(altitude, temperature float64) func(*model.Assumptions) {
		return func(a *model.Assumptions) { a.Altitude, a.Temperature = altitude, temperature }
	}
	under(t, s, at(0, 308.15), at(2000, 308.15), at(2000, 268.15), at(0, 268.15))
	return s
}

// The worst is at most the mean, and that no more than the best scenario alone.
func TestOver(t *testing.T) {
	s := hotAndHigh(t)
	if a := s.Model.Assume; a.Altitude != 0 || a.Temperature != 268.15 {
		t.Fatalf("the first scenario is %g m and %g K, want the densest air", a.Altitude, a.Temperature)
	}
	run := func(s *Study) *ClassResult {
		r, err := Run(context.Background(), s, Options{})
		if err != nil {
			t.Fatal(err)
		}
		return &r.Classes[0]
	}
	worst := run(s)
	mean := *s
	mean.Over = Mean
	over := run(&mean)
	if worst.Feasible == 0 || worst.Feasible != over.Feasible || !slices.Equal(worst.Fallen, over.Fallen) {
		t.Fatalf("%d feasible by the worst, %d by the mean", worst.Feasible, over.Feasible)
	}
	var fallen uint64
	for _, n := range worst.Fallen {
		fallen += n
	}
	if fallen == 0 {
		t.Error("nothing falls in further scenarios")
	}
	best := math.Inf(-1)
	for _, m := range s.Models() {
		alone := run(s.inScenario(m))
		if alone.Feasible < worst.Feasible {
			t.Errorf("%d feasible in one scenario alone, %d in all", alone.Feasible, worst.Feasible)
		}
		best = max(best, alone.Ranking[0].Score)
	}
	if a, b := worst.Ranking[0].Score, over.Ranking[0].Score; !(a <= b && b <= best) {
		t.Errorf("best merit %g by the worst, %g by the mean, %g of one scenario", a, b, best)
	}
	e := NewEvaluator(s)
	for _, x := range worst.Ranking {
		c, err := e.Craft(x.Index, worst.Class)
		if err != nil {
			t.Fatal(err)
		}
		if m := s.Merit.Of(c); m != x.Score {
			t.Fatalf("design %d has %g in the scenario that binds, ranked with %g", x.Index, m, x.Score)
		}
		all, err := e.Crafts(x.Index, worst.Class)
		if err != nil {
			t.Fatal(err)
		}
		for _, o := range all {
			if o.Mass != all[0].Mass {
				t.Fatalf("design %d weighs %g kg in one scenario and %g in another", x.Index, o.Mass, all[0].Mass)
			}
		}
	}
}

// A scenario between two others changes nothing.
func TestImpliedScenario(t *testing.T) {
	at := func(altitude float64) func(*model.Assumptions) {
		return func(a *model.Assumptions) { a.Altitude, a.Temperature = altitude, 293.15 }
	}
	s, with := hotAndHigh(t), hotAndHigh(t)
	under(t, s, at(0), at(2000))
	under(t, with, at(0), at(2000), at(1000))
	for _, s := range []*Study{s, with} {
		s.Maps, s.Front = nil, nil
	}
	a, err := Run(context.Background(), s, Options{})
	if err != nil {
		t.Fatal(err)
	}
	b, err := Run(context.Background(), with, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for i := range a.Classes {
		x, y := &a.Classes[i], &b.Classes[i]
		if x.Feasible == 0 || x.Feasible != y.Feasible || !slices.Equal(x.Ranking, y.Ranking) {
			t.Errorf("class %s: %d feasible with one between, %d without", x.Class.Label, y.Feasible, x.Feasible)
		}
	}
}

// Shards, a run that was cut short and resumed, and a merge find the same, and a checkpoint that says
// otherwise of scenarios is refused.
func TestScenariosInParts(t *testing.T) {
	s := hotAndHigh(t)
	defer func(n uint64) { smallBlock = n }(smallBlock)
	smallBlock = 30
	whole, err := Run(context.Background(), s, Options{})
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	var paths []string
	var states []*State
	for k := 1; k <= 3; k++ {
		path := filepath.Join(dir, fmt.Sprint(k))
		o := Options{Shard: Shard{k, 3}, Checkpoint: path, Workers: 2, MaxDesigns: 300}
		for range 2 { // cut short, then to its end
			if _, err := Run(context.Background(), s, o); err != nil {
				t.Fatal(err)
			}
			o.Resume, o.MaxDesigns = true, 0
		}
		state, err := ReadState(path)
		if err != nil {
			t.Fatal(err)
		}
		paths, states = append(paths, path), append(states, state)
	}
	merged, err := Merge(context.Background(), s, paths, states)
	if err != nil {
		t.Fatal(err)
	}
	equalResults(t, "merged", merged, whole)

	one, four := s.inScenario(s.Model), s.Fingerprint()
	mean := *s
	mean.Over = Mean
	if f := one.Fingerprint(); f == four || mean.Fingerprint() == four || f == mean.Fingerprint() {
		t.Error("studies of other scenarios have one fingerprint")
	}
	p, err := newPlan(s)
	if err != nil {
		t.Fatal(err)
	}
	for name, change := range map[string]func(k *classTotal){
		"fewer in a scenario": func(k *classTotal) { k.Fallen[k.most()]-- },
		"more than all":       func(k *classTotal) { k.Fallen[k.most()] = k.Rejected[k.most()%len(k.Rejected)] + 1 },
		"by mass":             func(k *classTotal) { k.Fallen[GateClass] = 1 },
	} {
		state, err := ReadState(paths[0])
		if err != nil {
			t.Fatal(err)
		}
		total, err := state.total(p)
		if err != nil {
			t.Fatal(err)
		}
		change(&total.classes[0])
		forged := filepath.Join(dir, "forged")
		x := &runner{plan: p, total: total, options: Options{Checkpoint: forged, Shard: Shard{1, 3}}}
		if err := x.checkpoint(); err != nil {
			t.Fatal(err)
		}
		o := Options{Shard: Shard{1, 3}, Checkpoint: forged, Resume: true}
		if _, err := Run(context.Background(), s, o); err == nil {
			t.Errorf("%s: the checkpoint is taken", name)
		}
		if err := os.Remove(forged); err != nil {
			t.Fatal(err)
		}
	}
}

// most is where most designs fell in further scenarios.
func (k *classTotal) most() (at int) {
	for g, n := range k.Fallen {
		if n > k.Fallen[at] {
			at = g
		}
	}
	return at
}

// Scenarios that are not those of one craft are refused, and those out of order.
func TestScenariosRefused(t *testing.T) {
	for name, change := range map[string]func(s *Study){
		"twice":        func(s *Study) { s.Others = append(s.Others, s.Others[0]) },
		"another pack": func(s *Study) { s.Others[0] = assuming(t, "long-flight", func(*model.Assumptions) {}) },
		"out of order": func(s *Study) { s.Model, s.Others[0] = s.Others[0], s.Model },
		"too many": func(s *Study) {
			for i := range model.MostScenarios {
				a := s.Model.Assume
				a.Altitude = 3000 + float64(i)
				m, err := model.New(a)
				if err != nil {
					t.Fatal(err)
				}
				s.Others = append(s.Others, m)
			}
		},
	} {
		s := hotAndHigh(t)
		if change(s); s.Check() == nil {
			t.Errorf("%s: the study is taken", name)
		}
	}
}
