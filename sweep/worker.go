package sweep

import (
	"math/bits"
	"slices"

	"rotorsieve/model"
	"rotorsieve/model/flight"
)

// worker judges blocks. Everything it keeps between designs is in its own
// memory, so that nothing is allocated while it runs.
type worker struct {
	*plan
	*slots
	incumbents *incumbents // of all workers; nil where nothing is to be spared
	upper      *upper
	margins    []margin // of the plan, those first that mostly decide
	runs       runs
	tiles      tiles
	bounded    bounded // the merit of the current design
	kept       uint64  // bits of the requirements that the line is known to keep with any payload
	craft      model.Craft
	train      model.Powertrain
	reach      model.Reach // of the current cells
	trusted    bool        // a bound on its flight has decided on the current design
	foreseen   []forecast  // of the plan's foretold metrics, of a design that is audited
	audit      Audit       // of the block
	feasible   uint64      // designs of the block that are feasible in some class
	failed     error       // of the block's propeller
	stage      model.Stage // that the current design has come to
	seen       bool        // it has been foreseen
	others     []*worker   // of the further scenarios, which share what is found
	crafts     []*model.Craft
	scene      scene
	left       int     // gate at which the last design was rejected
	piece      piece   // of the current block
	best       coord   // of the best design of the last block that has one
	dump       *dumped // takes all feasible designs, and nothing else is kept of them; nil for no dump
	lineFlown  []flown // of the current line, by payload
	chords     chords
	endings    []ending       // of the current line, by payload
	hovers     []flight.Point // the same, of those that a class can lift
	masses     []float64
}

func (p *plan) newWorker(known *incumbents) *worker {
	w := &worker{plan: p, slots: p.newSlots(), incumbents: known, upper: p.newUpper(),
		margins: slices.Clone(p.margins), runs: p.newRuns(), tiles: p.newTiles(known != nil)}
	w.reach.Sight = p.sight
	w.reach.Least = func(mass float64) float64 { return w.thinnest(w, mass) }
	payloads := len(p.study.Grid.axes[axPayload].Values)
	w.masses = make([]float64, payloads)
	w.hovers = make([]flight.Point, payloads)
	w.endings, w.lineFlown, w.chords.of = make([]ending, payloads), make([]flown, payloads), make([]pair, payloads)
	w.foreseen = make([]forecast, len(p.foretold))
	w.crafts = []*model.Craft{&w.craft}
	w.scene.share = p.newShare()
	for i, q := range p.others {
		o := q.newScene(w, i+1)
		w.others, w.crafts = append(w.others, o), append(w.crafts, &o.craft)
	}
	return w
}

// judge takes one design through the gates of every class.
func (w *worker) judge(at *coord, index uint64) {
	s := w.study
	c := &w.craft
	payload := at[axPayload]
	c.Load(s.Model, &w.train, s.Grid.axes[axPayload].Values[payload])
	slot := w.slotOf(c.Mass)
	if c.Mass <= w.near {
		w.heavy(index, c.Mass, slot)
	}
	in := w.from(slot) // slots in which the design still stands
	e := &w.endings[payload]
	*e = ending{lifted: in}
	if in == 0 {
		return
	}
	w.ready(in)
	bin := w.bin(c.Mass)
	in = w.gates(index, payload, bin, in)
	w.hovers[payload] = c.Hover
	if in == 0 {
		e.gate = w.left
		return
	}
	for _, o := range w.others {
		o.follow(w, at)
		if in = o.gates(index, payload, bin, in); in == 0 {
			e.gate, e.scenario = o.left, o.scene.at
			return
		}
	}
	e.feasible = in
	w.feasible++
	if w.dump != nil {
		w.dump.take(w, index, w.upwards(in))
		return
	}
	if w.incumbents != nil && !w.betters(at, in, bin) {
		for ; in != 0; in &= in - 1 {
			w.found[bits.TrailingZeros64(in)].pass(bin)
		}
		return
	}
	w.advance(w.need)
	w.fly(payload)
	x := Ranked{Index: index, Score: s.MeritOf(w.crafts)}
	for ; in != 0; in &= in - 1 {
		i := bits.TrailingZeros64(in)
		f := w.found[i]
		for _, c := range w.crafts {
			c.Limit = w.limit(i)
		}
		if w.byClass {
			x.Score = s.MeritOf(w.crafts)
		}
		w.keep(i, x, bin)
		if w.lists() {
			w.list(i, at, x)
		}
		// By slot, since the margin to the class may be on the front.
		if len(w.front.metrics) > 0 {
			if v := w.front.worst(w.crafts); valued(v) && !w.shades[i].covers(v) {
				p := FrontPoint{Ranked: x, box: box(v)}
				if f.front.add(p) {
					w.shade(i, p, v)
				}
			}
		}
		if w.incumbents != nil {
			w.install(i, at, bin)
		}
	}
}

// gates takes the current design, which is in some slots, through the gates after the class, and gives
// those in which it passes all.
func (w *worker) gates(index uint64, payload, bin int, in uint64) uint64 {
	c := &w.craft
	w.stage, w.seen = model.StageOperate, false
	if !c.Operate() {
		w.reject(in, Miss{Index: index, Gate: GateOperating, Any: true}, payload, bin)
		return 0
	}
	stage := model.StageOperate
	for n := range w.checks {
		// Most requirements need no more than this, and those that no payload changes it
		// once.
		if w.kept>>(n&63)&1 == 1 && n < 64 {
			continue
		}
		k := &w.checks[n]
		if k.start != nil {
			k.start(c)
		}
		if k.of != nil && k.stage <= stage && k.kept(c) {
			if k.bare && n < 64 {
				w.kept |= 1 << n
			}
			continue
		}
		r := &w.require[n]
		gate := n + GateOperating + 1
		if r.Metric.Stage == model.StageFlight && stage < model.StageFlight && !r.Metric.ByClass {
			if r.AtLeast == (r.Metric.Better == model.Higher) && r.Kept(r.Metric.AtWorst(c)) {
				w.trusted = true
				continue // whatever its flight
			}
			if !w.seen {
				w.seen, stage = true, w.foresee(stage)
			}
			if w.lost(r, gate, index, in) {
				w.trusted, w.left = true, gate
				for ; in != 0; in &= in - 1 {
					w.count(bits.TrailingZeros64(in), gate, payload, bin)
				}
				return 0
			}
		}
		for stage < r.Metric.Stage {
			stage++
			c.Advance(stage)
		}
		if !r.Metric.ByClass {
			if v := r.Metric.Of(c); !r.Kept(v) {
				w.reject(in, Miss{Index: index, Gate: gate, Shortfall: r.Shortfall(v), Any: true}, payload, bin)
				return 0
			}
			continue
		}
		for left := in; left != 0; left &= left - 1 {
			i := bits.TrailingZeros64(left)
			c.Limit = w.limit(i)
			if v := r.Metric.Of(c); !r.Kept(v) {
				in &^= 1 << i
				w.reject(1<<i, Miss{Index: index, Gate: gate, Shortfall: r.Shortfall(v), Any: true}, payload, bin)
			}
		}
		if in == 0 {
			return 0
		}
	}
	w.stage = stage
	return in
}

// reject counts the current design in some slots at the gate that it does not pass.
func (w *worker) reject(in uint64, m Miss, payload, bin int) {
	w.left = m.Gate
	for ; in != 0; in &= in - 1 {
		slot := bits.TrailingZeros64(in)
		w.found[slot].nearer(m)
		w.count(slot, m.Gate, payload, bin)
	}
}

// count counts the current design in a slot at the gate that it does not pass.
func (w *worker) count(slot, gate, payload, bin int) {
	x := w.found[slot]
	x.count(gate, bin)
	x.fell(w.scene.at, gate, 1)
	w.note(slot, gate, payload)
}

// advance takes the current design to a stage in all scenarios.
func (w *worker) advance(to model.Stage) {
	for w.stage < to {
		w.stage++
		w.craft.Advance(w.stage)
	}
	for _, o := range w.others {
		o.advance(to)
	}
}

// bin is the place of a mass in the size map.
func (p *plan) bin(mass float64) int {
	return min(int(mass/p.binWidth), p.study.SizeBins-1)
}

// fail rejects a block whose propeller could not be solved.
func (w *worker) fail(err error) {
	w.failed = err
	w.reset()
	for in := w.from(0); in != 0; in &= in - 1 {
		w.found[bits.TrailingZeros64(in)].rejected[GateOperating] = w.blockSize
	}
	w.used = w.from(0)
}
