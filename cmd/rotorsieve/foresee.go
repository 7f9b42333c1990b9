package main

import (
	"time"

	"rotorsieve/report"
	"rotorsieve/report/figure"
	"rotorsieve/sweep"
	"rotorsieve/sweep/decide"
)

// How a run is estimated: by judging designs for a while. Variables for tests alone.
var (
	trial    = time.Second
	estimate = sweep.Estimate
)

// forecast is what a run will take.
type forecast struct {
	sweep  sweep.Forecast
	choice *decide.Forecast // nil where there is none
	report *figure.Forecast // the same; its memory is that of the process
	memory float64          // of the process at most, in bytes
}

// foresee tries parts of a run out, and tells what the whole will take.
func (s *studyFlags) foresee(st *sweep.Study, o *sweepOptions) (f forecast, err error) {
	if f.sweep, err = estimate(st, sweep.Options{Workers: o.workers, Shard: o.place}, trial); err != nil {
		return f, err
	}
	f.memory = f.sweep.Memory
	if o.sharded() {
		return f, nil // what follows is that of merge
	}
	if s.choice.draws > 0 {
		choice, err := s.choice.foresee(st, &f.sweep, o.workers)
		if err != nil {
			return f, err
		}
		f.choice = &choice
		f.memory = max(f.memory, f.sweep.Alone+choice.Memory)
	}
	r := s.report(st)
	r.Result = f.sweep.Found
	written, err := report.Foresee(r)
	if err != nil {
		return f, err
	}
	ranked := float64(uint64(len(st.Classes)) * min(uint64(st.Top), st.Grid.Size()))
	written.Memory += f.sweep.Alone + besideSweep + perRanked*ranked
	f.report = &written
	f.memory = max(f.memory, written.Memory)
	return f, nil
}

// What a report takes beside its pictures, in bytes, measured on whole runs: over
// what one worker has left, and per ranked design (top 200 against 100,000).
const besideSweep, perRanked = 15e6, 1.6e3
