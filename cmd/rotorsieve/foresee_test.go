//go:build linux

package main

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"rotorsieve/report"
	"rotorsieve/sweep"
	"rotorsieve/sweep/spent"
)

var forecasts = flag.Int("forecasts", 0, "hold what dry runs tell against whole runs, so many times each")

var forecastOf = flag.String("forecast-of", "quarter-kilo,racing-five,long-cruiser,camera-carrier,four-classes,"+
	"ridge-scout", "studies of configs for -forecasts, with flags after a blank")

// costs are what the parts of a run take: processor time in s, memory of the process in MB.
type costs struct {
	Sweep, Choice, Report      float64
	SweepMB, ChoiceMB, FinalMB float64
	Builds                     int
}

// foretelling is the variable by which a child of TestForecasts knows what to do.
const foretelling = "ROTORSIEVE_FORETELL"

// What dry runs tell of whole studies beside what these take, each in a process of its own and by
// turns. It measures, and is no check: make forecasts runs it.
func TestForecasts(t *testing.T) {
	if task := os.Getenv(foretelling); task != "" {
		childForecast(t, task)
		return
	}
	if *forecasts == 0 {
		t.Skip("measures only with -forecasts")
	}
	dir := t.TempDir()
	child := func(task string, args []string) (c costs) {
		x := exec.Command(os.Args[0], "-test.run=^TestForecasts$", "-test.v")
		x.Env = append(os.Environ(), foretelling+"="+task+"\n"+strings.Join(args, "\n"))
		out, err := x.CombinedOutput()
		_, text, ok := bytes.Cut(out, []byte("COSTS "))
		if err != nil || !ok {
			t.Fatalf("%q: %v\n%s", args, err, out)
		}
		if err := json.NewDecoder(bytes.NewReader(text)).Decode(&c); err != nil {
			t.Fatal(err)
		}
		return c
	}
	var b strings.Builder
	b.WriteString("| study | sweep, s | told/taken | choice, s | told/taken | builds | report, s | told/taken | MB | " +
		"told/taken |\n|---|---|---|---|---|---|---|---|---|---|\n")
	for _, study := range strings.Split(*forecastOf, ",") {
		for n := range *forecasts {
			words := strings.Fields(study)
			args := append([]string{"@../../configs/" + words[0] + ".flags", "--quiet", "--out",
				filepath.Join(dir, fmt.Sprint(words[0], n))}, words[1:]...)
			told, taken := child("told", args), child("taken", args)
			over := func(a, b float64) string {
				if b == 0 {
					return "-"
				}
				return strconv.FormatFloat(a/b, 'f', 2, 64)
			}
			fmt.Fprintf(&b, "| %s | %.2f | %s | %.2f | %s | %d of %d | %.2f | %s | %.0f, %.0f, %.0f | %s, %s, %s |\n",
				study, taken.Sweep, over(told.Sweep, taken.Sweep), taken.Choice, over(told.Choice, taken.Choice),
				told.Builds, taken.Builds, taken.Report, over(told.Report, taken.Report),
				taken.SweepMB, taken.ChoiceMB, taken.FinalMB, over(told.SweepMB, taken.SweepMB),
				over(told.ChoiceMB, taken.ChoiceMB), over(told.FinalMB, taken.FinalMB))
		}
	}
	t.Log("\n" + b.String())
}

// childForecast tells of a run, or runs it.
func childForecast(t *testing.T, task string) {
	task, rest, _ := strings.Cut(task, "\n")
	s := newStudyFlags("sweep", sweepDefaults)
	output := s.group("Output")
	s.output(output)
	var o sweepOptions
	o.declare(output, s.group("Run"))
	if err := s.take(strings.Split(rest, "\n")); err != nil {
		t.Fatal(err)
	}
	if err := o.check(); err != nil {
		t.Fatal(err)
	}
	st, err := s.study()
	if err != nil {
		t.Fatal(err)
	}
	if err := o.cache.serve(st.Models(), task == "told", nil); err != nil {
		t.Fatal(err)
	}
	var c costs
	if task == "told" {
		whole, _ := spent.On(func() error {
			f, err := s.foresee(st, &o)
			if err != nil {
				t.Fatal(err)
			}
			c = costs{Sweep: f.sweep.CPU.Seconds(), SweepMB: f.sweep.Memory / 1e6, FinalMB: f.memory / 1e6}
			if f.choice != nil {
				c.Choice, c.Builds = f.choice.CPU.Seconds(), f.choice.Builds
				c.ChoiceMB = (f.sweep.Alone + f.choice.Memory) / 1e6
			}
			c.Report = f.report.CPU.Seconds()
			return nil
		})
		t.Logf("the forecast took %v", whole)
	} else {
		c = runPhases(t, s, st, &o)
	}
	text, err := json.Marshal(c)
	if err != nil {
		t.Fatal(err)
	}
	fmt.Printf("COSTS %s\n", text)
}

// runPhases runs a study as the command does.
func runPhases(t *testing.T, s *studyFlags, st *sweep.Study, o *sweepOptions) (c costs) {
	r := s.report(st)
	phase := func(cost, memory *float64, do func() error) {
		if err := os.WriteFile("/proc/self/clear_refs", []byte("5"), 0); err != nil { // the peak anew
			t.Fatal(err)
		}
		took, err := spent.On(do)
		if err != nil {
			t.Fatal(err)
		}
		*cost, *memory = took.Seconds(), peakMB(t)
	}
	phase(&c.Sweep, &c.SweepMB, func() (err error) {
		r.Result, err = sweep.Run(t.Context(), st, sweep.Options{Workers: o.workers, Every: time.Second,
			Progress: func(sweep.Progress) {}})
		narrow(r.Result, st)
		return err
	})
	phase(&c.Choice, &c.ChoiceMB, func() error {
		if s.choice.draws == 0 {
			return nil
		}
		err := s.choice.decideOn(t.Context(), r, o.workers, &progress{w: io.Discard, every: time.Hour}, "")
		for _, of := range r.Decision.Classes {
			c.Builds += of.Judged
		}
		return err
	})
	var reportMB float64
	phase(&c.Report, &reportMB, func() error {
		defer lean()()
		_, err := report.Write(t.Context(), r, o.out)
		return err
	})
	c.FinalMB = max(c.SweepMB, c.ChoiceMB, reportMB)
	return c
}

func peakMB(t *testing.T) float64 {
	b, err := os.ReadFile("/proc/self/status")
	if err != nil {
		t.Fatal(err)
	}
	kB, err := strconv.ParseFloat(string(regexp.MustCompile(`VmHWM:\s+(\d+) kB`).FindSubmatch(b)[1]), 64)
	if err != nil {
		t.Fatal(err)
	}
	return kB * 1024 / 1e6
}
