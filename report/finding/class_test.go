package finding_test

import (
	"testing"

	"rotorsieve/report/trial"
	"rotorsieve/sweep"
)

func TestFindingsByPayload(t *testing.T) {
	t.Parallel()
	r := trial.SmallRun(t)
	found, err := r.Findings()
	if err != nil {
		t.Fatal(err)
	}
	payloads := r.Values(sweep.Payload)
	some := 0
	for i := range found {
		f := &found[i]
		if len(f.ByPayload) != len(payloads) {
			t.Fatalf("class %s: %d payloads, want %d", f.Class.Label, len(f.ByPayload), len(payloads))
		}
		for n, e := range f.ByPayload {
			if e == nil {
				continue
			}
			some++
			if e.Design.Payload != payloads[n] || e.Craft.Payload != payloads[n] {
				t.Errorf("class %s: the best with %v kg carries %v kg", f.Class.Label, payloads[n], e.Design.Payload)
			}
			for n, o := range f.Ranking {
				if r.Study.Grid.Design(o.Index).Payload == e.Design.Payload && o.Score > e.Score {
					t.Errorf("class %s: rank %d beats the best with %v kg", f.Class.Label, n+1, e.Design.Payload)
				}
			}
		}
		for j, e := range f.First {
			if e.Rank != j+1 || e.Craft.Limit != f.Class.Limit {
				t.Errorf("class %s: rank %d at place %d, judged within %v kg", f.Class.Label, e.Rank, j+1,
					e.Craft.Limit)
			}
		}
	}
	if some < 3 {
		t.Errorf("%d classes and payloads have a design: too few to test with", some)
	}
}
