package decide

import (
	"maps"
	"slices"
	"testing"

	"rotorsieve/model"
	"rotorsieve/model/motor"
	"rotorsieve/sweep"
)

// The pack that is bought is that which a look at every capacity finds: in a draw some weigh less
// than smaller ones.
func TestBuy(t *testing.T) {
	t.Parallel()
	x := trials[0]
	x.axes = maps.Clone(x.axes)
	x.axes[sweep.Diameter], x.axes[sweep.Stator] = "3in,4in", "1404,1804"
	x.axes[sweep.Capacity] = "300:1500:25mAh"
	s, r := x.run(t)
	w := testRunner(s)
	var builds []*build
	for i := range r.Classes[0].Ranking {
		if i%10 == 0 {
			builds = append(builds, w.space.build(0, r.Classes[0].Ranking[i].Index))
		}
	}
	if err := w.plan(t.Context(), builds); err != nil {
		t.Fatal(err)
	}
	props := make([]*model.Propeller, len(builds))
	for i, x := range builds {
		var err error
		props[i], err = s.Model.Propeller(x.design.Diameter, x.design.Pitch, x.design.Blades, x.design.Chord)
		if err != nil {
			t.Fatal(err)
		}
	}
	e, _ := drawn(s.Models())(1, 200)
	n := len(w.space.axes[w.space.capacity].Values)
	moved, none, filled := 0, 0, 0
	b := w.bench()
	for k := range e.Draws() {
		b.enter(e.draw(k))
		for i, x := range builds {
			b.prop = b.vary(props[i])
			largest := -1
			for at := range n {
				if b.load(x, at); b.craft.Mass <= s.Classes[0].Limit {
					largest = at
				}
			}
			want := largest
			if !x.filled {
				want = min(want, x.planned)
			} else {
				filled++
			}
			if ok := b.buy(x); ok != (want >= 0) || b.loaded != max(want, 0) {
				t.Errorf("bought %d of %d, want %d", b.loaded, x.planned, want)
			}
			if want < 0 {
				none++
			} else if want != x.planned {
				moved++
			}
		}
	}
	if moved == 0 || none == 0 || filled == 0 {
		t.Errorf("%d moved, %d with none, %d filled: the test sees too little", moved, none, filled)
	}
}

// On a fine axis of capacities, of which not all are looked at, the planned pack is as good
// as the best of all.
func TestPlanFine(t *testing.T) {
	t.Parallel()
	x := trials[0]
	x.axes = maps.Clone(x.axes)
	x.axes[sweep.Diameter], x.axes[sweep.PitchRatio], x.axes[sweep.Stator] = "3in", "0.5", "1404,1804"
	x.axes[sweep.Capacity] = "300:1500:1mAh"
	s := x.study(t)
	w := testRunner(s)
	var builds, all []*build
	n := len(w.space.axes[w.space.capacity].Values)
	for i := uint64(0); i < s.Grid.Size(); i += uint64(n) {
		builds, all = append(builds, w.space.build(0, i+uint64(n)/3)), append(all, w.space.build(0, i))
	}
	if err := w.plan(t.Context(), builds); err != nil {
		t.Fatal(err)
	}
	best := make([]float64, len(all))
	if err := w.pass(t.Context(), models{w.nominal}, all, func(w *bench, _ int, b *build, at int) {
		for i := range n {
			if w.load(b, i); w.craft.Mass <= s.Classes[0].Limit {
				best[at] = max(best[at], w.check(b, nil).merit)
			}
		}
	}); err != nil {
		t.Fatal(err)
	}
	feasible := 0
	for i, b := range builds {
		if b.feasible {
			feasible++
		}
		if b.nominal < best[i]*(1-2e-3) {
			t.Errorf("build %d: planned %g of %g", i, b.nominal, best[i])
		}
	}
	if feasible < 5 {
		t.Errorf("only %d builds are feasible", feasible)
	}
}

// A requirement that is kept with the throttle fails only in draws in which the motors are
// too hot in hover alone, and no build is less often feasible than without.
func TestByThrottle(t *testing.T) {
	t.Parallel()
	metrics, err := ByThrottle([]string{"pack-load", "burst-time"})
	if err != nil {
		t.Fatal(err)
	}
	s, r := trials[1].run(t)
	e, err := drawn(s.Models())(3, 128)
	if err != nil {
		t.Fatal(err)
	}
	var found [2]*fresh
	var builds []*build
	for i, m := range [][]*model.Metric{nil, metrics} {
		w := newRunner(newRules(s, m), s.Models(), 2)
		if builds == nil {
			builds = w.space.candidates(0, &r.Classes[0])[:100]
			if err := w.plan(t.Context(), builds); err != nil {
				t.Fatal(err)
			}
		}
		if found[i], err = w.watch(t.Context(), e, builds, 1); err != nil {
			t.Fatal(err)
		}
	}
	gates := s.Gates()
	hot := found[0].place(metric(t, "motor-temperature"))
	load := found[0].place(metric(t, "pack-load"))
	const fuller = 2 // K, by which hover on a pack at the charge of full throttle is warmer than at its mean
	failed, saved := 0, 0
	for i := range builds {
		for k := range e.Draws() {
			a, b := &found[0].results[i*e.Draws()+k], &found[1].results[i*e.Draws()+k]
			held := func(gate int) bool { return gate >= 0 && slices.Contains(metrics, gateMetric(gates, gate)) }
			if held(a.gate) {
				failed++
			}
			if held(b.gate) && found[1].value(i, k, hot) < motor.BurstLimit-fuller {
				t.Errorf("%s fails with motors of %g K in hover", gates[b.gate].Name, found[1].value(i, k, hot))
			}
			if a.gate == kept && (b.gate != kept || a.merit != b.merit) {
				t.Errorf("what is kept at full throttle is other by throttle: %+v, %+v", *a, *b)
			}
			if held(a.gate) && b.gate == kept {
				saved++
				if v := found[1].value(i, k, load); v > 1.5 {
					t.Errorf("kept with a pack load of %g", v)
				}
			}
		}
	}
	if failed == 0 || saved == 0 {
		t.Errorf("%d draws fail by what the throttle keeps, %d of them are kept: the test sees nothing", failed, saved)
	}
	for _, wrong := range [][]string{{"pack-load", "pack-load"}, {"tip-mach"}, {"nonsense"}} {
		if _, err := ByThrottle(wrong); err == nil {
			t.Errorf("%v is taken", wrong)
		}
	}
}

func gateMetric(gates []sweep.Gate, gate int) *model.Metric {
	if r := gates[gate].Requirement; r != nil {
		return r.Metric
	}
	return nil
}

// A craft that is held back keeps what was held by full throttle just so.
func TestHoldBack(t *testing.T) {
	t.Parallel()
	s, r := trials[1].run(t)
	w := testRunner(s)
	b := w.bench()
	b.enter(w.nominal)
	best, _ := r.Classes[0].Best()
	x := w.space.build(0, best.Index)
	var err error
	if b.prop, err = s.Model.Propeller(x.design.Diameter, x.design.Pitch, x.design.Blades, x.design.Chord); err != nil {
		t.Fatal(err)
	}
	for _, name := range throttled {
		m := metric(t, name)
		b.load(x, x.planned)
		if !b.craft.Operate() {
			t.Fatal("it does not operate")
		}
		full, thrust := b.read(m), metric(t, "thrust-to-weight").Of(&b.craft)
		q := sweep.Requirement{Metric: m, AtLeast: m.Better == model.Higher, Bound: full * 0.8}
		if q.AtLeast {
			q.Bound = full * 1.05
		}
		part, ok := b.holdBack(&q, 1)
		now := b.read(m)
		if less := metric(t, "thrust-to-weight").Of(&b.craft); !ok || !q.Kept(now) || q.Shortfall(now*(1+2*holdFine)) == 0 &&
			q.Shortfall(now*(1-10*holdFine)) == 0 && !near(now, q.Bound, 0.01*q.Bound) || less >= thrust || part >= 1 {
			t.Errorf("%s: from %g to %g at %g of full throttle, bound %g; thrust %g to %g", name, full, now, part, q.Bound,
				thrust, less)
		}
		impossible := sweep.Requirement{Metric: m, AtLeast: q.AtLeast, Bound: 0}
		if q.AtLeast {
			impossible.Bound = 1e6
		}
		before := b.read(m)
		if _, ok := b.holdBack(&impossible, part); ok || b.read(m) != before {
			t.Errorf("%s: held back in vain, from %g to %g", name, before, b.read(m))
		}
	}
}
