package sweep

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"rotorsieve/model"
	"rotorsieve/model/unit"
)

const in = 0.0254

func axis(t testing.TB, d *AxisDef, text string) Axis {
	t.Helper()
	v, err := unit.ParseAxis(d.Kind, text)
	if err != nil {
		t.Fatal(err)
	}
	return Axis{Def: d, Values: v}
}

// small is a grid that a test can judge one design at a time.
func small(t testing.TB, change map[*AxisDef]string) *Grid {
	t.Helper()
	text := map[*AxisDef]string{
		Diameter: "3,5", PitchRatio: "0.7", Blades: "2", Chord: "0", Stator: "1404,2207",
		KV: "1500,2500,4000", Cells: "3,4", Capacity: "450,850,1300", Payload: "0,30g",
	}
	for d, v := range change {
		if d == Pitch {
			delete(text, PitchRatio)
		}
		text[d] = v
	}
	var axes []Axis
	for d, v := range text {
		axes = append(axes, axis(t, d, v))
	}
	g, err := NewGrid(axes...)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func study(t testing.TB, g *Grid) *Study {
	t.Helper()
	m, err := model.New(model.Defaults())
	if err != nil {
		t.Fatal(err)
	}
	return &Study{
		Name: "test", Grid: g, Model: m,
		Classes:  []Class{{Limit: 0.25, Label: "250g"}, {Limit: 0.6, Label: "600g"}},
		Require:  DefaultRequirements(),
		Merit:    DefaultMerit(),
		Maps:     []MapSpec{{X: Diameter, Y: KV}},
		Top:      20,
		SizeBins: 12,
	}
}

func metric(t testing.TB, name string) *model.Metric {
	t.Helper()
	m, ok := model.LookupMetric(name)
	if !ok {
		t.Fatalf("no metric %s", name)
	}
	return m
}

// brute judges a study one design at a time, by what the words of the design
// say and nothing else: it shares no loop, no shortcut and no gathering with Run.
func brute(t testing.TB, s *Study) *Result {
	t.Helper()
	e := NewEvaluator(s)
	gates := s.Gates()
	r := &Result{Gates: gates, Done: s.Grid.Size(), Share: s.Grid.Size(), Complete: true}
	widest := 0.0
	for _, k := range s.Classes {
		widest = max(widest, k.Limit)
	}
	n := func(axis int) int { return len(s.Grid.Axes()[axis].Values) }
	for _, class := range s.Classes {
		k := ClassResult{Class: class, Turned: make([]uint64, len(gates)), Leaders: make([]Best, n(axDiameter)),
			ByCells: make([]Best, n(axDiameter)*n(axCells)), Payloads: make([]Best, n(axPayload)),
			Size: SizeMap{Bins: s.SizeBins, Width: widest / float64(s.SizeBins), Diameters: n(axDiameter),
				Cells: make([]Cell, n(axDiameter)*s.SizeBins), Seen: make([]bool, n(axDiameter)*s.SizeBins)}}
		var axes [][2]int
		for _, m := range s.Maps {
			x, _ := s.Grid.Place(m.X.Name)
			y, _ := s.Grid.Place(m.Y.Name)
			axes = append(axes, [2]int{x, y})
			k.Maps = append(k.Maps, Map{Spec: m, NX: n(x), NY: n(y), Cells: make([]Cell, n(x)*n(y))})
		}
		var all []Ranked
		boxes := map[[maxFront]int32]Ranked{}
		spec := newFrontSpec(s.Front)
		for index := range s.Grid.Size() {
			at := s.Grid.coord(index)
			craft, err := e.Craft(index, class)
			if err != nil && !errors.Is(err, model.ErrNoOperatingPoint) {
				t.Fatal(err)
			}
			gate, short := -1, 0.0
			switch {
			case craft.Mass > class.Limit:
				gate, short = GateClass, (craft.Mass-class.Limit)/class.Limit
			case err != nil:
				gate = GateOperating
			default:
				for g := 2; g < len(gates); g++ {
					q := gates[g].Requirement
					if v := q.Metric.Of(craft); !q.Kept(v) {
						gate, short = g, q.Shortfall(v)
						break
					}
				}
			}
			if gate >= 0 {
				k.Turned[gate]++
				k.Nearest.add(Miss{Index: index, Gate: gate, Shortfall: short, Any: true})
			}
			if gate == GateClass {
				continue
			}
			cells := []*Cell{&k.Size.Cells[at[axDiameter]*s.SizeBins+min(int(craft.Mass/k.Size.Width), s.SizeBins-1)]}
			k.Size.Seen[at[axDiameter]*s.SizeBins+min(int(craft.Mass/k.Size.Width), s.SizeBins-1)] = true
			for j := range k.Maps {
				cells = append(cells, &k.Maps[j].Cells[at[axes[j][1]]*k.Maps[j].NX+at[axes[j][0]]])
			}
			if gate > 0 {
				for _, c := range cells {
					c.Gate = max(c.Gate, uint8(gate))
				}
				continue
			}
			x := Ranked{Index: index, Score: s.Merit.Of(craft)}
			k.Feasible++
			all = append(all, x)
			k.Leaders[at[axDiameter]].add(x)
			k.ByCells[at[axDiameter]*n(axCells)+at[axCells]].add(x)
			k.Payloads[at[axPayload]].add(x)
			for j, c := range cells {
				y := x
				if j > 0 && s.Maps[j-1].Metric != nil {
					y.Score = mapScore(s.Maps[j-1].Metric, craft, x.Score)
				}
				c.add(y)
			}
			if len(s.Front) > 0 {
				b := spec.box(craft)
				if old, ok := boxes[b]; !ok || x.compare(old) < 0 {
					boxes[b] = x
				}
			}
		}
		slices.SortFunc(all, Ranked.compare)
		k.Ranking = all[:min(len(all), s.Top)]
		var f front
		for b, x := range boxes {
			on := true
			for o := range boxes {
				on = on && !dominates(o, b)
			}
			if on {
				f.points = append(f.points, FrontPoint{Ranked: x, box: b})
			}
		}
		k.Front = f.sorted()
		r.Classes = append(r.Classes, k)
	}
	return r
}

func equalResults(t *testing.T, what string, got, want *Result) {
	t.Helper()
	opt := cmp.Comparer(func(a, b *model.Metric) bool { return a == b })
	axes := cmp.Comparer(func(a, b *AxisDef) bool { return a == b })
	inside := cmp.AllowUnexported(FrontPoint{})
	if d := cmp.Diff(want.Classes, got.Classes, opt, axes, inside, cmpopts.EquateEmpty()); d != "" {
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
		rounds = 4
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
		case 1:
			s.Require = append(s.Require, Requirement{Metric: metric(t, "hover-time"), AtLeast: true, Bound: 300},
				Requirement{Metric: metric(t, "class-margin"), AtLeast: true, Bound: 0.02},
				Requirement{Metric: metric(t, "top-speed"), AtLeast: true, Bound: 10})
			s.Merit = append(s.Merit, Term{Metric: metric(t, "range"), Weight: 1, Worst: 0, Best: 10e3})
		case 2:
			s.Require = nil
			s.Merit = Merit{{Metric: metric(t, "class-margin"), Weight: 1, Worst: 0, Best: 0.1}, {Metric: metric(t, "hover-time"), Weight: 2, Worst: 0, Best: 600}}
			s.Maps = append(s.Maps, MapSpec{X: Cells, Y: Capacity, Metric: metric(t, "hover-power")},
				MapSpec{X: Payload, Y: Diameter, Metric: metric(t, "hover-time")}, MapSpec{X: KV, Y: Cells, Metric: metric(t, "hover-time")})
			s.Front = append(s.Front, metric(t, "tip-mach"))
			s.Maps = append(s.Maps, MapSpec{X: Diameter, Y: KV, Metric: metric(t, "cruise-time")})
		case 3:
			s.Classes = []Class{{Limit: 0.06, Label: "60g"}, {Limit: 0.4, Label: "400g"}, {Limit: 0.1, Label: "100g"}}
		}
		want := brute(t, s)
		defer func(n uint64) { smallBlock = n }(smallBlock)
		smallBlock = []uint64{1 << 16, 1, 4, 30}[r.IntN(4)]
		feasible += want.Classes[len(want.Classes)-1].Feasible
		for _, workers := range []int{1, 3} {
			got, err := Run(context.Background(), s, Options{Workers: workers})
			if err != nil {
				t.Fatal(err)
			}
			equalResults(t, "run", got, want)
			for _, c := range got.Classes {
				sum := c.Feasible
				for _, n := range c.Turned {
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

// What a sweep ranks is what model.Evaluate computes from the design alone, bit
// for bit.
func TestRankingIsEvaluate(t *testing.T) {
	s := study(t, small(t, nil))
	res, err := Run(context.Background(), s, Options{})
	if err != nil {
		t.Fatal(err)
	}
	checked := 0
	for _, c := range res.Classes {
		for _, x := range c.Ranking {
			craft, err := s.Model.Evaluate(s.Grid.Design(x.Index))
			if err != nil {
				t.Fatal(err)
			}
			craft.Limit = c.Class.Limit
			if got := s.Merit.Of(craft); math.Float64bits(got) != math.Float64bits(x.Score) {
				t.Errorf("design %d: merit %v in the sweep, %v alone", x.Index, x.Score, got)
			}
			checked++
		}
	}
	if checked < 20 {
		t.Fatalf("only %d designs were ranked", checked)
	}
}

func TestGridOrder(t *testing.T) {
	g := small(t, nil)
	for i := range g.Size() {
		c := g.coord(i)
		var back uint64
		for a := range c {
			back += uint64(c[a]) * g.stride[a]
			if g.At(i, a) != c[a] {
				t.Fatalf("At(%d, %d) = %d, want %d", i, a, g.At(i, a), c[a])
			}
		}
		if back != i {
			t.Fatalf("coord(%d) counts back to %d", i, back)
		}
	}
	d := g.Design(g.Size() - 1)
	if d.Diameter != 5*in || d.Payload != 0.03 || d.Stator.Diameter != 0.022 || math.Abs(d.Pitch-0.0889) > 1e-12 {
		t.Errorf("last design is %+v", d)
	}
}

func TestGridRefusals(t *testing.T) {
	for _, c := range []struct {
		change map[*AxisDef]string
		want   string
	}{
		{map[*AxisDef]string{Diameter: "3in,40in"}, "diameter 40 in is outside 2 in to 12 in"},
		{map[*AxisDef]string{Blades: "1"}, "blades 1 is outside 2 to 8"},
		{map[*AxisDef]string{Pitch: "9in"}, "ratio of 3"},
		{map[*AxisDef]string{Payload: "-5g"}, "payload -5 g is outside"},
		{map[*AxisDef]string{Chord: "0.9"}, "chord 0.9 is outside"},
		{map[*AxisDef]string{Stator: "9907"}, "stator 9907 is outside"},
	} {
		text := map[*AxisDef]string{Diameter: "3", PitchRatio: "0.7", Blades: "2", Chord: "0", Stator: "1404", KV: "1500", Cells: "3", Capacity: "450", Payload: "0"}
		for d, v := range c.change {
			if d == Pitch {
				delete(text, PitchRatio)
			}
			text[d] = v
		}
		var axes []Axis
		for d, v := range text {
			axes = append(axes, axis(t, d, v))
		}
		if _, err := NewGrid(axes...); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v: error %v, want one with %q", c.change, err, c.want)
		}
	}
	big := make([]float64, 1e6)
	for i := range big {
		big[i] = 100 + float64(i)*1e-3
	}
	axes := []Axis{axis(t, Diameter, "3"), axis(t, PitchRatio, "0.7"), axis(t, Blades, "2"), axis(t, Chord, "0"), axis(t, Stator, "1404"),
		{Def: KV, Values: big}, axis(t, Cells, "3"), {Def: Capacity, Values: scaled(big, 36)}, {Def: Payload, Values: scaled(big, 1e-3)}}
	if g, err := NewGrid(axes...); err != nil || g.Size() != 1e18 {
		t.Errorf("a grid of 1e18 designs: %v", err)
	}
	axes[2] = axis(t, Blades, "2,3,4,5,6,7,8")
	axes[0] = axis(t, Diameter, "3,4")
	if _, err := NewGrid(axes...); err == nil || !strings.Contains(err.Error(), "2^63") {
		t.Errorf("a grid of 1.4e19 designs: error %v, want a refusal", err)
	}
}

func scaled(v []float64, k float64) []float64 {
	out := make([]float64, len(v))
	for i := range v {
		out[i] = v[i] * k
	}
	return out
}

// What only a data sheet computes cannot be asked of a sweep.
func TestTooSlow(t *testing.T) {
	x := metric(t, "ceiling")
	for what, ask := range map[string]func(*Study){
		"requirement on": func(s *Study) { s.Require = append(s.Require, Requirement{Metric: x, AtLeast: true, Bound: 1}) },
		"merit of":       func(s *Study) { s.Merit = append(s.Merit, Term{Metric: x, Weight: 1, Worst: 0, Best: 1}) },
		"map of":         func(s *Study) { s.Maps[0].Metric = x },
	} {
		s := study(t, small(t, nil))
		ask(s)
		if err := s.Check(); err == nil || !strings.Contains(err.Error(), what+" ceiling") {
			t.Errorf("%s ceiling: error %v", what, err)
		}
	}
}

// A cancelled run says so and leaves a tally of what it has judged.
func TestCancel(t *testing.T) {
	s := study(t, small(t, nil))
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	r, err := Run(ctx, s, Options{})
	if err != nil || r == nil || r.Complete {
		t.Fatalf("cancelled run: %v, %+v", err, r)
	}
}

// A class that nothing meets is a result: everything is turned away, and the
// nearest design is named.
func TestNothingFeasible(t *testing.T) {
	s := study(t, small(t, nil))
	s.Classes = []Class{{Limit: 0.02, Label: "20g"}}
	r, err := Run(context.Background(), s, Options{})
	if err != nil {
		t.Fatal(err)
	}
	c := r.Classes[0]
	if c.Feasible != 0 || c.Turned[GateClass] != s.Grid.Size() || !c.Nearest.Any || c.Nearest.Gate != GateClass {
		t.Errorf("got %+v", c.Nearest)
	}
}

// Gates stand in one order: mass, operating points, then requirements by what
// must be computed for them, and as given within that.
func TestGateOrder(t *testing.T) {
	s := study(t, small(t, nil))
	s.Require = nil
	for _, name := range []string{"top-speed", "hover-time", "hover-throttle", "tip-mach", "disk-loading"} {
		s.Require = append(s.Require, Requirement{Metric: metric(t, name), AtLeast: true})
	}
	var got []string
	for _, g := range s.Gates() {
		got = append(got, g.Name)
	}
	want := []string{"class", "no-operating-point", "disk-loading", "hover-throttle", "tip-mach", "hover-time", "top-speed"}
	if !slices.Equal(got, want) {
		t.Errorf("gates %v, want %v", got, want)
	}
}

// Designs of equal merit rank by their index, the lower first, whatever is kept.
func TestTies(t *testing.T) {
	s := study(t, small(t, nil))
	s.Merit = Merit{{Metric: metric(t, "hover-time"), Weight: 1, Worst: 0, Best: 1e-3}} // all at 1
	for _, top := range []int{7, 1000} {
		s.Top = top
		r := run(t, s, Options{Workers: 3})
		last := -1
		for _, x := range r.Classes[1].Ranking {
			if x.Score != 1 || int(x.Index) <= last {
				t.Fatalf("index %d with merit %v after index %d", x.Index, x.Score, last)
			}
			last = int(x.Index)
		}
		var first uint64
		for first = 0; ; first++ {
			c, err := NewEvaluator(s).Craft(first, s.Classes[1])
			if err == nil && c.Mass <= s.Classes[1].Limit && kept(s, c) {
				break
			}
		}
		if got := r.Classes[1].Ranking[0].Index; got != first {
			t.Errorf("the best of equals is design %d, want %d", got, first)
		}
		if b := r.Classes[1].Leaders[0]; b.Index != first {
			t.Errorf("the leader of the first diameter is design %d, want %d", b.Index, first)
		}
	}
}

func kept(s *Study, c *model.Craft) bool {
	for _, r := range s.Require {
		if !r.Kept(r.Metric.Of(c)) {
			return false
		}
	}
	return true
}
