package sweep

import (
	"slices"
	"strings"
	"testing"

	"rotorsieve/model"
)

// The bound that a study states is the limit in flight as well, the tightest of several;
// where it states none, and where it bounds the other way, the limit stays.
func TestLimited(t *testing.T) {
	load := func(v float64) Requirement { return Requirement{Metric: metric(t, "pack-load"), Bound: v} }
	margin := func(v float64) Requirement {
		return Requirement{Metric: metric(t, "voltage-margin"), AtLeast: true, Bound: v}
	}
	for name, x := range map[string]struct {
		require      []Requirement
		load, margin float64
	}{
		"the defaults": {DefaultRequirements(), model.UsualPackLoad, 0},
		"none":         {nil, model.UsualPackLoad, 0},
		"loosened":     {[]Requirement{load(1.5), margin(-0.2)}, 1.5, -0.2},
		"tightened":    {[]Requirement{load(0.8), margin(0.1)}, 0.8, 0.1},
		"one of them":  {[]Requirement{load(1.5)}, 1.5, 0},
		"several":      {[]Requirement{load(1.5), load(0.9), load(2), margin(-0.2), margin(-0.1)}, 0.9, -0.1},
		"the other way": {[]Requirement{{Metric: metric(t, "pack-load"), AtLeast: true, Bound: 0.5},
			{Metric: metric(t, "voltage-margin"), Bound: 0.5}}, model.UsualPackLoad, 0},
		"below 0": {[]Requirement{load(-1)}, 0, 0},
	} {
		a := Limited(model.Defaults(), x.require)
		if a.PackLoad != x.load || a.CellMargin != x.margin {
			t.Errorf("%s: %g of the burst current and %g V, want %g and %g", name, a.PackLoad, a.CellMargin, x.load,
				x.margin)
		}
		if b := Limited(a, x.require); b.PackLoad != a.PackLoad || b.CellMargin != a.CellMargin {
			t.Errorf("%s: twice is another limit", name)
		}
	}
}

// A study whose model does not fly within its own requirements is refused, and limits
// tell runs apart.
func TestLimitsOfStudy(t *testing.T) {
	s := study(t, small(t, nil))
	usual := s.Fingerprint()
	s.Require = withLimits(t, s.Require, 1.5, 0)
	if err := s.Check(); err == nil || !strings.Contains(err.Error(), "burst current") {
		t.Errorf("the model flies to the burst current, the study to 1.5 of it: %v", err)
	}
	s.Model = limited(t, s)
	if err := s.Check(); err != nil {
		t.Error(err)
	}
	hard := s.Fingerprint()
	named := *s
	named.Require = slices.Clone(s.Require)
	for i, r := range named.Require { // a metric with another name than it had is the same
		m := *r.Metric
		m.Name, m.Formerly = m.FirstName(), ""
		named.Require[i].Metric = &m
	}
	if named.Fingerprint() != hard {
		t.Error("a study with requirements by the names that metrics had first has another fingerprint")
	}
	s.Require = without(s.Require, "pack-load") // the model's limit stands
	if other := s.Fingerprint(); hard == usual || other == hard || other == usual {
		t.Error("limits of flight are not part of the fingerprint")
	}
}
