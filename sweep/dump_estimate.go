package sweep

import (
	"context"
	"io"
	"math"
	"runtime"
	"slices"
	"time"
)

// DumpForecast is what a dump will take, as a trial has shown.
type DumpForecast struct {
	Files, Missing uint64  // in all, and those of the shard that are to be written
	Rows, Bytes    float64 // of those to be written
	Exact          bool    // the rows are counted
	Time           time.Duration
}

// Estimate judges blocks spread over the study, for about the given time to count what is kept and
// as long to see what that takes, and gives what the files take that are missing. It writes
// nothing.
func (d *Dump) Estimate(o Options, budget time.Duration) (DumpForecast, error) {
	have, err := d.look(context.Background(), false)
	if err != nil {
		return DumpForecast{}, err
	}
	shard := o.Shard
	if shard.Of == 0 {
		shard = wholeStudy
	}
	f := DumpForecast{Files: d.files}
	first, last := shard.blocks(d.files)
	var blocks uint64
	for n := first; n < last; n++ {
		if !have[n].there {
			f.Missing++
			blocks += (d.designs(n+1) - d.designs(n)) / d.blockSize
		}
	}
	if f.Missing == 0 {
		return f, nil
	}
	alone, err := d.trial(nil, 0) // what a file takes however few its rows are
	if err != nil {
		return f, err
	}
	all, err := d.trial(d.newWorker(nil), budget)
	if err != nil {
		return f, err
	}
	known := d.count(budget)
	for n := first; n < last; n++ {
		if !have[n].there {
			f.Rows += known.rows(n*d.each, min((n+1)*d.each, d.blocks))
		}
	}
	f.Rows = math.Round(f.Rows)
	share := float64(blocks) / float64(all.blocks)
	if all.rows > 0 { // flying and writing them takes the most
		share = f.Rows / float64(all.rows)
	}
	f.Bytes = (all.bytes-alone.bytes)*share + alone.bytes*float64(f.Missing)
	// Of propellers a share is solved, each once.
	solved := all.solving.Seconds() / float64(max(all.solved, 1))
	propellers := float64(d.study.Grid.size/d.propellers.stride) * float64(blocks) / float64(d.plan.blocks)
	seconds := all.judging.Seconds()*share + solved*propellers
	r := &runner{plan: d.plan, options: o}
	seconds /= float64(max(min(uint64(r.workers()), uint64(runtime.GOMAXPROCS(0)), f.Missing), 1))
	f.Time = time.Duration(min(seconds, 1e9) * float64(time.Second))
	return f, nil
}

// fewBlocks are as many as tell little of a study.
const fewBlocks = 100

// dumpTrial is what some blocks have come to.
type dumpTrial struct {
	blocks, solved   uint64
	rows             int64
	bytes            float64
	solving, judging time.Duration
}

// trial takes blocks in the order of a run, any beginning of which is spread, into a file
// that is not kept, until the time is up; without a worker a row of nothing.
func (d *Dump) trial(w *worker, budget time.Duration) (t dumpTrial, err error) {
	var size counter
	x := &dumped{Dump: d, to: d.table.NewWriter(io.MultiWriter(&size), d.stretch(0)...)}
	if w != nil {
		w.dump = x
		order, start := d.visits(wholeStudy), time.Now()
		more := func() bool { // on a busy machine the time gives too few
			took := time.Since(start)
			return t.blocks == 0 || took < budget || t.blocks < fewBlocks && took < 4*budget
		}
		for ; t.blocks < d.blocks && more(); t.blocks++ {
			b := order.at(t.blocks)
			from, known := time.Now(), len(d.propellers.made)
			for _, q := range d.all() {
				_, _ = q.propellers.at(b * d.blockSize) // where it fails the block says so
			}
			if len(d.propellers.made) > known {
				t.solved++
			}
			solved := time.Now()
			at, end := d.extent(b)
			w.block(b, at, end)
			t.solving += solved.Sub(from)
			t.judging += time.Since(solved)
		}
	}
	if w == nil {
		x.err = x.to.Add(make([]float64, len(d.table.Columns)))
	}
	if err := x.err; err != nil {
		return t, err
	}
	err = x.to.Close()
	t.rows, t.bytes = x.to.Rows, float64(size)
	return t, err
}

// Told is the forecast with the rows that a finished run has counted, which are those of the dump
// where nothing else bounds it: all of the study are to be written, of any merit, and what is
// feasible in a class is so in the widest.
func (f DumpForecast) Told(d *Dump, r *Result) DumpForecast {
	byClass := slices.ContainsFunc(d.study.Require, func(q Requirement) bool { return q.Metric.ByClass })
	if !r.Complete || d.merit > 0 || byClass || f.Missing < f.Files || f.Rows == 0 {
		return f
	}
	rows := float64(r.Classes[d.byLimit[len(d.byLimit)-1]].Feasible)
	f.Bytes *= rows / f.Rows
	f.Time = time.Duration(float64(f.Time) * rows / f.Rows)
	f.Rows, f.Exact = rows, true
	return f
}
