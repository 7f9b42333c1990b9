package sweep

import (
	"cmp"
	"context"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

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
		Diameter: "3,5", PitchRatio: "0.7", Blades: "2", Stator: "1404,2207",
		KV: "1500,2500,4000", Cells: "3,4", Capacity: "450,850,1300", Payload: "0,30g",
	}
	maps.Copy(text, change)
	g, err := NewGrid(axesOf(t, text)...)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// axesOf are all axes, those that are not given with the value of a single design. Pitch
// stands before its ratio.
func axesOf(t testing.TB, text map[*AxisDef]string) (axes []Axis) {
	t.Helper()
	for _, d := range AxisDefs {
		if d == PitchRatio && text[Pitch] != "" {
			continue
		}
		if v := cmp.Or(text[d], d.Single); v != "" {
			axes = append(axes, axis(t, d, v))
		}
	}
	return axes
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
			if g.at(i, a) != c[a] {
				t.Fatalf("at(%d, %d) = %d, want %d", i, a, g.at(i, a), c[a])
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
		{map[*AxisDef]string{Diameter: "3", Pitch: "9in"}, "ratio of 3"},
		{map[*AxisDef]string{Payload: "-5g"}, "payload -5 g is outside"},
		{map[*AxisDef]string{Chord: "0.9"}, "chord 0.9 is outside"},
		{map[*AxisDef]string{Stator: "9907"}, "stator 9907 is outside"},
	} {
		axes := axesOf(t, c.change)
		if _, err := NewGrid(axes...); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v: error %v, want one with %q", c.change, err, c.want)
		}
	}
	big := make([]float64, 1e6)
	for i := range big {
		big[i] = 100 + float64(i)*1e-3
	}
	large := func(change map[*AxisDef]string) []Axis {
		axes := axesOf(t, change)
		for i := range axes {
			switch axes[i].Def {
			case KV:
				axes[i].Values = big
			case Capacity:
				axes[i].Values = scaled(big, 36)
			case Payload:
				axes[i].Values = scaled(big, 1e-3)
			}
		}
		return axes
	}
	if g, err := NewGrid(large(nil)...); err != nil || g.Size() != 1e18 {
		t.Errorf("a grid of 1e18 designs: %v", err)
	}
	axes := large(map[*AxisDef]string{Diameter: "3,4", Blades: "2,3,4,5,6,7,8"})
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
		"requirement on": func(s *Study) {
			s.Require = append(s.Require,
				Requirement{Metric: x, AtLeast: true, Bound: 1})
		},
		"merit of": func(s *Study) { s.Merit = append(s.Merit, Term{Metric: x, Weight: 1, Worst: 0, Best: 1}) },
		"map of":   func(s *Study) { s.Maps[0].Metric = x },
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

// A class that nothing meets is a result: everything is rejected, and the
// nearest design is named.
func TestNothingFeasible(t *testing.T) {
	s := study(t, small(t, nil))
	s.Classes = []Class{{Limit: 0.02, Label: "20g"}}
	r, err := Run(context.Background(), s, Options{})
	if err != nil {
		t.Fatal(err)
	}
	c := r.Classes[0]
	if c.Feasible != 0 || c.Rejected[GateClass] != s.Grid.Size() || !c.Nearest.Any || c.Nearest.Gate != GateClass {
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
	want := []string{"class", "no-operating-point", "disk-loading", "hover-throttle", "tip-mach", "hover-time",
		"top-speed"}
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

// Blocks are neither crumbs, which cost more to hand out than to judge, nor so
// large that an interrupt would wait for them.
func TestBlockSize(t *testing.T) {
	for _, c := range []struct {
		capacity, payload string
		size              uint64
	}{
		{"500:1000:50", "0,10g", 11 * 2 * 3 * 2},   // a stator's designs: 3 KV, 2 cells
		{"500:1000:0.02", "0,10g", 25001 * 2},      // one cell count
		{"500:1500:0.01", "0,10g,20g", 100001 * 3}, // the same: payloads alone would be crumbs
		{"500:1500:0.01", "0:50:1g", 51},           // one capacity: all of them would take too long
		{"500:1500:0.01", "0:500:0.25g", 2001},     // as well
		{"500:1000:0.1", "0:500:0.25g", 2001},
	} {
		s := study(t, small(t, map[*AxisDef]string{Diameter: "3", Stator: "1404", Capacity: c.capacity,
			Payload: c.payload}))
		_, size, err := Blocks(s)
		if err != nil {
			t.Fatal(err)
		}
		if size != c.size {
			t.Errorf("capacities %s, payloads %s: blocks of %d designs, want %d", c.capacity, c.payload, size, c.size)
		}
	}
}
