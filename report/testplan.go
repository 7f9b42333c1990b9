package report

import (
	"io"

	"rotorsieve/model/record"
	"rotorsieve/report/finding"
	"rotorsieve/report/words"
)

// writeTestPlan writes what to measure of the recommended build of each class as records to be
// filled in, each once.
func writeTestPlan(w io.Writer, r *finding.Run, found []finding.Class) error {
	type key struct {
		record.Subject
		*record.Quantity
		record.Conditions
	}
	seen := map[key]bool{}
	var all []record.Planned
	for i := range found {
		p := found[i].Plan(r.Result.Gates)
		if p == nil {
			continue
		}
		for n := range p.Tests {
			t := &p.Tests[n]
			x := t.Record
			if k := (key{x.Subject, x.Quantity, x.At}); t.Back == finding.ToRecords && !seen[k] {
				seen[k] = true
				x.Note = words.TestNote(t)
				all = append(all, x)
			}
		}
	}
	return record.WritePlan(w, words.TestPlanHead, all)
}
