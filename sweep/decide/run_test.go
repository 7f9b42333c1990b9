package decide

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"rotorsieve/model"
	"rotorsieve/sweep"
)

// same compares decisions to the last bit; metrics are the same where they are one.
func same(a, b *Decision) string {
	return cmp.Diff(a, b, cmpopts.EquateNaNs(), cmp.Comparer(func(x, y *model.Metric) bool { return x == y }))
}

// few is a choice of few draws.
func few(workers int) Options { return Options{Draws: 64, Fresh: 128, Seed: 3, Workers: workers} }

// What is decided does not depend on the workers, and adds up.
func TestDecision(t *testing.T) {
	t.Parallel()
	for _, x := range trials {
		s, r := x.run(t)
		d, err := Run(t.Context(), s, r, few(1))
		if err != nil {
			t.Fatal(err)
		}
		again, err := Run(t.Context(), s, r, few(4))
		if err != nil {
			t.Fatal(err)
		}
		if diff := same(d, again); diff != "" {
			t.Errorf("%s: four workers differ from one:\n%.2000s", x.name, diff)
		}
		addsUp(t, s, r, d)
		pairsUp(t, s, d)
	}
}

// pairsUp holds two designs in hand against what the choice says of them.
func pairsUp(t *testing.T, s *sweep.Study, d *Decision) {
	t.Helper()
	c := &d.Classes[0]
	for _, a := range c.Axes {
		for _, v := range a.Values {
			if !v.Any || v.Build == 0 {
				continue
			}
			of := [2]*Build{&c.Builds[v.Build], &c.Builds[0]}
			p, err := PairOf(t.Context(), Contender{s, 0, of[0].Index}, Contender{s, 0, of[1].Index},
				Options{Fresh: d.Fresh, Seed: d.Seed})
			if err != nil {
				t.Fatal(err)
			}
			for i, b := range of {
				if got := &p.Of[i]; got.Index != b.Index || got.Feasible != b.Feasible || got.Cautious != b.Cautious ||
					got.Merit != b.Merit || got.Pack != b.Pack {
					t.Errorf("%s: build %d in a pair is %+v, want %+v", s.Name, b.Index, got, b)
				}
			}
			if f := p.First; f.Better != v.Better || f.Ahead != v.Ahead || f.Level != v.Level || f.Behind != v.Behind ||
				f.Difference != v.Difference || f.Standard != v.Standard {
				t.Errorf("%s: build %d against the first is %+v, want %+v", s.Name, of[0].Index, f, v)
			}
			return // one of each study: a pair takes as long as two builds
		}
	}
}

func addsUp(t *testing.T, s *sweep.Study, r *sweep.Result, d *Decision) {
	t.Helper()
	c := &d.Classes[0]
	if c.Builds[0].Rank != 1 || c.Nominal < 0 || c.Surest < 0 || len(c.Drawn) != d.Fresh {
		t.Fatalf("%s: first of rank %d, nominal %d, surest %d, %d merits", s.Name, c.Builds[0].Rank, c.Nominal, c.Surest,
			len(c.Drawn))
	}
	best, _ := r.Classes[0].Best()
	if n := &c.Builds[c.Nominal]; n.Index != best.Index || n.Nominal != best.Score {
		t.Errorf("%s: nominal build %d of merit %v, want %d of %v", s.Name, n.Index, n.Nominal, best.Index, best.Score)
	}
	e := sweep.NewEvaluator(s)
	more := false // some build breaks a gate in draws that break another before
	for i := range c.Builds {
		b := &c.Builds[i]
		sum := b.Feasible
		for _, x := range b.Causes {
			sum += x
		}
		if !near(sum, 1, 1e-9) || i > 0 && b.Rank <= c.Builds[i-1].Rank || b.Regret < 0 ||
			(b.Feasible < 1) != (b.Cause >= 0) || len(b.Metrics) != len(d.Metrics) || len(b.Margins) != len(s.Require) {
			t.Errorf("%s: build %d: shares add up to %g: %+v", s.Name, i, sum, b)
		}
		// What is counted whatever else fails is no less than what fails there first, and no more than all that fail.
		for g, v := range b.Fails {
			if v < b.Causes[g]-1e-12 || v > 1-b.Feasible+1e-9 ||
				g > sweep.GateOperating && !near(v, 1-b.Kept[g-2], 1e-9) {
				t.Errorf("%s: build %d breaks gate %d in %g, first in %g, of %g that fail", s.Name, i, g, v,
					b.Causes[g], 1-b.Feasible)
			}
			more = more || v > b.Causes[g]+1e-9
		}
		if len(b.Fails) != len(b.Causes) {
			t.Errorf("%s: build %d fails at %d gates of %d", s.Name, i, len(b.Fails), len(b.Causes))
		}
		if b.Merit.P10 > b.Merit.P50 || b.Merit.P50 > b.Merit.P90 || b.Cautious > b.Merit.P50+1e-12 {
			t.Errorf("%s: build %d: cautious %g, merit %v", s.Name, i, b.Cautious, b.Merit)
		}
		for _, p := range [...]float64{b.Pack.P10, b.Pack.P50, b.Pack.P90} {
			if !slices.ContainsFunc(s.Grid.Axes(), func(a sweep.Axis) bool {
				return a.Def == sweep.Capacity && slices.Contains(a.Values, p)
			}) {
				t.Errorf("%s: build %d: a pack of %g A s, which the axis does not have", s.Name, i, p)
			}
		}
		// The nominal merit is what the model says of the planned design.
		craft, err := e.Craft(b.Index, s.Classes[0])
		if errors.Is(err, model.ErrNoOperatingPoint) {
			continue
		} else if err != nil {
			t.Fatal(err)
		}
		want := s.Merit.Of(craft)
		for _, q := range s.Require {
			if !q.Kept(q.Metric.Of(craft)) {
				want = 0
			}
		}
		if craft.Mass > s.Classes[0].Limit {
			want = 0
		}
		if b.Nominal != want {
			t.Errorf("%s: build %d has a nominal merit of %v, want %v", s.Name, i, b.Nominal, want)
		}
	}
	for _, a := range c.Axes {
		for _, v := range a.Values {
			if v.Any && !near(v.Ahead+v.Level+v.Behind, 1, 1e-12) {
				t.Errorf("%s: %+v adds up to %v", s.Name, v, v.Ahead+v.Level+v.Behind)
			}
			if v.Any && v.Build == 0 && (v.Level != 1 || v.Better != 0.5 || v.Difference != 0) {
				t.Errorf("%s: the first against itself: %+v", s.Name, v)
			}
		}
	}
	for _, w := range c.Worth { // whatever is worth measuring of another build is expected something of
		if planned := slices.ContainsFunc(c.Rivals, func(x RivalTests) bool {
			return x.Build == w.Build && slices.ContainsFunc(x.Tests, func(q Test) bool {
				return q.What == w.What && q.P10 > 0 && q.P10 <= q.P90
			})
		}); w.Build > 0 && w.Class != WithinNoise && !planned {
			t.Errorf("%s: %+v is worth measuring, and has no test", s.Name, w)
		}
	}
	if !more {
		t.Errorf("%s: no draw breaks two requirements", s.Name)
	}
	for i, p := range c.Line {
		if i > 0 && p.Any && (p.Cautious > c.Line[i-1].Cautious || p.Median > c.Line[i-1].Median) {
			t.Errorf("%s: the line rises: %+v", s.Name, c.Line)
		}
		if p.Any && c.Builds[p.Build].Feasible < p.Feasible {
			t.Errorf("%s: %+v is less often feasible", s.Name, p)
		}
	}
	for _, l := range c.Loosened {
		if !l.Any || l.Merit < best.Score || l.Gain < 0 {
			t.Errorf("%s: loosened %+v, the best as asked has %g", s.Name, l, best.Score)
		}
	}
	if len(c.Loosened) != len(s.Require)+1 || len(c.Weights) != len(s.Merit) || len(c.Sensitivities) != mostSensitivities {
		t.Errorf("%s: %d loosened, %d weights, %d sensitivities", s.Name, len(c.Loosened), len(c.Weights),
			len(c.Sensitivities))
	}
	for _, w := range c.Weights {
		if !(w.Least <= w.Weight && w.Weight <= w.Most) {
			t.Errorf("%s: the choice does not stand with the weights as asked: %+v", s.Name, w)
		}
	}
}

// Where nothing errs each build has its nominal merit in every draw, and keeps all
// requirements always or never.
func TestCertain(t *testing.T) {
	t.Parallel()
	for _, x := range trials {
		d := decided(t, x, few(2), certain)
		c := &d.Classes[0]
		if c.Nominal != 0 {
			t.Errorf("%s: the nominal best is at %d", x.name, c.Nominal)
		}
		for i, b := range c.Builds {
			want := 0.0
			if b.Nominal > 0 {
				want = 1
			}
			q := Quantiles{b.Nominal, b.Nominal, b.Nominal}
			if b.Feasible != want || b.Merit != q || !near(b.Cautious, b.Nominal, 1e-12) || b.Pack.P10 != b.Design.Capacity ||
				b.Pack.P90 != b.Design.Capacity {
				t.Errorf("%s: build %d: %+v", x.name, i, b)
			}
		}
	}
}

// Half as much spread again makes no build surer that keeps its bounds by the nominal model.
func TestMoreSpread(t *testing.T) {
	t.Parallel()
	o := Options{Draws: 64, Fresh: 512, Seed: 5}
	for _, x := range trials[:2] {
		s, r := x.run(t)
		var found [2]*fresh
		var builds []*build
		for i, scale := range []float64{1, 1.5} {
			w := testRunner(s)
			if builds == nil {
				builds = w.space.candidates(0, &r.Classes[0])
				builds = builds[:min(80, len(builds))]
				if err := w.plan(t.Context(), builds); err != nil {
					t.Fatal(err)
				}
			}
			e, _ := scaledBy(s.Model, scale)(o.Seed, o.Fresh)
			var err error
			if found[i], err = w.watch(t.Context(), e, builds, 1); err != nil {
				t.Fatal(err)
			}
		}
		one, more := described(found[0]), described(found[1])
		for i := range one {
			p := one[i].Feasible
			se := math.Sqrt(2 * p * (1 - p) / float64(o.Fresh))
			if builds[i].feasible && more[i].Feasible > p+2*se {
				t.Errorf("%s: build %d: P(feasible) rises from %.3f to %.3f", x.name, i, p, more[i].Feasible)
			}
		}
	}
}

func testRunner(s *sweep.Study) *runner {
	return newRunner(newRules(s, nil), s.Models(), 2)
}

// How two diameters compare does not hang on the anchors of a merit of one term.
func TestAnchors(t *testing.T) {
	t.Parallel()
	x := trials[0]
	var first *Decision
	for _, anchors := range [][2]float64{{240, 1200}, {120, 1500}, {200, 2000}} {
		x.merit = []term{{"hover-time", 1, anchors[0], anchors[1]}}
		d := decided(t, x, Options{Draws: 128, Fresh: 512, Seed: 2}, func(m *model.Model) source { return scaledBy(m, 1) })
		if first == nil {
			first = d
			continue
		}
		a, b := first.Classes[0].Axes[0].Values, d.Classes[0].Axes[0].Values
		for i := range a {
			for _, v := range [][2]float64{{a[i].Ahead, b[i].Ahead}, {a[i].Level, b[i].Level},
				{a[i].Behind, b[i].Behind}, {a[i].Better, b[i].Better}} {
				if math.Abs(v[0]-v[1]) >= 0.05 {
					t.Errorf("anchors %v: %+v, want as %+v", anchors, b[i], a[i])
					break
				}
			}
		}
	}
}

// A run ends with its context wherever it is.
func TestEndsWithContext(t *testing.T) {
	t.Parallel()
	s, r := trials[0].run(t)
	for _, share := range []float64{0, 0.2, 0.5, 0.9} {
		ctx, cancel := context.WithCancel(t.Context())
		o := few(2)
		last := 0
		o.Progress = func(done, total int) {
			if done < last || done > total {
				t.Errorf("progress of %d of %d after %d", done, total, last)
			}
			last = done
			if float64(done) >= share*float64(total) {
				cancel()
			}
		}
		if d, err := Run(ctx, s, r, o); !errors.Is(err, context.Canceled) || d != nil {
			t.Errorf("ended after %g: %v, %v", share, d, err)
		}
		cancel()
	}
}

func TestRefused(t *testing.T) {
	t.Parallel()
	s, r := trials[0].run(t)
	for _, o := range []Options{{}, {Draws: -1}, {Draws: MostDraws + 1}, {Draws: 1, Fresh: -1}} {
		if d, err := Run(t.Context(), s, r, o); err == nil {
			t.Errorf("%+v: %v", o, d)
		}
	}
}

// Of a study without a feasible design there may still be builds that some draws allow; of
// one without candidates there is nothing.
func TestNothingFeasible(t *testing.T) {
	t.Parallel()
	x := trials[0]
	x.require = []bound{{"hover-time", true, 24 * 3600}}
	s, r := x.run(t)
	d, err := Run(t.Context(), s, r, few(2))
	if err != nil {
		t.Fatal(err)
	}
	if c := d.Classes[0]; c.Nominal != -1 || len(c.Builds) > 0 && c.Builds[0].Feasible > 0 {
		t.Errorf("%+v", c)
	}
}

// The spread of one design has the nominal value within it.
func TestSpread(t *testing.T) {
	t.Parallel()
	s, r := trials[0].run(t)
	best, _ := r.Classes[0].Best()
	d := s.Grid.Design(best.Index)
	of, err := Spread(t.Context(), s.Models(), 0, d, 0.25, s.Require, 256, 1)
	if err != nil {
		t.Fatal(err)
	}
	q := of.Metrics
	hover, _ := model.LookupMetric("hover-time")
	half := []sweep.Requirement{{Metric: hover, AtLeast: true, Bound: q[slices.Index(model.Metrics, hover)].P50}}
	for _, c := range []struct {
		limit       float64
		require     []sweep.Requirement
		least, most float64
	}{{0, nil, 1, 1}, {1e-3, nil, 0, 0}, {0, half, 0.45, 0.55}, {0.25, s.Require, 0.01, 0.99}} {
		got, err := Spread(t.Context(), s.Models(), 0, d, c.limit, c.require, 256, 1)
		if err != nil {
			t.Fatal(err)
		}
		if p := got.Feasible; p < c.least || p > c.most {
			t.Errorf("within %g kg, keeping %v: P(feasible) %g, want %g to %g", c.limit, c.require, p, c.least, c.most)
		}
		for n, p := range append([]float64{got.InClass}, got.Kept...) {
			if p < got.Feasible || p > 1 {
				t.Errorf("within %g kg, keeping %v: bound %d is kept in %g of the draws, all in %g", c.limit, c.require, n, p,
					got.Feasible)
			}
		}
	}
	craft, err := s.Model.Evaluate(d)
	if err != nil {
		t.Fatal(err)
	}
	craft.Limit = 0.25
	testPlan(t, s, d, of)
	for i, m := range model.Metrics {
		v, x := m.Of(craft), q[i]
		if math.IsNaN(v) != math.IsNaN(x.P50) || x.P10 > x.P50 || x.P50 > x.P90 {
			t.Errorf("%s: %g, %+v", m.Name, v, x)
		}
		if room := 0.25*math.Abs(v) + 1e-9; v < x.P10-room || v > x.P90+room {
			t.Errorf("%s: %g lies outside %+v", m.Name, v, x)
		}
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := Spread(ctx, s.Models(), 0, d, 0, nil, 4, 1); !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
	d.Cells = 99
	if _, err := Spread(t.Context(), s.Models(), 0, d, 0, nil, 4, 1); err == nil {
		t.Error("99 cells are taken")
	}
}

func ExampleByThrottle() {
	_, err := ByThrottle([]string{"hover-time"})
	fmt.Println(err)
	// Output: "hover-time" is not kept with the throttle, want one of motor-current, pack-current, pack-c-rate, pack-load, pack-voltage, voltage-margin, burst-time
}

// The plan of a design agrees with its metrics over the same draws, and a requirement on what is
// measured is explained by it.
func testPlan(t *testing.T, s *sweep.Study, d model.Design, of *Drawn) {
	at := func(name string) int {
		m, ok := model.LookupMetric(name)
		if !ok {
			t.Fatal(name)
		}
		return slices.Index(model.Metrics, m)
	}
	if len(of.Tests) != len(tested) {
		t.Fatalf("%d tests, want %d", len(of.Tests), len(tested))
	}
	byName := map[Measurable]Test{}
	for _, x := range of.Tests {
		byName[x.What] = x
		if !(x.P10 <= x.P50 && x.P50 <= x.P90 && x.P10 > 0) || len(x.Explains) != len(s.Require) {
			t.Errorf("%v: %+v", x.What, x)
		}
	}
	craft, err := s.Model.Evaluate(d)
	if err != nil {
		t.Fatal(err)
	}
	n := byName[PropellerThrust].N * 60
	hover, _ := model.LookupMetric("hover-rpm")
	if want := 60 * craft.Hover.Speed; math.Abs(n-want) > 50 || math.Abs(math.Mod(n+1, 100)-1) > 1e-6 {
		t.Errorf("stand at %g rpm, want whole hundreds about %g (%s)", n, want, hover.Name)
	}
	for _, c := range []struct {
		got  Quantiles
		want string
	}{{byName[HoverPower].Quantiles, "hover-power"}, {of.Loads.Motor, "motor-current"},
		{of.Loads.Pack, "pack-current"}} {
		if want := of.Metrics[at(c.want)]; c.got != want {
			t.Errorf("%s: %+v, want %+v", c.want, c.got, want)
		}
	}
	law := craft.Powertrain.Drive.Motor.ColdResistance()
	if r := byName[MotorResistance].Quantiles; !(r.P10 < law && law < r.P90) {
		t.Errorf("resistance %+v, want about %g", r, law)
	}
	power, _ := model.LookupMetric("hover-power")
	own := []sweep.Requirement{{Metric: power, Bound: of.Metrics[at("hover-power")].P50}}
	got, err := Spread(t.Context(), s.Models(), 0, d, 0, own, 64, 1)
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range got.Tests {
		if x.What == HoverPower && x.Explains[0] < 1-1e-9 || x.What == MotorMass && x.Explains[0] > 0.5 {
			t.Errorf("%v explains %g of hover power", x.What, x.Explains[0])
		}
	}
	if got.Kept[0] < 0.3 || got.Kept[0] > 0.7 || got.Kept[0] != got.Feasible {
		t.Errorf("kept in %g, feasible %g", got.Kept[0], got.Feasible)
	}
}

// described is what is told of all builds.
func described(f *fresh) (all []Build) {
	for i := range f.builds {
		all = append(all, f.describe(i, f.top()))
	}
	return all
}
