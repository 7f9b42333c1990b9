package main

import (
	"fmt"
	"io"
	"strings"
	"time"

	"github.com/schollz/progressbar/v3"

	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
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
		p.bar.Describe(described(at, p.width))
		_ = p.bar.Set64(int64(at.Done)) // a bar that cannot be drawn is no reason to stop
	case at.Done < at.Total:
		text := pace(at)
		if best := leading(at.Best, plainRoom); best != "" {
			text += ", " + best
		}
		fmt.Fprintf(p.w, "%5.1f %%  %s\n", 100*float64(at.Done)/float64(at.Total), text)
	}
}

const (
	beside    = 62  // characters beside the bar and what leads
	leastBar  = 5   // characters
	leadRoom  = 34  // that a class that leads has at least
	plainRoom = 100 // that all have on a plain line
)

func newBar(w io.Writer, total uint64, width int) *progressbar.ProgressBar {
	return progressbar.NewOptions64(int64(total), progressbar.OptionSetWriter(w),
		progressbar.OptionSetWidth(barWidth(width)),
		progressbar.OptionSetPredictTime(false), progressbar.OptionSetElapsedTime(false),
		progressbar.OptionThrottle(100*time.Millisecond), progressbar.OptionClearOnFinish())
}

func barWidth(width int) int { return min(max(width-beside-leadRoom, leastBar), 30) }

// described is what stands beside a bar: how far it is, and what leads. Where there is no
// room for both, the speed is left out.
func described(at sweep.Progress, width int) string {
	text, room := pace(at), width-beside-barWidth(width)
	if room < leadRoom && len(at.Best) > 0 {
		short := without(text)
		text, room = short, room+len(text)-len(short)
	}
	if best := leading(at.Best, room-2); best != "" {
		text += ", " + best
	}
	return text
}

// without leaves out the speed of a pace.
func without(pace string) string {
	if parts := strings.Split(pace, ", "); len(parts) == 3 {
		return parts[0] + ", " + parts[2]
	}
	return pace
}

// leading says what is the best so far, of as many classes as there is room for: "best 249 g:
// 3.5 in 0.701".
func leading(best []sweep.Leading, room int) string {
	out := ""
	for i, k := range best {
		text := fmt.Sprintf("%s: %s %.3f", words.ClassLabel(k.Class), finding.Inch.Format(k.Diameter, 4), k.Score)
		if i == 0 {
			text = "best " + text
		} else {
			text = out + ", " + text
		}
		more := ""
		if i+1 < len(best) {
			more = ", ..."
		}
		if n := len([]rune(text + more)); n > room {
			if out != "" {
				out += ", ..."
			}
			return out
		}
		out = text
	}
	return out
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
