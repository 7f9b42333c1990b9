package report

import (
	"fmt"
	"strings"

	"rotorsieve/sweep"
)

// mark is what must be said of a run wherever its results are shown, "" for nothing:
// that it did not judge the whole grid, or that its self-audit failed.
func (r *Run) mark() string {
	var marks []string
	if m := r.incomplete(); m != "" {
		marks = append(marks, m)
	}
	if a := &r.Result.Audit; a.Breaches > 0 {
		marks = append(marks, fmt.Sprintf("SELF-AUDIT FAILED: %s not kept in %s designs checked",
			plural(int(a.Breaches), "a bound", grouped(a.Breaches)+" bounds"), grouped(a.Checked)))
	}
	return strings.Join(marks, "; ")
}

// auditRecord is the self-audit of a run.
func auditRecord(a *sweep.Audit) AuditRecord {
	o := AuditRecord{Checked: a.Checked, Breaches: a.Breaches}
	if b := a.First; b != nil {
		u := exportUnit(b.Metric)
		o.First = &BreachRecord{Index: b.Index, Metric: b.Metric.Name, AtLeast: b.Least,
			Bound: quantity{orNull(u.FromSI(b.Bound)), u.Symbol}, Value: quantity{orNull(u.FromSI(b.Value)), u.Symbol}}
	}
	return o
}
