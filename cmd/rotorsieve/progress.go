package main

import (
	"fmt"
	"io"
	"time"

	"github.com/schollz/progressbar/v3"

	"rotorsieve/report/texts"
	"rotorsieve/sweep"
)

// progress shows how far a run has come: a bar on a terminal, a plain line every
// half minute elsewhere.
type progress struct {
	w     io.Writer
	what  string // is run
	width int    // of the terminal, 0 for none
	bar   *progressbar.ProgressBar
	every time.Duration
	last  sweep.Progress
}

const plainInterval = 30 * time.Second

// newProgress begins with a line that says what is run.
func newProgress(w io.Writer, st *sweep.Study, place sweep.Shard) *progress {
	p := &progress{w: w, what: st.Name, every: plainInterval}
	if !place.Whole() {
		p.what += fmt.Sprintf(", shard %v", place)
	}
	fmt.Fprintf(w, "%s: %s designs\n", p.what, texts.Grouped(st.Grid.Size()))
	if terminal(w) != nil {
		p.width, p.every = columns(w), 200*time.Millisecond
	}
	return p
}

func (p *progress) show(at sweep.Progress) {
	p.last = at
	switch {
	case p.width > 0:
		if p.bar == nil {
			p.bar = newBar(p.w, at.Total, p.width)
		}
		p.bar.Describe(pace(at))
		_ = p.bar.Set64(int64(at.Done)) // a bar that cannot be drawn is no reason to stop
	case at.Done < at.Total:
		fmt.Fprintf(p.w, "%5.1f %%  %s\n", 100*float64(at.Done)/float64(at.Total), pace(at))
	}
}

func newBar(w io.Writer, total uint64, width int) *progressbar.ProgressBar {
	const beside = 62 // characters beside the bar
	return progressbar.NewOptions64(int64(total), progressbar.OptionSetWriter(w),
		progressbar.OptionSetWidth(min(max(width-beside, 5), 30)),
		progressbar.OptionSetPredictTime(false), progressbar.OptionSetElapsedTime(false),
		progressbar.OptionThrottle(100*time.Millisecond), progressbar.OptionClearOnFinish())
}

// weighing begins the choice among the builds of a study.
func weighing(w io.Writer, study string) *progress {
	p := &progress{w: w, what: study, every: plainInterval}
	if terminal(w) != nil {
		p.width = columns(w)
	}
	return p
}

// weigh shows how far a choice has come, on a terminal alone: it takes seconds.
func (p *progress) weigh(done, total int) {
	if p.width == 0 {
		return
	}
	if p.bar == nil {
		p.bar = newBar(p.w, uint64(total), p.width)
		p.bar.Describe("builds over the draws")
	}
	p.bar.ChangeMax(total)
	_ = p.bar.Set(min(done, total))
}

// pace says what has been found and how long the rest will take.
func pace(at sweep.Progress) string {
	// What an earlier run has judged says nothing about the speed of this one.
	rate := float64(at.Fresh) / at.Elapsed.Seconds()
	if !(rate > 0) {
		return texts.Grouped(at.Feasible) + " feasible"
	}
	left := time.Duration(float64(at.Total-at.Done) / rate * float64(time.Second))
	return fmt.Sprintf("%s feasible, %s designs/s, %s left", texts.Grouped(at.Feasible),
		texts.Grouped(threeDigits(rate)), spell(left))
}

// threeDigits rounds a positive number to three significant digits.
func threeDigits(v float64) uint64 {
	step := uint64(1)
	for v/float64(step) >= 1000 {
		step *= 10
	}
	return uint64(v/float64(step)+0.5) * step
}

// clear takes the bar away, so that what is printed next begins a line.
func (p *progress) clear() {
	if p.bar != nil {
		_ = p.bar.Clear()
		p.bar = nil
	}
}

// end leaves one line that says what was done.
func (p *progress) end() {
	p.clear()
	at := p.last
	done := at.Done == at.Total
	of := ""
	if !done {
		of = " of " + texts.Grouped(at.Total)
	}
	now, feasible := "", "feasible"
	if at.Fresh < at.Done {
		now, feasible = ", "+texts.Grouped(at.Fresh)+" of them now", "of these feasible"
	}
	fmt.Fprintf(p.w, "%s: %s%s designs judged%s in %s, %s %s\n", p.what, texts.Grouped(at.Done), of, now,
		spell(at.Elapsed), texts.Grouped(at.Feasible), feasible)
}
