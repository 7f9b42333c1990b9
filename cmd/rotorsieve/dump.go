package main

import (
	"context"
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"strconv"
	"time"

	"github.com/spf13/pflag"

	"rotorsieve/model/unit"
	"rotorsieve/report"
	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/sweep"
	"rotorsieve/sweep/whole"
)

// dumpFlags say where every feasible design goes.
type dumpFlags struct {
	folder string  // "" for nowhere
	merit  float64 // the least
	to     *sweep.Dump
	about  sweep.DumpForecast
	left   uint64 // files that are missing when the time was up
}

// freeBytes is the room on a disk; a variable for tests alone.
var freeBytes = whole.Free

func (d *dumpFlags) declare(f *pflag.FlagSet) {
	d.declareAs(f, "for every feasible design with all metrics, as Parquet files; each is flown, after the sweep "+
		"(default none)")
}

func (d *dumpFlags) declareAs(f *pflag.FlagSet, usage string) {
	f.Var(newPlace(&d.folder, aFolder), "dump", usage)
	f.Var(newQuantity(&d.merit, unit.Ratio, unit.Range{Min: 0, Max: 1}, "0"), "dump-merit",
		"least merit of designs in the dump, 0 to 1")
}

// check refuses a dump that cannot be: before anything is computed.
func (d *dumpFlags) check(st *sweep.Study, out string) error {
	if d.folder == "" {
		if d.merit > 0 {
			return errors.New("--dump-merit bounds what --dump writes, want --dump FOLDER beside it")
		}
		return nil
	}
	at := place{"--dump", d.folder}
	if err := at.fits(); err != nil {
		return err
	}
	if oneFolder(d.folder, out) {
		return at.errorf("is the folder of the results, want another")
	}
	var err error
	if d.to, err = sweep.NewDump(st, d.folder, d.merit); err != nil {
		return withFlags(err)
	}
	if _, err = d.to.Look(); err != nil {
		return at.errorf("%w", err)
	}
	return nil
}

// writable errs where the folder cannot be written: the dump comes last, and is not to fail then.
func (d *dumpFlags) writable() error {
	if d.to == nil {
		return nil
	}
	return place{"--dump", d.folder}.writable()
}

// oneFolder says whether two paths are of one folder, be it there or not.
func oneFolder(a, b string) bool {
	x, errX := filepath.Abs(a)
	y, errY := filepath.Abs(b)
	return errX == nil && errY == nil && x == y
}

// foresee estimates the dump, and refuses one that its disk has no room for.
func (d *dumpFlags) foresee(o *sweepOptions, budget time.Duration) error {
	if d.to == nil {
		return nil
	}
	at := place{"--dump", d.folder}
	var err error
	if d.about, err = d.to.Estimate(sweep.Options{Workers: o.workers, Shard: o.place}, budget); err != nil {
		return at.errorf("%w", err)
	}
	free, err := freeBytes(d.folder)
	if errors.Is(err, errors.ErrUnsupported) {
		return nil // and a disk that is full is told when it is
	}
	if err != nil {
		return at.errorf("%w, want a folder to write in", err)
	}
	if d.about.Bytes > float64(free) {
		return at.errorf("%s, and %s are free there: want another disk, fewer designs, or a higher --dump-merit",
			d.size(), bytesText(float64(free)))
	}
	return nil
}

// size says how much is to be written.
func (d *dumpFlags) size() string {
	if d.about.Exact {
		return fmt.Sprintf("about %s for %s designs", bytesText(d.about.Bytes), texts.Grouped(uint64(d.about.Rows)))
	}
	return fmt.Sprintf("about %s for about %s designs", bytesText(d.about.Bytes), roundly(d.about.Rows))
}

// text is what the dry run says of the dump.
func (d *dumpFlags) text() string {
	if d.to == nil {
		return none
	}
	if d.about.Missing == 0 {
		return d.folder + " (holds all of its " + roundly(float64(d.about.Files)) + " files: nothing is left to write)"
	}
	text := fmt.Sprintf("%s: %s, in %s of %s %s, and about %s more: each is flown and read in full, where a sweep "+
		"passes most by", d.folder, d.size(), texts.Grouped(d.about.Missing), texts.Grouped(d.about.Files),
		texts.Plural(int(min(d.about.Files, 2)), "file", "files"), spell(d.about.Time))
	if d.merit > 0 {
		text += fmt.Sprintf("; with a merit of %s or more", strconv.FormatFloat(d.merit, 'g', -1, 64))
	}
	return text
}

// roundly is a number to two figures where it is large.
func roundly(v float64) string {
	if v < 1000 {
		return strconv.FormatFloat(v, 'f', 0, 64)
	}
	if v >= 1e15 {
		return strconv.FormatFloat(v, 'g', 2, 64)
	}
	step := math.Pow(10, math.Floor(math.Log10(v))-1)
	return texts.Grouped(uint64(math.Round(v/step) * step))
}

// bytesText is a size in the unit that suits it.
func bytesText(v float64) string {
	symbol := "MB"
	v /= 1e6
	for _, s := range []string{"GB", "TB", "PB"} {
		if v >= 1000 {
			v, symbol = v/1000, s
		}
	}
	return strconv.FormatFloat(v, 'g', max(2, len(strconv.FormatFloat(v, 'f', 0, 64))), 64) + " " + symbol
}

// write writes what is missing, and notes in the run what is there then. It is nothing
// where the sweep is not finished.
func (d *dumpFlags) write(ctx context.Context, r *finding.Run, o *sweepOptions, p *progress, onwards string) error {
	if d.to == nil || !r.Result.Complete {
		return nil
	}
	opt := sweep.Options{Workers: o.workers, Shard: o.place}
	if d.about.Missing > 0 {
		if !o.sharded() {
			d.about = d.about.Told(d.to, r.Result)
		}
		p.turn(phaseDump)
		if !o.quiet {
			fmt.Fprintf(p.w, "%s: dump: %s, about %s\n", r.Study.Name, d.size(), spell(d.about.Time))
		}
		opt.Progress, opt.Every = p.take, attentive
		defer p.clear()
	}
	within := ctx
	if o.most > 0 {
		var cancel context.CancelFunc
		within, cancel = context.WithDeadline(ctx, r.Started.Add(o.most))
		defer cancel()
	}
	got, err := d.to.Write(within, opt)
	at := place{"--dump", d.folder}
	if ctx.Err() != nil {
		return &exitError{exitEarly, fmt.Sprintf("interrupted with %s of %s files of the dump in %s: %s",
			texts.Grouped(got.Files), texts.Grouped(got.Of), d.folder, onwards)}
	}
	if err != nil && within.Err() == nil {
		return at.errorf("%w", wantRoom(err, onwards))
	}
	d.left = got.Left
	r.Dump = d.record(got, o.out)
	return nil
}

// record is what the record of a run in a folder says of the dump.
func (d *dumpFlags) record(got sweep.DumpTally, out string) *finding.DumpRecord {
	return &finding.DumpRecord{Folder: report.PathFrom(out, d.folder), Merit: d.merit, Files: got.Files,
		Of: got.Of, Rows: got.Rows, Bytes: got.Bytes, SHA256: got.SHA256}
}

// filled errs where the shards of a study have not written all of the dump.
func (d *dumpFlags) filled(st *sweep.Study, out string) error {
	if err := d.check(st, out); err != nil || d.to == nil {
		return err
	}
	at := place{"--dump", d.folder}
	switch got, err := d.to.Look(); {
	case err != nil:
		return at.errorf("%w", err)
	case !got.Whole():
		return at.errorf("%s of its %s %s missing, want every shard run to its end with --dump %s",
			texts.Grouped(got.Of-got.Files), texts.Grouped(got.Of),
			texts.Plural(int(min(got.Of, 2)), "file is", "files are"), d.folder)
	}
	return nil
}

// cut says that the time was up before the dump was whole, of a shard its share of it.
func (d *dumpFlags) cut() error {
	if d.left == 0 {
		return nil
	}
	return &exitError{exitEarly, fmt.Sprintf("--dump %s: %s %s missing: --resume goes on", d.folder,
		texts.Grouped(d.left), texts.Plural(int(min(d.left, 2)), "file is", "files are"))}
}

// lacks says what a finished run has to write again of its dump; "" for nothing.
func (d *dumpFlags) lacks(earlier *report.Earlier, out string) string {
	if d.to == nil || earlier.Record == nil {
		return ""
	}
	x := earlier.Record.Dump
	if d.about.Missing == 0 && x != nil && x.Merit == d.merit && x.Files == x.Of &&
		x.Folder == report.PathFrom(out, d.folder) {
		return ""
	}
	return "--dump " + d.folder + " is asked for"
}
