package decide

import (
	"math"

	"rotorsieve/model"
	"rotorsieve/model/motor"
	"rotorsieve/model/pack"
	"rotorsieve/sweep"
)

// rules are what designs are judged by.
type rules struct {
	study   *sweep.Study
	space   *space
	require []sweep.Requirement // in the order of their gates
	hands   []bool              // requirements that a pilot keeps with the throttle
	metrics []*model.Metric     // see Decision.Metrics
	need    model.Stage         // of the merit
	last    model.Stage         // of all metrics
	scored  int                 // scores of the merit's terms that are noted: of the least merit in each scenario
}

func newRules(s *sweep.Study, byThrottle []*model.Metric) *rules {
	r := &rules{study: s, space: newSpace(s.Grid)}
	seen := map[*model.Metric]bool{}
	add := func(m *model.Metric) {
		r.last = max(r.last, m.Stage)
		if !seen[m] {
			seen[m] = true
			r.metrics = append(r.metrics, m)
		}
	}
	for _, t := range s.Merit {
		r.need = max(r.need, t.Metric.Stage)
		add(t.Metric)
	}
	for _, g := range s.Gates()[sweep.GateOperating+1:] {
		r.require = append(r.require, *g.Requirement)
		r.hands = append(r.hands, heldBy(byThrottle, g.Requirement))
		add(g.Requirement.Metric)
	}
	r.scored = len(s.Merit)
	if s.Over == sweep.Worst {
		r.scored *= len(s.Models())
	}
	return r
}

func (r *rules) gates() int { return sweep.GateOperating + 1 + len(r.require) }

// outcome is what becomes of a build in a draw.
type outcome struct {
	gate     int // that it fails first; kept for none
	capacity int // place of the pack that is bought
	merit    float64
	operates bool // it hovers and has full throttle, whatever it weighs
}

// kept stands for a gate where all are passed.
const kept = -1

// bench judges builds in one draw after the other. What it builds it keeps for the draw.
type bench struct {
	*rules
	draw
	prop   *model.Propeller // of the draw
	packs  [][]pack.Pack    // by cells and place; none where no build had these cells yet
	known  []int            // by motor: 1 more than its place in motors, 0 for none
	motors []motor.Motor
	train  model.Powertrain
	spare  model.Powertrain // of the largest pack so far
	held   model.Powertrain // with the throttle held back
	craft  model.Craft
	loaded int // place of the capacity that craft has
	loads  int // packs that were put on a build so far
	err    error
	others []*bench // in the further scenarios, with what has been built here
	crafts []*model.Craft
}

func (r *rules) bench() *bench {
	w := r.oneBench()
	w.crafts = []*model.Craft{&w.craft}
	for range r.study.Others {
		o := r.oneBench()
		w.others, w.crafts = append(w.others, o), append(w.crafts, &o.craft)
	}
	return w
}

func (r *rules) oneBench() *bench {
	of := r.space.axes
	motors := len(of[r.space.stator].Values) * len(of[r.space.kv].Values)
	if r.space.motor >= 0 {
		motors = len(of[r.space.motor].Values)
	}
	return &bench{rules: r, packs: make([][]pack.Pack, len(of[r.space.cells].Values)), known: make([]int, motors)}
}

// enter goes on to another draw.
func (w *bench) enter(d draw) {
	w.draw = d
	for i := range w.packs {
		w.packs[i] = w.packs[i][:0]
	}
	clear(w.known)
	w.motors = w.motors[:0]
	for i, o := range w.others {
		o.enter(d.others[i])
	}
}

// mount takes a propeller into the draw. Nobody reads the one before any more.
func (w *bench) mount(all propellers) {
	if w.prop != nil {
		w.prop.Release()
	}
	w.prop = nil
	if all[0] != nil {
		w.prop = w.vary(all[0])
	}
	for i, o := range w.others {
		o.mount(all[i+1:])
	}
}

// shelf has the packs of a build's cells, by place. All are built at once: as most builds look
// for the largest of them that they carry.
func (w *bench) shelf(b *build) []pack.Pack {
	if of := w.packs[b.cells]; len(of) > 0 {
		return of
	}
	for place := range w.space.capacities(b.cells) {
		d := w.space.grid.Design(w.space.withPack(b.index, place))
		grade := w.model.Assume.PackGrade
		if d.Pack != nil && d.Pack.Grade != nil {
			grade = d.Pack.Grade
		}
		if each := grade.CellCharge(); each > 0 { // another grade may have other cells
			d.Capacity = max(1, math.Round(d.Capacity/each)) * each
			if d.Pack != nil {
				p := *d.Pack
				p.Capacity, d.Pack = d.Capacity, &p
			}
		}
		k, err := w.model.PackOf(&d)
		if err != nil {
			w.err = err
		}
		w.packs[b.cells] = append(w.packs[b.cells], k)
	}
	return w.packs[b.cells]
}

// motor is that of a build.
func (w *bench) motor(b *build) *motor.Motor {
	at := &w.known[b.motor]
	if *at == 0 {
		m, err := w.model.MotorOf(&b.design)
		if err != nil {
			w.err = err
		}
		w.motors = append(w.motors, m)
		*at = len(w.motors)
	}
	return &w.motors[*at-1]
}

// load puts the build together with the pack of a place.
func (w *bench) load(b *build, capacity int) {
	w.loads++
	w.model.Power(&w.train, w.prop, w.motor(b), &w.shelf(b)[capacity])
	w.loadRest(b, capacity)
}

// loadAs is load of what has been built on another bench; false where the propeller cannot be solved.
func (w *bench) loadAs(b *build, capacity int, built *model.Powertrain) bool {
	if w.prop == nil {
		return false
	}
	w.model.PowerAs(&w.train, w.prop, w.motor(b), &w.shelf(b)[capacity], built)
	w.loadRest(b, capacity)
	return true
}

func (w *bench) loadRest(b *build, capacity int) {
	w.train.Parts = b.design.Parts
	if w.space.packs != nil {
		w.train.Parts = w.space.grid.Design(w.space.withPack(b.index, capacity)).Parts
	}
	w.put(b, capacity)
}

// put makes the craft of the power train of a pack.
func (w *bench) put(b *build, capacity int) {
	w.craft.Load(w.model, &w.train, b.design.Payload)
	w.craft.Limit = w.study.Classes[b.class].Limit
	w.loaded = capacity
}

// fits loads the build with a pack and says whether it keeps a mass in kg.
func (w *bench) fits(b *build, capacity int, limit float64) bool {
	w.load(b, capacity)
	return w.craft.Mass <= limit
}

// largest is the place of the largest capacity, of those before end, with which the build keeps
// a mass in kg; -1 where there is none. The build is loaded with it. Packs of a draw need not
// weigh more than all smaller ones: those that may be light enough are looked at from the largest
// down. A guess by what the one before was too heavy by spares most of them.
func (w *bench) largest(b *build, end int, limit float64) int {
	packs := w.shelf(b)[:end]
	a, motor, payload := &w.prop.Airframe, w.motor(b).Mass, b.design.Payload
	light := func(k *pack.Pack) bool {
		return a.LeastAUW(w.model.Bare(a, motor, k.Mass), payload) <= limit
	}
	top := end - 1
	for top >= 0 && !light(&packs[top]) {
		top--
	}
	// Packs that weigh more than sure are too heavy where they have no more resistance than of:
	// they draw no less current, so that the controller weighs no less. Arms that are sized might,
	// and are taken not to.
	good, of, sure := -1, -1, 0.0
	for at := top; at >= 0 && good < 0; {
		const rounding = 1e-12 // kg
		fits := w.fits(b, at, limit)
		of, sure = at, packs[at].Mass-(w.craft.Mass-limit)+rounding
		if fits {
			good = at
			break
		}
		for at--; at >= 0 && packs[at].Mass > sure; at-- {
		}
	}
	if good >= 0 {
		w.train, w.spare = w.spare, w.train
	}
	for at := top; at > good; at-- {
		if k := &packs[at]; k.Mass > sure && k.R <= packs[of].R || !light(k) {
			continue
		}
		if w.fits(b, at, limit) {
			return at
		}
	}
	if good >= 0 {
		w.train, w.spare = w.spare, w.train
		w.put(b, good)
	}
	return good
}

// buy loads the build with the pack that is bought in the draw: where the class limit
// holds it, the largest that keeps the class, elsewhere the planned one, or the largest
// below it. It is false where none keeps the class; the pack is the smallest then.
func (w *bench) buy(b *build) bool {
	w.loaded = -1
	limit := w.study.Classes[b.class].Limit
	var at int
	switch {
	case b.filled:
		at = w.largest(b, w.space.capacities(b.cells), limit)
	case w.fits(b, b.planned, limit):
		at = b.planned
	default:
		at = w.largest(b, b.planned, limit)
	}
	if bought := max(at, 0); bought != w.loaded {
		w.load(b, bought)
	}
	return at >= 0
}

// advance computes up to a stage, given what has been.
func (w *bench) advance(stage, to model.Stage) model.Stage {
	for stage < to {
		stage++
		w.craft.Advance(stage)
	}
	return stage
}

func (w *bench) read(m *model.Metric) float64 {
	if start := m.Start(); start != nil {
		start(&w.craft)
	}
	return m.Of(&w.craft)
}
