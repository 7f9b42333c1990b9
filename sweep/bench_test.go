package sweep

import (
	"context"
	"fmt"
	"math"
	"testing"

	"rotorsieve/model"
)

// benchStudy is like the studies that people run: one class of 250 g, of which a
// good part is too heavy and a tenth feasible.
func benchStudy(b *testing.B, capacity string) *Study {
	s := study(b, small(b, map[*AxisDef]string{
		Diameter: "3,4", PitchRatio: "0.6,0.8", Blades: "2,3", Stator: "1204,1404,1507,2004",
		KV: "1200:5000:100", Cells: "2,3,4,6", Capacity: capacity, Payload: "0,10g,25g",
	}))
	s.Classes = []Class{{Limit: 0.25, Label: "250g"}}
	return usual(b, s)
}

// usual asks of a study what a run asks by default: a map of every pair of axes, a
// front and a ranking of 200.
func usual(b testing.TB, s *Study) *Study {
	s.Maps = nil
	for i, x := range s.Grid.Swept() {
		for _, y := range s.Grid.Swept()[i+1:] {
			s.Maps = append(s.Maps, MapSpec{X: s.Grid.Axes()[x].Def, Y: s.Grid.Axes()[y].Def})
		}
	}
	s.Front = []*model.Metric{metric(b, "hover-time"), metric(b, "thrust-to-weight")}
	s.Top = 200
	return s
}

// benchBlocks judges all blocks with the propellers already built: the inner loops
// and nothing else. Each pass starts with nothing found.
func benchBlocks(b *testing.B, s *Study) {
	p, err := newPlan(s)
	if err != nil {
		b.Fatal(err)
	}
	r := &runner{plan: p, last: p.blocks}
	var w *worker
	fresh := func() {
		r.next, r.total, r.incumbents = 0, p.newTotal(wholeStudy), p.newIncumbents()
		w = p.newWorker(r.incumbents)
	}
	pass := func() {
		for {
			n, ok := r.take(w)
			if !ok {
				return
			}
			at, end := r.extent(n)
			w.block(n, at, end)
			r.give(w, n, &at, &end)
		}
	}
	fresh()
	pass()
	r.feasible = 0
	b.ReportAllocs()
	b.ResetTimer()
	n := 0
	for b.Loop() {
		b.StopTimer()
		fresh()
		b.StartTimer()
		pass()
		n++
	}
	ns := float64(b.Elapsed().Nanoseconds())
	b.ReportMetric(ns/float64(n)/float64(s.Grid.Size()), "ns/design")
	if r.feasible > 0 {
		b.ReportMetric(ns/float64(r.feasible), "ns/feasible")
	}
	b.ReportMetric(0, "ns/op")
}

// All of a study: too heavy, infeasible and feasible designs.
func BenchmarkDesigns(b *testing.B) { benchBlocks(b, benchStudy(b, "300:1500:25mAh")) }

// sound is a study of which nearly every design is feasible.
func sound(b testing.TB, pitches, stators string) *Study {
	s := study(b, small(b, map[*AxisDef]string{
		Diameter: "4,5", PitchRatio: pitches, Blades: "2,3", Stator: stators,
		KV: "1250:1950:25", Cells: "4,5,6", Capacity: "1300:2500:25mAh", Payload: "0,10g,25g",
	}))
	s.Classes = []Class{{Limit: 5, Label: "5kg"}}
	return usual(b, s)
}

// Feasible designs, ranked by hover and full throttle.
func BenchmarkFeasible(b *testing.B) { benchBlocks(b, sound(b, "0.6,0.8", "2004,2207,2306")) }

// The same with a merit that needs level flight: a small grid, of which every
// fourth design betters something when its turn comes.
func BenchmarkFlying(b *testing.B) { benchBlocks(b, flying(b, "0.6,0.8", "2004,2207,2306")) }

// The same on a grid of two million designs, still small for a night.
func BenchmarkFlyingLong(b *testing.B) {
	benchBlocks(b, flying(b, "0.55:0.85:0.05", "2004,2205,2206,2207,2306,2407"))
}

// BenchmarkFlyingAll is BenchmarkFlyingLong with a merit that reads every metric
// that has a better direction.
func BenchmarkFlyingAll(b *testing.B) {
	s := flying(b, "0.55:0.85:0.05", "2004,2205,2206,2207,2306,2407")
	m, err := model.New(s.Model.Assume)
	if err != nil {
		b.Fatal(err)
	}
	e := NewEvaluator(s)
	lo, err := e.Craft(0, s.Classes[0])
	if err != nil {
		b.Fatal(err)
	}
	s.Model, s.Merit = m, nil
	for _, x := range model.Metrics {
		if x.Better == model.Neither || x.Stage == model.StageExplain || x.Asks != "" || x.ByClass {
			continue
		}
		// From a tenth to ten times what the first design has, the better way.
		v := x.Of(lo)
		t := Term{Metric: x, Weight: 1, Worst: v / 10, Best: v * 10}
		if x.Better == model.Lower {
			t.Worst, t.Best = t.Best, t.Worst
		}
		if v > 0 {
			s.Merit = append(s.Merit, t)
		}
	}
	benchBlocks(b, s)
}

func flying(b testing.TB, pitches, stators string) *Study {
	s := sound(b, pitches, stators)
	s.Merit = append(s.Merit, Term{Metric: metric(b, "top-speed"), Weight: 1, Worst: 0, Best: 60},
		Term{Metric: metric(b, "range"), Weight: 1, Worst: 0, Best: 30e3},
		Term{Metric: metric(b, "cruise-time"), Weight: 1, Worst: 0, Best: 3600})
	return s
}

// Designs that mass alone rejects.
func BenchmarkTooHeavy(b *testing.B) {
	s := benchStudy(b, "3000:15000:250mAh")
	s.Classes[0].Limit = 0.12
	benchBlocks(b, s)
}

// The plain way: one design at a time through model.Evaluate, which builds the
// propeller each time.
func BenchmarkEvaluate(b *testing.B) {
	s := benchStudy(b, "300:1500:25mAh")
	i := uint64(0)
	for b.Loop() {
		_, err := s.Model.Evaluate(s.Grid.Design(i % s.Grid.Size()))
		if err != nil && err != model.ErrNoOperatingPoint {
			b.Fatal(err)
		}
		i += 7919
	}
}

// The same with the propeller at hand, which is the least a user would hoist.
func BenchmarkComplete(b *testing.B) {
	s := benchStudy(b, "300:1500:25mAh")
	e := NewEvaluator(s)
	b.ReportAllocs()
	i := uint64(0)
	for b.Loop() {
		if _, err := e.Craft(i%s.Grid.Size(), s.Classes[0]); err != nil && err != model.ErrNoOperatingPoint {
			b.Fatal(err)
		}
		i += 7919
	}
}

// BenchmarkClasses is a study of a quarter of a kilogram with nested classes, the widest of which is
// the same however many there are: two grams apart, or spread over all masses.
func BenchmarkClasses(b *testing.B) {
	of := func(name string, atLeast bool, bound float64) Requirement {
		return Requirement{Metric: metric(b, name), AtLeast: atLeast, Bound: bound}
	}
	for _, x := range []struct {
		name  string
		n     int
		apart float64 // kg
	}{{"1", 1, 0}, {"5", 5, 0.02}, {"50-close", 50, 0.002}, {"50-wide", 50, 0.005}} {
		s := study(b, small(b, map[*AxisDef]string{
			Diameter: "3,3.5,4", PitchRatio: "0.6,0.8", Blades: "2,3", Stator: "1204,1404,1407,1504,1507,2004",
			KV: "1200:2400:200,2700:6000:300", Cells: "2,3,4,6", Capacity: "300:1500:25mAh", Payload: "0,25g",
		}))
		s.Require = append(s.Require[1:], of("hover-time", true, 240), of("thrust-to-weight", true, 3))
		s.Merit = Merit{{Metric: metric(b, "hover-time"), Weight: 0.4, Worst: 240, Best: 1200},
			{Metric: metric(b, "thrust-to-weight"), Weight: 0.6, Worst: 3, Best: 10}}
		usual(b, s)
		s.SizeBins, s.Classes = DefaultSizeBins, nil
		for i := range x.n {
			limit := 0.25 - float64(i)*x.apart
			s.Classes = append(s.Classes, Class{Limit: limit, Label: fmt.Sprintf("%gg", math.Round(limit*1e3))})
		}
		b.Run(x.name, func(b *testing.B) { benchBlocks(b, s) })
	}
}

// A whole run with its workers, the building of propellers included.
func BenchmarkRun(b *testing.B) {
	s := benchStudy(b, "300:1500:25mAh")
	for b.Loop() {
		if _, err := Run(context.Background(), s, Options{}); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(s.Grid.Size()), "ns/design")
}

// Nothing is allocated for a design: what a warm worker allocates in a block does
// not grow with the block.
func TestBlockAllocates(t *testing.T) {
	for name, s := range map[string]*Study{"hover": sound(t, "0.6", "2207"), "flight": flying(t, "0.6", "2207")} {
		p, err := newPlan(s)
		if err != nil {
			t.Fatal(err)
		}
		r := &runner{plan: p, total: p.newTotal(wholeStudy), incumbents: p.newIncumbents(), last: p.blocks}
		w := p.newWorker(r.incumbents)
		at, end := r.extent(0)
		if n := testing.AllocsPerRun(3, func() { w.block(0, at, end) }); n > 2 {
			t.Errorf("%s: %g allocations in a block of %d designs", name, n, p.blockSize)
		}
	}
}

// BenchmarkScenarios is BenchmarkDesigns and BenchmarkFlyingLong over scenarios: cold and hot, then
// at sea level and high up as well.
func BenchmarkScenarios(b *testing.B) {
	at := func(altitude, temperature float64) func(*model.Assumptions) {
		return func(a *model.Assumptions) { a.Altitude, a.Temperature = altitude, temperature }
	}
	four := []func(*model.Assumptions){at(0, 268.15), at(0, 308.15), at(2000, 268.15), at(2000, 308.15)}
	for name, of := range map[string]func() *Study{
		"designs": func() *Study { return benchStudy(b, "300:1500:25mAh") },
		"fine":    func() *Study { return benchStudy(b, "300:1500:1mAh") },
		"flying":  func() *Study { return flying(b, "0.55:0.85:0.05", "2004,2205,2206,2207,2306,2407") },
	} {
		for _, over := range Overs {
			for _, n := range []int{1, 2, 4} {
				if n == 1 && over == Mean {
					continue
				}
				s := of()
				s.Over = over
				under(b, s, four[:n]...)
				b.Run(fmt.Sprintf("%s-%v-%d", name, over, n), func(b *testing.B) { benchBlocks(b, s) })
			}
		}
	}
}
