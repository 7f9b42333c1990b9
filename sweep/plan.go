package sweep

import (
	"rotorsieve/model"
	"rotorsieve/model/pack"
)

// plan is what all workers share: the order of work, and what is built once.
type plan struct {
	study      *Study
	gates      []Gate
	require    []Requirement
	packs      []pack.Pack // [cells*capacities + capacity]
	widest     float64     // largest class limit, kg
	byClass    bool        // the merit depends on the class
	need       model.Stage // that merit, maps and front read
	views      []view
	front      *frontSpec
	depth      int // axes that are fixed within a block
	blocks     uint64
	blockSize  uint64
	propellers *propellers
}

// view is one way of scoring designs in maps, with the maps that use it.
type view struct {
	metric *model.Metric // nil for the merit
	maps   []mapPlan
	axes   [axisCount]bool           // inner axes of which some map needs the best of each value
	pairs  []pairPlan                // pairs of inner axes of which some map needs the best of each cell
	pairAt [axisCount][axisCount]int // place in pairs plus one
}

// mapPlan is one map: its place in the study's list, and its axes.
type mapPlan struct{ at, x, y int }

// pairPlan is a pair of inner axes, outer before inner.
type pairPlan struct{ a, b int }

// smallBlock is the size above which blocks are cut further, in designs. It is
// part of the study's order of work and does not follow the machine.
var smallBlock uint64 = 1 << 16 // a variable for tests alone

func newPlan(s *Study) (*plan, error) {
	p := &plan{study: s, gates: s.Gates(), require: s.ordered(), propellers: newPropellers(s), front: newFrontSpec(s.Front)}
	for _, c := range s.Classes {
		p.widest = max(p.widest, c.Limit)
	}
	for _, t := range s.Merit {
		p.byClass = p.byClass || t.Metric.ByClass
		p.need = max(p.need, t.Metric.Stage)
	}
	for _, m := range s.Maps {
		if m.Metric != nil {
			p.need = max(p.need, m.Metric.Stage)
		}
	}
	for _, m := range s.Front {
		p.need = max(p.need, m.Stage)
	}
	g := s.Grid
	for _, n := range g.axes[axCells].Values {
		for _, q := range g.axes[axCapacity].Values {
			k, err := s.Model.Pack(int(n), q)
			if err != nil {
				return nil, err
			}
			p.packs = append(p.packs, k)
		}
	}
	// A block holds one propeller and stator at least; larger ones are cut at
	// the next axes.
	p.depth = axStator + 1
	for p.depth < axPayload && g.stride[p.depth-1] > smallBlock {
		p.depth++
	}
	p.blockSize = g.stride[p.depth-1]
	p.blocks = g.size / p.blockSize
	p.planViews()
	return p, nil
}

// planViews sorts the maps by score, and finds what a block must gather for
// them: for an inner axis (one that runs within a block) beside an outer one the
// best of each value, for two inner axes the best of each pair.
func (p *plan) planViews() {
	p.views = []view{{}}
	for at, m := range p.study.Maps {
		x, _ := p.study.Grid.Place(m.X.Name)
		y, _ := p.study.Grid.Place(m.Y.Name)
		var v *view
		for i := range p.views {
			if p.views[i].metric == m.Metric {
				v = &p.views[i]
			}
		}
		if v == nil {
			p.views = append(p.views, view{metric: m.Metric})
			v = &p.views[len(p.views)-1]
		}
		v.maps = append(v.maps, mapPlan{at, x, y})
		a, b := min(x, y), max(x, y)
		switch {
		case b < p.depth: // both fixed in a block
		case a < p.depth:
			v.axes[b] = true
		case v.pairAt[a][b] == 0:
			v.pairs = append(v.pairs, pairPlan{a, b})
			v.pairAt[a][b] = len(v.pairs)
		}
	}
}

// span is the part of the grid that a block covers: from at, before end.
func (p *plan) span(b uint64) (at, end coord) {
	g := p.study.Grid
	at = g.coord(b * p.blockSize)
	for i := range end {
		end[i] = at[i] + 1
		if i >= p.depth {
			at[i], end[i] = 0, len(g.axes[i].Values)
		}
	}
	return at, end
}
