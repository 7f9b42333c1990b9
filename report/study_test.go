package report

import (
	"context"
	"sync"
	"testing"
	"time"

	"rotorsieve/model"
	"rotorsieve/model/unit"
	"rotorsieve/sweep"
)

// axis parses the values of an axis as flags give them.
func axis(t testing.TB, def *sweep.AxisDef, text string) sweep.Axis {
	t.Helper()
	v, err := unit.ParseAxis(def.Kind, text)
	if err != nil {
		t.Fatal(err)
	}
	return sweep.Axis{Def: def, Values: v}
}

// smallStudy is an invented study of three classes, the lightest of which no
// design fits.
func smallStudy(t testing.TB) *sweep.Study {
	t.Helper()
	g, err := sweep.NewGrid(
		axis(t, sweep.Diameter, "2.5in,4in,5in"),
		axis(t, sweep.PitchRatio, "0.6,0.9"),
		axis(t, sweep.Blades, "2,3"),
		axis(t, sweep.Chord, "0"),
		axis(t, sweep.Stator, "1404,2207"),
		axis(t, sweep.KV, "1750,2750,4400"),
		axis(t, sweep.Cells, "2,4"),
		axis(t, sweep.Capacity, "450,850,1500"),
		axis(t, sweep.Payload, "0,60g"),
	)
	if err != nil {
		t.Fatal(err)
	}
	a := model.Defaults()
	a.Altitude = 1600
	m, err := model.New(a)
	if err != nil {
		t.Fatal(err)
	}
	s := &sweep.Study{
		Name: "harbour watch", Grid: g, Model: m,
		Classes: []sweep.Class{
			{Limit: 0.080, Label: "80g"},
			{Limit: 0.249, Label: "249g", Note: "light"},
			{Limit: 0.6, Label: "600g"},
		},
		Require: sweep.DefaultRequirements(), Merit: sweep.DefaultMerit(),
		Front: []*model.Metric{metric("hover-time"), metric("thrust-to-weight")},
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

// smallRun is a run of smallStudy.
func smallRun(t testing.TB) *Run {
	t.Helper()
	small.Do(func() {
		small.study = smallStudy(t)
		small.result, small.err = sweep.Run(context.Background(), small.study, sweep.Options{Workers: 1})
	})
	if small.err != nil {
		t.Fatal(small.err)
	}
	result := *small.result
	result.Elapsed, result.Workers = 1500*time.Millisecond, 2
	return &Run{
		Study: small.study, Result: &result,
		Flags:    []string{"--class=80g,249g,600g", "--diameter=2.5in,4in,5in"},
		Defaults: []string{"--pack-grade high-rate"},
		Version:  "test", Started: time.Date(2001, 2, 3, 4, 5, 6, 0, time.UTC), Host: "bench",
	}
}
