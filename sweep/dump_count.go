package sweep

import (
	"math"
	"math/bits"
	"runtime"
	"sync"
	"time"
)

// dumpCount estimates how many designs a dump will keep. Blocks are judged as a sweep judges
// them, which passes most designs by, and so cost a hundredth of flying each. Every propeller is
// a stratum: what is kept differs between propellers more than between blocks of one.
type dumpCount struct {
	*Dump
	propellers, blocks uint64 // in all, and of each
	some               uint64 // propellers that are visited
	step               uint64 // from one visited block of a propeller to the next
	apart              uint64 // from one propeller to the next
	mu                 sync.Mutex
	strata             map[uint64]*stratum
}

// stratum is what the visited blocks of a propeller have: their number, the designs that are
// kept, and the sum of the squares.
type stratum struct{ n, sum, squares float64 }

const (
	// mostStrata are fewer propellers than stay solved, so that each is solved once.
	mostStrata = keptPropellers / 2
	// turn is how many blocks of a propeller are judged together: what solving it has cost is used.
	turn = 4
	// sureCount is the standard error, over the count, that ends it.
	sureCount = 0.015
)

// count judges blocks of each propeller by turns: until the budget is used up, four times as
// long where the count is still unsure, and twice that where not every propeller had its turn.
func (d *Dump) count(budget time.Duration) *dumpCount {
	c, workers := d.newCount()
	start := time.Now()
	for round := range (c.blocks + turn - 1) / turn {
		up := func() bool {
			took := time.Since(start)
			return took > 4*budget || took > budget && c.error() < sureCount
		}
		if round > 0 && up() {
			break
		}
		most := 4 * budget
		if round == 0 {
			most *= 2
		}
		c.round(workers, round, func() bool { return time.Since(start) > most })
	}
	return c
}

// newCount begins a count, with workers for it.
func (d *Dump) newCount() (*dumpCount, []*worker) {
	c := &dumpCount{Dump: d, blocks: d.propellers.stride / d.blockSize, strata: map[uint64]*stratum{}}
	c.propellers = d.study.Grid.size / d.propellers.stride
	c.some = min(c.propellers, mostStrata)
	c.step, c.apart = coprime(c.blocks), coprime(c.propellers)
	workers := make([]*worker, min(uint64(runtime.GOMAXPROCS(0)), c.some))
	known := d.newIncumbents()
	for k := range workers {
		workers[k] = d.newWorker(known)
		if d.merit > 0 { // which only flight tells
			workers[k].dump = &dumped{Dump: d, counting: true}
		}
	}
	return c, workers
}

// round visits some blocks of each propeller, unless the time is up; always those of one.
func (c *dumpCount) round(workers []*worker, round uint64, up func() bool) {
	var group sync.WaitGroup
	for k, w := range workers {
		group.Go(func() {
			for i := uint64(k); i < c.some; i += uint64(len(workers)) {
				if (round > 0 || i > 0) && up() {
					return
				}
				p := times(i, c.apart, c.propellers) // the first of them are spread
				if c.some < c.propellers {
					p, _ = bits.Mul64(i*golden, c.propellers)
				}
				for n := round * turn; n < min((round+1)*turn, c.blocks); n++ {
					c.visit(w, p, n)
				}
			}
		})
	}
	group.Wait()
}

// visit judges a block of a propeller.
func (c *dumpCount) visit(w *worker, p, n uint64) {
	b := p*c.blocks + c.place(p, n)
	at, end := c.extent(b)
	if w.dump != nil {
		w.dump.counted = 0
	}
	w.block(b, at, end)
	kept := float64(w.feasible)
	if w.dump != nil {
		kept = float64(w.dump.counted)
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	s := c.strata[p]
	if s == nil {
		s = new(stratum)
		c.strata[p] = s
	}
	s.n, s.sum, s.squares = s.n+1, s.sum+kept, s.squares+kept*kept
}

// place is the nth block of a propeller that is visited, each once, from a beginning of its own.
func (c *dumpCount) place(propeller, n uint64) uint64 {
	from, _ := bits.Mul64(propeller*golden, c.blocks)
	return (from + times(n, c.step, c.blocks)) % c.blocks
}

// mean is what a block has on average: of each propeller alike.
func (c *dumpCount) mean() float64 {
	sum := 0.0
	for _, s := range c.strata {
		sum += s.sum / s.n
	}
	return sum / float64(max(len(c.strata), 1))
}

// error is the standard error of the count over the count, from how blocks of one propeller
// differ and, where not all are visited, how propellers do.
func (c *dumpCount) error() float64 {
	var within, total, squares float64
	for _, s := range c.strata {
		if s.n < 2 {
			if c.blocks > 1 {
				return math.Inf(1)
			}
			s = &stratum{2, 2 * s.sum, 2 * s.squares} // it is known
		}
		m := s.sum / s.n
		within += (s.squares/s.n - m*m) / (s.n - 1) * (1 - s.n/float64(c.blocks))
		total, squares = total+m, squares+m*m
	}
	n := float64(len(c.strata))
	between := (squares/n - total/n*total/n) * n * (1 - n/float64(c.propellers))
	return math.Sqrt(max(within+between, 0)) / max(total, 1)
}

// rows estimates how many designs of a range of blocks are kept.
func (c *dumpCount) rows(first, last uint64) float64 {
	mean := c.mean()
	sum := mean * float64(last-first)
	for p, s := range c.strata {
		from, to := max(first, p*c.blocks), min(last, (p+1)*c.blocks)
		if from < to {
			sum += (s.sum/s.n - mean) * float64(to-from)
		}
	}
	return sum
}
