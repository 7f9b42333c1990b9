package trial

import (
	"context"
	"fmt"
	"slices"
	"sync"
	"testing"

	"rotorsieve/model"
	"rotorsieve/report/finding"
	"rotorsieve/sweep"
)

// Best is the best design of a class.
func Best(t *testing.T, r *finding.Run, label string) *finding.Entry {
	t.Helper()
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	for i := range found {
		if found[i].Class.Label == label && found[i].Best() != nil {
			return found[i].Best()
		}
	}
	t.Fatalf("no design in class %s", label)
	return nil
}

var mapped = struct {
	sync.Once
	study  *sweep.Study
	result *sweep.Result
	err    error
}{}

// MappedRun is a run of SmallStudy with maps over axes of each kind, and a front.
func MappedRun(t testing.TB) *finding.Run {
	t.Helper()
	mapped.Do(func() {
		s := SmallStudy(t)
		hover, _ := model.LookupMetric("hover-time")
		loading, _ := model.LookupMetric("disk-loading")
		power, _ := model.LookupMetric("hover-power")
		s.Maps = []sweep.MapSpec{
			{X: sweep.Diameter, Y: sweep.KV},
			{X: sweep.Cells, Y: sweep.KV, Metric: power},
			{X: sweep.Diameter, Y: sweep.Stator, Metric: hover},
			{X: sweep.Cells, Y: sweep.Stator, Metric: loading},
			{X: sweep.Payload, Y: sweep.PitchRatio},
		}
		mapped.study = s
		mapped.result, mapped.err = sweep.Run(context.Background(), s, sweep.Options{Workers: 1})
	})
	if mapped.err != nil {
		t.Fatal(mapped.err)
	}
	s, result := *mapped.study, *mapped.result
	s.Maps = slices.Clone(s.Maps)
	return &finding.Run{Study: &s, Result: &result, DPI: 72, Version: "test"}
}

// LongRun ranks 100 000 designs in one class.
func LongRun(t testing.TB) *finding.Run {
	t.Helper()
	g, err := sweep.NewGrid(
		Axis(t, sweep.Diameter, "4in,5in,6in"),
		Axis(t, sweep.PitchRatio, "0.7"),
		Axis(t, sweep.Blades, "2,3"),
		Axis(t, sweep.Chord, "0"),
		Axis(t, sweep.Stator, "1507,2207,2507"),
		Axis(t, sweep.KV, "700:1900:20"),
		Axis(t, sweep.Cells, "3,4,6"),
		Axis(t, sweep.Capacity, "500:2460:40mAh"),
		Axis(t, sweep.Payload, "0"),
	)
	if err != nil {
		t.Fatal(err)
	}
	s := &sweep.Study{Name: "long", Grid: g, Model: Model(t, model.Defaults()),
		Classes: []sweep.Class{{Limit: 3, Label: "3kg"}},
		Merit:   sweep.DefaultMerit(), Top: 100_000, SizeBins: 40}
	result, err := sweep.Run(context.Background(), s, sweep.Options{Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	if n := len(result.Classes[0].Ranking); n != s.Top {
		t.Fatalf("%d designs are ranked, want %d", n, s.Top)
	}
	return &finding.Run{Study: s, Result: result, DPI: 72, Version: "test"}
}

// WideRun is SmallRun in eight classes, ranked by six metrics, with payloads.
func WideRun(t *testing.T) *finding.Run {
	t.Helper()
	s := *SmallRun(t).Study
	s.Classes = nil
	for _, grams := range []float64{80, 200, 249, 300, 350, 400, 500, 600} {
		s.Classes = append(s.Classes, sweep.Class{Limit: grams / 1000, Label: fmt.Sprintf("%gg", grams)})
	}
	for _, name := range []string{"top-speed", "range", "hover-efficiency", "response-time"} {
		m, ok := model.LookupMetric(name)
		if !ok {
			continue
		}
		s.Merit = append(slices.Clone(s.Merit), sweep.Term{Metric: m, Weight: 1, Worst: 0, Best: 100})
	}
	result, err := sweep.Run(t.Context(), &s, sweep.Options{Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	return &finding.Run{Study: &s, Result: result, DPI: 72, Version: "test"}
}

// OtherRun is a run of the same craft as SmallRun under other assumptions, with one class
// more and one less.
func OtherRun(t testing.TB) *finding.Run {
	t.Helper()
	s := *SmallStudy(t)
	s.Name = "harbour watch, hot"
	a := s.Model.Assume
	a.Altitude, a.Temperature = 300, 308.15
	s.Model = Model(t, a)
	s.Classes = append(slices.Clone(s.Classes[1:]), sweep.Class{Limit: 0.9, Label: "900g"})
	s.Require = s.Require[:len(s.Require)-1]
	result, err := sweep.Run(context.Background(), &s, sweep.Options{Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	return &finding.Run{Study: &s, Result: result, DPI: 72, Version: "test"}
}
