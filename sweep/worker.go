package sweep

import (
	"sort"

	"rotorsieve/model"
	"rotorsieve/model/motor"
	"rotorsieve/model/pack"
)

// worker judges blocks. Everything it keeps between designs is in its own
// memory, so that nothing is allocated while it runs.
type worker struct {
	*plan
	found    []*gatherer // by class
	floors   []*Ranked   // what a design must beat to be ranked, by class
	miss     []Miss      // the nearest of earlier blocks, by class
	craft    model.Craft
	train    model.Powertrain
	feasible uint64 // designs of the block that are feasible in some class
	failed   error  // of the block's propeller
}

func (p *plan) newWorker() *worker {
	w := &worker{plan: p, floors: make([]*Ranked, len(p.study.Classes)), miss: make([]Miss, len(p.study.Classes))}
	for range p.study.Classes {
		w.found = append(w.found, p.newGatherer())
	}
	return w
}

// block judges the designs of a block.
func (w *worker) block(b uint64, at, end coord) {
	g, m := w.study.Grid, w.study.Model
	w.feasible, w.failed = 0, nil
	for _, x := range w.found {
		x.reset(w.plan, &at, &end)
	}
	first := at
	d := g.design(first)
	frame := m.Airframe(d.Diameter, d.Blades)
	motorMass := d.Stator.Mass()
	capacities := len(g.axes[axCapacity].Values)
	payloads := g.axes[axPayload].Values
	line := uint64(len(payloads))
	var prop *model.Propeller // built when a design first needs it

	for at[axKV] = first[axKV]; at[axKV] < end[axKV]; at[axKV]++ {
		var mot motor.Motor
		for at[axCells] = first[axCells]; at[axCells] < end[axCells]; at[axCells]++ {
			packs := w.packs[at[axCells]*capacities:][:capacities]
			// Mass grows with capacity and payload: beyond the last capacity that
			// some class can lift, all are too heavy for all classes.
			lift := first[axCapacity] + sort.Search(end[axCapacity]-first[axCapacity], func(i int) bool {
				return frame.LeastAUW(m.Bare(&frame, motorMass, packs[first[axCapacity]+i].Mass), payloads[0]) > w.widest
			})
			for at[axCapacity] = first[axCapacity]; at[axCapacity] < lift; at[axCapacity]++ {
				if prop == nil {
					var err error
					if prop, err = w.propellers.at(b * w.blockSize); err != nil {
						w.fail(err)
						return
					}
				}
				if mot.Kt == 0 {
					mot = m.Motor(d.Stator, g.axes[axKV].Values[at[axKV]])
				}
				k := &packs[at[axCapacity]]
				bare := m.Bare(&frame, motorMass, k.Mass)
				fit := sort.Search(len(payloads), func(i int) bool { return frame.LeastAUW(bare, payloads[i]) > w.widest })
				at[axPayload] = 0
				index := g.index(&at)
				m.Power(&w.train, prop, mot, *k)
				for ; at[axPayload] < fit; at[axPayload]++ {
					w.judge(&at, index+uint64(at[axPayload]))
				}
				for _, x := range w.found {
					x.endLine(w.plan, &at, fit)
				}
				if fit < len(payloads) {
					w.overweight(index+uint64(fit), frame.LeastAUW(bare, payloads[fit]), line-uint64(fit))
				}
			}
			if lift < end[axCapacity] {
				at[axCapacity], at[axPayload] = lift, 0
				w.overweight(g.index(&at), frame.LeastAUW(m.Bare(&frame, motorMass, packs[lift].Mass), payloads[0]), uint64(end[axCapacity]-lift)*line)
			}
			for _, x := range w.found {
				x.endCells(w.plan, &at)
			}
		}
		for _, x := range w.found {
			x.endKV(w.plan, &at)
		}
	}
}

// overweight counts designs from index on that are too heavy for every class,
// the first of which is the lightest and has the lower bound least on its mass.
func (w *worker) overweight(index uint64, least float64, count uint64) {
	mass := 0.0
	for i, x := range w.found {
		x.turned[GateClass] += count
		limit := w.study.Classes[i].Limit
		// Only a design that comes nearer than the nearest so far is worth its
		// full-throttle point, which its mass needs.
		bound := Miss{Index: index, Gate: GateClass, Shortfall: classShortfall(least, limit), Any: true}
		if w.miss[i].Any && w.miss[i].compare(bound) < 0 || x.miss.Any && x.miss.compare(bound) < 0 {
			continue
		}
		if mass == 0 {
			d := w.study.Grid.Design(index)
			prop, err := w.propellers.at(index)
			if err != nil {
				continue
			}
			k := w.pack(index)
			var t model.Powertrain
			w.study.Model.Power(&t, prop, w.study.Model.Motor(d.Stator, d.KV), *k)
			mass = t.AUW(d.Payload)
		}
		bound.Shortfall = classShortfall(mass, limit)
		x.miss.add(bound)
	}
}

func (w *worker) pack(index uint64) *pack.Pack {
	g := w.study.Grid
	return &w.packs[g.At(index, axCells)*len(g.axes[axCapacity].Values)+g.At(index, axCapacity)]
}

func classShortfall(mass, limit float64) float64 { return (mass - limit) / limit }

// judge takes one design through the gates of every class.
func (w *worker) judge(at *coord, index uint64) {
	s := w.study
	c := &w.craft
	payload := at[axPayload]
	c.Load(s.Model, &w.train, s.Grid.axes[axPayload].Values[payload])
	var in uint64 // classes in which the design still stands
	for i := range s.Classes {
		if limit := s.Classes[i].Limit; c.Mass > limit {
			w.found[i].turn(GateClass, Miss{Index: index, Gate: GateClass, Shortfall: classShortfall(c.Mass, limit), Any: true}, payload, 0)
		} else {
			in |= 1 << i
		}
	}
	if in == 0 {
		return
	}
	bin := w.bin(c.Mass)
	turn := func(gate int, shortfall float64) {
		for i, x := range w.found {
			if in>>i&1 == 1 {
				x.turn(gate, Miss{Index: index, Gate: gate, Shortfall: shortfall, Any: true}, payload, bin)
			}
		}
	}
	if !c.Operate() {
		turn(GateOperating, 0)
		return
	}
	stage := model.StageOperate
	for n := range w.require {
		r := &w.require[n]
		for stage < r.Metric.Stage {
			stage++
			c.Advance(stage)
		}
		gate := n + GateOperating + 1
		if !r.Metric.ByClass {
			if v := r.Metric.Of(c); !r.Kept(v) {
				turn(gate, r.Shortfall(v))
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
				x.turn(gate, Miss{Index: index, Gate: gate, Shortfall: r.Shortfall(v), Any: true}, payload, bin)
			}
		}
		if in == 0 {
			return
		}
	}
	for stage < w.need {
		stage++
		c.Advance(stage)
	}
	w.feasible++
	box := w.front.box(c)
	x := Ranked{Index: index, Score: s.Merit.Of(c)}
	for i, f := range w.found {
		if in>>i&1 == 0 {
			continue
		}
		c.Limit = s.Classes[i].Limit
		if w.byClass {
			x.Score = s.Merit.Of(c)
		}
		f.keep(w.plan, x, w.floors[i], c, payload, bin, box)
	}
}

// bin is the place of a mass in the size map.
func (p *plan) bin(mass float64) int {
	return min(int(mass/(p.widest/float64(p.study.SizeBins))), p.study.SizeBins-1)
}

// fail turns away a block whose propeller could not be solved.
func (w *worker) fail(err error) {
	w.failed = err
	for _, x := range w.found {
		x.touched = true
		x.reset(w.plan, nil, nil)
		x.turned[GateOperating] = w.blockSize
	}
}
