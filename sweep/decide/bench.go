package decide

import (
	"math"
	"sort"

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
	packs  cache[pack.Pack]
	motors cache[motor.Motor]
	train  model.Powertrain
	held   model.Powertrain // with the throttle held back
	craft  model.Craft
	loaded int // place of the capacity that craft has
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
	return &bench{rules: r, packs: cache[pack.Pack]{at: map[int]int{}}, motors: cache[motor.Motor]{at: map[int]int{}}}
}

// cache keeps what has been built in a draw.
type cache[T any] struct {
	at   map[int]int
	made []T
}

// find is what is kept under a key; nil for nothing. What it points to stands until more is
// added.
func (c *cache[T]) find(key int) *T {
	if i, ok := c.at[key]; ok {
		return &c.made[i]
	}
	return nil
}

func (c *cache[T]) add(key int, v T) *T {
	c.at[key] = len(c.made)
	c.made = append(c.made, v)
	return &c.made[len(c.made)-1]
}

func (c *cache[T]) clear() {
	clear(c.at)
	c.made = c.made[:0]
}

// enter goes on to another draw.
func (w *bench) enter(d draw) {
	w.draw = d
	w.packs.clear()
	w.motors.clear()
	for i, o := range w.others {
		o.enter(d.others[i])
	}
}

// mount takes a propeller into the draw.
func (w *bench) mount(all propellers) {
	w.prop = nil
	if all[0] != nil {
		w.prop = w.vary(all[0])
	}
	for i, o := range w.others {
		o.mount(all[i+1:])
	}
}

// pack is that of a build by its place among those of its cells.
func (w *bench) pack(b *build, place int) *pack.Pack {
	key := place*len(w.space.axes[w.space.cells].Values) + b.cells
	if k := w.packs.find(key); k != nil {
		return k
	}
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
	return w.packs.add(key, k)
}

// motor is that of a build.
func (w *bench) motor(b *build) *motor.Motor {
	if m := w.motors.find(b.motor); m != nil {
		return m
	}
	m, err := w.model.MotorOf(&b.design)
	if err != nil {
		w.err = err
	}
	return w.motors.add(b.motor, m)
}

// load puts the build together with the pack of a place.
func (w *bench) load(b *build, capacity int) {
	w.model.Power(&w.train, w.prop, *w.motor(b), *w.pack(b, capacity))
	w.loadRest(b, capacity)
}

// loadAs is load of what has been built on another bench; false where the propeller cannot be solved.
func (w *bench) loadAs(b *build, capacity int, built *model.Powertrain) bool {
	if w.prop == nil {
		return false
	}
	w.model.PowerAs(&w.train, w.prop, *w.motor(b), *w.pack(b, capacity), built)
	w.loadRest(b, capacity)
	return true
}

func (w *bench) loadRest(b *build, capacity int) {
	w.train.Parts = b.design.Parts
	if w.space.packs != nil {
		w.train.Parts = w.space.grid.Design(w.space.withPack(b.index, capacity)).Parts
	}
	w.craft.Load(w.model, &w.train, b.design.Payload)
	w.craft.Limit = w.study.Classes[b.class].Limit
	w.loaded = capacity
}

// fits says whether the build keeps a mass in kg with a pack; where the least that it can
// weigh does not tell, it is loaded.
func (w *bench) fits(b *build, capacity int, limit float64) bool {
	bare := w.model.Bare(&w.prop.Airframe, w.motor(b).Mass, w.pack(b, capacity).Mass)
	if w.prop.LeastAUW(bare, b.design.Payload) > limit {
		return false
	}
	w.load(b, capacity)
	return w.craft.Mass <= limit
}

// largest is the place of the largest capacity that keeps a mass in kg, near one where the
// search begins; -1 where none does. Mass grows with capacity, but for packs that exist.
func (w *bench) largest(b *build, from int, limit float64) int {
	n := w.space.capacities(b.cells)
	if w.space.packs != nil {
		return w.below(b, n, limit)
	}
	if w.fits(b, from, limit) {
		good, bad, step := from, n, 1
		for good+step < bad {
			if !w.fits(b, good+step, limit) {
				bad = good + step
				break
			}
			good += step
			step *= 2
		}
		return good + sort.Search(bad-good-1, func(i int) bool { return !w.fits(b, good+1+i, limit) })
	}
	return w.below(b, from, limit)
}

// below is largest under a place that does not keep the mass.
func (w *bench) below(b *build, bad int, limit float64) int {
	good, step := bad-1, 1
	if w.space.packs != nil {
		for good >= 0 && !w.fits(b, good, limit) {
			good--
		}
		return good
	}
	for good >= 0 && !w.fits(b, good, limit) {
		bad = good
		good -= step
		step *= 2
	}
	good = max(good, -1)
	return good + sort.Search(bad-good-1, func(i int) bool { return !w.fits(b, good+1+i, limit) })
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
		at = w.largest(b, b.planned, limit)
	case w.fits(b, b.planned, limit):
		at = b.planned
	default:
		at = w.below(b, b.planned, limit)
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
