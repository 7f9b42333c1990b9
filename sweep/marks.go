package sweep

import (
	"math"
	"sync/atomic"

	"rotorsieve/model"
)

// marks hold, for every place in which a best design is kept, the score of the
// best that any worker has found for it. A design that can reach none of the marks
// of its places, nor the ranking and the front, changes no result but the count of
// feasible designs, so that it need not be flown, nor be asked for what is slow to
// tell. Marks only rise and are read
// without a lock: one that is read too early is low, and spares less.
type marks struct{ classes []classMarks }

type classMarks struct {
	size     []mark   // as SizeMap.Cells, whose places lie within those of the leaders by diameter
	byCells  []mark   // as ClassResult.ByCells
	payloads []mark   // as ClassResult.Payloads
	maps     [][]mark // as Map.Cells
}

// mark is a score that only rises.
type mark struct{ bits atomic.Uint64 } // of a float64

func (m *mark) score() float64 { return math.Float64frombits(m.bits.Load()) }

func (m *mark) raise(score float64) {
	for {
		old := m.bits.Load()
		if !(score > math.Float64frombits(old)) || m.bits.CompareAndSwap(old, math.Float64bits(score)) {
			return
		}
	}
}

func newMarks(n int) []mark {
	m := make([]mark, n)
	for i := range m {
		m[i].bits.Store(math.Float64bits(math.Inf(-1)))
	}
	return m
}

// newMarks is nil where nothing is to be spared.
func (p *plan) newMarks() *marks {
	if p.need != model.StageFlight && !p.slow {
		return nil
	}
	s := p.study
	n := func(axis int) int { return len(s.Grid.axes[axis].Values) }
	m := &marks{classes: make([]classMarks, len(s.Classes))}
	for i := range m.classes {
		k := &m.classes[i]
		k.size = newMarks(n(axDiameter) * s.SizeBins)
		k.byCells = newMarks(n(axDiameter) * n(axCells))
		k.payloads = newMarks(n(axPayload))
		k.maps = make([][]mark, len(s.Maps))
		for at, spec := range s.Maps {
			k.maps[at] = newMarks(s.cells(spec))
		}
	}
	return m
}

// line holds the lowest mark of the maps that do not tell the payloads of a line
// apart, by view.
type line struct {
	least []float64
	known bool
}

// lookAhead is for how many further capacities a bound on flight is made to hold.
const lookAhead = 24

// foresee takes an operated craft as far as its level flight can be bounded.
func (w *worker) foresee(stage model.Stage) model.Stage {
	for stage < model.StageEndure {
		stage++
		w.craft.Advance(stage)
	}
	w.craft.Foresee(&w.reach, w.ahead)
	return stage
}

// matters says whether a feasible design that has been foreseen could change what
// is kept of a class.
func (w *worker) matters(class int, at *coord, bin int) bool {
	x, c := w.found[class], &w.craft
	most := w.study.Merit.most(c)
	if f := w.floors[class]; !(f != nil && most < f.Score || len(x.rank.heap) == x.rank.k && most < x.rank.heap[0].Score) {
		return true
	}
	k := &w.marks.classes[class]
	d := at[axDiameter]
	if most >= k.size[d*w.study.SizeBins+bin].score() || most >= k.payloads[at[axPayload]].score() ||
		most >= k.byCells[d*len(w.study.Grid.axes[axCells].Values)+at[axCells]].score() {
		return true
	}
	l := &w.lines[class]
	if !l.known {
		l.known = true
		for v := range w.views {
			least := math.Inf(1)
			for i := range w.views[v].alike {
				m := &w.views[v].alike[i]
				if score := k.maps[m.at][m.cell(at)].score(); score < least {
					least = score
				}
			}
			l.least[v] = least
		}
	}
	for v := range w.views {
		score := most
		if t := w.views[v].metric; t != nil {
			score = mapScore(t, t.Best(c), most)
		}
		if !(score < l.least[v]) {
			return true
		}
		for i := range w.views[v].apart {
			m := &w.views[v].apart[i]
			if !(score < k.maps[m.at][m.cell(at)].score()) {
				return true
			}
		}
	}
	return len(w.front.metrics) > 0 && !w.shades[class].covers(w.front.best(c))
}

// mark raises the marks of a design that has been kept.
func (w *worker) mark(class int, at *coord, bin int, score float64) {
	k := &w.marks.classes[class]
	d := at[axDiameter]
	k.size[d*w.study.SizeBins+bin].raise(score)
	k.payloads[at[axPayload]].raise(score)
	k.byCells[d*len(w.study.Grid.axes[axCells].Values)+at[axCells]].raise(score)
	for v := range w.views {
		y := score
		if t := w.views[v].metric; t != nil {
			y = mapScore(t, t.Of(&w.craft), score)
		}
		for i := range w.views[v].maps {
			m := &w.views[v].maps[i]
			k.maps[m.at][m.cell(at)].raise(y)
		}
	}
}

// most is a bound on the merit of a craft that has been foreseen: never below what
// Of gives, since it adds the same terms in the same order.
func (m Merit) most(c *model.Craft) float64 {
	var sum, weight float64
	for i := range m {
		t := &m[i]
		score := 1.0
		switch {
		case t.Metric.Stage < model.StageFlight && !t.Metric.Slow:
			score = t.Score(t.Metric.Of(c))
		case t.Metric.Better == model.Higher && t.Best > t.Worst, t.Metric.Better == model.Lower && t.Best < t.Worst:
			score = t.Score(t.Metric.Best(c))
		}
		sum += t.Weight * score
		weight += t.Weight
	}
	return sum / weight
}
