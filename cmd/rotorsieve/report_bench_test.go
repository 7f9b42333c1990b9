//go:build unix

package main

import (
	"context"
	"flag"
	"io"
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"rotorsieve/report"
	"rotorsieve/report/figure"
	"rotorsieve/report/finding"
	"rotorsieve/report/sheet"
	"rotorsieve/sweep"
	"rotorsieve/sweep/decide"
)

var reported = flag.String("reported", "../../configs/ridge-scout.flags",
	"flag file of the study whose report is measured")

// used is the processor time of this process so far, in s.
func used(b *testing.B) float64 {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		b.Fatal(err)
	}
	return float64(u.Utime.Nano()+u.Stime.Nano()) / 1e9
}

// BenchmarkReport measures the processor time of the report of the demo and of its parts: what is
// found of the result, the pictures, the workbook, and all files. The sweep and the choice before
// it take a minute, and are not counted.
func BenchmarkReport(b *testing.B) {
	s := newStudyFlags("sweep", sweepDefaults)
	s.output(s.group("Output"))
	o := new(sweepOptions)
	o.declare(s.group("Run"), s.group("Run"))
	if err := s.take([]string{"@" + *reported}); err != nil {
		b.Fatal(err)
	}
	st, err := s.study()
	if err != nil {
		b.Fatal(err)
	}
	if err := o.cache.serve(st.Models(), false, os.Stderr); err != nil {
		b.Fatal(err)
	}
	result, err := sweep.Run(b.Context(), st, sweep.Options{})
	if err != nil {
		b.Fatal(err)
	}
	narrow(result, st)
	decision, err := decide.Run(b.Context(), st, result, decide.Options{Draws: s.choice.draws,
		Seed: uint64(s.choice.seed), ByThrottle: s.choice.byThrottle})
	if err != nil {
		b.Fatal(err)
	}
	fresh := func() *finding.Run {
		r := s.report(st)
		r.Result, r.Decision = result, decision
		return r
	}
	r := fresh()
	found, err := r.Findings()
	if err != nil {
		b.Fatal(err)
	}
	pictures, err := figure.Draw(b.Context(), r)
	if err != nil {
		b.Fatal(err)
	}
	for _, part := range []struct {
		name string
		do   func(context.Context) error
	}{
		{"findings", func(context.Context) error { _, err := fresh().Findings(); return err }},
		{"pictures", func(ctx context.Context) error { _, err := figure.Draw(ctx, r); return err }},
		{"workbook", func(ctx context.Context) error {
			return sheet.WriteReview(ctx, io.Discard, b.TempDir(), r, found, pictures)
		}},
		{"whole", func(ctx context.Context) error {
			_, err := report.Write(ctx, fresh(), filepath.Join(b.TempDir(), "report"))
			return err
		}},
	} {
		b.Run(part.name, func(b *testing.B) {
			defer lean()()
			before := used(b)
			for b.Loop() {
				if err := part.do(b.Context()); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric((used(b)-before)/float64(b.N), "cpu-s/op")
		})
	}
}
