package sweep

import (
	"context"
	"math"
	"path/filepath"
	"slices"
	"testing"

	"rotorsieve/model"
)

// audit runs a study with a share of the designs audited and bounds made wrong.
func audit(t *testing.T, s *Study, share uint64, skew func(*model.Metric, float64) float64, o Options) *Result {
	t.Helper()
	p, err := newPlan(s)
	if err != nil {
		t.Fatal(err)
	}
	p.audits, p.runAudits, p.skew = share, share, skew
	r, err := p.run(context.Background(), o)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// audits are studies in which bounds decide on designs in each way there is.
func audits(t *testing.T) map[string]*Study {
	flown := flying(t, "0.6,0.8", "2004,2207")
	required := flying(t, "0.6,0.8", "2004,2207")
	required.Require = append(required.Require, Requirement{Metric: metric(t, "top-speed"), AtLeast: true, Bound: 30})
	warm := sound(t, "0.6,0.8", "2004,2207") // no flight is read but for how warm the motors come to be
	slow := sound(t, "0.6,0.8", "2004,2207")
	slow.Merit = append(slow.Merit, Term{Metric: metric(t, "thrust-response-time"), Weight: 1, Worst: 0.2, Best: 0.02})
	slow.Maps = append(slow.Maps, MapSpec{X: Capacity, Y: KV, Metric: metric(t, "climb-rate")})
	slow.Front = append(slow.Front, metric(t, "range"))
	return map[string]*Study{"merit": flown, "requirement": required, "motors in cruise": warm,
		"slow, maps and front": slow}
}

// All bounds hold; about a thousandth of the designs that they decide on are checked,
// and what is found is the same without.
func TestAudit(t *testing.T) {
	if testing.Short() {
		t.Skip("flies every design")
	}
	for name, s := range audits(t) {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			one := Options{Workers: 1} // so that the same designs are spared
			none := audit(t, s, 0, nil, one)
			usual := audit(t, s, auditShare, nil, one)
			all := audit(t, s, math.MaxUint64, nil, one)
			for _, r := range []*Result{usual, all} {
				equalResults(t, "audited run", r, none)
				if a := r.Audit; a.Breaches > 0 || a.First != nil {
					t.Errorf("%d of %d checked break a bound: %+v", a.Breaches, a.Checked, a.First)
				}
			}
			if none.Audit.Checked > 0 {
				t.Errorf("%d designs checked, want none", none.Audit.Checked)
			}
			want := float64(all.Audit.Checked) / 1000
			if got := float64(usual.Audit.Checked); want < 20 || math.Abs(got-want) > 3*math.Sqrt(want) {
				t.Errorf("%g designs checked, want about %g", got, want)
			}
			t.Logf("%d of %d designs decided by a bound, %d checked", all.Audit.Checked, s.Grid.Size(),
				usual.Audit.Checked)
		})
	}
}

// A bound that does not hold is found, whichever it is, and said as it is.
func TestAuditFinds(t *testing.T) {
	for _, c := range []struct {
		study, metric string
		by            float64
		least         bool // the bound is the one of values that are too low
	}{
		{"merit", "top-speed", 0.9, false},
		{"merit", "range", 0.8, false},
		{"merit", "cruise-time", 0.7, false},
		{"requirement", "top-speed", 0.9, false},
		{"motors in cruise", "cruise-motor-temperature", 0.95, false},
		{"slow, maps and front", "thrust-response-time", 1.3, true},
		{"slow, maps and front", "climb-rate", 0.7, false},
		{"slow, maps and front", "range", 0.8, false},
	} {
		t.Run(c.study+" "+c.metric, func(t *testing.T) {
			t.Parallel()
			s := audits(t)[c.study]
			bent := func(m *model.Metric, v float64) float64 {
				if m.Name == c.metric {
					return v * c.by
				}
				return v
			}
			path := filepath.Join(t.TempDir(), "checkpoint")
			a := audit(t, s, auditShare, bent, Options{Workers: 2, Checkpoint: path}).Audit
			b := a.First
			if b == nil || a.Breaches == 0 || a.Breaches > a.Checked {
				t.Fatalf("%d breaches in %d designs checked: %+v", a.Breaches, a.Checked, b)
			}
			craft, err := NewEvaluator(s).Craft(b.Index, s.Classes[0])
			if err != nil {
				t.Fatal(err)
			}
			if b.Metric.Name != c.metric || b.Least != c.least || b.Value != b.Metric.Of(craft) ||
				(b.Value < b.Bound) != c.least {
				t.Errorf("found %s %g where %g bounds it, least %v", b.Metric.Name, b.Value, b.Bound, b.Least)
			}
		})
	}
}

// What is audited follows from the index alone and is spread along every axis, whatever
// the designs between its values.
func TestAudited(t *testing.T) {
	p := &plan{audits: auditShare}
	for _, step := range []uint64{1, 2, 3, 5, 10, 25, 610, 987, 1000, 1597, 1 << 20, 1 << 40} {
		n, runs := 0, 0
		last := false
		for i := range uint64(1_000_000) {
			now := p.audited(7 + i*step)
			if now {
				n++
			}
			if now && last {
				runs++
			}
			last = now
		}
		if n < 900 || n > 1100 || runs > 8 { // 3 spreads of chance; 1 is to be expected
			t.Errorf("%d of a million designs %d apart are audited, %d one after another", n, step, runs)
		}
	}
}

// Audits add up, and the first breach is that of the lowest index, in any order.
func TestAuditAdds(t *testing.T) {
	r, v := metric(t, "range"), metric(t, "top-speed")
	parts := []Audit{{Checked: 5}, {Checked: 2, Breaches: 1, First: &Breach{Index: 9, Metric: r}},
		{Checked: 3, Breaches: 2, First: &Breach{Index: 4, Metric: v, Scenario: 1}},
		{Checked: 1, Breaches: 1, First: &Breach{Index: 4, Metric: v}}}
	for range 2 {
		var a Audit
		for _, p := range parts {
			a.add(p)
		}
		if a.Checked != 11 || a.Breaches != 4 || a.First.Index != 4 || a.First.Metric != v || a.First.Scenario != 0 {
			t.Errorf("%+v, first %+v", a, a.First)
		}
		slices.Reverse(parts)
	}
}
