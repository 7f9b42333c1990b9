package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"rotorsieve/model/unit"
	"rotorsieve/report"
	"rotorsieve/report/finding"
	"rotorsieve/report/screen"
	"rotorsieve/report/texts"
	"rotorsieve/sweep"
	"rotorsieve/sweep/abandon"
)

const sweepHead = `rotorsieve sweep runs a study: every design of the grid goes through the model,
and the best of each weight class are ranked, mapped and written up.

  rotorsieve sweep --class 249g --dry-run
  rotorsieve sweep --class 249g
  rotorsieve sweep @configs/ridge-scout.flags --payload 40g --name laden
`

// studyName is what a folder may be called on any system.
var studyName = regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$`)

// checkName refuses an invalid name of a study, wherever it comes from: a folder gets it.
func checkName(name string) error {
	if !studyName.MatchString(name) {
		return fmt.Errorf("--name: %.80q, want up to 64 letters, digits, dots, dashes and underscores, "+
			"beginning with a letter or digit", name)
	}
	if err := portable(name); err != nil {
		return fmt.Errorf("--name: %w", err)
	}
	return nil
}

func sweepCommand() *cobra.Command {
	s := newStudyFlags("sweep", sweepDefaults)
	s.tidies = true
	f := s.group("Output")
	s.output(f)
	var o sweepOptions
	o.declare(f, s.group("Run"))
	return s.command(&cobra.Command{
		GroupID: ofStudies, Short: "run a study and write workbook, figures and tables", Long: sweepHead,
	}, func(c *cobra.Command, _ []argument) error {
		p, over := o.tell.begin(c, o.quiet)
		defer over()
		return o.run(c.Context(), s, p, c.OutOrStdout())
	})
}

// run runs the study that the flags state.
func (o *sweepOptions) run(ctx context.Context, s *studyFlags, p *progress, stdout io.Writer) error {
	stderr := p.w
	if err := o.check(); err != nil {
		return err
	}
	if s.origin("name") == "default" {
		s.name = nameFrom(s.args)
	}
	if err := checkName(s.name); err != nil {
		return err
	}
	p.of(s.name)
	if o.out == "" {
		o.out = filepath.Join("out", s.name)
		if o.sharded() {
			o.out = filepath.Join(o.out, fmt.Sprintf("shard-%05d-of-%05d", o.place.K, o.place.Of))
		}
	}
	if !o.quiet {
		s.told = stderr
	}
	var st *sweep.Study
	err := abandon.Run(ctx, func() (err error) {
		if st, err = s.study(); err == nil {
			err = s.choice.check(st)
		}
		if err == nil {
			s.require.tell(s.told)
			err = o.dump.check(st, o.out)
		}
		if err == nil {
			err = o.cache.serve(st.Models(), o.dry, s.told)
		}
		if err == nil && !o.dry {
			err = o.dump.writable()
		}
		if err == nil {
			err = o.dump.foresee(o, trial/2)
		}
		if err == nil && o.dry {
			err = dryRun(stdout, st, s, o)
		}
		return err
	})
	if err != nil || o.dry {
		return err
	}
	if !o.quiet {
		defer o.cache.tell(stderr)
	}
	var whole string
	if !o.sharded() { // no whole run is the end of a shard
		whole = (&folder{dir: o.out}).finishedAs(st)
	}
	r := s.report(st)
	of := st // what the state is of
	names := report.Names(r)
	if o.sharded() {
		names = nil // it leaves its state alone
	}
	if o.resume {
		if err := s.sameParts(o.out, st, whole); err != nil {
			return err
		}
	}
	if err := o.tell.open(stderr, outputsIn(o.out, names), o.dump.folder); err != nil {
		return err
	}
	home, err := claim(o.out, o.force, o.resume, whole, names...)
	if home != nil {
		defer home.release()
	}
	if errors.Is(err, errFinished) {
		if of, err = home.amiss(r, names, &o.dump, stderr); of == nil && err == nil {
			return o.finished(stdout, stderr)
		}
	}
	if err != nil {
		return err
	}
	if state, err := sweep.ReadState(home.path(checkpointName)); err == nil && o.resume && of == st {
		of = withCandidates(st, state.Fingerprint)
	}
	if !o.quiet {
		s.tellUnfilled(stderr)
		learnt(stderr, st.Model.Assume.Evidence)
	}

	if !o.quiet && st.Grid.Size() > worthEstimating {
		var about sweep.Forecast
		err := abandon.Run(ctx, func() (err error) {
			about, err = sweep.Estimate(st, sweep.Options{Workers: o.workers, Shard: o.place}, 500*time.Millisecond)
			return err
		})
		if err != nil {
			return err
		}
		fmt.Fprintf(stderr, "%s: about %s on this machine\n", st.Name, spell(about.Time))
	}
	opt := sweep.Options{Workers: o.workers, Shard: o.place, Resume: o.resume, Flags: r.Flags,
		Checkpoint: home.path(checkpointName), Interval: o.interval, MaxTime: o.most}
	p.sweeps(st, o.place)
	opt.Progress, opt.Every = p.take, attentive
	defer p.clear()
	r.Result, err = sweep.Run(ctx, of, opt)
	if err != nil {
		return wantRoom(withFlags(err), "")
	}
	narrow(r.Result, st)
	p.has(r, o.out, nil)
	if ctx.Err() != nil {
		p.clear()
		fmt.Fprintf(stderr, "rotorsieve: interrupted with %s of %s designs judged; --resume goes on from %s\n",
			texts.Grouped(r.Result.Done), texts.Grouped(r.Result.Share), opt.Checkpoint)
		if err := ended(r, ""); err != nil {
			return err
		}
		return errEarly // all is judged, and nothing is written of it
	}
	p.end()
	defer tellAside(stderr, r)
	onwards := "--resume goes on from " + opt.Checkpoint
	if o.sharded() {
		if err := o.dump.write(ctx, r, o, p, onwards); err != nil {
			return err
		}
		return cmp.Or(shardDone(r, home, stdout), o.dump.cut())
	}
	if err := s.choice.decideOn(ctx, r, o.workers, p, onwards); err != nil {
		return err
	}
	if err := o.dump.write(ctx, r, o, p, onwards); err != nil {
		return err
	}
	return cmp.Or(finish(ctx, r, home, &o.results, p, onwards, stdout), o.dump.cut())
}

// worthEstimating is the size of grid from which a run says beforehand how long
// it will take.
const worthEstimating = 100_000_000

// sweepOptions are the flags of a run that do not change what it finds.
type sweepOptions struct {
	results
	shard              string
	workers            int
	quiet, resume, dry bool
	every, maxTime     float64 // s
	place              sweep.Shard
	interval, most     time.Duration
	cache              cacheFlag
	tell               tellFlags
	dump               dumpFlags
}

func (o *sweepOptions) declare(output, f *pflag.FlagSet) {
	o.results.declare(output)
	o.dump.declare(output)
	f.BoolVar(&o.dry, "dry-run", false, "print what would be run, with its time and memory, and run and write nothing")
	f.Var(newNumber(&o.workers, 0, 4096, 0), "workers", "processors to use; 0 for all")
	f.BoolVar(&o.quiet, "quiet", false, "no progress")
	f.BoolVar(&o.resume, "resume", false, "go on with an unfinished run in that folder, or begin one; of a finished "+
		"one write again what is missing or was changed")
	f.Var(newQuantity(&o.every, unit.Time.WithDefault("s"), unit.Range{Min: 0.001, Max: 1e6}, "30s"),
		"checkpoint-every", "time between checkpoints: what a crash can lose")
	f.Var(newQuantity(&o.maxTime, unit.Time.WithDefault("s"), unit.Range{Min: 0, Max: 1e8}, "0s"), "max-time",
		"end after this time with a report of what is done; 0 for never")
	o.tell.declare(f)
	o.cache.declare(f)
	f.Var(newWords(&o.shard, "share"), "shard", "run the K-th of N equal shares, K/N; auto or auto/N takes K from a "+
		"Slurm job array or a Kubernetes indexed job")
}

func (o *sweepOptions) check() error {
	if o.force && o.resume {
		return errors.New("--force starts afresh and --resume goes on, want one of them")
	}
	o.place = sweep.Shard{K: 1, Of: 1}
	if o.shard != "" {
		var err error
		if o.place, err = parseShard(o.shard, os.Getenv); err != nil {
			return fmt.Errorf("--shard: %w", err)
		}
	}
	seconds := func(s float64) time.Duration { return time.Duration(s * float64(time.Second)) }
	o.interval, o.most = seconds(o.every), seconds(o.maxTime)
	return nil
}

// sharded says whether the run is a share of a study, to be merged: a job array of
// one task has one such share.
func (o *sweepOptions) sharded() bool { return o.shard != "" }

// finished ends a run that was to resume a finished one, as when the task of a job
// array is queued again: its report stays as it is.
func (o *sweepOptions) finished(stdout, stderr io.Writer) error {
	if !o.quiet {
		fmt.Fprintf(stderr, "rotorsieve: %s holds this study, finished: nothing is left to do, and its report stays; "+
			"--force would replace it\n", o.out)
	}
	b, err := finding.ReadRecordFile(filepath.Join(o.out, finding.RecordName))
	if err != nil {
		return fmt.Errorf("--out %s: %w", o.out, cause(err))
	}
	if o.format == "json" {
		if _, err := stdout.Write(b); err != nil {
			return err
		}
	}
	return auditFailedThere(o.out, b)
}

// shardDone ends a shard: its state is its result.
func shardDone(r *finding.Run, home *folder, stdout io.Writer) error {
	k := r.Result
	fmt.Fprintf(stdout, "%s shard %v: %s of %s designs judged\n", r.Study.Name, k.Shard, texts.Grouped(k.Done),
		texts.Grouped(k.Share))
	fmt.Fprintf(stdout, "Written:\n  %s\n", home.path(checkpointName))
	if !k.Complete {
		fmt.Fprintln(stdout, "The shard is not finished: --resume goes on.")
	} else {
		fmt.Fprintln(stdout, "rotorsieve merge joins the shards once all are there.")
	}
	return ended(r, "")
}

// finish writes and prints the report of a run. Where it is interrupted, onwards says what
// goes on.
func finish(ctx context.Context, r *finding.Run, home *folder, to *results, p *progress, onwards string,
	stdout io.Writer) error {
	p.turn(phaseReport)
	defer lean()()
	files, err := report.Write(ctx, r, home.dir)
	if ctx.Err() != nil && errors.Is(err, ctx.Err()) {
		return &exitError{exitEarly, fmt.Sprintf("interrupted as the report was written, %d %s of it: %s",
			len(files), texts.Plural(len(files), "file", "files"), onwards)}
	}
	if err != nil {
		return fmt.Errorf("--out %s: %w", home.dir, wantRoom(err, onwards))
	}
	p.has(r, home.dir, files)
	err = abandon.Run(ctx, func() error {
		if to.format == "json" {
			return screen.PrintRunJSON(stdout, r)
		}
		page := screen.Page{Width: columns(stdout), Whole: to.verbose}
		if err := screen.PrintRun(stdout, r, page); err != nil {
			return err
		}
		screen.PrintFiles(stdout, home.dir, files, r.Dump, page)
		return nil
	})
	if ctx.Err() != nil && errors.Is(err, ctx.Err()) {
		return &exitError{exitEarly, fmt.Sprintf("interrupted as the answer was printed: the report in %s is whole",
			home.dir)}
	}
	if end := ended(r, home.path(finding.FlagsName)); end != nil {
		return end
	}
	return err
}

// ended says how a run whose results are written has ended.
func ended(r *finding.Run, flags string) error {
	if err := auditFailed(r, flags); err != nil {
		return err
	}
	if !r.Result.Complete {
		return errEarly
	}
	return nil
}

// nameFrom takes the name of a study from its first flag file.
func nameFrom(args []string) string {
	for _, a := range args {
		if strings.HasPrefix(a, "@") && a != "@-" {
			base := filepath.Base(a[1:])
			return strings.TrimSuffix(base, filepath.Ext(base))
		}
	}
	return "study"
}
