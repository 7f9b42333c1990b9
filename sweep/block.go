package sweep

import (
	"iter"
	"sort"

	"rotorsieve/model"
	"rotorsieve/model/frame"
	"rotorsieve/model/motor"
	"rotorsieve/model/pack"
)

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
	at        coord            // of the first design of the current cells
	packs     []pack.Pack      // of these, from its own on
	end       int              // of their capacities
}

// block judges the designs of a block.
func (w *worker) block(b uint64, at, end coord) {
	g, m := w.study.Grid, w.study.Model
	w.feasible, w.failed, w.first = 0, nil, at
	w.upper.order()
	w.reset()
	w.openTo()
	w.newBlock()
	first := at
	w.piece = piece{index: b * w.blockSize, design: g.design(first)}
	x := &w.piece
	d := &x.design
	x.body = m.AirframeOf(d.Diameter, d.Blades, &d.Parts)
	defer w.remember()
	if w.tiles.on {
		w.halve(&at, &first, &end)
		return
	}
	for kv := range w.outward(axKV, first[axKV], end[axKV]) {
		if !w.ofMotor(&at, &first, &end, kv) {
			return
		}
	}
}

// ofMotor judges the designs of a KV. It is false where the propeller cannot be solved.
func (w *worker) ofMotor(at, first, end *coord, kv int) bool {
	g, m, x := w.study.Grid, w.study.Model, &w.piece
	d := &x.design
	at[axKV] = kv
	d.KV = g.axes[axKV].Values[kv]
	x.motorMass = m.MotorMass(d.Stator) * m.Assume.Evidence.MotorMass(d.Stator, d.KV)
	x.motor = motor.Motor{}
	if w.motors != nil {
		x.motor = w.motors[at[axMotor]]
		x.motorMass = x.motor.Mass
	}
	for at[axPack] = first[axPack]; at[axPack] < end[axPack]; at[axPack]++ {
		lo, hi := *first, *end
		if w.exist != nil {
			for _, a := range [...]int{axCells, axCapacity} {
				lo[a] = g.follows[a][at[axPack]]
				hi[a] = lo[a] + 1
			}
			d.Pack = w.exist[at[axPack]]
		}
		for cells := range w.outward(axCells, lo[axCells], hi[axCells]) {
			at[axCells] = cells
			if !w.capacities(x, at, lo[axCapacity], hi[axCapacity], at[axPack] == first[axPack]) {
				return false
			}
			w.endCells(at, at[axPack]+1 == end[axPack])
		}
		w.ends(axPack, at)
	}
	w.ends(axKV, at)
	return true
}

// outward gives the values of an axis within a block, from that of the best design of the last block
// outwards: what is found first is then seldom bettered. A dump is in the order of the grid.
func (w *worker) outward(axis, first, end int) iter.Seq[int] {
	return func(yield func(int) bool) {
		from := min(max(w.best[axis], first), end-1)
		if w.incumbents == nil {
			from = first
		}
		for up, down := from, from-1; up < end || down >= first; up, down = up+1, down-1 {
			if up < end && !yield(up) || down >= first && !yield(down) {
				return
			}
		}
	}
}

// remember notes the best design of a block.
func (w *worker) remember() {
	var best Best
	for i := range w.finds {
		best.add(w.finds[i].Ranked)
	}
	if best.Any {
		w.best = w.study.Grid.coord(best.Index)
	}
}

// endCells ends the capacities of some cells. Those of packs that exist may go on with the
// next pack.
func (w *worker) endCells(at *coord, last bool) {
	g := w.study.Grid
	of := g.follows[axCells]
	ended := last || of == nil || of[at[axPack]+1] != of[at[axPack]]
	if ended {
		w.handUp()
		w.begun = 0
	}
	w.ends(axCells, at)
}

// capacities judges the designs of some cells from a capacity to an end; anew says that
// propeller or motor were others before. It is false where the propeller cannot be solved.
func (w *worker) capacities(x *piece, at *coord, from, end int, anew bool) bool {
	g, m := w.study.Grid, w.study.Model
	payloads := g.axes[axPayload].Values
	at[axCapacity] = from
	packs := w.packsFrom(at)
	x.at, x.packs, x.end = *at, packs, end
	w.newCells(w.exist == nil || anew || !w.alike(at[axPack]-1, at[axPack]))
	w.stillAt++
	lift := w.lift(from, end, func(i int) bool {
		return x.body.LeastAUW(m.Bare(&x.body, x.motorMass, packs[i-from].Mass), payloads[0]) > w.widest
	})
	if lift > from {
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
		w.strip(at, lift)
	}
	if lift < end {
		at[axPayload] = 0
		for i := lift; i < end; i++ {
			at[axCapacity] = i
			bare := m.Bare(&x.body, x.motorMass, packs[i-from].Mass)
			near := w.nearer(g.index(at), x.body.LeastAUW(bare, payloads[0]))
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
