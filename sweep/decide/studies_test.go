package decide

import (
	"context"
	"fmt"
	"sync"
	"testing"

	"rotorsieve/model"
	"rotorsieve/model/unit"
	"rotorsieve/sweep"
)

// axis parses the values of an axis as flags give them.
func axis(t testing.TB, d *sweep.AxisDef, text string) sweep.Axis {
	t.Helper()
	v, err := unit.ParseAxis(d.Kind, text)
	if err != nil {
		t.Fatal(err)
	}
	return sweep.Axis{Def: d, Values: v}
}

func metric(t testing.TB, name string) *model.Metric {
	t.Helper()
	m, ok := model.LookupMetric(name)
	if !ok {
		t.Fatalf("no metric %s", name)
	}
	return m
}

// trial is an invented study.
type trial struct {
	name    string
	limit   float64
	axes    map[*sweep.AxisDef]string
	require []bound
	merit   []term
	assume  func(*model.Assumptions)
}

type bound struct {
	metric  string
	atLeast bool
	bound   float64
}

type term struct {
	metric              string
	weight, worst, best float64
}

func (x trial) study(t testing.TB) *sweep.Study {
	t.Helper()
	var axes []sweep.Axis
	for _, d := range []*sweep.AxisDef{sweep.Diameter, sweep.PitchRatio, sweep.Blades, sweep.Chord, sweep.Stator, sweep.KV,
		sweep.Cells, sweep.Capacity, sweep.Payload} {
		text, ok := x.axes[d]
		if !ok {
			text = "0"
		}
		axes = append(axes, axis(t, d, text))
	}
	g, err := sweep.NewGrid(axes...)
	if err != nil {
		t.Fatal(err)
	}
	s := &sweep.Study{Name: x.name, Grid: g, Classes: []sweep.Class{{Limit: x.limit, Label: x.name}},
		Top: 200, SizeBins: 20}
	for _, b := range x.require {
		s.Require = append(s.Require, sweep.Requirement{Metric: metric(t, b.metric), AtLeast: b.atLeast, Bound: b.bound})
	}
	for _, r := range sweep.DefaultRequirements() {
		stated := false
		for _, b := range x.require {
			stated = stated || b.metric == r.Metric.Name && b.atLeast == r.AtLeast
		}
		if !stated {
			s.Require = append(s.Require, r)
		}
	}
	for _, m := range x.merit {
		s.Merit = append(s.Merit, sweep.Term{Metric: metric(t, m.metric), Weight: m.weight, Worst: m.worst, Best: m.best})
	}
	a := model.Defaults()
	if x.assume != nil {
		x.assume(&a)
	}
	if s.Model, err = model.New(sweep.Limited(a, s.Require)); err != nil {
		t.Fatal(err)
	}
	return s
}

// run sweeps the study, one of trials only once.
func (x trial) run(t testing.TB) (*sweep.Study, *sweep.Result) {
	t.Helper()
	swept.Lock()
	defer swept.Unlock()
	key := fmt.Sprint(x.name, x.require, x.merit)
	y, ok := swept.done[key]
	if !ok {
		y.study = x.study(t)
		var err error
		if y.result, err = sweep.Run(context.Background(), y.study, sweep.Options{Workers: 2}); err != nil {
			t.Fatal(err)
		}
		swept.done[key] = y
	}
	return y.study, y.result
}

type sweptTrial struct {
	study  *sweep.Study
	result *sweep.Result
}

var swept = struct {
	sync.Mutex
	done map[string]sweptTrial
}{done: map[string]sweptTrial{}}

// trials are three invented studies of some thousands of designs each.
var trials = []trial{
	{name: "hover and thrust at 250 g", limit: 0.250,
		axes: map[*sweep.AxisDef]string{sweep.Diameter: "2.5,3,3.5,4in", sweep.PitchRatio: "0.5:0.9:0.2",
			sweep.Blades: "2,3", sweep.Stator: "1404,1504,1804,2004", sweep.KV: "1800:4800:600", sweep.Cells: "2,3,4",
			sweep.Capacity: "450:1350:100mAh"},
		require: []bound{{"hover-time", true, 4 * 60}, {"thrust-to-weight", true, 3}},
		merit:   []term{{"hover-time", 0.4, 4 * 60, 20 * 60}, {"thrust-to-weight", 0.6, 3, 10}}},
	{name: "freestyle at 650 g", limit: 0.650,
		axes: map[*sweep.AxisDef]string{sweep.Diameter: "4,5,6in", sweep.PitchRatio: "0.6:1:0.2", sweep.Blades: "2,3",
			sweep.Stator: "2004,2207,2306,2507", sweep.KV: "1200:2700:300", sweep.Cells: "4,6",
			sweep.Capacity: "700:1900:150mAh"},
		require: []bound{{"hard-flight-time", true, 120}, {"pack-load", false, 1.5}, {"burst-time", true, 3},
			{"flight-tip-mach", false, 0.8}},
		merit:  []term{{"top-speed", 0.3, 20, 50}, {"thrust-to-weight", 0.4, 4, 14}, {"hard-flight-time", 0.3, 120, 420}},
		assume: func(a *model.Assumptions) { a.FrameFactor, a.Avionics = 1.3, 0.045 }},
	{name: "strict at 250 g", limit: 0.250,
		axes: map[*sweep.AxisDef]string{sweep.Diameter: "3,3.5,4,5in", sweep.PitchRatio: "0.5:0.9:0.2",
			sweep.Blades: "2,3", sweep.Stator: "1204,1404,1504,1804", sweep.KV: "1500:3900:400", sweep.Cells: "2,3,4",
			sweep.Capacity: "450:1350:100mAh"},
		require: []bound{{"hover-time", true, 8 * 60}, {"thrust-to-weight", true, 4}, {"hover-throttle", false, 0.5},
			{"burst-time", true, 20}},
		merit: []term{{"hover-time", 0.5, 8 * 60, 20 * 60}, {"thrust-to-weight", 0.5, 4, 8}}},
}
