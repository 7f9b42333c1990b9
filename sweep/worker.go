package sweep

import (
	"slices"

	"rotorsieve/model"
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
	begun      bool    // the builds of the current cells have begun
	lineFlown  []flown // of the current line, by payload
	chords     chords
	endings    []ending // of the current line, by payload
}

func (p *plan) newWorker(known *incumbents) *worker {
	n := len(p.study.Classes)
	w := &worker{plan: p, floors: make([]*Ranked, n), miss: make([]Miss, n), incumbents: known,
		shades: make([]shade, n), upper: p.newUpper(), margins: slices.Clone(p.margins), runs: p.newRuns()}
	w.reach.Sight = p.sight
	w.reach.Least = func(mass float64) float64 { return w.thinnest(w, mass) }
	payloads := len(p.study.Grid.axes[axPayload].Values)
	w.endings, w.lineFlown, w.chords.of = make([]ending, payloads), make([]flown, payloads), make([]pair, payloads)
	w.foreseen = make([]forecast, len(p.foretold))
	for range n {
		w.found = append(w.found, p.newGatherer())
		w.lines = append(w.lines, line{least: make([]float64, len(p.views)), still: make([]float64, len(p.views))})
	}
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
	var in uint64 // classes in which the design still stands
	for i := range s.Classes {
		if limit := s.Classes[i].Limit; c.Mass > limit {
			m := Miss{Index: index, Gate: GateClass, Shortfall: classShortfall(c.Mass, limit), Any: true}
			w.found[i].reject(GateClass, m, payload, 0)
		} else {
			in |= 1 << i
		}
	}
	e := &w.endings[payload]
	*e = ending{lifted: in}
	if in == 0 {
		return
	}
	bin := w.bin(c.Mass)
	if in = w.gates(index, payload, bin, in); in == 0 {
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
		w.dump.take(w, index, in)
		return
	}
	if w.incumbents != nil && !w.betters(at, in, bin) {
		for i, x := range w.found {
			if in>>i&1 == 1 {
				x.pass(bin)
			}
		}
		return
	}
	w.advance(w.need)
	w.fly(payload)
	x := Ranked{Index: index, Score: s.MeritOf(w.crafts)}
	for i, f := range w.found {
		if in>>i&1 == 0 {
			continue
		}
		for _, c := range w.crafts {
			c.Limit = s.Classes[i].Limit
		}
		if w.byClass {
			x.Score = s.MeritOf(w.crafts)
		}
		f.keep(w.plan, x, w.floors[i], w.crafts, payload, bin)
		if f.listing.takes(Levels-1, payload, x) {
			w.list(i, payload, x)
		}
		// By class, since its margin may be on the front.
		if len(w.front.metrics) > 0 {
			if v := w.front.worst(w.crafts); valued(v) && !w.shades[i].covers(v) {
				p := FrontPoint{Ranked: x, box: box(v)}
				if f.front.add(p) {
					w.shades[i].add(p)
				}
			}
		}
		if w.incumbents != nil {
			w.install(i, at, bin, x.Score)
		}
	}
}

// gates takes the current design, which is within some classes, through the gates after the class,
// and gives the classes in which it passes all.
func (w *worker) gates(index uint64, payload, bin int, in uint64) uint64 {
	s, c := w.study, &w.craft
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
				for i, x := range w.found {
					if in>>i&1 == 1 {
						x.count(gate, payload, bin)
						x.fell(w.scene.at, gate, 1)
					}
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
		for i := range w.found {
			if in>>i&1 == 0 {
				continue
			}
			c.Limit = s.Classes[i].Limit
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

// reject counts the current design in some classes at the gate that it does not pass.
func (w *worker) reject(classes uint64, m Miss, payload, bin int) {
	w.left = m.Gate
	for i, x := range w.found {
		if classes>>i&1 == 1 {
			x.reject(m.Gate, m, payload, bin)
			x.fell(w.scene.at, m.Gate, 1)
		}
	}
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
	for _, x := range w.found {
		x.touched = true
		x.reset(w.plan)
		x.rejected[GateOperating] = w.blockSize
	}
}
