package sweep

import (
	"context"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"rotorsieve/model"
	"rotorsieve/model/frame"
	"rotorsieve/model/motor"
	"rotorsieve/model/pack"
)

func equalResults(t *testing.T, what string, got, want *Result) {
	t.Helper()
	opt := cmp.Comparer(func(a, b *model.Metric) bool { return a == b })
	axes := cmp.Comparer(func(a, b *AxisDef) bool { return a == b })
	inside := cmp.AllowUnexported(FrontPoint{})
	if d := cmp.Diff(want.Classes, got.Classes, opt, axes, inside, cmpopts.EquateEmpty(),
		cmpopts.EquateNaNs()); d != "" {
		if len(d) > 2000 {
			d = d[:2000]
		}
		t.Fatalf("%s: results differ (-want +got):\n%s", what, d)
	}
}

// Shortcuts, hoisting and workers change nothing: random small studies are
// judged by brute force and by Run, and must agree to the last bit.
func TestRunAgainstBruteForce(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	pick := func(from []string) string {
		n := 1 + r.IntN(len(from))
		p := r.Perm(len(from))[:n]
		slices.Sort(p)
		var out []string
		for _, i := range p {
			out = append(out, from[i])
		}
		return strings.Join(out, ",")
	}
	rounds := 16
	var feasible uint64
	if testing.Short() {
		rounds = 8
	}
	for round := range rounds {
		s := study(t, small(t, map[*AxisDef]string{
			Diameter: pick([]string{"2.5", "4", "7"}),
			Blades:   pick([]string{"2", "3"}),
			Stator:   pick([]string{"1103", "1404", "2207", "2812"}),
			KV:       pick([]string{"900", "1700", "2600", "4500", "9000"}),
			Cells:    pick([]string{"2", "4", "6"}),
			Capacity: pick([]string{"300", "550", "850", "1300", "4000"}),
			Payload:  pick([]string{"0", "15g", "80g"}),
		}))
		if round%3 == 2 {
			a := model.Defaults()
			a.FrameBuild, a.Board = frame.ByBeam, motor.Joined
			m, err := model.New(a)
			if err != nil {
				t.Fatal(err)
			}
			s.Model = m
		}
		s.Front = []*model.Metric{metric(t, "hover-time"), metric(t, "thrust-to-weight")}
		// Every pair of axes as a map, in either order: block and grid axes, alone
		// and together.
		s.Maps = nil
		for i, a := range s.Grid.Axes() {
			for j, b := range s.Grid.Axes() {
				if i != j && r.IntN(2) == 0 {
					s.Maps = append(s.Maps, MapSpec{X: a.Def, Y: b.Def})
				}
			}
		}
		switch round % 4 {
		case 0: // a front may have the margin to the only class
			s.Classes = s.Classes[len(s.Classes)-1:]
			s.Front = []*model.Metric{metric(t, "class-margin"), metric(t, "hover-time")}
		case 1:
			s.Require = append(s.Require, Requirement{Metric: metric(t, "hover-time"), AtLeast: true, Bound: 300},
				Requirement{Metric: metric(t, "class-margin"), AtLeast: true, Bound: 0.02},
				Requirement{Metric: metric(t, "top-speed"), AtLeast: true, Bound: 10})
			s.Merit = append(s.Merit, Term{Metric: metric(t, "range"), Weight: 1, Worst: 0, Best: 10e3})
		case 2:
			s.Require = nil
			s.Merit = Merit{{Metric: metric(t, "class-margin"), Weight: 1, Worst: 0, Best: 0.1},
				{Metric: metric(t, "hover-time"), Weight: 2, Worst: 0, Best: 600}}
			s.Maps = append(s.Maps, MapSpec{X: Cells, Y: Capacity, Metric: metric(t, "hover-power")},
				MapSpec{X: Payload, Y: Diameter, Metric: metric(t, "hover-time")},
				MapSpec{X: KV, Y: Cells, Metric: metric(t, "hover-time")})
			s.Front = append(s.Front, metric(t, "tip-mach"))
			s.Maps = append(s.Maps, MapSpec{X: Diameter, Y: KV, Metric: metric(t, "cruise-time")})
		case 3:
			nest(t, s, rand.New(rand.NewPCG(uint64(round), 75)), 9)
		}
		want := brute(t, s)
		defer func(n uint64) { smallBlock = n }(smallBlock)
		smallBlock = []uint64{1 << 16, 1, 4, 30}[r.IntN(4)]
		feasible += mostFeasible(want)
		for _, workers := range []int{1, 3} {
			got, err := Run(context.Background(), s, Options{Workers: workers})
			if err != nil {
				t.Fatal(err)
			}
			equalResults(t, "run", got, want)
			for _, c := range got.Classes {
				sum := c.Feasible
				for _, n := range c.Rejected {
					sum += n
				}
				if sum != s.Grid.Size() {
					t.Fatalf("tally of %s adds up to %d of %d", c.Class.Label, sum, s.Grid.Size())
				}
			}
		}
	}
	if feasible < uint64(40*rounds) {
		t.Errorf("only %d designs of all rounds were feasible", feasible)
	}
}

// assuming is a model with a pack of a grade and other assumptions changed.
func assuming(t *testing.T, grade string, change func(*model.Assumptions)) *model.Model {
	t.Helper()
	a := model.Defaults()
	at := slices.IndexFunc(pack.Grades, func(g *pack.Grade) bool { return g.Name == grade })
	a.PackGrade = pack.Grades[at]
	change(&a)
	m, err := model.New(a)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// At a small pitch tips may be slower at top speed than in hover.
func TestSmallPitch(t *testing.T) {
	s := study(t, small(t, map[*AxisDef]string{Diameter: "9.035", PitchRatio: "0.11,0.115,0.12", Blades: "6",
		Chord: "0.114", Stator: "6004",
		KV: "1560:1720:10", Cells: "4", Capacity: "5000", Payload: "200g"}))
	tips := metric(t, "flight-tip-mach")
	s.Model, s.Require, s.Front, s.Top, s.SizeBins = assuming(t, "21700-energy", func(*model.Assumptions) {}), nil, nil,
		1, 1
	s.Classes = []Class{{Limit: 3, Label: "3kg"}}
	s.Merit = Merit{{Metric: tips, Weight: 1, Worst: 0.5, Best: 0.2}}
	s.Maps = []MapSpec{{X: Diameter, Y: Cells, Metric: tips}}
	got, err := Run(context.Background(), s, Options{Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	want := brute(t, s)
	if want.Classes[0].Feasible < 40 {
		t.Fatalf("%d designs are feasible, want 40", want.Classes[0].Feasible)
	}
	equalResults(t, "run", got, want)
}

// Blades that are stalled at rest may draw more at top speed than at rest, where the
// pack's limit then comes before full duty.
func TestStalledAtRest(t *testing.T) {
	s := study(t, small(t, map[*AxisDef]string{Diameter: "9.233", PitchRatio: "1.908", Blades: "4", Chord: "0.1504",
		Stator: "5406.2:5406.6:0.02",
		KV:     "614", Cells: "8", Capacity: "8500", Payload: "2.924kg"}))
	s.Model = assuming(t, "long-flight", func(a *model.Assumptions) {
		a.Altitude, a.PackTemperature, a.Winding, a.Charge = 3500, 333.15, 259.9, 0.564
		a.Avionics, a.AvionicsPower, a.FrameFactor, a.Clearance = 0.3, 500, 0.34, 0.14
		a.PackLoad = 1
	})
	s.Front, s.Maps, s.Top, s.SizeBins = nil, nil, 1, 1
	s.Classes = []Class{{Limit: 50, Label: "50kg"}}
	s.Merit = Merit{{Metric: metric(t, "hover-time"), Weight: 1, Worst: 0, Best: 3000}}
	s.Require = []Requirement{{Metric: metric(t, "top-speed-time"), AtLeast: true, Bound: 100}}
	got, err := Run(context.Background(), s, Options{Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	want := brute(t, s)
	if n := want.Classes[0].Feasible; n == 0 || n == s.Grid.Size() {
		t.Fatalf("%d designs are feasible, want some", n)
	}
	equalResults(t, "run", got, want)
}

// limited is the study's model with the limits that its requirements set.
func limited(t testing.TB, s *Study) *model.Model {
	t.Helper()
	m, err := model.New(Limited(s.Model.Assume, s.Require))
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func without(require []Requirement, names ...string) []Requirement {
	return slices.DeleteFunc(slices.Clone(require),
		func(r Requirement) bool { return slices.Contains(names, r.Metric.Name) })
}

// withLimits are the requirements with other bounds on what a pack gives: its use of the
// burst limit, and the cell voltage in V above the floor.
func withLimits(t *testing.T, require []Requirement, load, margin float64) []Requirement {
	return append(without(require, "pack-load", "voltage-margin"),
		Requirement{Metric: metric(t, "pack-load"), Bound: load}, Requirement{Metric: metric(t, "voltage-margin"),
			AtLeast: true, Bound: margin})
}

// Designs that are spared their flight change nothing: merits, maps, fronts and
// requirements that read it come out as without.
func TestSparedFlight(t *testing.T) {
	grid := small(t, map[*AxisDef]string{Diameter: "3,5", PitchRatio: "0.6,0.8", Stator: "1404,2004,2207",
		KV:    "1300:2500:200",
		Cells: "3,4,6", Capacity: "700:2500:100", Payload: "0,15g,40g"})
	term := func(name string, worst, best float64) Term {
		return Term{Metric: metric(t, name), Weight: 1, Worst: worst, Best: best}
	}
	atLeast := func(name string, v float64) Requirement {
		return Requirement{Metric: metric(t, name), AtLeast: true, Bound: v}
	}
	for name, change := range map[string]func(*Study){
		"merit": func(s *Study) {
			s.Merit = Merit{term("top-speed", 0, 60), term("range", 0, 30e3), term("cruise-time", 0, 3600)}
		},
		"merit that wants it slow": func(s *Study) {
			s.Merit = Merit{term("hover-time", 0, 1800), term("top-speed", 40, 10), term("cruise-power", 300, 20)}
		},
		"one that saturates": func(s *Study) {
			s.Merit = Merit{term("top-speed", 0, 15),
				term("thrust-to-weight", 2, 3)}
		},
		"slow": func(s *Study) { s.Merit = append(s.Merit, term("thrust-response-time", 0.2, 0.02)) },
		"slow in a map and on the front": func(s *Study) {
			s.Maps = append(s.Maps, MapSpec{X: Capacity, Y: KV, Metric: metric(t, "thrust-response-down")})
			s.Front = []*model.Metric{metric(t, "thrust-response-time"), metric(t, "hover-time")}
			s.Merit = Merit{term("top-speed", 0, 60)}
		},
		"unbounded": func(s *Study) {
			s.Merit = append(s.Merit, term("climb-rate", 0, 30), term("flight-tip-mach", 0.9, 0.3))
		},
		"flight as asked": func(s *Study) {
			s.Model = assuming(t, "high-rate", func(a *model.Assumptions) {
				a.Airspeed, a.Wind, a.LandingReserve = 14, 7, 0.2
			})
			s.Merit = Merit{term("airspeed-time", 0, 1800), term("station-time", 0, 1800), term("range-upwind", 0, 10e3)}
			s.Require = append(s.Require, atLeast("range-return", 500), atLeast("airspeed-range", 3e3))
			s.Front = []*model.Metric{metric(t, "airspeed-power"), metric(t, "range-return")}
			s.Maps = append(s.Maps, MapSpec{X: Capacity, Y: KV, Metric: metric(t, "station-time")},
				MapSpec{X: KV, Y: Diameter, Metric: metric(t, "airspeed-current")})
		},
		"faster than some": func(s *Study) {
			s.Model = assuming(t, "high-rate", func(a *model.Assumptions) { a.Airspeed, a.Wind = 30, 26 })
			s.Merit = Merit{term("airspeed-time", 0, 1800), term("hover-time", 0, 1800)}
			s.Front = []*model.Metric{metric(t, "airspeed-time"), metric(t, "hover-time"), metric(t, "range-upwind")}
			s.Maps = append(s.Maps, MapSpec{X: Capacity, Y: KV, Metric: metric(t, "station-time")},
				MapSpec{X: KV, Y: Cells, Metric: metric(t, "airspeed-power")})
		},
		"all metrics, every third the wrong way": func(s *Study) {
			s.Model = assuming(t, "high-rate", func(a *model.Assumptions) { a.Airspeed, a.Wind = 12, 5 })
			c, err := NewEvaluator(s).Craft(s.Grid.Size()/2, s.Classes[0])
			if err != nil {
				t.Fatal(err)
			}
			s.Merit = nil
			for i, m := range model.Metrics {
				v := m.Of(c)
				if m.Stage > model.LastStage || m.Asks == "like" || !(v > 0) {
					continue
				}
				x := term(m.Name, 0.7*v, 1.5*v)
				if (m.Better == model.Lower) != (i%3 == 0) {
					x.Worst, x.Best = x.Best, x.Worst
				}
				s.Merit = append(s.Merit, x)
			}
			if len(s.Merit) < 35 {
				t.Errorf("%d terms, want nearly all metrics", len(s.Merit))
			}
		},
		"maps": func(s *Study) {
			s.Maps = append(s.Maps, MapSpec{X: Capacity, Y: KV, Metric: metric(t, "range")},
				MapSpec{X: Payload, Y: Cells, Metric: metric(t, "cruise-power")},
				MapSpec{X: Diameter, Y: KV, Metric: metric(t, "top-tilt")})
		},
		"front": func(s *Study) {
			s.Front = []*model.Metric{metric(t, "range"), metric(t, "cruise-power"), metric(t, "thrust-to-weight")}
		},
		"top speed of packs used hard": func(s *Study) {
			s.Merit = Merit{term("top-speed", 0, 60), term("top-speed-time", 0, 60)}
			s.Require = withLimits(t, s.Require, 1.6, -0.4)
		},
		"top speed of packs spared": func(s *Study) {
			s.Merit = Merit{term("top-speed", 0, 60), term("flight-tip-mach", 0.9, 0.2)}
			s.Require = append(withLimits(t, s.Require, 0.7, 0.15), atLeast("top-speed", 16))
		},
		"top speed below full throttle": func(s *Study) { // limits that no requirement states
			s.Merit = Merit{term("top-speed", 0, 60), term("range", 0, 30e3)}
			s.Model = assuming(t, s.Model.Assume.PackGrade.Name, func(a *model.Assumptions) {
				a.PackLoad,
					a.CellMargin = 0.5, 0.4
			})
			s.Require = without(s.Require, "pack-load", "voltage-margin")
		},
		"requirements": func(s *Study) {
			s.Require = append(s.Require, atLeast("range", 12e3),
				atLeast("top-speed", 22))
		},
		"none that any keeps": func(s *Study) {
			s.Require = append(s.Require, atLeast("top-speed", 22),
				atLeast("range", 300e3))
		},
	} {
		if testing.Short() && name != "merit" && name != "requirements" {
			continue // slow with the race detector
		}
		t.Run(name, func(t *testing.T) {
			s := study(t, grid)
			s.Classes = []Class{{Limit: 0.9, Label: "900g"}, {Limit: 0.5, Label: "500g"}}
			s.Front = []*model.Metric{metric(t, "hover-time"), metric(t, "thrust-to-weight")}
			change(s)
			s.Model = limited(t, s)
			got, err := Run(context.Background(), s, Options{Workers: 2})
			if err != nil {
				t.Fatal(err)
			}
			want := brute(t, s)
			if want.Classes[0].Feasible == 0 && name != "none that any keeps" {
				t.Fatal("nothing is feasible")
			}
			equalResults(t, "run", got, want)
		})
	}
}
