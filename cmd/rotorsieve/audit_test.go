package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"rotorsieve/model"
	"rotorsieve/report/finding"
	"rotorsieve/sweep"
)

// swept runs a study as the command does, up to its report.
func swept(t *testing.T, flags ...string) *finding.Run {
	t.Helper()
	s := newStudyFlags("sweep", sweepDefaults)
	s.output(s.group("Output"))
	new(sweepOptions).declare(s.group("Run"), s.group("Run"))
	if err := s.take(append(flags, "--name", "audited", "--draws", "0")); err != nil {
		t.Fatal(err)
	}
	st, err := s.study()
	if err != nil {
		t.Fatal(err)
	}
	r := s.report(st)
	if r.Result, err = sweep.Run(context.Background(), st, sweep.Options{Flags: r.Flags}); err != nil {
		t.Fatal(err)
	}
	return r
}

// A run whose self-audit failed is written and marked, and says in one line what to
// report, with a command that shows the number. It stays failed when it is asked for
// again.
func TestAuditFailed(t *testing.T) {
	t.Chdir(t.TempDir())
	r := swept(t, small...)
	best, ok := r.Result.Classes[0].Best()
	if !ok {
		t.Fatal("nothing is feasible")
	}
	speed, _ := model.LookupMetric("top-speed")
	craft, err := r.Study.Model.Evaluate(r.Study.Grid.Design(best.Index))
	if err != nil {
		t.Fatal(err)
	}
	v := speed.Of(craft)
	r.Result.Audit = sweep.Audit{Checked: 1234, Breaches: 2, First: &sweep.Breach{Index: best.Index, Metric: speed,
		Bound: 0.9 * v, Value: v}}
	home, err := claim("out", false, false, "")
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	err = finish(t.Context(), r, home, &results{}, &progress{w: io.Discard}, "", &out)
	home.release()
	var e *exitError
	if !errors.As(err, &e) || e.status != exitAudit {
		t.Fatalf("error %v, want one of status %d", err, exitAudit)
	}
	head := fmt.Sprintf("self-audit failed: top-speed of design %d is %s where it was bounded to at most %s (model "+
		"%s, 2 of 1,234 designs checked)",
		best.Index, speed.Unit.Format(v, 6), speed.Unit.Format(0.9*v, 6), model.Version)
	if !strings.HasPrefix(e.line, head) || strings.Contains(e.line, "\n") {
		t.Errorf("got  %s\nwant %s", e.line, head)
	}
	if !strings.Contains(out.String(), "\nSELF-AUDIT FAILED: 2 bounds not kept in 1,234 designs checked\n") {
		t.Errorf("the report is not marked: %.600s", out.String())
	}
	_, command, _ := strings.Cut(e.line, "rotorsieve explain ")
	command, _, _ = strings.Cut(command, " shows the design")
	var sheet struct {
		Metrics map[string]struct{ Value float64 }
	}
	if err := json.Unmarshal([]byte(said(t, append([]string{"explain", "--format", "json"},
		strings.Fields(command)...)...)), &sheet); err != nil {
		t.Fatal(err)
	}
	if got := sheet.Metrics["top-speed"].Value; got != v {
		t.Errorf("explain shows a top speed of %v m/s, want %v", got, v)
	}
	record, err := os.ReadFile(filepath.Join("out", finding.RecordName))
	if err != nil {
		t.Fatal(err)
	}
	var in struct {
		Result struct{ Warnings []string }
		Run    struct {
			Audit struct {
				Checked, Breaches uint64
				First             struct {
					Index        uint64
					Metric       string
					Bound, Value struct{ Value float64 }
				}
			}
		}
	}
	if err := json.Unmarshal(record, &in); err != nil {
		t.Fatal(err)
	}
	a := in.Run.Audit
	if a.Checked != 1234 || a.Breaches != 2 || a.First.Index != best.Index || a.First.Metric != "top-speed" ||
		a.First.Value.Value != v || a.First.Bound.Value != 0.9*v {
		t.Errorf("run.json has %+v", a)
	}
	if len(in.Result.Warnings) == 0 || !strings.HasPrefix(in.Result.Warnings[0], "SELF-AUDIT FAILED") {
		t.Errorf("run.json warns of %q", in.Result.Warnings)
	}
	var stdout, stderr bytes.Buffer
	again := append([]string{"sweep", "--out", "out", "--resume"}, append(small, "--name", "audited", "--draws", "0")...)
	if status := run(context.Background(), again, &stdout, &stderr); status != exitAudit ||
		!strings.Contains(stderr.String(), "self-audit failed: results in out may lack designs") {
		t.Errorf("asked again: status %d: %s", status, &stderr)
	}
}

// Of several scenarios the line says in which, and a design of parts that exist is named by them, in
// quotes for a shell.
func TestAuditFailedOfParts(t *testing.T) {
	t.Chdir(t.TempDir())
	if err := os.WriteFile("motors.csv", []byte("name,stator,kv\nGull 1804,1804,2500\nGull's 2004,2004,2400\n"),
		0o644); err != nil {
		t.Fatal(err)
	}
	r := swept(t, "--motors", "motors.csv", "--altitude", "0m,2000m", "--diameter", "4in", "--pitch-ratio", "0.7",
		"--cells", "4", "--capacity", "650,1050mAh", "--figures", "none", "--quiet")
	speed, _ := model.LookupMetric("top-speed")
	last := r.Study.Grid.Size() - 1
	for last > 0 && finding.NamedParts(r.Study.Grid.Design(last))[0].Name != "Gull's 2004" {
		last--
	}
	r.Result.Audit = sweep.Audit{Checked: 1, Breaches: 1, First: &sweep.Breach{Index: last, Scenario: 1,
		Metric: speed, Bound: 20, Value: 19, Least: true}}
	line := auditFailed(r, "").Error()
	for _, want := range []string{fmt.Sprintf("top-speed of design %d in scenario 2 (2000 m) is 19 m/s", last),
		`explain with the flags of the study and --part='Gull'\''s 2004' --diameter=`} {
		if !strings.Contains(line, want) {
			t.Errorf("want %s in %s", want, line)
		}
	}
	if strings.Contains(line, "--motor=") || strings.Contains(line, "--kv=") {
		t.Errorf("values of the part are stated beside it: %s", line)
	}
	args := append([]string{"explain", "--motors", "motors.csv", "--altitude", "0m,2000m"},
		designFlags(r.Study.Grid, last)...)
	for i, a := range args {
		if of, ok := strings.CutPrefix(a, "--part="); ok {
			args[i] = "--part=" + strings.ReplaceAll(strings.Trim(of, "'"), `'\''`, "'")
		}
	}
	var stdout, stderr bytes.Buffer
	if status := run(t.Context(), args, &stdout, &stderr); status > 1 || !strings.Contains(stdout.String(), "Gull's 2004") {
		t.Errorf("explain of it: status %d: %s", status, &stderr)
	}
	if a := finding.AuditRecordOf(r.Study, &r.Result.Audit); a.First.Scenario != 2 {
		t.Errorf("the record has scenario %d, want 2", a.First.Scenario)
	}
}

// A shard whose self-audit failed says so, and that outweighs that it is not finished.
func TestAuditFailedShard(t *testing.T) {
	t.Chdir(t.TempDir())
	r := swept(t, small...)
	speed, _ := model.LookupMetric("top-speed")
	r.Result.Audit = sweep.Audit{Checked: 1, Breaches: 1, First: &sweep.Breach{Index: 3, Metric: speed, Bound: 20,
		Value: 19, Least: true}}
	r.Result.Complete = false
	var e *exitError
	if err := shardDone(r, &folder{dir: "out"}, &bytes.Buffer{}); !errors.As(err, &e) || e.status != exitAudit ||
		!strings.Contains(e.line, "top-speed of design 3 is 19 m/s where it was bounded to at least 20 m/s") ||
		!strings.Contains(e.line, "rotorsieve explain with the flags of the study and --diameter=0.1016m") {
		t.Errorf("%v", err)
	}
	r.Result.Audit = sweep.Audit{Checked: 1}
	if err := shardDone(r, &folder{dir: "out"}, &bytes.Buffer{}); !errors.As(err, &e) || e.status != exitEarly ||
		e.line != "" {
		t.Errorf("%v, want a shard that ended early", err)
	}
}
