package sweep

import (
	"math"
	"slices"

	"rotorsieve/model"
	"rotorsieve/model/motor"
	"rotorsieve/model/pack"
	"rotorsieve/model/part"
)

// plan is what all workers share: the order of work, and what is built once.
type plan struct {
	study      *Study
	gates      []Gate
	require    []Requirement
	checks     []check         // of the same
	packs      []pack.Pack     // [cells*capacities + capacity], or of the axis of packs
	motors     []motor.Motor   // of the axis of motors; nil where none exist
	exist      []*part.Pack    // of the same; nil where none do
	leastAhead []float64       // least resistance of a pack that exists and of the next ones alike, ohm
	rising     bool            // the mass of packs of one number of cells grows with capacity
	grow       []bool          // by cells: capacities may be judged in runs
	fineKVs    bool            // and designs of several KVs at once
	spanned    []*model.Metric // that are read of runs
	widest     float64         // largest class limit, kg
	binWidth   float64         // of the size map, kg
	byClass    bool            // the merit depends on the class
	byLimit    []int           // the places of the classes by rising limit, see slots
	byGate     bool            // see ground
	ceilings   []float64       // the limits of the classes by slot, kg
	nested     bool            // nothing depends on the class but whether a design is in it
	binSlots   []int           // slot of the lightest mass of each bin of the size map
	binEnds    []float64       // greatest mass of each bin, kg; of the last +Inf
	need       model.Stage     // that merit, maps and front read
	slow       bool            // one of them reads a metric that is slow
	sight      model.Sight     // what is to be foreseen for them
	views      []view
	inner      inner
	front      *frontSpec
	foretold   []*model.Metric                              // that are read and may be bounded, not computed
	audits     uint64                                       // designs are audited whose place is below
	runAudits  uint64                                       // and capacities of runs
	margins    []margin                                     // requirements whose bounds move with the level
	limits     [][Levels]float64                            // on mass by level, by class, kg
	groups     groups                                       // of builds, whose candidates are listed
	skew       func(m *model.Metric, bound float64) float64 // for tests alone: makes bounds wrong

	flown      []Term        // of flight, of the merit, by which designs between two that were flown are bounded
	frontFlown [maxFront]int // places there of the metrics of the front, below 0 for none
	sights     bool          // maps read of a flight

	depth      int // axes that are fixed within a block
	blocks     uint64
	blockSize  uint64
	propellers *propellers
	order      *order
	others     []*plan // of the further scenarios, each as a study of its own
}

// all are the plans of all scenarios.
func (p *plan) all() []*plan { return append([]*plan{p}, p.others...) }

// forget lets go of all propellers.
func (p *plan) forget() {
	for _, q := range p.all() {
		q.propellers.forget()
	}
}

// check is a requirement that can be checked after hover and full throttle and is the
// same in all classes; of is nil for others.
type check struct {
	of      func(*model.Craft) float64
	start   func(*model.Craft) // see model.Metric.Start; nil for nothing
	bound   float64
	atLeast bool
	stage   model.Stage
	bare    bool // the same for every payload
}

func newCheck(r *Requirement) check {
	if r.Metric.ByClass || !r.Metric.Known() {
		return check{start: r.Metric.Start()}
	}
	return check{of: r.Metric.Foreseen(), start: r.Metric.Start(), bound: r.Bound, atLeast: r.AtLeast,
		stage: r.Metric.Stage, bare: r.Metric.Bare}
}

// kept is as Requirement.Kept of what the check reads.
func (k *check) kept(c *model.Craft) bool {
	v := k.of(c)
	if k.atLeast {
		return v >= k.bound
	}
	return v <= k.bound
}

// view is one way of scoring designs in maps, with the maps that use it.
type view struct {
	metric *model.Metric // nil for the merit
	maps   []mapPlan

	byPayload, byCapacity, others []mapPlan // the same maps by their innermost axis
}

// inner are the axes that run within a block, as maps read them: those of which some map needs each
// value beside an axis that is fixed within the block, and the pairs of which some map needs each cell.
type inner struct {
	axes   [axisCount]bool
	pairs  []pairPlan
	pairAt [axisCount][axisCount]int // index in pairs plus one
	lone   []mapPlan                 // maps of axes of which one at least is fixed within the block
}

// mapPlan is one map: its place in the study's list, its axes, and the values of
// the first.
type mapPlan struct{ at, x, y, nx int }

// cell is a design's place in the map.
func (m *mapPlan) cell(at *coord) int { return at[m.y]*m.nx + at[m.x] }

// pairPlan is a pair of inner axes, outer before inner.
type pairPlan struct {
	a, b int
	maps []mapPlan // that have its cells
}

// smallBlock is the size above which blocks are cut further, in designs. It is
// part of the study's order of work and does not depend on the machine.
var smallBlock uint64 = 1 << 16 // a variable for tests alone

func newPlan(s *Study) (*plan, error) {
	p := &plan{study: s, gates: s.Gates(), require: s.ordered(), propellers: newPropellers(s),
		front:  newFrontSpec(s.Front),
		audits: auditShare, runAudits: auditRunShare}
	for i := range p.require {
		p.checks = append(p.checks, newCheck(&p.require[i]))
	}
	for _, c := range s.Classes {
		p.widest = max(p.widest, c.Limit)
	}
	p.binWidth = p.widest / float64(s.SizeBins)
	p.byLimit, p.nested = s.byLimit(), !s.readsClass()
	p.byGate = p.nested && len(p.byLimit) > len(p.gates)
	for _, i := range p.byLimit {
		p.ceilings = append(p.ceilings, s.Classes[i].Limit)
	}
	for b := range s.SizeBins {
		p.binSlots = append(p.binSlots, p.slotOf(p.leastOf(b)))
		p.binEnds = append(p.binEnds, math.Inf(1))
		if b+1 < s.SizeBins {
			p.binEnds[b] = math.Nextafter(p.leastOf(b+1), 0)
		}
	}
	foretell := func(m *model.Metric) {
		if !m.Known() && !slices.Contains(p.foretold, m) {
			p.foretold = append(p.foretold, m)
		}
	}
	read := func(m *model.Metric) {
		foretell(m)
		p.need = max(p.need, m.Stage)
		p.slow = p.slow || m.Slow
		p.sight |= m.Sight()
	}
	for _, t := range s.Merit {
		p.byClass = p.byClass || t.Metric.ByClass
		read(t.Metric)
	}
	for _, m := range s.Maps {
		if m.Metric != nil {
			read(m.Metric)
			p.sights = p.sights || !m.Metric.Known()
		}
	}
	for _, m := range s.Front {
		read(m)
	}
	for _, r := range s.Require { // its bound spares flight; gates do not count as need
		foretell(r.Metric)
		p.sight |= r.Metric.Sight()
	}
	g := s.Grid
	if err := p.buildParts(); err != nil {
		return nil, err
	}
	p.planRuns()
	p.planFlown()
	p.planMargins()
	p.groups = newGroups(g)
	// A block holds one propeller and stator at least; larger ones are cut at
	// the next axes, but not into crumbs unless they would hold up an interrupt.
	p.depth = axKV
	for p.depth < axPayload && g.stride[p.depth-1] > smallBlock &&
		(g.stride[p.depth] >= smallBlock/64 || g.stride[p.depth-1] > 32*smallBlock) {
		p.depth++
	}
	p.planTiles()
	p.blockSize = g.stride[p.depth-1]
	p.blocks = g.size / p.blockSize
	p.order = p.newOrder()
	p.planViews()
	for _, m := range s.Others {
		q, err := newPlan(s.inScenario(m))
		if err != nil {
			return nil, err
		}
		q.flown = nil
		p.others = append(p.others, q)
	}
	return p, nil
}

// leastOf is the least mass that is in a bin of the size map, kg.
func (p *plan) leastOf(bin int) float64 {
	mass := float64(bin) * p.binWidth
	for mass > 0 && p.bin(mass) >= bin {
		mass = math.Nextafter(mass, 0)
	}
	for p.bin(mass) < bin {
		mass = math.Nextafter(mass, p.widest)
	}
	return mass
}

// planViews sorts the maps by score, and finds what a block must gather for
// them: for an inner axis (one that runs within a block) beside an outer one the
// furthest gate of each value, for two inner axes that of each pair.
func (p *plan) planViews() {
	p.views = []view{{}}
	for at, spec := range p.study.Maps {
		x, y := p.study.Grid.place(spec.X), p.study.Grid.place(spec.Y)
		var v *view
		for i := range p.views {
			if p.views[i].metric == spec.Metric {
				v = &p.views[i]
			}
		}
		if v == nil {
			p.views = append(p.views, view{metric: spec.Metric})
			v = &p.views[len(p.views)-1]
		}
		m := mapPlan{at, x, y, len(p.study.Grid.axes[x].Values)}
		v.maps = append(v.maps, m)
		a, b := min(x, y), max(x, y)
		switch b {
		case axPayload:
			v.byPayload = append(v.byPayload, m)
		case axCapacity:
			v.byCapacity = append(v.byCapacity, m)
		default:
			v.others = append(v.others, m)
		}
		switch {
		case a < p.depth: // or both fixed in a block
			p.inner.axes[b] = b >= p.depth || p.inner.axes[b]
			p.inner.lone = append(p.inner.lone, m)
		default:
			if p.inner.pairAt[a][b] == 0 {
				p.inner.pairs = append(p.inner.pairs, pairPlan{a: a, b: b})
				p.inner.pairAt[a][b] = len(p.inner.pairs)
			}
			q := &p.inner.pairs[p.inner.pairAt[a][b]-1]
			q.maps = append(q.maps, m)
		}
	}
}

// extent is the part of the grid that a block covers: from at, before end.
func (p *plan) extent(b uint64) (at, end coord) {
	g := p.study.Grid
	at = g.coord(b * p.blockSize)
	for i := range end {
		end[i] = at[i] + 1
		if i >= p.depth {
			at[i], end[i] = 0, len(g.axes[i].Values)
			if from := g.from[i]; g.follows[i] != nil && from < p.depth {
				at[i] = g.follows[i][at[from]]
				end[i] = at[i] + 1
			}
		}
	}
	return at, end
}
