package sweep

import (
	"sort"

	"rotorsieve/model"
	"rotorsieve/model/pack"
)

// scene is what a worker of a further scenario has besides. It shares all that is found, and the
// incumbents, with the worker of the first scenario, whose loops it follows: what the designs of a
// line have in common is built when the first of them comes.
type scene struct {
	at    int    // place of the scenario; 0 for the first
	share *share // in a mean; nil where the least merit counts
	prop  *model.Propeller
	lined bool // the line has been built
	err   error
}

// share is what earlier scenarios leave of a mean for a later one to have.
type share struct {
	scenarios float64
	earlier   []float64 // sum of the merits in earlier scenarios, at most, by slot
}

func (p *plan) newShare() *share {
	if p.study.Over != Mean || len(p.others) == 0 {
		return nil
	}
	return &share{scenarios: float64(1 + len(p.others)), earlier: make([]float64, len(p.study.Classes))}
}

// asks is the merit that a design needs in the worker's scenario for its own to come to least: in a
// mean all later ones may have 1.
func (w *worker) asks(class int, least float64) float64 {
	h := w.scene.share
	if h == nil {
		return least
	}
	const summed = 1e-12 // what rounding leaves
	return h.scenarios*least - h.earlier[class] - (h.scenarios - 1 - float64(w.scene.at)) - summed
}

// begin forgets the last design.
func (h *share) begin() {
	if h != nil {
		clear(h.earlier)
	}
}

// newScene makes the worker of a further scenario.
func (q *plan) newScene(w *worker, at int) *worker {
	o := &worker{plan: q, slots: w.slots, incumbents: w.incumbents, upper: q.newUpper(),
		margins: append([]margin(nil), q.margins...), runs: q.newRuns(), scene: scene{at: at, share: w.scene.share}}
	o.reach.Sight = q.sight
	o.reach.Least = func(mass float64) float64 { return w.thinnest(o, mass) }
	o.foreseen = make([]forecast, len(q.foretold))
	return o
}

// each calls a function for the workers of all scenarios.
func (w *worker) each(do func(o *worker)) {
	do(w)
	for _, o := range w.others {
		do(o)
	}
}

// newBlock, newCells and newLine have the further scenarios forget what designs had in common.
func (w *worker) newBlock() {
	for _, o := range w.others {
		o.upper.order()
		o.scene.prop, o.scene.err = nil, nil
	}
}

func (w *worker) newCells(others bool) {
	if !others {
		return
	}
	lightest := w.lightest(0)
	w.each(func(o *worker) { o.reach.Begin(lightest) })
}

func (w *worker) newLine() {
	w.each(func(o *worker) {
		o.bounded.line()
		o.kept, o.scene.lined = 0, false
	})
}

// mounted gives the propeller of a block in the worker's scenario; nil where it cannot be solved.
func (w *worker) mounted(x *piece) *model.Propeller {
	h := &w.scene
	if h.prop == nil && h.err == nil {
		h.prop, h.err = w.propellers.at(x.index)
	}
	return h.prop
}

// follow puts the current design of the first scenario into the worker's own. Where its propeller
// cannot be solved there it has no operating point.
func (o *worker) follow(w *worker, at *coord) {
	x := &w.piece
	prop := o.mounted(x)
	if prop == nil {
		w.failed = o.scene.err
		o.craft = model.Craft{}
		o.train.Full.OK = false
		o.craft.Load(o.study.Model, &o.train, 0)
		return
	}
	if !o.scene.lined {
		o.scene.lined = true
		o.powerAs(&o.train, prop, x, o.packAt(at), &w.train)
	}
	o.craft.Load(o.study.Model, &o.train, o.study.Grid.axes[axPayload].Values[at[axPayload]])
}

// powerAs is power of what has been built, in the worker's scenario.
func (o *worker) powerAs(t *model.Powertrain, prop *model.Propeller, x *piece, k *pack.Pack, built *model.Powertrain) {
	o.study.Model.PowerAs(t, prop, &x.motor, k, built)
	t.Parts = x.design.Parts
}

// lightest bounds the mass in kg of the designs of one of the packs of the current cells.
func (w *worker) lightest(at int) float64 {
	x, m := &w.piece, w.study.Model
	return x.body.LeastAUW(m.Bare(&x.body, x.motorMass, x.packs[at].Mass), w.study.Grid.axes[axPayload].Values[0])
}

// thinnest is the least resistance in ohm, in the scenario of the worker o, of the packs of designs of
// the current cells up to a mass in kg.
func (w *worker) thinnest(o *worker, mass float64) float64 {
	x := &w.piece
	if o.exist != nil {
		return o.leastAhead[x.at[axPack]]
	}
	n := sort.Search(x.end-x.at[axCapacity], func(i int) bool { return w.lightest(i) > mass })
	return o.packsFrom(&x.at)[max(n-1, 0)].R
}
