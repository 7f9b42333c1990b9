package model

import (
	"cmp"
	"math"
	"math/rand/v2"
	"testing"

	"rotorsieve/model/frame"
	"rotorsieve/model/motor"
	"rotorsieve/model/pack"
	"rotorsieve/model/rotor"
	"rotorsieve/model/unit"
)

// What is foreseen of level flight is never bettered by the flight itself, for
// crafts in any order, and a bound is not so wide that it says nothing.
func TestForesee(t *testing.T) {
	t.Parallel()
	rng, asks := rand.New(rand.NewPCG(1, 5)), rand.New(rand.NewPCG(1, 6))
	between := func(a, b float64) float64 { return a * math.Pow(b/a, rng.Float64()) }
	bounded := []string{"top-speed", "cruise-power", "cruise-time", "range", "climb-rate",
		"thrust-response-time", "thrust-response-down", "cruise-motor-temperature", "top-speed-time", "flight-tip-mach",
		"airspeed-power", "airspeed-current", "airspeed-time", "airspeed-range", "station-time", "range-upwind",
		"range-return"}
	// known from rest alone
	wide := map[string]float64{"cruise-motor-temperature": 0.4, "flight-tip-mach": 0.6, "top-speed-time": 0.45,
		"climb-rate": 0.7} // with little thrust to spare
	closest := map[string]float64{}
	slack := map[string][]float64{}
	crafts, warmest := 0, 0.0
	for range 190 {
		m := drawnModel(t, rng, func(a *Assumptions) {
			if rng.IntN(3) == 0 {
				a.FrameBuild = frame.ByBeam
			}
			a.Airspeed = 2 * math.Pow(20, asks.Float64())
			a.Wind = []float64{0, 1, 1, 1, 1}[asks.IntN(5)] * 1.5 * math.Pow(20, asks.Float64())
			a.LandingReserve = []float64{0, 0.2}[asks.IntN(2)]
			a.Usable = []float64{0, 0.5, 0.95}[asks.IntN(3)]
		})
		D := between(2, 12) * in
		blades := 2 + rng.IntN(7)
		blade, err := rotor.Generic(D, D*between(0.1, 2), blades, []float64{0, between(0.06, 0.3)}[rng.IntN(2)])
		if err != nil {
			t.Fatal(err)
		}
		g := rotor.Geometry{Diameter: D, Blades: blades, Blade: blade}
		if rng.IntN(3) == 0 { // as by measurements, two spreads away
			g.Correction = rotor.Correction{Pitch: 0.05 * rng.NormFloat64(), Drag: 0.3 * (2*rng.Float64() - 1),
				Chord: 0.2 * (2*rng.Float64() - 1)}
		}
		p, err := m.PropellerOf(g)
		if err != nil {
			t.Fatal(err)
		}
		for range 12 {
			s := motor.Stator{Diameter: between(0.3, 2) * D / 6, Height: between(3e-3, 16e-3)}
			mot := m.Motor(s, between(40, 220)/D)
			cells := 1 + rng.IntN(8)
			var packs []pack.Pack
			for range 6 {
				capacity := between(2, 20) * D * D * 3.6e5
				if g := m.Assume.PackGrade.CellCharge(); g > 0 {
					capacity = g * float64(1+rng.IntN(3))
				}
				k, err := m.Pack(cells, capacity)
				if err != nil {
					continue
				}
				packs = append(packs, k)
			}
			if len(packs) == 0 {
				continue
			}
			least := packs[0].R
			for _, k := range packs {
				least = math.Min(least, k.R)
			}
			reach := Reach{Sight: WholeSight, Least: func(float64) float64 { return least }}
			for range 20 {
				var c Craft
				tr := m.Powertrain(p, mot, packs[rng.IntN(len(packs))])
				payload := rng.Float64() * tr.AUW(0) * rng.Float64()
				if rng.IntN(4) == 0 { // with little thrust to spare
					payload = max(0, rotors*tr.Full.Thrust/gravity/(1+0.1*rng.Float64())-tr.AUW(0))
				}
				c.Load(m, &tr, payload)
				if !c.Operate() {
					continue
				}
				c.Endure()
				c.Foresee(&reach)
				var best []float64
				for _, name := range bounded {
					x, _ := LookupMetric(name)
					best = append(best, x.AtBest(&c))
				}
				c.Fly()
				crafts++
				for _, x := range Metrics[:len(Metrics)-1] { // all but the ceiling, which is explained alone
					v, b := x.Of(&c), x.Natural()
					if v < b.Min || v > b.Max {
						t.Errorf("%s is %g, want a value within %+v", x.Name, v, b)
					}
				}
				warm, _ := LookupMetric("cruise-motor-temperature")
				// What stands for all that is hotter bounds nothing, and is above all limits.
				if v := warm.AtWorst(&c); v < motor.Hottest {
					air := c.Model.Air.Temperature
					warmest = math.Max(warmest, (warm.Of(&c)-air)/(v-air))
				}
				for i, name := range bounded {
					x, _ := LookupMetric(name)
					of, top := x.Of(&c), best[i]
					if x.Better == Higher && x.Cap > 0 && of >= x.Cap { // stands for all beyond
						if top < x.Cap {
							t.Errorf("%s is %g, past its bound of %g", name, of, top)
						}
						continue
					}
					if of == 0 && top == 0 || math.IsNaN(of) { // a pack that cannot give the power, a speed not reached
						continue
					}
					if x.Kind == unit.Temperature { // above the air
						of, top = of-c.Model.Air.Temperature, top-c.Model.Air.Temperature
					}
					v := of / top
					if x.Better == Lower {
						v = 1 / v
					}
					if v > 1 {
						t.Errorf("%s is %g times the bound: D %.3g m, %g rpm/V, %d cells, %.3g kg", name, v, D,
							60/(2*math.Pi*mot.Kt), cells, c.Mass)
					}
					if name == "station-time" && m.Assume.Wind == 0 {
						continue // hover, which is known
					}
					closest[name] = math.Max(closest[name], v)
					if x.Cap > 0 && best[i] >= x.Cap {
						continue // nothing is known
					}
					slack[name] = append(slack[name], v)
				}
			}
		}
	}
	if crafts < 3000 {
		t.Errorf("%d crafts flown, want 3000", crafts)
	}
	t.Logf("motors in cruise: at most %.4f of their bound above the air", warmest)
	if warmest > 0.9 {
		t.Errorf("motors in cruise come to %.4f of their bound above the air, want at most 0.9", warmest)
	}
	for _, name := range bounded {
		v := slack[name]
		sum, n := 0.0, 0
		for _, x := range v {
			if x > 0 {
				sum += x
				n++
			}
		}
		t.Logf("%s: at most %.4f of the bound, on average %.3f", name, closest[name], sum/float64(n))
		if mean := sum / float64(n); mean < cmp.Or(wide[name], 0.8) {
			t.Errorf("%s is on average %.3f of its bound: too wide", name, mean)
		}
		// Half of the margin is kept for crafts not tried.
		if closest[name] > 1-0.001 {
			t.Errorf("%s comes to %.4f of its bound, want at most %.4f", name, closest[name], 1-0.001)
		}
	}
}
