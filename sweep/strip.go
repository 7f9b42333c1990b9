package sweep

import (
	"math/bits"
	"sort"

	"rotorsieve/model"
	"rotorsieve/model/flight"
)

// strip judges the designs of some cells from a capacity on, those before end, which some class can
// lift. The lines at both ends come first, then the one in the middle, then those in the middle of both
// halves, and so on: merit mostly rises or falls along the capacity, so that the best of a build is
// found early, and the others better nothing. What lies between two lines is tried as a run.
func (w *worker) strip(at *coord, end int) {
	from := at[axCapacity]
	if w.incumbents == nil { // a dump is in the order of the grid
		for c := from; c < end; c++ {
			w.line(at, c)
		}
		return
	}
	if w.tiles.on {
		w.overStrip(at, end)
		return
	}
	w.strand(at, from, end)
}

// strand is strip of the capacities from one to before another.
func (w *worker) strand(at *coord, from, end int) {
	r := &w.runs
	w.chords.apart()
	w.line(at, from)
	if end-1 == from {
		return
	}
	r.mark(0, w)
	w.line(at, end-1)
	r.mark(1, w)
	w.between(at, from, end-1, 0, 1, 2, r.ends[0].low, r.ends[1].high)
}

// between judges the designs between two capacities, whose lines have been judged and marked at
// some places; those from next on are free. The nearest lines that were flown are given by payload.
func (w *worker) between(at *coord, low, high, a, b, next int, lo, hi []int) {
	n := high - low - 1
	if n <= 0 {
		return
	}
	r := &w.runs
	long := n >= leastRun && w.grow[at[axCells]]
	if w.flown != nil && w.grow[at[axCells]] {
		w.join(lo, hi)
	}
	if long && r.alike(a, b) && r.luckOf(a, n).due(n) && w.pass(at, low, high, a, b) {
		w.noteRun(at, low, high)
		return
	}
	mid := low + (high-low)/2
	if long && next <= mostSplits {
		mid = w.split(low, high, a, b)
	}
	w.line(at, mid)
	if n == 1 {
		return
	}
	toLow, toHigh := lo, hi
	if long || w.flown != nil {
		r.mark(next, w)
		e := &r.ends[next]
		for p := range e.flown {
			if !e.flown[p].ok {
				e.low[p], e.high[p] = lo[p], hi[p]
			}
		}
		toLow, toHigh = e.low, e.high
	}
	w.between(at, low, mid, a, next, next+1, lo, toHigh)
	w.between(at, mid, high, next, b, next+1, toLow, hi)
}

// line judges the designs of a capacity, of all payloads.
func (w *worker) line(at *coord, capacity int) {
	g, m, x := w.study.Grid, w.study.Model, &w.piece
	payloads := g.axes[axPayload].Values
	at[axCapacity], at[axPayload] = capacity, 0
	k := w.packAt(at)
	bare := m.Bare(&x.body, x.motorMass, k.Mass)
	fit := sort.Search(len(payloads), func(i int) bool { return x.body.LeastAUW(bare, payloads[i]) > w.widest })
	index := g.index(at)
	w.power(&w.train, x.prop, &x.motor, k, &x.design.Parts)
	w.lineAt++
	w.newLine()
	for p := range w.lineFlown {
		w.lineFlown[p].ok = false
	}
	for ; at[axPayload] < fit; at[axPayload]++ {
		i := index + uint64(at[axPayload])
		w.trusted = false
		w.judge(at, i)
		w.masses[at[axPayload]] = w.craft.Mass
		if w.trusted && w.audited(i) {
			w.check(i, payloads[at[axPayload]])
		}
		for _, o := range w.others {
			if o.trusted && w.audited(i) {
				o.check(i, payloads[at[axPayload]])
			}
			o.trusted = false
		}
	}
	for p := fit; p < len(payloads); p++ {
		w.endings[p], w.masses[p] = ending{}, x.body.LeastAUW(bare, payloads[p])
	}
	w.noteLine(at)
	w.ends(axCapacity, at)
	if fit < len(payloads) {
		w.nearer(index+uint64(fit), x.body.LeastAUW(bare, payloads[fit]))
	}
}

// ending is how a design was judged, as far as it tells whether those between two can be
// judged at once.
type ending struct {
	lifted, feasible uint64 // slots
	gate, scenario   int    // at which it left the last of the former
}

// end is a line that has been judged, at which runs may begin and end.
type end struct {
	train   model.Powertrain
	endings []ending       // by payload
	hovers  []flight.Point // the same
	masses  []float64      // the same, kg; at least, of one that is too heavy whatever its parts
	flown   []flown        // the same

	low, high []int // by payload, the line itself or the nearest below, or above, that was flown
}

// mark keeps the line that has just been judged.
func (r *runs) mark(place int, w *worker) {
	for place >= len(r.ends) {
		r.ends = append(r.ends, r.newEnd(len(w.endings)))
	}
	e := &r.ends[place]
	e.train = w.train
	copy(e.endings, w.endings)
	copy(e.hovers, w.hovers)
	copy(e.masses, w.masses)
	copy(e.flown, w.lineFlown)
	for p := range e.flown {
		e.low[p], e.high[p] = place, place
	}
}

func (r *runs) newEnd(payloads int) end {
	return end{
		endings: make([]ending, payloads), hovers: make([]flight.Point, payloads), masses: make([]float64, payloads),
		flown: make([]flown, payloads), low: make([]int, payloads), high: make([]int, payloads),
	}
}

// alike says whether the designs of two lines ended alike: otherwise those between cannot be judged
// at once.
func (r *runs) alike(a, b int) bool { return r.endAlike(r.ends[a].endings, r.ends[b].endings) }

// endAlike is alike of lines by payload.
func (r *runs) endAlike(x, y []ending) bool {
	for i := range x {
		if x[i] != y[i] && !(r.nested && x[i].like(&y[i])) {
			return false
		}
	}
	return true
}

// like says whether two designs ended alike, though maybe in the slots of two classes.
func (e *ending) like(o *ending) bool {
	return (e.lifted == 0) == (o.lifted == 0) && (e.feasible == 0) == (o.feasible == 0) && e.gate == o.gate &&
		e.scenario == o.scenario
}

// luckOf is that of runs of about some length which end as a line that is marked: feasible ones come off for
// what has been found, others for what they are.
func (r *runs) luckOf(place, count int) *luck {
	which := 0
	for i := range r.ends[place].endings {
		if r.ends[place].endings[i].feasible != 0 {
			which = 1
		}
	}
	return &r.luck[which][bits.Len(uint(count))]
}

// luck is how often runs of about the same length were judged at once, of late.
type luck struct {
	tries, hits float64
	idle        int // runs that were not tried since
}

const (
	tryCost  = 1.5  // capacities that could be judged one by one in the time of a try
	tryAgain = 16   // runs after which one is tried all the same
	forgets  = 0.95 // what is left of an earlier try after another
)

// due says whether a run of some capacities is worth a try. Coarse steps cost nothing thereby.
func (l *luck) due(count int) bool {
	if l.hits*float64(count) >= tryCost*l.tries {
		return true
	}
	if l.idle++; l.idle < tryAgain {
		return false
	}
	l.idle = 0
	return true
}

// tried notes how a try of a run came out.
func (l *luck) tried(hit bool) {
	l.tries, l.hits = forgets*l.tries+1, forgets*l.hits
	if hit {
		l.hits++
	}
}
