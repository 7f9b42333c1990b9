package sweep

import (
	"context"
	"runtime"
	"sync"
	"time"
)

// Progress is how far a run has come.
type Progress struct {
	Done, Total uint64 // designs, of this shard
	Feasible    uint64 // in at least one class, judged by this process
	Fresh       uint64 // designs judged by this process
	Elapsed     time.Duration
	Best        []Leading // so far, by class, of those that have a feasible design
}

// Leading is the best design so far of a class.
type Leading struct {
	Class    Class
	Diameter float64 // m
	Score    float64 // its merit
}

// Options say how to run a study; they never change what it finds.
type Options struct {
	Workers  int            // 0 for all processors
	Every    time.Duration  // between calls of Progress; 0 for 200 ms
	Progress func(Progress) // may be nil; called from one goroutine, and once at the end
	Shard    Shard          // the zero shard is the whole study

	Checkpoint string        // file to keep the state in; "" for none
	Interval   time.Duration // between checkpoints; 0 for 30 s
	Resume     bool          // go on from the checkpoint where there is one
	Flags      []string      // of the study, kept in the checkpoint to say what differs
	MaxTime    time.Duration // end early after this time; 0 for never
	MaxDesigns uint64        // end early when blocks of so many or a few more are judged; 0 for never
}

// Run takes every design of the study, or of a shard of it, through the model.
// When the context or the time ends first it returns what has been found with
// Complete false, having written a checkpoint where one was asked for; the error
// is nil then. An error means that the study, the checkpoint or the place to
// keep it cannot be used; a result that comes with it is what was found.
func Run(ctx context.Context, s *Study, o Options) (*Result, error) {
	if err := s.Check(); err != nil {
		return nil, err
	}
	p, err := newPlan(s)
	if err != nil {
		return nil, err
	}
	return p.run(ctx, o)
}

func (p *plan) run(ctx context.Context, o Options) (*Result, error) {
	if o.Shard.Of == 0 {
		o.Shard = wholeStudy
	}
	r := &runner{plan: p, options: o, total: p.newTotal(o.Shard), incumbents: p.newIncumbents(), start: time.Now()}
	r.first, r.last = o.Shard.blocks(p.blocks)
	r.next = r.first
	if o.Resume && o.Checkpoint != "" {
		if err := r.resume(ctx); err != nil {
			if ctx.Err() == nil {
				return nil, err
			}
			return r.result(), nil // the checkpoint stays as it is
		}
	}
	if o.MaxTime > 0 {
		var cancel context.CancelFunc
		ctx, cancel = context.WithTimeout(ctx, o.MaxTime)
		defer cancel()
	}
	err := r.run(ctx)
	return r.result(), err
}

// result is what the run has found.
func (r *runner) result() *Result {
	out := r.total.result()
	out.Elapsed = time.Since(r.start)
	out.Workers = r.workers()
	return out
}

// Blocks gives the number of blocks into which a study is cut for work, and the
// designs in each.
func Blocks(s *Study) (n, size uint64, err error) {
	if err := s.Check(); err != nil {
		return 0, 0, err
	}
	p, err := newPlan(s)
	if err != nil {
		return 0, 0, err
	}
	return p.blocks, p.blockSize, nil
}

// runner is one run of a study, or of a shard of it.
type runner struct {
	*plan
	options     Options
	start       time.Time
	first, last uint64 // positions of the shard, see visits, last being past the end

	mu         sync.Mutex
	next       uint64 // position to hand out
	taken      uint64 // designs handed out
	resumed    bool   // the checkpoint was taken up
	total      *total
	incumbents *incumbents
	feasible   uint64
	fresh      uint64
}

func (r *runner) workers() int {
	if r.options.Workers > 0 {
		return r.options.Workers
	}
	return runtime.GOMAXPROCS(0)
}

// atWork is how many workers are started: more than there are blocks would hold memory
// for nothing.
func (r *runner) atWork() int { return int(min(uint64(r.workers()), max(r.last-r.first, 1))) }

// take hands out a block that is not done, with what others have found that spares the
// worker work.
func (r *runner) take(w *worker) (b uint64, ok bool) {
	r.mu.Lock()
	defer r.mu.Unlock()
	for r.next < r.last && r.total.done.contains(r.next) {
		r.next++
	}
	if most := r.options.MaxDesigns; r.next >= r.last || most > 0 && r.taken >= most {
		return 0, false
	}
	b = r.total.visits.at(r.next)
	r.next++
	r.taken += r.blockSize
	r.tell(w, b)
	return b, true
}

// some says whether a block may be left to hand out.
func (r *runner) some() bool {
	r.mu.Lock()
	defer r.mu.Unlock()
	return r.next < r.last
}

// tell gives a worker what it should know of the others' finds before it judges a block;
// r.mu is held.
func (r *runner) tell(w *worker, b uint64) {
	w.source, w.open = r, 0
	w.first = r.study.Grid.coord(b * r.blockSize)
	for slot, at := range r.byLimit {
		if m := &r.total.classes[at].Nearest; !m.Any || m.Gate == GateClass {
			w.open |= 1 << slot
			w.miss[slot] = *m
		}
	}
}

// tellSlot is the rest of tell, of a slot that a design of the block has come to.
func (r *runner) tellSlot(w *worker, slot int) {
	r.mu.Lock()
	defer r.mu.Unlock()
	k := &r.total.classes[r.byLimit[slot]]
	w.floors[slot] = k.floor()
	w.miss[slot] = k.Nearest
	w.shades[slot].copy(&k.front)
	w.found[slot].listing.tell(&w.first, k)
}

// give takes a finished block in.
func (r *runner) give(w *worker, b uint64, at, end *coord) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.total.add(b, at, end, w.slots)
	w.each(func(o *worker) {
		r.total.audit.add(o.audit)
		o.audit = Audit{}
	})
	if w.failed != nil {
		r.total.failed[w.failed.Error()] = true
	}
	r.feasible += w.feasible
	r.fresh += r.blockSize
}

func (r *runner) run(ctx context.Context) error {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	var group sync.WaitGroup
	for range r.atWork() {
		group.Go(func() {
			if !r.some() {
				return // what comes late takes no memory
			}
			w := r.newWorker(r.incumbents)
			for ctx.Err() == nil {
				b, ok := r.take(w)
				if !ok {
					return
				}
				at, end := r.extent(b)
				w.block(b, at, end)
				r.give(w, b, &at, &end)
			}
		})
	}
	finished := make(chan struct{})
	go func() { group.Wait(); close(finished) }()

	every := r.options.Every
	if every == 0 {
		every = 200 * time.Millisecond
	}
	tick := time.NewTicker(every)
	defer tick.Stop()
	interval := r.options.Interval
	if interval == 0 {
		interval = 30 * time.Second
	}
	save := time.NewTicker(interval)
	defer save.Stop()
	var failed error
	for {
		select {
		case <-finished:
			r.report()
			if r.options.Checkpoint != "" && failed == nil && !(r.resumed && r.fresh == 0) {
				failed = r.checkpoint()
			}
			return failed
		case <-tick.C:
			r.report()
		case <-save.C:
			if r.options.Checkpoint != "" && failed == nil {
				// A run that cannot keep its state ends.
				if failed = r.checkpoint(); failed != nil {
					cancel()
				}
			}
		}
	}
}

func (r *runner) report() {
	if r.options.Progress == nil {
		return
	}
	r.mu.Lock()
	p := Progress{Done: r.total.judged, Total: (r.last - r.first) * r.blockSize, Feasible: r.feasible, Fresh: r.fresh,
		Elapsed: time.Since(r.start), Best: r.total.leading()}
	r.mu.Unlock()
	r.options.Progress(p)
}
