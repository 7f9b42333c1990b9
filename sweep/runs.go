package sweep

import (
	"math"
	"math/bits"

	"rotorsieve/model"
)

// runs judge runs of capacities at once: designs of one motor and number of cells and of
// all payloads, where model.Span says that at each payload all end at the same gate, or that
// all are feasible and none can better what has been found. Of the rest runs are halved, and
// what is left of them is judged one by one. Where that is most, few runs are tried.
type runs struct {
	span model.Span
	ends [2]model.Powertrain // of the least capacity of the run and of the largest
	low  int                 // which of them is the former
	from int                 // its capacity; below 0 for none

	width int // capacities of the next run
	wait  int // capacities that are judged one by one before it
	idle  int // how many that are after the next run that fails

	spans    bool     // of a further scenario: the run is bounded in it, too
	at       coord    // of the first design
	count    int      // of capacities
	fit      int      // payloads that some class can lift
	slots    []uint64 // by payload: those that its designs are kept in
	verdicts []int    // [payload*classes + slot], in these: the gate, with the scenario, or feasible
	foreseen bool
	known    bool      // lowest
	lowest   []float64 // [slot*views + view]: the lowest incumbent of maps that are the same for all payloads
	terms    []runTerm
	sum      chord // merit of the terms asked for, times their weight
	asked    int
	gates    []uint8 // by payload, of one slot; 0 for none
	passed   uint64  // designs, in all
}

// runTerm is a term of the merit, with the weight of those from it on.
type runTerm struct {
	Term
	rest float64
}

// Verdicts on designs: that they pass all gates, or the gate at which they end with the place of the
// scenario times perScenario.
const (
	feasible    = -1
	perScenario = 1 << 8
)

// leastRun is in capacities; judging a run takes about as long as judging half as many one
// by one.
var leastRun = 8 // a variable for tests alone

const (
	mostRun  = 1 << 12 // capacities
	mostIdle = 64
)

func (p *plan) newRuns() runs {
	s := p.study
	r := runs{from: -1, width: 4 * leastRun, idle: leastRun, lowest: make([]float64, len(s.Classes)*len(p.views))}
	n := len(s.Grid.axes[axPayload].Values)
	r.slots, r.verdicts, r.gates = make([]uint64, n), make([]int, n*len(s.Classes)), make([]uint8, n)
	for _, flown := range [...]bool{false, true} { // what takes longest last
		for _, t := range s.Merit {
			if t.Metric.Known() != flown {
				r.terms = append(r.terms, runTerm{Term: t})
			}
		}
	}
	rest := 0.0
	for i := len(r.terms) - 1; i >= 0; i-- {
		rest += r.terms[i].Weight
		r.terms[i].rest = rest
	}
	return r
}

// pass judges a run of the capacities from a design's on, of those before end that some class
// can lift, and gives how many it has judged, 0 for none. What stands at the design's first
// payload is left.
func (w *worker) pass(at *coord, end int, x *piece) int {
	r := &w.runs
	if r.wait > 0 {
		r.wait--
		return 0
	}
	if !w.quiet { // what is next to a design that betters something may do so, too
		return 0
	}
	from := at[axCapacity]
	for n := min(r.width, end-1-from); ; n /= 2 {
		r.count = n
		if from+n == end-1 {
			r.count++ // no run will start with it
		}
		if r.count < leastRun {
			break
		}
		if w.agree(at, n, x) {
			w.take(r.count)
			r.next(from + n)
			for _, o := range w.others {
				if o.runs.from = -1; o.runs.spans {
					o.runs.next(from + n)
				}
			}
			r.width, r.idle = min(2*n, mostRun), leastRun
			return r.count
		}
	}
	r.width, r.wait, r.idle = 2*leastRun, r.idle, min(2*r.idle, mostIdle)
	return 0
}

// agree says whether all designs of a run of capacities, from a design's on to n further, can
// be judged at once, and notes how.
func (w *worker) agree(at *coord, n int, x *piece) bool {
	r, s := &w.runs, w.study
	from := at[axCapacity]
	packs := w.packs[at[axCells]*len(s.Grid.axes[axCapacity].Values):]
	if r.from != from {
		w.power(&r.ends[r.low], x.prop, &x.motor, &packs[from], &x.design.Parts)
		r.from = from
	}
	lo, hi := &r.ends[r.low], &r.ends[1-r.low]
	w.power(hi, x.prop, &x.motor, &packs[from+n], &x.design.Parts)
	if !r.span.Joins(lo, hi) {
		return false
	}
	r.at, r.known = *at, false
	w.ahead = packs[min(from+n+lookAhead, len(s.Grid.axes[axCapacity].Values)-1)].R
	for _, o := range w.others {
		o.runs.count, o.runs.spans = r.count, false
	}
	payloads := s.Grid.axes[axPayload].Values
	for r.fit = 0; r.fit < len(payloads); r.fit++ {
		some, ok := w.agreeAt(r.fit, payloads[r.fit], n, x)
		if !ok {
			return false
		}
		if !some {
			break
		}
	}
	return true
}

// joined prepares to bound the run of the first scenario, of n capacities further than its first,
// in the worker's own. It is false where nothing bounds it there.
func (o *worker) joined(w *worker, n int, x *piece) bool {
	r := &o.runs
	if r.spans {
		return true
	}
	prop := o.mounted(x)
	if prop == nil {
		return false
	}
	r.at, r.known = w.runs.at, false
	from := r.at[axCapacity]
	packs := o.packsFrom(&r.at)
	if r.from != from {
		o.powerAs(&r.ends[r.low], prop, x, &packs[0], &w.runs.ends[w.runs.low])
		r.from = from
	}
	o.powerAs(&r.ends[1-r.low], prop, x, &packs[n], &w.runs.ends[1-w.runs.low])
	o.ahead = packs[min(n+lookAhead, len(packs)-1)].R
	r.spans = r.span.Joins(&r.ends[r.low], &r.ends[1-r.low])
	return r.spans
}

// next goes on from a run that has been judged to the one that begins where it ended.
func (r *runs) next(from int) {
	r.low, r.from = 1-r.low, from
}

// load prepares to bound the designs of a run at a payload.
func (w *worker) load(payload float64) (lightest, heaviest float64) {
	r := &w.runs
	r.foreseen, r.asked, r.sum = false, 0, chord{}
	return r.span.Load(w.study.Model, &r.ends[r.low], &r.ends[1-r.low], payload)
}

// nearest says whether a design of the run could be the nearest miss of the class of one of some slots,
// having missed by no less than a shortfall at a gate.
func (w *worker) nearest(in uint64, gate, payload int, shortfall float64) bool {
	r := &w.runs
	bound := Miss{Index: w.study.Grid.index(&r.at) + uint64(payload), Gate: gate, Shortfall: shortfall, Any: true}
	for ; in != 0; in &= in - 1 {
		if !w.missed(bits.TrailingZeros64(in), bound) {
			return true
		}
	}
	return false
}

// keeps says whether all designs of the run keep a requirement, or none does, and which value
// is the nearest to it.
func (w *worker) keeps(q *Requirement) (kept, lost bool, near float64) {
	m := q.Metric
	along := q.AtLeast == (m.Better == model.Higher)
	if !m.Known() && along && q.Kept(w.runWorst(m)) {
		return true, false, 0 // whatever their flight
	}
	least, most := math.Inf(-1), math.Inf(1)
	switch {
	case m.Known():
		least, most = w.runRange(m)
	case along && m.Better != model.Neither:
		if v := w.runBest(m); q.AtLeast {
			most = v
		} else {
			least = v
		}
	}
	if q.AtLeast {
		return least >= q.Bound, most < q.Bound, most
	}
	return most <= q.Bound, least > q.Bound, least
}

// runRange bounds a metric that is known, of all designs of the run.
func (w *worker) runRange(m *model.Metric) (least, most float64) {
	r := &w.runs
	w.runStage(m)
	least, most = r.span.Range(m)
	if w.skew != nil {
		least, most = w.skew(m, least), w.skew(m, most)
	}
	return least, most
}

// runStage takes the run as far as a metric is read or bounded.
func (w *worker) runStage(m *model.Metric) {
	r := &w.runs
	if m.Stage >= model.StageEndure {
		r.span.Endure()
	}
	if m.Stage == model.StageFlight && !r.foreseen {
		r.foreseen = true
		r.span.Foresee(&w.reach, w.ahead)
	}
}

// runBest is what no design of the run is better in than.
func (w *worker) runBest(m *model.Metric) float64 {
	if m.Known() {
		least, most := w.runRange(m)
		if m.Better == model.Lower {
			return least
		}
		return most
	}
	w.runStage(m)
	v := w.runs.span.AtBest(m)
	if w.skew != nil {
		v = w.skew(m, v)
	}
	return v
}

// runWorst is what no design of the run is worse in than, of a metric that is not known.
func (w *worker) runWorst(m *model.Metric) float64 {
	v := w.runs.span.AtWorst(m)
	if w.skew != nil {
		v = w.skew(m, v)
	}
	return v
}
