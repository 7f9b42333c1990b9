package sweep

import (
	"math"
	"math/bits"
	"runtime"
	"sync"
	"time"

	"rotorsieve/sweep/spent"
)

// Forecast is what a run of a study will take, as a trial has shown.
type Forecast struct {
	CPU    time.Duration // of judging all designs, of all processors together
	Time   time.Duration // of the same, where the run has its processors for itself
	Memory float64       // of the whole process while it judges, in bytes
	Alone  float64       // the same with one worker: about what the process keeps when the others end
	Found  *Result       // by the trial: a part of what the run will find
	Growth []Growth      // of what was found to what the run will find, by class
}

// Estimate judges blocks spread over the study, for about the given time on as many
// processors as the run would have, and gives what the whole would take at that rate. It
// goes by processor time, so that other work on the machine does not matter. Of the
// options it reads the workers and the shard. The study is not changed by it, nor is
// anything kept.
func Estimate(s *Study, o Options, budget time.Duration) (Forecast, error) {
	if err := s.Check(); err != nil {
		return Forecast{}, err
	}
	p, err := newPlan(s)
	if err != nil {
		return Forecast{}, err
	}
	if o.Shard.Of == 0 {
		o.Shard = wholeStudy
	}
	r := &runner{plan: p, options: o, total: p.newTotal(wholeStudy), incumbents: p.newIncumbents(), start: time.Now()}
	r.first, r.last = o.Shard.blocks(p.blocks)
	t := &tried{runner: r, memory: measuring{shared: live()}}
	t.judge(budget)
	return t.forecast(), nil
}

// tried is a trial of a run.
type tried struct {
	*runner
	memory measuring
	stints []stint // as they were judged
	marks  []milestone
	opened int // propellers
}

// stint is some blocks of different propellers, with the processor time that they took.
type stint struct {
	blocks int
	opens  bool // they are the first of their propellers, and build what the others share
	took   time.Duration
}

// atOnce is how many workers have a processor.
func (t *tried) atOnce() int { return min(t.atWork(), runtime.GOMAXPROCS(0)) }

// inAStint is how many blocks a worker judges of a stint.
const inAStint = 4

// judge takes blocks of all propellers through the model: of some propellers at a time the
// first and one more, and when all have these one more of each.
func (t *tried) judge(budget time.Duration) {
	workers := make([]*worker, t.atOnce())
	for k := range workers {
		workers[k] = t.newWorker(t.incumbents)
	}
	t.memory.built(len(workers))
	propellers, blocks := t.cut()
	step := coprime(blocks)
	most := uint64(inAStint * len(workers))
	began := spent.Time()
	budget *= time.Duration(len(workers))
	enough := func() bool { return spent.Time()-began >= budget }
	// Steps by irrational shares spread evenly over the propellers and over the blocks of
	// one, however many there is time for.
	const silver = 7640891576956012809 // golden times sqrt(2) - 1
	prop := func(n uint64) uint64 { return times(n, coprime(propellers), propellers) }
	stint := func(from, turn uint64) {
		list := make([]uint64, 0, most)
		for n := from; n < min(from+most, propellers); n++ {
			first, _ := bits.Mul64(prop(n)*silver, blocks)
			list = append(list, prop(n)*blocks+(first+times(turn%blocks, step, blocks))%blocks)
		}
		t.stint(workers, list, turn == 0)
	}
	for n := uint64(0); n < propellers; n += most {
		stint(n, 0)
		if blocks > 1 {
			stint(n, 1)
		}
		if enough() {
			break
		}
	}
	for turn := uint64(2); turn < blocks && !enough(); turn++ {
		for n := uint64(0); n < propellers && !enough(); n += most {
			stint(n, turn)
		}
	}
	t.memory.judged(t.runner, workers)
}

// stint judges blocks by all workers, and notes what that took.
func (t *tried) stint(workers []*worker, blocks []uint64, opens bool) {
	from := spent.Time()
	var group sync.WaitGroup
	for k, w := range workers {
		group.Go(func() {
			for i := k; i < len(blocks); i += len(workers) {
				b := blocks[i]
				t.mu.Lock()
				t.tell(w, b)
				t.mu.Unlock()
				at, end := t.extent(b)
				w.block(b, at, end)
				t.give(w, b, &at, &end)
			}
		})
	}
	group.Wait()
	t.stints = append(t.stints, stint{len(blocks), opens, spent.Time() - from})
	if opens {
		t.opened += len(blocks)
	}
	t.mark()
}

// cut gives the propellers of the study and the blocks of each.
func (t *tried) cut() (propellers, blocks uint64) {
	designs := t.propellers.stride
	return t.study.Grid.size / designs, designs / t.blockSize
}

// share is the part of the blocks that the run judges.
func (t *tried) share() float64 { return float64(t.last-t.first) / float64(t.blocks) }

// forecast makes of the trial what the run will take.
func (t *tried) forecast() Forecast {
	propellers, blocks := t.cut()
	all := t.share() * float64(propellers)
	f := Forecast{Alone: t.memory.peak(1, all), Found: t.result()}
	f.Growth = t.growth(t.milestone(), propellers, t.opened)
	f.CPU = projected(t.stints, propellers, blocks, t.share())
	f.Memory = t.memory.peak(begun(t.atWork(), t.atOnce(), f.CPU), all)
	f.Time = f.CPU / time.Duration(t.atOnce())
	return f
}

// begun is how many of some workers begin before all blocks are judged: beyond those that have a
// processor, one each time that the scheduler takes another: about every 5 ms, half of its own turn,
// since workers wait for each other as well (measured with 64 to 4 096).
func begun(workers, atOnce int, took time.Duration) float64 {
	const turn = 5 * time.Millisecond
	return min(float64(workers), float64(atOnce)+float64(took)/float64(turn))
}

// projected is the processor time in which a share of a study of propellers of so many
// blocks each is judged, of which some have taken these times. What has been found spares the
// later blocks work, so that those left take what the later half of those tried have taken.
func projected(stints []stint, propellers, blocks uint64, share float64) time.Duration {
	var judged, opened, openings float64 // blocks, s, propellers
	var took, each float64               // s in all, and of a further block
	var rest []stint
	for _, s := range stints {
		judged += float64(s.blocks)
		took += s.took.Seconds()
		if s.opens {
			openings += float64(s.blocks)
			opened += s.took.Seconds()
		} else {
			rest = append(rest, s)
		}
	}
	opening := opened / openings
	if n := len(rest); n > 0 {
		var of float64
		for _, s := range rest[n/2:] {
			each += s.took.Seconds()
			of += float64(s.blocks)
		}
		each /= of
	}
	left := float64(propellers) - openings
	seconds := took + left*opening + (float64(propellers)*float64(blocks)-judged-left)*each
	seconds *= share
	if seconds > math.MaxInt64/1e9 {
		return math.MaxInt64
	}
	return time.Duration(seconds * float64(time.Second))
}

// measuring is what a trial holds in memory, in bytes, as the collector has counted it.
type measuring struct {
	shared    float64 // by the process, the plan, what is found and all that is shared
	worker    float64 // by a worker, with what it has gathered
	propeller float64 // by a propeller that is kept
	garbage   float64 // allocated in judging the blocks of a propeller, and left
	allocated uint64  // by all before it began to judge
}

// live is what is held, after a collection.
func live() float64 {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return float64(m.HeapAlloc)
}

func (m *measuring) built(workers int) {
	m.worker = (live() - m.shared) / float64(workers)
	var s runtime.MemStats
	runtime.ReadMemStats(&s)
	m.allocated = s.TotalAlloc
}

// judged takes propellers and workers of the trial away, to tell what each hold.
func (m *measuring) judged(r *runner, workers []*worker) {
	var s runtime.MemStats
	runtime.ReadMemStats(&s)
	all := live()
	n, k := float64(max(len(r.propellers.made), 1)), float64(len(workers))
	r.forget()
	rest := live()
	runtime.KeepAlive(workers)
	clear(workers)
	found := live()
	m.garbage = max(float64(s.TotalAlloc-m.allocated)-(all-m.shared-k*m.worker), 0) / n
	m.propeller = max(all-rest, 0) / n
	m.worker = max(rest-found, 0) / k
	m.shared = found + r.total.unlisted()
}

// What a process takes besides what it holds on the heap, measured on runs of 1 to 4 096
// workers: its code and the runtime, of a worker its stack, and the
// collector's own.
const (
	ofProcess   = 18e6
	ofStack     = 8e3
	ofCollector = 1.05
	spread      = 1.7 // that the heap reaches over what is held, of the 2 that it may
)

// peak is what a process takes at most that judges the blocks of so many propellers: the
// collector lets the heap grow over what is held, where there is that much garbage, about half of which it meets.
func (m *measuring) peak(workers, propellers float64) float64 {
	held := m.shared + workers*m.worker + m.propeller*min(propellers, keptPropellers+workers)
	return ofProcess + workers*ofStack + ofCollector*min(spread*held, held+m.garbage*propellers/2)
}
