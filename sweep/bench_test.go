package sweep

import (
	"context"
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
	for i, x := range s.Grid.Swept() {
		for _, y := range s.Grid.Swept()[i+1:] {
			s.Maps = append(s.Maps, MapSpec{X: s.Grid.Axes()[x].Def, Y: s.Grid.Axes()[y].Def})
		}
	}
	s.Front = []*model.Metric{metric(b, "hover-time"), metric(b, "thrust-to-weight")}
	s.Top = 200
	return s
}

// blocks judges all blocks with the propellers already built: the inner loops
// and nothing else.
func benchBlocks(b *testing.B, s *Study) {
	p, err := newPlan(s)
	if err != nil {
		b.Fatal(err)
	}
	r := &runner{plan: p, total: p.newTotal(), last: p.blocks}
	w := p.newWorker()
	pass := func() {
		r.next, r.total.done = 0, blockSet{}
		for {
			n, ok := r.take(w)
			if !ok {
				return
			}
			at, end := r.span(n)
			w.block(n, at, end)
			r.give(w, n, &at, &end)
		}
	}
	pass()
	r.feasible = 0
	b.ReportAllocs()
	b.ResetTimer()
	n := 0
	for b.Loop() {
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
func sound(b *testing.B) *Study {
	s := study(b, small(b, map[*AxisDef]string{
		Diameter: "4,5", PitchRatio: "0.6,0.8", Blades: "2,3", Stator: "2004,2207,2306",
		KV: "1000:1700:25", Cells: "4,5,6", Capacity: "1300:2500:25mAh", Payload: "0,10g,25g",
	}))
	s.Classes = []Class{{Limit: 5, Label: "5kg"}}
	for i, x := range s.Grid.Swept() {
		for _, y := range s.Grid.Swept()[i+1:] {
			s.Maps = append(s.Maps, MapSpec{X: s.Grid.Axes()[x].Def, Y: s.Grid.Axes()[y].Def})
		}
	}
	s.Front = []*model.Metric{metric(b, "hover-time"), metric(b, "thrust-to-weight")}
	s.Top = 200
	return s
}

// Feasible designs, ranked by hover and full throttle.
func BenchmarkFeasible(b *testing.B) { benchBlocks(b, sound(b)) }

// The same with a merit that needs level flight.
func BenchmarkFlying(b *testing.B) {
	s := sound(b)
	s.Merit = append(s.Merit, Term{Metric: metric(b, "top-speed"), Weight: 1, Worst: 0, Best: 60},
		Term{Metric: metric(b, "range"), Weight: 1, Worst: 0, Best: 30e3},
		Term{Metric: metric(b, "cruise-time"), Weight: 1, Worst: 0, Best: 3600})
	benchBlocks(b, s)
}

// Designs that mass alone turns away.
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
