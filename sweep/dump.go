package sweep

import (
	"cmp"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"math/bits"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"

	"rotorsieve/model"
	"rotorsieve/sweep/dump"
	"rotorsieve/sweep/whole"
)

// Dump keeps every feasible design of a study, with all metrics that a sweep computes, as rows
// of Parquet files: one for each range of blocks in the order of the grid, so that rows rise
// with the design's index. What the ranges are follows from the grid alone, and what is in a
// file from the study, so that a file is the same whoever writes it, and when.
type Dump struct {
	*plan
	folder  string
	merit   float64 // the least of a design that is kept
	table   *dump.Table
	metrics []*model.Metric
	starts  []func(*model.Craft)
	each    uint64 // blocks of a file
	files   uint64
}

// How many designs a file of a dump is of: few enough that an interrupt loses little and that
// workers share a small study, and enough that there are not too many files.
const (
	leastOfFile, mostOfFile = 1 << 16, 1 << 20
	manyFiles               = 1 << 14
)

// NewDump prepares to keep the designs of a study whose merit is at least so much, in a
// folder. Of several classes a design has the merit of the lightest in which it is feasible.
func NewDump(s *Study, folder string, merit float64) (*Dump, error) {
	if err := s.Check(); err != nil {
		return nil, err
	}
	p, err := newPlan(s)
	if err != nil {
		return nil, err
	}
	d := &Dump{plan: p, folder: folder, merit: merit}
	size := max(min(max(s.Grid.size/64, leastOfFile), mostOfFile), s.Grid.size/manyFiles)
	d.each = max(size/p.blockSize, 1)
	d.files = (p.blocks + d.each - 1) / d.each
	for _, m := range model.Metrics {
		if _, input := LookupAxis(m.Name); input || m.Stage > model.LastStage {
			continue
		}
		d.metrics = append(d.metrics, m)
		if start := m.Start(); start != nil {
			d.starts = append(d.starts, start)
		}
	}
	d.table = dump.New(d.columns(), d.identity())
	return d, nil
}

// columns are those of every file; dumped.take gives the values in the same order.
func (d *Dump) columns() []dump.Column {
	s := d.study
	class := dump.Column{Name: "class", Title: "Class", Kind: dump.Text,
		Meaning: "lightest class in which the design is feasible: merit and what differs by class are of it"}
	for _, k := range s.Classes {
		class.Words = append(class.Words, k.Label)
	}
	out := []dump.Column{{Name: "design", Title: "Design", Meaning: "index in the grid", Kind: dump.Whole}, class}
	for _, i := range d.byLimit {
		out = append(out, dump.Column{Name: "feasible_" + snake(s.Classes[i].Label), Title: "Feasible",
			Meaning: "feasible in the class of " + s.Classes[i].Label, Kind: dump.Flag})
	}
	merit := dump.Column{Name: "merit", Title: "Merit", Meaning: "weighted mean of the study's terms, 0 to 1"}
	if in := s.Models(); len(in) > 1 {
		merit.Meaning += "; " + s.Over.of()
		binding := dump.Column{Name: "scenario", Title: "Scenario", Kind: dump.Text,
			Meaning: "in which the merit is least: all metrics are of it"}
		for _, m := range in {
			binding.Words = append(binding.Words, model.ScenarioName(m, in))
		}
		out = append(out, merit, binding)
	} else {
		out = append(out, merit)
	}
	add := func(name, unit, title, meaning string) {
		out = append(out, dump.Column{Name: snake(name), Unit: unit, Title: title, Meaning: meaning})
	}
	for _, a := range AxisDefs {
		add(a.Name, a.Kind.SI().Symbol, a.Title, a.Meaning)
	}
	for _, m := range d.metrics {
		add(m.Name, m.ExportUnit().Symbol, m.Title, m.Meaning)
	}
	for i := range out { // labels of classes may differ in a sign alone
		for slices.ContainsFunc(out[:i], func(c dump.Column) bool { return c.Name == out[i].Name }) {
			out[i].Name += "_"
		}
	}
	return out
}

// snake is a name of the registry as a column of a data frame.
func snake(name string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
			return r
		case r >= 'A' && r <= 'Z':
			return r + 'a' - 'A'
		}
		return '_'
	}, name)
}

// dumped takes the feasible designs of a worker into a file.
type dumped struct {
	*Dump
	to     *dump.Writer
	values []float64
	err    error // the first of writing

	counting bool // rows are counted alone
	counted  uint64
}

// take writes a design that is feasible in the classes of some slots.
func (x *dumped) take(w *worker, index, in uint64) {
	if x.err != nil {
		return
	}
	w.advance(model.LastStage)
	s := x.study
	least := x.byLimit[bits.TrailingZeros64(in)]
	for _, c := range w.crafts {
		c.Limit = s.Classes[least].Limit
	}
	merit := s.MeritOf(w.crafts)
	if merit < x.merit {
		return
	}
	if x.counting {
		x.counted++
		return
	}
	binding := s.Binding(w.crafts)
	c := w.crafts[binding]
	for _, start := range x.starts {
		start(c)
	}
	v := append(x.values[:0], float64(index), float64(least))
	for slot := range x.byLimit {
		v = append(v, float64(in>>slot&1))
	}
	v = append(v, merit)
	if len(s.Others) > 0 {
		v = append(v, float64(binding))
	}
	d := s.Grid.Design(index)
	for _, a := range AxisDefs {
		v = append(v, a.Of(d))
	}
	for _, m := range x.metrics {
		value, _ := m.Exported(c)
		v = append(v, value)
	}
	x.values = v
	x.err = x.to.Add(v)
}

// DumpTally is what a folder holds of a dump.
type DumpTally struct {
	Files, Of uint64 // that are there, of so many
	Rows      uint64
	Bytes     uint64
	Left      uint64 // of the share that was to be written, still missing
	SHA256    string // of what sha256sum prints of all files in the order of their names; "" of a part
}

// Whole says whether nothing is missing.
func (t DumpTally) Whole() bool { return t.Files == t.Of }

// keptFile is what is known of a file.
type keptFile struct {
	there       bool
	left        []string // what killed writers left of it
	rows, bytes uint64
	sum         string
}

// Write writes the files that are missing, of a shard its share of them. Where the context
// ends, files in work are dropped and those that are whole stay. Progress, where it is given, is
// called every so often from one goroutine. It gives what the folder holds then.
func (d *Dump) Write(ctx context.Context, o Options) (DumpTally, error) {
	have, err := d.look(ctx, true)
	if err != nil {
		return DumpTally{}, err
	}
	if err := os.MkdirAll(d.folder, 0o755); err != nil {
		return DumpTally{}, cause(err)
	}
	shard := o.Shard
	if shard.Of == 0 {
		shard = wholeStudy
	}
	first, last := shard.blocks(d.files)
	for n := first; n < last; n++ {
		for _, path := range have[n].left {
			_ = os.Remove(path) // one that stays does no harm
		}
	}
	ctx, cancel := context.WithCancelCause(ctx)
	defer cancel(nil)
	r := &runner{plan: d.plan, options: o}
	var mu sync.Mutex
	at := Progress{Total: d.designs(last) - d.designs(first)}
	next, start := first, time.Now()
	take := func() (uint64, bool) {
		mu.Lock()
		defer mu.Unlock()
		for next < last && have[next].there {
			at.Done += d.designs(next+1) - d.designs(next)
			next++
		}
		next++
		return next - 1, next <= last
	}
	var group sync.WaitGroup
	for range min(r.workers(), int(min(max(last-first, 1), 1<<16))) {
		group.Go(func() {
			w := d.newWorker(nil)
			w.dump = &dumped{Dump: d}
			for ctx.Err() == nil {
				n, ok := take()
				if !ok {
					return
				}
				k, err := d.write(ctx, w, n)
				if err != nil {
					cancel(err)
					return
				}
				mu.Lock()
				have[n] = k
				at.Done += d.designs(n+1) - d.designs(n)
				at.Fresh += d.designs(n+1) - d.designs(n)
				at.Feasible += k.rows
				mu.Unlock()
			}
		})
	}
	finished := make(chan struct{})
	go func() { group.Wait(); close(finished) }()
	tick := time.NewTicker(cmp.Or(o.Every, 200*time.Millisecond))
	defer tick.Stop()
	report := func() {
		if o.Progress != nil {
			mu.Lock()
			p := at
			mu.Unlock()
			p.Elapsed = time.Since(start)
			o.Progress(p)
		}
	}
	for done := false; !done; report() {
		select {
		case <-finished:
			done = true
		case <-tick.C:
		}
	}
	err = context.Cause(ctx)
	if ctx.Err() != nil && err == ctx.Err() {
		err = nil // what is there stays, and the caller knows that his context has ended
	}
	return d.tally(have, first, last), err
}

// write makes one file.
func (d *Dump) write(ctx context.Context, w *worker, n uint64) (k keptFile, err error) {
	sum := sha256.New()
	var size counter
	x := w.dump
	err = whole.Write(filepath.Join(d.folder, d.name(n)), func(to io.Writer) error {
		x.to = d.table.NewWriter(io.MultiWriter(to, sum, &size), d.stretch(n)...)
		for b := n * d.each; b < min((n+1)*d.each, d.blocks); b++ {
			if err := ctx.Err(); err != nil {
				return err
			}
			at, end := d.extent(b)
			if w.block(b, at, end); x.err != nil {
				return x.err
			}
		}
		return x.to.Close()
	})
	if err != nil {
		if ctx.Err() != nil {
			return k, ctx.Err()
		}
		return k, fmt.Errorf("%s cannot be written: %w", d.name(n), err)
	}
	k = keptFile{there: true, rows: uint64(x.to.Rows), bytes: uint64(size), sum: hex.EncodeToString(sum.Sum(nil))}
	return k, nil
}

// counter counts the bytes that it is given.
type counter uint64

func (c *counter) Write(b []byte) (int, error) { *c += counter(len(b)); return len(b), nil }

// tally adds up what is there.
func (d *Dump) tally(have []keptFile, first, last uint64) DumpTally {
	t := DumpTally{Of: d.files}
	sum := sha256.New()
	for n := range have {
		k := &have[n]
		if at := uint64(n); !k.there && at >= first && at < last {
			t.Left++
		}
		if k.there {
			t.Files++
			t.Rows += k.rows
			t.Bytes += k.bytes
			fmt.Fprintf(sum, "%s  %s\n", k.sum, d.name(uint64(n)))
		}
	}
	if t.Whole() {
		t.SHA256 = hex.EncodeToString(sum.Sum(nil))
	}
	return t
}
