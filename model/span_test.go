package model

import (
	"flag"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"rotorsieve/model/motor"
	"rotorsieve/model/pack"
	"rotorsieve/model/rotor"
)

var spanCrafts = flag.Int("spans", 0, "crafts to hold against the bounds of spans; 0 for 10000, 3000 with -short")

// drawnModel is one far outside common assumptions, too; more says what else they are.
func drawnModel(t testing.TB, rng *rand.Rand, more ...func(*Assumptions)) *Model {
	between := func(a, b float64) float64 { return a * math.Pow(b/a, rng.Float64()) }
	return newModel(t, func(a *Assumptions) {
		a.PackGrade = pack.Grades[rng.IntN(len(pack.Grades))]
		a.PayloadArea = []float64{0, 0.003}[rng.IntN(2)]
		a.TiltLimit = []float64{math.Pi / 2, 0.6}[rng.IntN(2)]
		a.AvionicsPower = []float64{3, 3, 30, 200, 500}[rng.IntN(5)]
		a.PackTemperature = []float64{298.15, 298.15, 253.15}[rng.IntN(3)]
		a.PackAged = rng.IntN(4) == 0
		a.Altitude = []float64{0, 0, 3500}[rng.IntN(3)]
		a.Charge = 0.3 + 0.7*rng.Float64()
		a.PackLoad = []float64{1, 1, 0.6, 1.6, 100}[rng.IntN(5)]
		a.CellMargin = []float64{0, 0, 0.3, -0.4, -100}[rng.IntN(5)]
		a.Winding = 273.15 + 100*rng.Float64()
		a.PulseRate = between(20e3, 96e3)
		a.Clearance = 0.05 + 0.3*rng.Float64()
		for _, state := range more {
			state(a)
		}
	})
}

func drawnPropeller(t testing.TB, rng *rand.Rand, m *Model) *Propeller {
	between := func(a, b float64) float64 { return a * math.Pow(b/a, rng.Float64()) }
	D := between(2, 12) * in
	blades := 2 + rng.IntN(7)
	blade, err := rotor.Generic(D, D*between(0.1, 2), blades, []float64{0, between(0.06, 0.3)}[rng.IntN(2)])
	if err != nil {
		t.Fatal(err)
	}
	g := rotor.Geometry{Diameter: D, Blades: blades, Blade: blade}
	if rng.IntN(3) == 0 {
		g.Correction = rotor.Correction{Pitch: 0.05 * rng.NormFloat64(), Drag: 0.3 * (2*rng.Float64() - 1),
			Chord: 0.2 * (2*rng.Float64() - 1)}
	}
	p, err := m.PropellerOf(g)
	if err != nil { // such a blade gives no thrust
		return drawnPropeller(t, rng, m)
	}
	return p
}

// told is between what a span tells a metric to be, of crafts that have been flown or have not; false where nothing
// is to be held against it.
func told(s *Span, x *Metric, flown bool) (least, most float64, ok bool) {
	switch {
	case x.Stage > LastStage || !flown && (x.Stage == StageFlight || x.Slow):
		return 0, 0, false
	case x.Known():
		least, most = s.Range(x)
	case x.Better == Higher:
		least, most = s.AtWorst(x), s.AtBest(x)
	case x.Better == Lower:
		least, most = s.AtBest(x), s.AtWorst(x)
	default:
		return 0, 0, false
	}
	return least, most, true
}

// weighsAsTold sees that a craft weighs and hovers as its span says.
func weighsAsTold(t *testing.T, c *Craft, lightest, heaviest float64, all, none bool) {
	t.Helper()
	if !(c.Mass >= lightest && c.Mass <= heaviest) {
		t.Fatalf("mass %v is outside %v to %v", c.Mass, lightest, heaviest)
	}
	if operates := c.Operate(); operates && none || !operates && all {
		t.Fatalf("operates: %v, of the span all %v, none %v", operates, all, none)
	}
}

// held holds a craft against what its span tells a metric to be, and gives the part of the margin that its value
// uses; false where there is nothing to hold.
func held(t *testing.T, s *Span, c *Craft, x *Metric, flown bool) (v, least, most, used float64, ok bool) {
	t.Helper()
	if least, most, ok = told(s, x, flown); !ok {
		return
	}
	if v = x.Of(c); math.IsNaN(v) {
		if x.Known() && !math.IsInf(most, 1) {
			t.Errorf("%s has no value within %g to %g", x.Name, least, most)
		}
		return v, least, most, 0, false
	}
	if x.Cap > 0 {
		v = min(v, x.Cap)
	}
	if v < least || v > most {
		t.Errorf("%s is %.9g, outside %.9g to %.9g: extent %.3g, %.3g in KV, D %.3g, %d cells, %.3g kg", x.Name, v, least,
			most, s.extent, s.quicker, c.Powertrain.Propeller.Diameter, c.Powertrain.Drive.Pack.Cells, c.Mass)
	}
	if x.Known() && most > least && !math.IsInf(most, 1) {
		lo, hi := math.Inf(1), math.Inf(-1) // at the corners, within the margin
		for k := range s.crafts[:s.corners] {
			w := x.of(&s.crafts[k])
			lo, hi = min(lo, w), max(hi, w)
		}
		if most > hi {
			used = max(used, (v-hi)/(most-hi))
		}
		if least < lo {
			used = max(used, (lo-v)/(lo-least))
		}
	}
	return v, least, most, used, true
}

// No craft between the corners of a span is outside its bounds, whichever the metric; half
// of the margin is kept for crafts not tried. Controllers and operating points are as the
// span says, and hardly any bound is so wide that it says nothing.
func TestSpan(t *testing.T) {
	t.Parallel()
	wanted := 10_000
	if testing.Short() {
		wanted = 3000
	}
	if *spanCrafts > 0 {
		wanted = *spanCrafts
	}
	rng := rand.New(rand.NewPCG(11, 4))
	between := func(a, b float64) float64 { return a * math.Pow(b/a, rng.Float64()) }
	type use struct{ margin, slack, bounds, off float64 }
	uses := map[string]*use{}
	crafts, flown, lacking, joined := 0, 0, 0, 0
	for crafts < wanted {
		m := drawnModel(t, rng)
		p := drawnPropeller(t, rng, m)
		for range 200 {
			D := p.Diameter
			mot := m.Motor(motor.Stator{Diameter: between(0.3, 2) * D / 6, Height: between(3e-3, 16e-3)},
				between(40, 220)/D)
			cells := 1 + rng.IntN(8)
			first := between(2, 20) * D * D * 3.6e5
			longer := between(1e-4, 0.5) // of the larger pack
			packs := make([]pack.Pack, 7)
			refused := false
			for i := range packs {
				q := first * (1 + longer*float64(i)/6)
				if g := m.Assume.PackGrade.CellCharge(); g > 0 {
					q = g * float64(i+1+int(between(1, 40)))
					if i > 0 {
						q = math.Round(packs[i-1].Capacity/g)*g + g
					}
				}
				var err error
				packs[i], err = m.Pack(cells, q)
				refused = refused || err != nil
			}
			if refused || !pack.Grow(packs) {
				t.Fatal("packs do not grow")
			}
			lo, hi := m.Powertrain(p, mot, packs[0]), m.Powertrain(p, mot, packs[6])
			var s Span
			if !s.Joins(&lo, &hi) {
				continue
			}
			joined++
			payload := rng.Float64() * lo.AUW(0) * rng.Float64()
			if rng.IntN(4) == 0 { // with little thrust to spare
				payload = max(0, rotors*lo.Full.Thrust/gravity/(1+0.1*rng.Float64())-lo.AUW(0))
			}
			lightest, heaviest := s.Load(m, &lo, &hi, payload)
			s.Limit(heaviest * 1.1)
			all, none := s.Operate()
			fly := rng.IntN(20) == 0
			if all {
				s.Endure()
				reach := Reach{Sight: WholeSight, Least: func(float64) float64 { return packs[6].R }}
				if fly {
					s.Foresee(&reach)
				}
			}
			if none && rng.IntN(20) > 0 {
				continue // as most
			}
			for i := range packs {
				tr := m.Powertrain(p, mot, packs[i])
				var c Craft
				c.Load(m, &tr, payload)
				c.Limit = heaviest * 1.1
				if tr.Full.Controller != lo.Full.Controller || !tr.Full.OK {
					t.Fatal("another controller within a span, or no full throttle")
				}
				weighsAsTold(t, &c, lightest, heaviest, all, none)
				if none {
					lacking++
				}
				if !all {
					continue
				}
				c.Endure()
				crafts++
				if fly {
					c.Fly()
					flown++
				}
				for _, x := range Metrics {
					v, least, most, used, ok := held(t, &s, &c, x, fly)
					if !ok {
						continue
					}
					u := uses[x.Name]
					if u == nil {
						u = new(use)
						uses[x.Name] = u
					}
					u.margin = max(u.margin, used)
					if lo, hi, off, ok := s.Chord(x); ok {
						at := (packs[i].Capacity - packs[0].Capacity) / (packs[6].Capacity - packs[0].Capacity)
						line := lo + at*(hi-lo)
						if x.Known() || x.Better == Higher {
							u.off = max(u.off, (v-line)/off)
						}
						if x.Known() || x.Better == Lower {
							u.off = max(u.off, (line-v)/off)
						}
					}
					if math.IsInf(least, 0) || math.IsInf(most, 0) {
						continue
					}
					u.bounds++
					u.slack += min(1, (most-least)/max(math.Abs(most), math.Abs(least), 1e-9))
				}
			}
		}
	}
	t.Logf("%d crafts in spans, %d flown, %d of spans without an operating point, %d spans joined", crafts, flown,
		lacking, joined)
	if lacking < min(100, wanted/100) || flown < crafts/100 {
		t.Errorf("%d crafts lack an operating point, want %d; %d of %d flown", lacking, min(100, wanted/100), flown, crafts)
	}
	for _, name := range slices.Sorted(maps.Keys(uses)) {
		u := uses[name]
		t.Logf("%-26s uses %.3f of its margin, bounds are %.3f apart", name, u.margin, u.slack/max(1, u.bounds))
		if u.off != 0 {
			t.Logf("%-26s is off the line by %.3f of what it may be", name, u.off)
		}
		if u.off > 0.6 {
			t.Errorf("%s is off the line by %.3f of what it may be, want at most 0.6", name, u.off)
		}
		if u.margin > 0.5 {
			t.Errorf("%s uses %.3f of its margin, want at most half", name, u.margin)
		}
	}
}
