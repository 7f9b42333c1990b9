package main

import (
	"encoding/json"
	"fmt"
	"io"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"rotorsieve/report/finding"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

// Forms of the progress.
const (
	progressAuto  = "auto"
	progressPlain = "plain"
	progressJSON  = "json"
	progressNone  = "none"
)

// tellFlags say in what form a command that may take long tells how far it is, and where that
// is kept.
type tellFlags struct{ log, progress string }

func (t *tellFlags) declare(f *pflag.FlagSet) {
	f.Var(newPlace(&t.log, aFile), "log", "to append all that goes to standard error to, as dated lines (default none)")
	f.Var(newChoice(&t.progress, "form of progress", progressAuto, progressPlain, progressJSON, progressNone),
		"progress", "on standard error: a bar on a terminal and a line every 30 s elsewhere (auto), such lines "+
			"(plain), one JSON object a line for all that is said there (json), or none; see help progress")
}

// begin makes what a command tells by, and has it answer the signals that ask how far it is
// until the function that it gives is called.
func (t *tellFlags) begin(c *cobra.Command, quiet bool) (*progress, func()) {
	p := &progress{w: c.ErrOrStderr(), what: c.Name(), phase: phaseStart, form: t.progress}
	p.start, p.began = time.Now(), time.Now()
	p.every = plainInterval
	if quiet && p.form != progressJSON {
		p.form = progressNone
	}
	if p.form == progressAuto && terminal(p.w) != nil {
		p.width, p.every = columns(p.w), 200*time.Millisecond
	}
	if p.form == progressJSON {
		p.every = time.Second
	}
	if o, ok := p.w.(*output); ok {
		o.speak(t.progress == progressJSON, t.log != "", p.summary)
	}
	return p, p.answer()
}

// open begins the log, where one is asked for: what was said before is in it. It may be neither
// of the outputs nor in the folder of a dump, which holds nothing else.
func (t *tellFlags) open(w io.Writer, outputs []string, dump string) error {
	o, ok := w.(*output)
	if t.log == "" || !ok {
		return nil
	}
	o.mu.Lock()
	defer o.mu.Unlock()
	return o.log.open(t.log, outputs, dump)
}

// outputsIn are the paths of all that a run of these files writes in its folder.
func outputsIn(dir string, names []string) []string {
	paths := []string{dir}
	for _, name := range append([]string{checkpointName, lockName, finding.RecordName}, names...) {
		paths = append(paths, filepath.Join(dir, filepath.FromSlash(name)))
	}
	return paths
}

// event writes an object on a line of standard error where all is JSON there; in the log stands
// what is said in words.
func event(w io.Writer, kind, inWords string, members ...finding.Member) {
	o, ok := w.(*output)
	if !ok {
		return
	}
	o.mu.Lock()
	defer o.mu.Unlock()
	o.object(kind, inWords, members)
}

// object is event under the lock.
func (o *output) object(kind, inWords string, members []finding.Member) {
	all := append(finding.Object{{Name: "type", Value: kind},
		{Name: "time", Value: time.Now().UTC().Format(dated)}}, members...)
	line, err := json.Marshal(all)
	if err != nil {
		line = []byte(`{"type":"error","text":"what was to be said has no form in JSON"}`)
	}
	if o.log != nil && inWords != "" {
		o.log.line(inWords)
	}
	o.put(append(line, '\n'))
}

// status is how far a command is, as an object.
func (p *progress) status() []finding.Member {
	all := finding.Object{{Name: "study", Value: p.what}, {Name: "phase", Value: p.phase},
		{Name: "elapsed_s", Value: threeDecimals(time.Since(p.began))}}
	switch p.phase {
	case phaseSweep, phaseDump:
		at := p.last
		all = append(all, finding.Member{Name: "designs_done", Value: at.Done},
			finding.Member{Name: "designs_total", Value: at.Total},
			finding.Member{Name: "feasible", Value: at.Feasible})
		var rate, left any
		if r := rateOf(at); r > 0 {
			rate, left = threeDigits(r), threeDecimals(timeLeft(at, r))
		}
		all = append(all, finding.Member{Name: "designs_per_s", Value: rate},
			finding.Member{Name: "left_s", Value: left})
		best := []finding.Object{}
		for _, k := range at.Best {
			best = append(best, leadObject(k))
		}
		all = append(all, finding.Member{Name: "best", Value: best})
	case phaseChoice:
		all = append(all, finding.Member{Name: "builds_done", Value: p.done},
			finding.Member{Name: "builds_total", Value: p.total})
	}
	return all
}

func leadObject(k sweep.Leading) finding.Object {
	return finding.Object{{Name: "class", Value: words.ClassLabel(k.Class)}, {Name: "diameter_m", Value: k.Diameter},
		{Name: "merit", Value: k.Score}}
}

func threeDecimals(d time.Duration) float64 { return float64(d.Milliseconds()) / 1000 }

// summary is the last object of a command that has a result, with the status that it ends with.
func (p *progress) summary(status int) {
	p.mu.Lock()
	r, dir, files := p.found, p.dir, p.files
	p.mu.Unlock()
	if r == nil || r.Result == nil {
		return
	}
	k := r.Result
	var feasible []finding.Object
	for i := range k.Classes {
		c := &k.Classes[i]
		feasible = append(feasible, finding.Object{{Name: "class", Value: words.ClassLabel(c.Class)},
			{Name: "feasible", Value: c.Feasible}})
	}
	event(p.w, "summary", fmt.Sprintf("rotorsieve: ended with status %d", status),
		finding.Member{Name: "study", Value: r.Study.Name}, finding.Member{Name: "exit_status", Value: status},
		finding.Member{Name: "complete", Value: k.Complete}, finding.Member{Name: "designs_done", Value: k.Done},
		finding.Member{Name: "designs_total", Value: k.Share}, finding.Member{Name: "classes", Value: feasible},
		finding.Member{Name: "elapsed_s", Value: threeDecimals(time.Since(p.start))},
		finding.Member{Name: "folder", Value: filepath.ToSlash(dir)},
		finding.Member{Name: "files", Value: finding.List(files)})
}
