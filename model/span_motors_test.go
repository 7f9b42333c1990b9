package model

import (
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"rotorsieve/model/motor"
	"rotorsieve/model/pack"
)

// No craft of a motor between two and of a pack between two is outside the bounds of a span of both; half of the
// margin is kept for crafts not tried.
func TestSpanOfMotors(t *testing.T) {
	t.Parallel()
	wanted := 6000
	if testing.Short() {
		wanted = 1500
	}
	if *spanCrafts > 0 {
		wanted = *spanCrafts
	}
	rng := rand.New(rand.NewPCG(12, 5))
	between := func(a, b float64) float64 { return a * math.Pow(b/a, rng.Float64()) }
	uses := map[string]float64{}
	crafts, flown, lacking, joined, tried := 0, 0, 0, 0, 0
	for crafts < wanted {
		m := drawnModel(t, rng)
		if !m.SpansMotors() {
			continue
		}
		p := drawnPropeller(t, rng, m)
		for range 200 {
			D := p.Diameter
			stator := motor.Stator{Diameter: between(0.3, 2) * D / 6, Height: between(3e-3, 16e-3)}
			kv, wider := between(40, 220)/D, between(1e-4, LongestMotors)
			cells, first := 1+rng.IntN(8), between(2, 20)*D*D*3.6e5
			if rng.IntN(4) == 0 { // near the most that the pack can give
				first *= between(0.03, 0.5)
			}
			longer := between(1e-4, 0.5)
			k := make([]pack.Pack, 3)
			refused := false
			for i := range k {
				q := first * (1 + longer*[...]float64{0, rng.Float64(), 1}[i])
				if g := m.Assume.PackGrade.CellCharge(); g > 0 {
					q = g * float64(i+1)
				}
				var err error
				k[i], err = m.Pack(cells, q)
				refused = refused || err != nil
			}
			if refused || !pack.Grow(k) {
				t.Fatal("packs do not grow")
			}
			slow, fast := m.Motor(stator, kv), m.Motor(stator, kv*(1+wider))
			lo, hi := m.Powertrain(p, slow, k[0]), m.Powertrain(p, slow, k[2])
			fastLo, fastHi := m.Powertrain(p, fast, k[0]), m.Powertrain(p, fast, k[2])
			var s Span
			tried++
			if !s.JoinsMotors(&lo, &hi, &fastLo, &fastHi) {
				continue
			}
			joined++
			payload := rng.Float64() * lo.AUW(0) * rng.Float64()
			if rng.IntN(4) == 0 { // with little thrust to spare
				payload = max(0, rotors*lo.Full.Thrust/gravity/(1+0.1*rng.Float64())-lo.AUW(0))
			}
			lightest, heaviest := s.LoadMotors(m, &lo, &hi, &fastLo, &fastHi, payload)
			s.Limit(heaviest * 1.1)
			all, none := s.Operate()
			if !all && !none || none && rng.IntN(50) > 0 {
				continue // as most
			}
			fly := rng.IntN(20) == 0
			if all {
				s.Endure()
				s.Foresee(new(Reach))
			}
			for range 4 {
				tr := m.Powertrain(p, m.Motor(stator, kv*(1+wider*rng.Float64())), k[rng.IntN(3)])
				var c Craft
				c.Load(m, &tr, payload)
				c.Limit = heaviest * 1.1
				if tr.Full.Controller.Rating != lo.Full.Controller.Rating || !tr.Full.OK {
					t.Fatal("another controller within a span, or no full throttle")
				}
				weighsAsTold(t, &c, lightest, heaviest, all, none)
				if none {
					lacking++
					continue
				}
				c.Endure()
				crafts++
				if fly {
					c.Fly()
					flown++
				}
				for _, x := range Metrics {
					if _, _, _, used, ok := held(t, &s, &c, x, fly); ok && x.Known() {
						uses[x.Name] = max(uses[x.Name], used)
					}
				}
			}
		}
	}
	t.Logf("%d crafts in spans of two motors, %d flown, %d of spans without an operating point, %d of %d spans joined",
		crafts, flown, lacking, joined, tried)
	if lacking < wanted/100 || flown < crafts/100 || joined < tried/20 {
		t.Errorf("%d crafts lack an operating point, want %d; %d of %d spans joined; %d of %d flown",
			lacking, wanted/100, joined, tried, flown, crafts)
	}
	for _, name := range slices.Sorted(maps.Keys(uses)) {
		if t.Logf("%-26s uses %.3f of its margin", name, uses[name]); uses[name] > 0.5 {
			t.Errorf("%s uses %.3f of its margin, want at most half", name, uses[name])
		}
	}
}
