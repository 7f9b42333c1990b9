package trial

import (
	"context"
	"sync"
	"testing"
	"time"

	"rotorsieve/model"
	"rotorsieve/model/unit"
	"rotorsieve/report/finding"
	"rotorsieve/sweep"
)

// Axis parses the values of an axis as flags give them.
func Axis(t testing.TB, def *sweep.AxisDef, text string) sweep.Axis {
	t.Helper()
	v, err := unit.ParseAxis(def.Kind, text)
	if err != nil {
		t.Fatal(err)
	}
	return sweep.Axis{Def: def, Values: v}
}

// SmallStudy is an invented study of three classes, the lightest of which no
// design fits.
func SmallStudy(t testing.TB) *sweep.Study {
	t.Helper()
	g, err := sweep.NewGrid(
		Axis(t, sweep.Diameter, "2.5in,4in,5in"),
		Axis(t, sweep.PitchRatio, "0.6,0.9"),
		Axis(t, sweep.Blades, "2,3"),
		Axis(t, sweep.Chord, "0"),
		Axis(t, sweep.Stator, "1404,2207"),
		Axis(t, sweep.KV, "1750,2750,4400"),
		Axis(t, sweep.Cells, "2,4"),
		Axis(t, sweep.Capacity, "450,850,1500"),
		Axis(t, sweep.Payload, "0,60g"),
	)
	if err != nil {
		t.Fatal(err)
	}
	a := model.Defaults()
	a.Altitude = 1600
	s := &sweep.Study{
		Name: "harbour watch", Grid: g, Model: Model(t, a),
		Classes: []sweep.Class{
			{Limit: 0.080, Label: "80g"},
			{Limit: 0.249, Label: "249g", Note: "light"},
			{Limit: 0.6, Label: "600g"},
		},
		Require: sweep.DefaultRequirements(), Merit: sweep.DefaultMerit(),
		Front: []*model.Metric{finding.Metric("hover-time"), finding.Metric("thrust-to-weight")},
		Top:   30, SizeBins: 40,
	}
	hover, _ := model.LookupMetric("hover-time")
	s.Require = append(s.Require, sweep.Requirement{Metric: hover, AtLeast: true, Bound: 240})
	return s
}

var small = struct {
	sync.Once
	study  *sweep.Study
	result *sweep.Result
	err    error
}{}

// SmallRun is a run of SmallStudy. Pictures of the runs of this package are drawn coarsely.
func SmallRun(t testing.TB) *finding.Run {
	t.Helper()
	small.Do(func() {
		small.study = SmallStudy(t)
		small.result, small.err = sweep.Run(context.Background(), small.study, sweep.Options{Workers: 1})
	})
	if small.err != nil {
		t.Fatal(small.err)
	}
	result := *small.result
	result.Elapsed, result.Workers = 1500*time.Millisecond, 2
	return &finding.Run{
		Study: small.study, Result: &result,
		Flags:    []string{"--class=80g,249g,600g", "--diameter=2.5in,4in,5in"},
		Defaults: []string{"--pack-grade high-rate"},
		DPI:      72, Version: "test", Started: time.Date(2001, 2, 3, 4, 5, 6, 0, time.UTC), Host: "bench",
	}
}
