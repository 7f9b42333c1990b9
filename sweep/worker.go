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
