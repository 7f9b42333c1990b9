package main

import (
	"time"

	"rotorsieve/report"
	"rotorsieve/report/figure"
	"rotorsieve/report/sheet"
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
	narrow(r.Result, st)
	if f.choice != nil {
		r.Decision = f.choice.Sketch
	}
	defer lean()() // as the report will be
	written, err := report.Foresee(r)
	if err != nil {
		return f, err
	}
	ranked := float64(min(uint64(st.Top), st.Grid.Size()))
	sheets := min(perRow*min(ranked, sheet.SheetRanks), perSheet)
	written.Memory += f.sweep.Alone + besideSweep + float64(len(st.Classes))*(perRanked*ranked+sheets)
	f.report = &written
	f.memory = max(f.memory, written.Memory)
	return f, nil
}

// What a report takes beside its pictures, in bytes, measured on whole runs: over what one worker has
// left; per ranked design (top 5 000 against 100 000); and of the rankings in the workbook per row (50
// classes against one), up to where a sheet is spooled (top 200 against 5 000).
const besideSweep, perRanked, perRow, perSheet = 15e6, 0.9e3, 8e3, 42e6
