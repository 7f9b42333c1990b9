package sweep

import (
	"math"
	"math/bits"

	"rotorsieve/model"
)

// runs judge runs of capacities at once: designs of one motor and number of cells and of
// all payloads, where model.Span says that at each payload all end at the same gate, or that
// all are feasible and none can better what has been found. Of the rest runs are halved, and
// what is left of them is judged one by one. A run is bounded by the lines next to it.
type runs struct {
	span         model.Span
	ends         []end                      // that are marked, by their place
	luck         [2][bits.UintSize + 1]luck // of feasible runs and of others, by the bits of a count of capacities
	lo, hi       *model.Powertrain          // of the capacities next to the run
	below, above int                        // these
	from, to     *end                       // their lines; nil for a tile
	tile         *tile                      // of several KVs; nil for none

	nested   bool     // as plan.nested
	spans    bool     // of a further scenario: the run is bounded in it, too
	at       coord    // of the first design of the run
	count    int      // of capacities
	payload  int      // that is bounded
	fit      int      // payloads that some class can lift
	kept     uint64   // bits of the requirements that the run is known to keep with any payload
	slots    []uint64 // by payload: those that its designs are kept in
	verdicts []int    // [payload*classes + slot], in these, nested the first: the gate with the scenario, or feasible
	foreseen bool
	known    bool      // lowest
	lowest   []bar     // [slot*views + view]: below the incumbents of maps that are the same for all payloads
	parts    []float64 // by capacity of the run: the part of the way between the lines next to it
	terms    []runTerm
	sum      chord // merit of the terms asked for, times their weight
	asked    int
	scale    scale
	gates    []uint8 // by payload, of one slot; 0 for none
	marks    []uint8 // the same, of one ground
	passed   uint64  // designs, in all
	crossed  uint64  // of these, in runs that go from class to class
	tiled    uint64  // and in tiles
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

// leastRun is in capacities: of fewer a run takes longer than judging them one by one.
var leastRun = 2 // a variable for tests alone

func (p *plan) newRuns() runs {
	s := p.study
	r := runs{nested: p.nested, lowest: make([]bar, len(s.Classes)*len(p.views))}
	for i := range r.luck {
		for j := range r.luck[i] {
			r.luck[i][j] = luck{1, 1, 0}
		}
	}
	n := len(s.Grid.axes[axPayload].Values)
	r.slots, r.verdicts, r.gates = make([]uint64, n), make([]int, n*len(s.Classes)), make([]uint8, n)
	r.marks = make([]uint8, n)
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

// pass judges the designs between two capacities, whose lines are marked, at once where it can, and
// says whether it has. What stands at the design's first payload is left.
func (w *worker) pass(at *coord, low, high, a, b int) bool {
	r := &w.runs
	r.from, r.to = &r.ends[a], &r.ends[b]
	r.lo, r.hi, r.below, r.above = &r.from.train, &r.to.train, low, high
	r.count = high - low - 1
	at[axCapacity], at[axPayload] = low+1, 0
	r.at = *at
	ok := w.agree()
	r.luckOf(a, r.count).tried(ok)
	if ok {
		w.take(r.count)
	}
	return ok
}

// agree says whether all designs of the run can be judged at once, and notes how.
func (w *worker) agree() bool {
	r, s := &w.runs, w.study
	if r.tile == nil && !r.span.Joins(r.lo, r.hi) || r.tile != nil && !r.tile.joins(&r.span) {
		return false
	}
	r.known, r.kept = false, 0
	for _, o := range w.others {
		o.runs.spans, o.runs.kept = false, 0
	}
	payloads := s.Grid.axes[axPayload].Values
	for r.fit = 0; r.fit < len(payloads); r.fit++ {
		some, ok := w.agreeAt(r.fit, payloads[r.fit])
		if !ok {
			return false
		}
		if !some {
			break
		}
	}
	return true
}

// joined prepares to bound the run of the first scenario in the worker's own. It is false where
// nothing bounds it there.
func (o *worker) joined(w *worker) bool {
	r := &o.runs
	if r.spans {
		return true
	}
	x := &w.piece
	prop := o.mounted(x)
	if prop == nil {
		return false
	}
	r.at, r.known, r.count = w.runs.at, false, w.runs.count
	packs := o.packs[r.at[axCells]*len(o.study.Grid.axes[axCapacity].Values):]
	for len(r.ends) < 2 {
		r.ends = append(r.ends, end{})
	}
	r.lo, r.hi = &r.ends[0].train, &r.ends[1].train
	o.powerAs(r.lo, prop, x, &packs[w.runs.below], w.runs.lo)
	o.powerAs(r.hi, prop, x, &packs[w.runs.above], w.runs.hi)
	r.spans = r.span.Joins(r.lo, r.hi)
	return r.spans
}

// load prepares to bound the designs of a run at a payload.
func (w *worker) load(payload float64) (lightest, heaviest float64) {
	r := &w.runs
	r.foreseen, r.asked, r.sum = false, 0, chord{}
	if b := r.tile; b != nil {
		return r.span.LoadMotors(w.study.Model, &b.lo, &b.hi, &b.fastLo, &b.fastHi, payload)
	}
	return r.span.Load(w.study.Model, r.lo, r.hi, payload)
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
		r.span.Foresee(&w.reach)
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
