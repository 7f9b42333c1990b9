package sweep

import (
	"cmp"
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"rotorsieve/model"
)

// What parts make of a design is what model.Evaluate says of it with each in its place: alone,
// best first, and all together, in every scenario of the study.
func TestNearest(t *testing.T) {
	mountains := []func(*model.Assumptions){
		func(a *model.Assumptions) { a.Temperature = 263 },
		func(a *model.Assumptions) { a.Altitude, a.Temperature = 3500, 308 },
		func(a *model.Assumptions) { a.Altitude, a.PackAged = 1500, true },
	}
	for name, over := range map[string]Over{"alone": -1, "worst": Worst, "mean": Mean} {
		t.Run(name, func(t *testing.T) {
			s := nearestStudy(t)
			if over >= 0 {
				under(t, s, mountains...)
				s.Over = over
			}
			testNearest(t, s)
		})
	}
}

func testNearest(t *testing.T, s *Study) {
	x := inventParts(rand.New(rand.NewPCG(3, 8)), 4, 2, 3, 2, 1)
	auw, _ := model.LookupMetric("auw")
	limit := Requirement{Metric: auw, Bound: s.Classes[0].Limit}
	scenarios := s.Models()
	// judged is the merit, and how many requirements are broken in the first scenario that breaks some.
	judged := func(d model.Design, require []Requirement) (merit float64, broken int) {
		least, sum := math.Inf(1), 0.0
		var built *model.Powertrain
		for _, m := range scenarios {
			c, err := m.EvaluateAs(d, built)
			if errors.Is(err, model.ErrNoOperatingPoint) {
				return 0, 1 << 30
			} else if err != nil {
				t.Fatal(err)
			}
			if built == nil {
				built = c.Powertrain
			}
			c.Limit = limit.Bound
			here := 0
			for _, r := range append([]Requirement{limit}, require...) {
				if !r.Kept(r.Metric.Of(c)) {
					here++
				}
			}
			if broken == 0 {
				broken = here
			}
			v := s.Merit.Of(c)
			least, sum = min(least, v), sum+v
		}
		if s.Over == Mean {
			return sum / float64(len(scenarios)), broken
		}
		return least, broken
	}
	lists := []Axis{MotorAxis(x.motors), PropellerAxis(x.propellers), PackAxis(x.packs), FrameAxis(x.frames)}
	n, err := FindNearest(t.Context(), s, lists, MostCombined, MostCombined)
	if err != nil {
		t.Fatal(err)
	}
	if want := uint64(4 * 2 * 3 * 2); !n.Exact || n.Tried != want || n.All != want {
		t.Errorf("%d of %d combinations, exact %v, want all %d", n.Tried, n.All, n.Exact, want)
	}
	for i, a := range lists {
		in, err := s.instead(a)
		if err != nil {
			t.Fatal(err)
		}
		type row struct {
			merit  float64
			broken int
		}
		var want []row
		for at := range a.Values {
			d := s.Grid.Design(0)
			x.put(&d, a.Def.Name, at)
			var r row
			r.merit, r.broken = judged(d, in.Require)
			want = append(want, r)
		}
		slices.SortStableFunc(want, func(a, b row) int {
			return cmp.Or(a.broken-b.broken, cmp.Compare(b.merit, a.merit))
		})
		for k, got := range n.Lists[i].Parts {
			if got.Merit != want[k].merit || got.Keeps() != (want[k].broken == 0) {
				t.Errorf("%s %d: merit %g, keeps %v; evaluated %+v", a.Def.Name, k, got.Merit, got.Keeps(), want[k])
			}
		}
	}
	in, err := s.instead(lists...)
	if err != nil {
		t.Fatal(err)
	}
	best, feasible := -1.0, 0
	for i := range in.Grid.Size() {
		if m, broken := judged(in.Grid.Design(i), in.Require); broken == 0 {
			best = max(best, m)
			feasible++
		}
	}
	if feasible == 0 || feasible == int(in.Grid.Size()) {
		t.Fatalf("%d of %d combinations are feasible, want some", feasible, in.Grid.Size())
	}
	if n.Best == nil || n.Best.Merit != best || !n.Best.Keeps() {
		t.Errorf("the best together is %+v, want merit %g", n.Best, best)
	}
}

// Of lists with more combinations than can be tried, the first of each alone are combined.
func TestNearestOfMany(t *testing.T) {
	x := inventParts(rand.New(rand.NewPCG(3, 8)), 22, 1, 23, 1, 1)
	s := nearestStudy(t)
	lists := []Axis{MotorAxis(x.motors), PackAxis(x.packs)}
	n, err := FindNearest(t.Context(), s, lists, 500, 5)
	if err != nil {
		t.Fatal(err)
	}
	if n.Exact || n.All != 22*23 || n.Tried != MostOfList*MostOfList || n.Best == nil {
		t.Fatalf("exact %v, %d of %d combinations, best %+v", n.Exact, n.Tried, n.All, n.Best)
	}
	in, err := s.instead(lists...)
	if err != nil {
		t.Fatal(err)
	}
	own := s.Grid.Design(0)
	propeller, err := s.propellersFor(&own)
	if err != nil {
		t.Fatal(err)
	}
	best := 0.0
	for _, m := range n.Lists[0].Parts[:MostOfList] {
		for _, p := range n.Lists[1].Parts[:MostOfList] {
			d := s.Grid.Design(0)
			lists[0].Def.Apply(&d, lists[0].Def.Of(m.Design))
			lists[1].Def.Apply(&d, lists[1].Def.Of(p.Design))
			var to Stead
			if err := s.judgeStead(&to, propeller, d, in.Require); err != nil {
				t.Fatal(err)
			}
			if to.Keeps() {
				best = max(best, to.Merit)
			}
		}
	}
	if n.Best.Merit != best {
		t.Errorf("the best of the first is %g, want %g", n.Best.Merit, best)
	}
}

// nearestStudy is one generated design that keeps its requirements.
func nearestStudy(t *testing.T) *Study {
	t.Helper()
	m, err := model.New(model.Defaults())
	if err != nil {
		t.Fatal(err)
	}
	return &Study{Name: "nearest", Model: m, Classes: []Class{{Limit: 0.6, Label: "600g"}}, Top: 1,
		Grid: partsGrid(t, new(invented), map[*AxisDef]string{Diameter: "5in", Pitch: "4in", Blades: "3", Chord: "0",
			Stator: "2207", KV: "1750", Cells: "6", Capacity: "1100mAh", Payload: "0g"}),
		Require: DefaultRequirements(), Merit: DefaultMerit(), SizeBins: DefaultSizeBins}
}
