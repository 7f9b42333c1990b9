package sweep

import (
	"slices"
	"sort"

	"rotorsieve/model"
	"rotorsieve/model/frame"
	"rotorsieve/model/motor"
)

// worker judges blocks. Everything it keeps between designs is in its own
// memory, so that nothing is allocated while it runs.
type worker struct {
	*plan
	found      []*gatherer // by class
	floors     []*Ranked   // what a design must beat to be ranked, by class
	miss       []Miss      // the nearest of earlier blocks, by class
	incumbents *incumbents // of all workers; nil where nothing is to be spared
	lines      []line      // by class
	shades     []shade     // by class
	upper      *upper
	margins    []margin // of the plan, those first that mostly decide
	runs       runs
	bounded    bounded // the merit of the current design
	kept       uint64  // bits of the requirements that the line is known to keep with any payload
	craft      model.Craft
	train      model.Powertrain
	reach      model.Reach // of the current cells
	ahead      float64     // in ohm, of the pack some capacities further
	trusted    bool        // a bound on its flight has decided on the current design
	foreseen   []forecast  // of the plan's foretold metrics, of a design that is audited
	audit      Audit       // of the block
	feasible   uint64      // designs of the block that are feasible in some class
	failed     error       // of the block's propeller
	quiet      bool        // no design of the last line that was judged one by one bettered anything
}

func (p *plan) newWorker(known *incumbents) *worker {
	n := len(p.study.Classes)
	w := &worker{plan: p, floors: make([]*Ranked, n), miss: make([]Miss, n), incumbents: known,
		shades: make([]shade, n), upper: p.newUpper(), margins: slices.Clone(p.margins), runs: p.newRuns()}
	w.reach.Climbs = p.climbs
	w.foreseen = make([]forecast, len(p.foretold))
	for range n {
		w.found = append(w.found, p.newGatherer())
		w.lines = append(w.lines, line{least: make([]float64, len(p.views)), still: make([]float64, len(p.views))})
	}
	return w
}

// lift is where the capacities end, of those from first to end, that some class can lift,
// by which are too heavy. Mass grows with capacity and payload: beyond, all are too heavy
// for all classes. Where packs do not all weigh more than the next smaller one, some before
// may be as well.
func (w *worker) lift(first, end int, heavy func(capacity int) bool) int {
	if w.rising {
		return first + sort.Search(end-first, func(i int) bool { return heavy(first + i) })
	}
	for end > first && heavy(end-1) {
		end--
	}
	return end
}

// piece is what designs of a block have in common, by the loops.
type piece struct {
	index     uint64 // of the block's first design
	design    model.Design
	body      model.Airframe
	prop      *model.Propeller // built when a design first needs it
	motorMass float64          // kg
	motor     motor.Motor      // the same, but for one that exists
}

// block judges the designs of a block.
func (w *worker) block(b uint64, at, end coord) {
	g, m := w.study.Grid, w.study.Model
	w.feasible, w.failed = 0, nil
	w.upper.order()
	for _, x := range w.found {
		x.reset()
		x.listing.at(w.group(b * w.blockSize))
	}
	first := at
	x := piece{index: b * w.blockSize, design: g.design(first)}
	d := &x.design
	x.body = m.AirframeOf(d.Diameter, d.Blades, &d.Parts)
	regression := m.MotorMass(d.Stator)
	for at[axKV] = first[axKV]; at[axKV] < end[axKV]; at[axKV]++ {
		d.KV = g.axes[axKV].Values[at[axKV]]
		x.motorMass = regression * m.Assume.Evidence.MotorMass(d.Stator, d.KV)
		x.motor = motor.Motor{}
		if w.motors != nil {
			x.motor = w.motors[at[axMotor]]
			x.motorMass = x.motor.Mass
		}
		for at[axPack] = first[axPack]; at[axPack] < end[axPack]; at[axPack]++ {
			lo, hi := first, end
			if w.exist != nil {
				for _, a := range [...]int{axCells, axCapacity} {
					lo[a] = g.follows[a][at[axPack]]
					hi[a] = lo[a] + 1
				}
				d.Pack = w.exist[at[axPack]]
			}
			for at[axCells] = lo[axCells]; at[axCells] < hi[axCells]; at[axCells]++ {
				if !w.capacities(&x, &at, lo[axCapacity], hi[axCapacity], at[axPack] == first[axPack]) {
					return
				}
				w.endCells(&at, at[axPack]+1 == end[axPack])
			}
			for _, x := range w.found {
				x.end(axPack, &at)
			}
		}
		for _, x := range w.found {
			x.end(axKV, &at)
		}
	}
}

// endCells ends the capacities of some cells. Those of packs that exist may go on with the
// next pack.
func (w *worker) endCells(at *coord, last bool) {
	g := w.study.Grid
	of := g.follows[axCells]
	ended := last || of == nil || of[at[axPack]+1] != of[at[axPack]]
	for _, x := range w.found {
		if ended {
			x.listing.end(g)
		}
		x.end(axCells, at)
	}
}

// capacities judges the designs of some cells from a capacity to an end; anew says that
// propeller or motor were others before. It is false where the propeller cannot be solved.
func (w *worker) capacities(x *piece, at *coord, from, end int, anew bool) bool {
	g, m := w.study.Grid, w.study.Model
	payloads := g.axes[axPayload].Values
	line := uint64(len(payloads))
	at[axCapacity] = from
	packs := w.packsFrom(at)
	if w.exist == nil || anew || !w.alike(at[axPack]-1, at[axPack]) {
		w.reach.Reset()
	}
	w.runs.from = -1
	for i := range w.lines {
		w.lines[i].knowsStill = false
	}
	lift := w.lift(from, end, func(i int) bool {
		return x.body.LeastAUW(m.Bare(&x.body, x.motorMass, packs[i-from].Mass), payloads[0]) > w.widest
	})
	for ; at[axCapacity] < lift; at[axCapacity]++ {
		if x.prop == nil {
			var err error
			if x.prop, err = w.propellers.at(x.index); err != nil {
				w.fail(err)
				return false
			}
		}
		if x.motor.Kt == 0 {
			x.motor = m.Motor(x.design.Stator, x.design.KV)
		}
		at[axPayload] = 0
		if w.incumbents != nil && w.grow[at[axCells]] {
			if n := w.pass(at, lift, x); n > 0 {
				at[axCapacity] += n - 1
				continue
			}
		}
		k := &packs[at[axCapacity]-from]
		bare := m.Bare(&x.body, x.motorMass, k.Mass)
		fit := sort.Search(len(payloads), func(i int) bool { return x.body.LeastAUW(bare, payloads[i]) > w.widest })
		index := g.index(at)
		w.power(&w.train, x.prop, &x.motor, k, &x.design.Parts)
		if w.exist != nil {
			w.ahead = w.leastAhead[at[axPack]]
		} else {
			w.ahead = packs[min(at[axCapacity]+lookAhead, end-1)-from].R
		}
		for i := range w.lines {
			w.lines[i].known = false
		}
		w.bounded.line()
		w.kept, w.quiet = 0, true
		for ; at[axPayload] < fit; at[axPayload]++ {
			i := index + uint64(at[axPayload])
			w.trusted = false
			w.judge(at, i)
			if w.trusted && w.audited(i) {
				w.check(i, payloads[at[axPayload]])
			}
		}
		for _, x := range w.found {
			x.end(axCapacity, at)
		}
		if fit < len(payloads) {
			w.overweight(line - uint64(fit))
			w.nearer(index+uint64(fit), x.body.LeastAUW(bare, payloads[fit]))
		}
	}
	if lift < end {
		w.overweight(uint64(end-lift) * line)
		at[axPayload] = 0
		for i := lift; i < end; i++ {
			at[axCapacity] = i
			near := w.nearer(g.index(at), x.body.LeastAUW(m.Bare(&x.body, x.motorMass, packs[i-from].Mass), payloads[0]))
			// Arms that are kept off a frequency may be lighter under a
			// heavier pack, so that the next may come nearer than the first; so
			// may a pack that is measured to be lighter than a smaller one.
			if w.rising && (!near || m.Assume.FrameBuild != frame.ByBeam) {
				break
			}
		}
	}
	return true
}

// judge takes one design through the gates of every class.
func (w *worker) judge(at *coord, index uint64) {
	s := w.study
	c := &w.craft
	payload := at[axPayload]
	c.Load(s.Model, &w.train, s.Grid.axes[axPayload].Values[payload])
	var in uint64 // classes in which the design still stands
	for i := range s.Classes {
		if limit := s.Classes[i].Limit; c.Mass > limit {
			m := Miss{Index: index, Gate: GateClass, Shortfall: classShortfall(c.Mass, limit), Any: true}
			w.found[i].reject(GateClass, m, payload, 0)
		} else {
			in |= 1 << i
		}
	}
	if in == 0 {
		return
	}
	bin := w.bin(c.Mass)
	reject := func(gate int, shortfall float64) {
		for i, x := range w.found {
			if in>>i&1 == 1 {
				x.reject(gate, Miss{Index: index, Gate: gate, Shortfall: shortfall, Any: true}, payload, bin)
			}
		}
	}
	if !c.Operate() {
		reject(GateOperating, 0)
		return
	}
	stage := model.StageOperate
	foreseen := false
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
			if !foreseen {
				foreseen, stage = true, w.foresee(stage)
			}
			if w.lost(r, gate, index, in) {
				w.trusted = true
				for i, x := range w.found {
					if in>>i&1 == 1 {
						x.count(gate, payload, bin)
					}
				}
				return
			}
		}
		for stage < r.Metric.Stage {
			stage++
			c.Advance(stage)
		}
		if !r.Metric.ByClass {
			if v := r.Metric.Of(c); !r.Kept(v) {
				reject(gate, r.Shortfall(v))
				return
			}
			continue
		}
		for i, x := range w.found {
			if in>>i&1 == 0 {
				continue
			}
			c.Limit = s.Classes[i].Limit
			if v := r.Metric.Of(c); !r.Kept(v) {
				in &^= 1 << i
				x.reject(gate, Miss{Index: index, Gate: gate, Shortfall: r.Shortfall(v), Any: true}, payload, bin)
			}
		}
		if in == 0 {
			return
		}
	}
	w.feasible++
	if w.incumbents != nil {
		var ok bool
		if stage, ok = w.betters(at, in, bin, stage, foreseen); !ok {
			for i, x := range w.found {
				if in>>i&1 == 1 {
					x.pass(bin)
				}
			}
			return
		}
	}
	for stage < w.need {
		stage++
		c.Advance(stage)
	}
	w.quiet = false
	x := Ranked{Index: index, Score: s.Merit.Of(c)}
	for i, f := range w.found {
		if in>>i&1 == 0 {
			continue
		}
		c.Limit = s.Classes[i].Limit
		if w.byClass {
			x.Score = s.Merit.Of(c)
		}
		f.keep(w.plan, x, w.floors[i], c, payload, bin)
		if f.listing.takes(Levels-1, payload, x) {
			stage = w.list(i, payload, x, stage)
		}
		// By class, since its margin may be on the front.
		if values := w.front.values(c); len(w.front.metrics) > 0 && !w.shades[i].covers(values) {
			p := FrontPoint{Ranked: x, box: box(values)}
			if f.front.add(p) {
				w.shades[i].add(p)
			}
		}
		if w.incumbents != nil {
			w.install(i, at, bin, x.Score)
		}
	}
}

// bin is the place of a mass in the size map.
func (p *plan) bin(mass float64) int {
	return min(int(mass/p.binWidth), p.study.SizeBins-1)
}

// fail rejects a block whose propeller could not be solved.
func (w *worker) fail(err error) {
	w.failed = err
	for _, x := range w.found {
		x.touched = true
		x.reset()
		x.rejected[GateOperating] = w.blockSize
	}
}
