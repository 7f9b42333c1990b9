package model

import (
	"math"
	"math/rand/v2"
	"testing"

	"rotorsieve/model/motor"
	"rotorsieve/model/pack"
)

// No craft between two that have been flown is better than the line between them by more than the
// margin; half of that is kept for crafts not tried. Most crafts that fly are settled.
func TestFlownChord(t *testing.T) {
	t.Parallel()
	wanted := 6000
	if testing.Short() {
		wanted = 2000
	}
	if *spanCrafts > 0 {
		wanted = *spanCrafts
	}
	rng := rand.New(rand.NewPCG(17, 4))
	between := func(a, b float64) float64 { return a * math.Pow(b/a, rng.Float64()) }
	uses := map[string]float64{}
	crafts, joined, settled := 0, 0, 0
	for crafts < wanted {
		m := drawnModel(t, rng)
		if m.Assume.PackGrade.CellCharge() > 0 {
			continue // steps of whole cells are far apart
		}
		p := drawnPropeller(t, rng, m)
		for range 100 {
			D := p.Diameter
			mot := m.Motor(motor.Stator{Diameter: between(0.3, 2) * D / 6, Height: between(3e-3, 16e-3)},
				between(40, 220)/D)
			cells := 1 + rng.IntN(8)
			first, longer := between(2, 20)*D*D*3.6e5, between(1e-4, longestSpan)
			packs := make([]pack.Pack, 9)
			for i := range packs {
				var err error
				if packs[i], err = m.Pack(cells, first*(1+longer*float64(i)/8)); err != nil {
					t.Fatal(err)
				}
			}
			lo, hi := m.Powertrain(p, mot, packs[0]), m.Powertrain(p, mot, packs[8])
			var s Span
			if !s.Joins(&lo, &hi) {
				continue
			}
			payload := 0.5 * rng.Float64() * lo.AUW(0)
			fly := func(k pack.Pack) (c Craft, ok bool) {
				tr := m.Powertrain(p, mot, k)
				c.Load(m, &tr, payload)
				if !c.Operate() {
					return c, false
				}
				c.Endure()
				c.Fly()
				return c, true
			}
			a, fliesA := fly(packs[0])
			b, fliesB := fly(packs[8])
			if !fliesA || !fliesB || a.Flight.Top.Airspeed == 0 || b.Flight.Top.Airspeed == 0 {
				continue
			}
			joined++
			if !a.Settled() || !b.Settled() || a.Flight.Limit != b.Flight.Limit {
				continue
			}
			settled++
			for _, k := range packs[1:8] {
				c, ok := fly(k)
				if !ok {
					t.Fatal("no operating point between two")
				}
				crafts++
				for _, x := range Metrics {
					if x.Stage != StageFlight || x.Slow {
						continue
					}
					v, w := x.Of(&a), x.Of(&b)
					off, ok := x.FlownChord(v, w, packs[8].Capacity/packs[0].Capacity-1)
					if !ok {
						continue
					}
					line := v + (k.Capacity-packs[0].Capacity)/(packs[8].Capacity-packs[0].Capacity)*(w-v)
					over := (x.Of(&c) - line) / off
					if x.Better == Lower {
						over = -over
					}
					uses[x.Name] = max(uses[x.Name], over)
				}
			}
		}
	}
	if share := float64(settled) / float64(joined); share < 0.5 {
		t.Errorf("%.2f of the pairs are settled", share)
	}
	for name, use := range uses {
		if use > 0.5 {
			t.Errorf("%s: %.2f of the margin is used", name, use)
		}
	}
	t.Logf("%d crafts between %d pairs of %d; of the margin is used %v", crafts, settled, joined, uses)
}
