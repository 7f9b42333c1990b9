package sweep

import (
	"context"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"rotorsieve/model"
	"rotorsieve/model/frame"
	"rotorsieve/model/motor"
)

var runStudies = flag.Int("studies", 0, "random studies of TestRunsAgainstBruteForce; 0 for 150, 30 with -short")

var runSeed = flag.Uint64("seed", 2, "of the random studies of TestRunsAgainstBruteForce")

// shortRuns makes runs of few capacities, of which small studies have many.
func shortRuns(t testing.TB, n int) {
	old := leastRun
	leastRun = n
	t.Cleanup(func() { leastRun = old })
}

// byOne runs a study by one worker, every passed design audited, and gives how many designs
// were passed in runs.
func byOne(t testing.TB, s *Study, audits uint64, skew func(*model.Metric, float64) float64) (*Result, uint64) {
	t.Helper()
	got, w := byWorker(t, s, audits, skew)
	return got, w.runs.passed
}

// byWorker is byOne with the worker.
func byWorker(t testing.TB, s *Study, audits uint64, skew func(*model.Metric, float64) float64) (*Result, *worker) {
	t.Helper()
	p, err := newPlan(s)
	if err != nil {
		t.Fatal(err)
	}
	p.audits, p.runAudits, p.skew = audits, audits, skew
	r := &runner{plan: p, last: p.blocks, total: p.newTotal(wholeStudy), incumbents: p.newIncumbents()}
	w := p.newWorker(r.incumbents)
	for {
		b, ok := r.take(w)
		if !ok {
			return r.total.result(), w
		}
		at, end := r.extent(b)
		w.block(b, at, end)
		r.give(w, b, &at, &end)
	}
}

// fine is a random study with fine steps of capacity, and requirements, merits, maps and fronts
// of any metric.
func fine(t testing.TB, rng *rand.Rand) *Study {
	between := func(a, b float64) float64 { return a * math.Pow(b/a, rng.Float64()) }
	some := func(n int, from ...string) string {
		at := rng.Perm(len(from))[:1+rng.IntN(min(n, len(from)))]
		slices.Sort(at)
		var out []string
		for _, i := range at {
			out = append(out, from[i])
		}
		return strings.Join(out, ",")
	}
	list := func(first, step float64, n int, unit string) string {
		out := make([]string, n)
		for i := range out {
			out[i] = fmt.Sprintf("%.6g%s", first+step*float64(i), unit)
		}
		return strings.Join(out, ",")
	}
	diameter := between(2.5, 8)
	first, steps := 15*diameter*diameter*between(0.6, 4), 12+rng.IntN(60)
	step := first * between(2e-4, 2e-2)
	text := map[*AxisDef]string{
		Diameter: fmt.Sprintf("%.4g", diameter), PitchRatio: some(1, "0.5", "0.7", "0.9"), Blades: some(1, "2", "3"),
		Stator:   some(2, "1103", "1404", "2004", "2207", "2812"),
		Cells:    some(2, "2", "3", "4", "6"),
		Capacity: list(first, step, steps, "mAh"),
		Payload:  some(3, "0", "3g", "4g", "20g", "60g"),
	}
	kv := between(5000, 14000) / diameter
	text[KV] = list(kv, kv*between(0.03, 0.15), 2+rng.IntN(4), "")
	if own := rand.New(rand.NewPCG(math.Float64bits(kv), 55)); own.IntN(3) == 0 { // fine, for tiles
		text[KV] = list(kv, kv*(0.001+0.015*own.Float64()), leastKVs+own.IntN(10), "")
		text[Stator] = []string{"1404", "2004", "2207"}[own.IntN(3)]
	}
	s := study(t, small(t, text))
	a := model.Defaults()
	if rng.IntN(10) == 0 {
		a.FrameBuild = frame.ByBeam
	}
	if rng.IntN(3) == 0 {
		a.Board = motor.Joined
	}
	a.AvionicsPower = []float64{3, 3, 40}[rng.IntN(3)]
	a.PackAged = rng.IntN(3) == 0
	a.Airspeed, a.Wind = between(3, 30), []float64{0, 1, 1}[rng.IntN(3)]*between(1, 20)
	a.LandingReserve, a.Usable = []float64{0, 0.2}[rng.IntN(2)], []float64{0, 0.6, 0.95}[rng.IntN(3)]
	m, err := model.New(a)
	if err != nil {
		t.Fatal(err)
	}
	s.Model = m
	// Bounds and scales are taken from designs of the study.
	e := NewEvaluator(s)
	value := func(m *model.Metric) float64 {
		for range 20 {
			c, err := e.Craft(rng.Uint64N(s.Grid.Size()), s.Classes[0])
			if err == nil {
				if v := m.Of(c); !math.IsNaN(v) && v != 0 {
					return v
				}
			}
		}
		return between(0.1, 100)
	}
	readable := slices.DeleteFunc(slices.Clone(model.Metrics), func(m *model.Metric) bool {
		return m.Stage == model.StageExplain || m.Asks == "like" || ofParts(m)
	})
	any := func() *model.Metric { return readable[rng.IntN(len(readable))] }
	better := func() *model.Metric {
		for {
			if m := any(); m.Better != model.Neither && (!m.ByClass || len(s.Classes) == 1) {
				return m
			}
		}
	}
	mass := value(allUpWeight)
	s.Classes = nil
	for i := range 1 + rng.IntN(3) {
		s.Classes = append(s.Classes, Class{Limit: mass * between(0.9, 2) * float64(i+1), Label: fmt.Sprint(i)})
	}
	rng.Shuffle(len(s.Classes), func(i, j int) { s.Classes[i], s.Classes[j] = s.Classes[j], s.Classes[i] })
	if own := rand.New(rand.NewPCG(math.Float64bits(mass), 54)); own.IntN(4) == 0 {
		nest(t, s, own, 2+own.IntN(11))
	}
	if rng.IntN(3) > 0 {
		s.Require = nil
	}
	for range rng.IntN(5) {
		m := any()
		if (m.Slow || asked(m)) && rng.IntN(4) > 0 {
			continue
		}
		r := Requirement{Metric: m, AtLeast: m.Better == model.Higher || m.Better == model.Neither && rng.IntN(2) == 0}
		if rng.IntN(6) == 0 && !m.ByClass { // below 0 the oracle knows no levels of it
			r.AtLeast = !r.AtLeast
		}
		if r.Bound = value(m) * between(0.85, 1.05); !r.AtLeast {
			r.Bound = value(m) * between(0.95, 1.2)
		}
		s.Require = append(s.Require, r)
	}
	if rng.IntN(4) > 0 {
		s.Merit = nil
		for range 1 + rng.IntN(4) {
			m := any()
			if (m.Slow || asked(m)) && rng.IntN(8) > 0 {
				m = metric(t, "hover-time")
			}
			v := value(m)
			x := Term{Metric: m, Weight: 0.2 + rng.Float64(), Worst: v * between(0.3, 0.95), Best: v * between(1.02, 3)}
			if (m.Better == model.Lower) != (rng.IntN(8) == 0) {
				x.Worst, x.Best = x.Best, x.Worst
			}
			s.Merit = append(s.Merit, x)
		}
	}
	s.Maps, s.Front = nil, nil
	axes := s.Grid.Axes()
	for range rng.IntN(6) {
		x, y := axes[rng.IntN(len(axes))].Def, axes[rng.IntN(len(axes))].Def
		if x == y {
			continue
		}
		spec := MapSpec{X: x, Y: y}
		if rng.IntN(4) == 0 {
			spec.Metric = any()
		}
		s.Maps = append(s.Maps, spec)
	}
	for range rng.IntN(4) {
		if m := better(); !slices.Contains(s.Front, m) {
			s.Front = append(s.Front, m)
		}
	}
	s.Top, s.SizeBins = 1+rng.IntN(12), []int{1, 3, 12, 60, 400}[rng.IntN(5)]
	s.Model = limited(t, s)
	return s
}

// Designs that are judged in runs come out as by brute force, whatever is asked of them, and
// keep the bounds of their runs.
func TestRunsAgainstBruteForce(t *testing.T) {
	rounds := 150
	if testing.Short() {
		rounds = 30
	}
	if *runStudies > 0 {
		rounds = *runStudies
	}
	rng := rand.New(rand.NewPCG(*runSeed, 52))
	defer func(n uint64) { smallBlock = n }(smallBlock)
	shortLists(t, maxListed, maxOfValue)
	shortRuns(t, leastRun)
	var designs, passed, crossed, tiled, feasible, rejected, checked uint64
	for round := range rounds {
		seed := rng.Uint64()
		s := fine(t, rand.New(rand.NewPCG(seed, 53)))
		s.Nominal = round%4 == 3
		smallBlock = []uint64{1 << 16, 1, 30, 1000}[rng.IntN(4)]
		maxListed, leastRun = []int{1, 2, 5, 30}[rng.IntN(4)], 2+rng.IntN(4)
		maxOfValue = 1 + rng.IntN(12)
		if len(s.Grid.axes[axKV].Values) >= leastKVs && round%3 > 0 {
			smallBlock = 1 << 16
		}
		what := fmt.Sprintf("round %d, seed %d", round, seed)
		want := brute(t, s)
		got, w := byWorker(t, s, math.MaxUint64/8, nil)
		n := w.runs.passed
		crossed, tiled = crossed+w.runs.crossed, tiled+w.runs.tiled
		equalResults(t, what, got, want)
		if a := got.Audit; a.Breaches > 0 {
			t.Fatalf("%s: a design breaks a bound: %+v of %s", what, a.First, a.First.Metric.Name)
		}
		checked += got.Audit.Checked
		if round%4 == 0 {
			two, err := Run(context.Background(), s, Options{Workers: 2})
			if err != nil {
				t.Fatal(err)
			}
			equalResults(t, what+", two workers", two, want)
		}
		designs, passed = designs+s.Grid.Size(), passed+n
		if n > 0 {
			feasible += mostFeasible(want)
			rejected += s.Grid.Size() - mostFeasible(want)
		}
	}
	t.Logf("%d studies, %d designs, %d of them passed in runs, %d from class to class, %d in tiles; of studies with "+
		"runs %d feasible, %d rejected; %d audited", rounds, designs, passed, crossed, tiled, feasible, rejected,
		checked)
	if rounds < 100 {
		return // too few to say how many of their kind there are
	}
	if float64(passed) < 0.15*float64(designs) || float64(crossed) < 0.01*float64(designs) ||
		tiled < designs/50 || feasible < designs/20 || rejected < designs/20 {
		t.Errorf("%d of %d designs passed in runs, %d from class to class, %d in tiles; of studies with runs %d "+
			"feasible, %d rejected", passed, designs, crossed, tiled, feasible, rejected)
	}
}

// A merit may ask for one metric by two scales; each is bounded by its own.
func TestMeritOfOneMetricTwice(t *testing.T) {
	s := study(t, small(t, map[*AxisDef]string{Diameter: "6", Stator: "2207", KV: "1400,1500", Cells: "4",
		Capacity: "1800:2200:20mAh", Payload: "0,25g"}))
	s.Classes = []Class{{Limit: 5, Label: "5kg"}}
	e := NewEvaluator(s)
	c, err := e.Craft(s.Grid.Size()/2, s.Classes[0])
	if err != nil {
		t.Fatal(err)
	}
	m := metric(t, "cruise-time")
	v := m.Of(c)
	s.Merit = Merit{{Metric: m, Weight: 0.3, Worst: 0.9 * v, Best: 1.3 * v},
		{Metric: m, Weight: 1, Worst: 0.3 * v, Best: 0.9 * v}}
	want := brute(t, s)
	got, _ := byOne(t, s, 0, nil)
	equalResults(t, "two scales", got, want)
}

// A bound on runs that does not hold is found by the audit of the designs in them.
func TestRunsAudited(t *testing.T) {
	s := study(t, small(t, map[*AxisDef]string{Diameter: "4,5", Stator: "2004,2207", KV: "1250:1950:100", Cells: "4",
		Capacity: "1300:2500:10mAh", Payload: "0,25g"}))
	s.Classes = []Class{{Limit: 5, Label: "5kg"}}
	s.Require = append(s.Require, Requirement{Metric: metric(t, "hover-power"), Bound: 200})
	for name, by := range map[string]float64{"": 1, "hover-time": 0.93, "hover-power": 0.93} {
		r, passed := byOne(t, s, math.MaxUint64/4, func(m *model.Metric, v float64) float64 {
			if m.Name == name {
				return v * by
			}
			return v
		})
		if passed < s.Grid.Size()/5 {
			t.Errorf("%q: %d of %d designs passed in runs", name, passed, s.Grid.Size())
		}
		a := r.Audit
		if name == "" {
			if a.Checked < passed/8 || a.Breaches > 0 {
				t.Errorf("%d of %d passed were checked, %d break a bound", a.Checked, passed, a.Breaches)
			}
			continue
		}
		if a.First == nil || a.First.Metric.Name != name || a.First.Least || !(a.First.Value > a.First.Bound) {
			t.Errorf("%s made wrong: %d breaches in %d checked, first %+v", name, a.Breaches, a.Checked, a.First)
		}
	}
}

// ofParts says whether a metric is read of parts that exist.
func ofParts(m *model.Metric) bool {
	for _, x := range partReads {
		if x.metric == m.Name {
			return true
		}
	}
	return false
}

// asked says whether a metric is of flight as asked. There are many, of which runs are bounded by
// none: studies of each other metric are to be as many as without them.
func asked(m *model.Metric) bool { return m.Asks == "airspeed" || m.Windy }
