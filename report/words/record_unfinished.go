package words

import (
	"rotorsieve/report/finding"
	"rotorsieve/sweep"
)

// judgedRecords is nil of a run that is complete.
func judgedRecords(r *finding.Run) []finding.JudgedRecord {
	if r.Result.Complete {
		return nil
	}
	var out []finding.JudgedRecord
	for d := range r.Result.Judged {
		j := r.Judged(d)
		out = append(out, finding.JudgedRecord{
			Diameter: finding.Number{Value: j.Diameter, Unit: sweep.Diameter.Kind.SI().Symbol},
			Designs:  j.Done, Share: float64(j.Done) / float64(j.Of)})
	}
	return out
}

// restRecord is nil of a run that is complete, and of a class without a feasible design.
func restRecord(r *finding.Run, f *finding.Class) *finding.RestRecord {
	if r.Result.Complete || f.Best() == nil {
		return nil
	}
	e := r.Rest(f)
	out := &finding.RestRecord{Chance: e.Chance}
	if e.Blocks > 0 {
		out.Gain, out.Most = &e.Typical, &e.Most
	}
	return out
}
