package main

import (
	"fmt"
	"io"
	"strings"
	"sync"
	"time"

	"github.com/schollz/progressbar/v3"

	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

// What a command is at.
const (
	phaseStart  = "start"
	phaseJoin   = "join"
	phaseSweep  = "sweep"
	phaseChoice = "choice"
	phaseDump   = "dump"
	phaseReport = "report"
)

// progress shows how far a command has come: a bar on a terminal, a plain line every half minute
// elsewhere, or an object every second; and says it whenever it is asked.
type progress struct {
	w     io.Writer
	form  string // "" for auto
	what  string // is run
	width int    // of the terminal, 0 for none
	every time.Duration

	mu          sync.Mutex
	bar         *progressbar.ProgressBar
	phase       string
	start       time.Time // of the command
	began       time.Time // the phase
	shown       time.Time
	logged      time.Time // beside a bar
	last        sweep.Progress
	done, total int // builds of a choice

	// What there is in the end.
	found *finding.Run
	dir   string
	files []string
}

const plainInterval = 30 * time.Second

// attentive is how often a run says how far it is, so that it can be told when a signal asks.
const attentive = 200 * time.Millisecond

// sweeps begins the sweep of a study with a line that says what is run.
func (p *progress) sweeps(st *sweep.Study, place sweep.Shard) {
	p.turn(phaseSweep)
	what := st.Name
	if !place.Whole() {
		what += fmt.Sprintf(", shard %v", place)
	}
	p.of(what)
	switch p.form {
	case progressNone:
	case progressJSON:
		p.mu.Lock()
		defer p.mu.Unlock()
		p.last.Total = st.Grid.Size() / uint64(max(place.Of, 1))
		event(p.w, "status", p.line(), p.status()...)
	default:
		fmt.Fprintf(p.w, "%s: %s designs\n", p.what, texts.Grouped(st.Grid.Size()))
	}
}

// of notes what is run.
func (p *progress) of(what string) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.what = what
}

// turn begins another phase.
func (p *progress) turn(phase string) {
	p.clear()
	p.mu.Lock()
	defer p.mu.Unlock()
	now := time.Now()
	p.phase, p.began, p.shown, p.logged, p.last, p.done, p.total = phase, now, now, now, sweep.Progress{}, 0, 0
	if p.form == progressJSON && phase != phaseSweep {
		event(p.w, "status", p.line(), p.status()...)
	}
}

// take notes how far a sweep or a dump is, and shows it when it is time.
func (p *progress) take(at sweep.Progress) {
	p.mu.Lock()
	p.last = at
	due := time.Since(p.shown) >= p.every || at.Done == at.Total
	if due {
		p.shown = time.Now()
	}
	if p.width > 0 && at.Done < at.Total && time.Since(p.logged) >= plainInterval {
		p.logged = time.Now()
		logLine(p.w, plainly(at))
	}
	p.mu.Unlock()
	if due && p.form != progressNone {
		p.show(at)
	}
}

// show shows how far a sweep or a dump is.
func (p *progress) show(at sweep.Progress) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.last = at
	switch {
	case p.form == progressJSON:
		event(p.w, "status", p.plainDue(), p.status()...)
	case p.width > 0:
		if p.bar == nil {
			p.bar = newBar(p.w, at.Total, p.width)
		}
		p.bar.Describe(described(at, p.width))
		_ = p.bar.Set64(int64(at.Done)) // a bar that cannot be drawn is no reason to stop
	case at.Done < at.Total:
		fmt.Fprintln(p.w, plainly(at))
	}
}

// plainDue is the line of a log beside objects, every half minute; "" between.
func (p *progress) plainDue() string {
	if time.Since(p.logged) < plainInterval {
		return ""
	}
	p.logged = time.Now()
	return p.line()
}

// plainly is how far a sweep is, on a line.
func plainly(at sweep.Progress) string {
	text := pace(at)
	if best := leading(at.Best, plainRoom); best != "" {
		text += ", " + best
	}
	return fmt.Sprintf("%5.1f %%  %s", 100*float64(at.Done)/float64(max(at.Total, 1)), text)
}

// say says on a line how far a command is, as a signal asks.
func (p *progress) say() {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.bar != nil {
		_ = p.bar.Clear()
	}
	if p.form == progressJSON {
		event(p.w, "status", p.line(), p.status()...)
		return
	}
	fmt.Fprintln(p.w, p.line())
}

// line is how far a command is, under the lock.
func (p *progress) line() string {
	text := p.what + ": " + p.phase
	switch p.phase {
	case phaseSweep, phaseDump:
		if p.last.Total > 0 {
			return text + " " + strings.TrimSpace(plainly(p.last))
		}
	case phaseChoice:
		if p.total > 0 {
			text += fmt.Sprintf(" %d of %d builds in draws", min(p.done, p.total), p.total)
		}
	}
	return text + ", for " + spell(time.Since(p.began))
}

const (
	beside    = 62  // characters beside the bar and what leads
	leastBar  = 5   // characters
	leadRoom  = 34  // that a class that leads has at least
	plainRoom = 100 // that all have on a plain line
)

func newBar(w io.Writer, total uint64, width int) *progressbar.ProgressBar {
	return progressbar.NewOptions64(int64(total), progressbar.OptionSetWriter(bare(w)),
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

// weigh notes how far a choice has come, and shows it on a terminal and as objects: it takes
// seconds.
func (p *progress) weigh(done, total int) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.done, p.total = done, total
	switch {
	case p.form == progressJSON:
		if time.Since(p.shown) >= p.every {
			p.shown = time.Now()
			event(p.w, "status", "", p.status()...)
		}
	case p.width > 0:
		if p.bar == nil {
			p.bar = newBar(p.w, uint64(total), p.width)
			p.bar.Describe("builds over the draws")
		}
		p.bar.ChangeMax(total)
		_ = p.bar.Set(min(done, total))
	}
}

// pace says what has been found and how long the rest will take.
func pace(at sweep.Progress) string {
	rate := rateOf(at)
	if !(rate > 0) {
		return texts.Grouped(at.Feasible) + " feasible"
	}
	return fmt.Sprintf("%s feasible, %s designs/s, %s left", texts.Grouped(at.Feasible),
		texts.Grouped(threeDigits(rate)), spell(timeLeft(at, rate)))
}

// rateOf is the speed of a run in designs per second. What an earlier run has judged says
// nothing about the speed of this one.
func rateOf(at sweep.Progress) float64 { return float64(at.Fresh) / at.Elapsed.Seconds() }

// timeLeft is how long the rest takes at that speed.
func timeLeft(at sweep.Progress, rate float64) time.Duration {
	return time.Duration(float64(at.Total-at.Done) / rate * float64(time.Second))
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
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.bar != nil {
		_ = p.bar.Clear()
		p.bar = nil
	}
}

// end leaves one line that says what was done.
func (p *progress) end() {
	p.clear()
	if p.form == progressNone || p.form == progressJSON {
		return
	}
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

// has notes what a command has found, and where it is left.
func (p *progress) has(r *finding.Run, dir string, files []string) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.found, p.dir, p.files = r, dir, files
}
