package main

import (
	"encoding/json"
	"fmt"
	"strconv"
	"strings"

	"rotorsieve/model"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

// auditFailed is the error of a run whose self-audit failed, nil of others. It says
// what to report and how to see the design again; flags is a flag file of the study,
// "" where none was written.
func auditFailed(r *finding.Run, flags string) error {
	a := &r.Result.Audit
	if a.First == nil {
		return nil
	}
	b := a.First
	side := "most"
	if b.Least {
		side = "least"
	}
	value := func(v float64) string { return b.Metric.Unit.Format(v, 6) }
	with := "with the flags of the study and"
	if flags != "" {
		with = "@" + flags
	}
	in := ""
	if len(r.Study.Others) > 0 {
		in = fmt.Sprintf(" in scenario %d (%s)", b.Scenario+1, words.Scenario(r.Study, b.Scenario))
	}
	return &exitError{exitAudit, fmt.Sprintf("self-audit failed: %s of design %d%s is %s where it was "+
		"bounded to at %s %s "+
		"(model %s, %d of %s designs checked), results may lack designs, want this line reported: "+
		"rotorsieve explain %s %s shows the design",
		b.Metric.Name, b.Index, in, value(b.Value), side, value(b.Bound), model.Version, a.Breaches,
		texts.Grouped(a.Checked), with,
		strings.Join(designFlags(r.Study.Grid, b.Index), " "))}
}

// auditFailedThere is the error of a finished run whose record says that its self-audit
// failed.
func auditFailedThere(dir string, record []byte) error {
	var in struct {
		Run struct {
			Audit struct{ Breaches uint64 }
		}
	}
	if err := json.Unmarshal(record, &in); err != nil {
		return fmt.Errorf("--out %s: %s: %w", dir, finding.RecordName, err)
	}
	if in.Run.Audit.Breaches == 0 {
		return nil
	}
	return &exitError{exitAudit, fmt.Sprintf("self-audit failed: results in %s may lack designs, see run.audit in %s",
		dir, finding.RecordName)}
}

// designFlags state a design of a grid, to the last bit, of parts that exist their names.
func designFlags(g *sweep.Grid, index uint64) []string {
	var flags []string
	for _, p := range finding.NamedParts(g.Design(index)) {
		flags = append(flags, "--part='"+strings.ReplaceAll(p.Name, "'", `'\''`)+"'")
	}
	for n, a := range g.Axes() {
		if a.Of != nil || a.Def.IsPart() {
			continue // as the named part has it
		}
		v := strconv.FormatFloat(a.Values[g.At(index, n)], 'g', -1, 64)
		flags = append(flags, "--"+a.Def.Name+"="+v+a.Def.Kind.SI().Symbol)
	}
	return flags
}
