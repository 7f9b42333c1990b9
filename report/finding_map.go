package report

import (
	"math"

	"rotorsieve/model"
	"rotorsieve/sweep"
)

// mapper is one map of one class, its best designs evaluated, with what it shows.
type mapper struct {
	run   *Run
	class *sweep.ClassResult
	spec  sweep.MapSpec
	x, y  merging
	cells []sweep.Cell   // merged, [y*x.n + x]
	craft []*model.Craft // of the best design of each cell; nil where there is none
	best  int            // the best cell, the star, -1 for none
}

func (r *Run) newMapper(k *sweep.ClassResult, n int) *mapper {
	g := r.Study.Grid
	full := &k.Maps[n]
	m := &mapper{run: r, class: k, spec: full.Spec, best: -1}
	m.x = newMerging(g.Axes()[mustPlace(g, full.Spec.X)])
	m.y = newMerging(g.Axes()[mustPlace(g, full.Spec.Y)])
	m.cells = make([]sweep.Cell, m.x.n*m.y.n)
	for j := range full.NY {
		for i := range full.NX {
			from, to := &full.Cells[j*full.NX+i], &m.cells[j/m.y.stride*m.x.n+i/m.x.stride]
			to.Gate = max(to.Gate, from.Gate)
			if from.Any && (!to.Any || better(from.Ranked, to.Ranked)) {
				to.Best = from.Best
			}
		}
	}
	for n := range m.cells {
		if m.cells[n].Any && (m.best < 0 || better(m.cells[n].Ranked, m.cells[m.best].Ranked)) {
			m.best = n
		}
	}
	return m
}

func better(a, b sweep.Ranked) bool {
	return a.Score > b.Score || a.Score == b.Score && a.Index < b.Index
}

func (m *mapper) evaluate() error {
	m.craft = make([]*model.Craft, len(m.cells))
	for n, c := range m.cells {
		if !c.Any {
			continue
		}
		e, err := m.run.entry(m.class, c.Ranked)
		if err != nil {
			return err
		}
		m.craft[n] = e.Craft
	}
	return nil
}

// mostPlaces is how many places of a continuous axis a panel can show; more
// would take long to evaluate and fall together.
const mostPlaces = 100

// merging joins neighbouring values of a continuous axis with too many of them.
type merging struct {
	axis   sweep.Axis
	stride int
	n      int
}

func newMerging(a sweep.Axis) merging {
	m := merging{axis: a, stride: 1}
	if a.Def.Continuous {
		m.stride = (len(a.Values) + mostPlaces - 1) / mostPlaces
	}
	m.n = (len(a.Values) + m.stride - 1) / m.stride
	return m
}

// smooth says whether a map may draw what lies between the values; two tell nothing
// of that.
func (m merging) smooth() bool { return m.axis.Def.Continuous && len(m.axis.Values) > 2 }

// ranges says whether an axis has a range to tell of.
func (m merging) ranges() bool { return m.smooth() && m.n > 1 }

// ranges says whether the map has a range to tell of.
func (m *mapper) ranges() bool { return m.x.ranges() || m.y.ranges() }

// designAt is the best design of a cell.
func (m *mapper) designAt(cell int) model.Design { return m.run.Study.Grid.Design(m.cells[cell].Index) }

// design is the best of the map.
func (m *mapper) design() model.Design { return m.designAt(m.best) }

// marks are those of the best design of the map.
func (m *mapper) marks() []model.Mark {
	if m.best < 0 {
		return nil
	}
	return m.craft[m.best].Warnings()
}

// ranking is the metric that the map ranks by, nil for the merit.
func (m *mapper) ranking() *model.Metric {
	if t := m.spec.Metric; t != nil && t.Better != model.Neither {
		return t
	}
	return nil
}

// value is what the map ranks a cell's design by.
func (m *mapper) value(cell int) float64 {
	if t := m.ranking(); t != nil {
		return t.Unit.FromSI(t.Of(m.craft[cell]))
	}
	return m.cells[cell].Score
}

// valuesOf gives a metric of the best design of each cell, NaN where there is none.
func (m *mapper) valuesOf(t *model.Metric) [][]float64 {
	z := blank(m.x.n, m.y.n)
	for n, c := range m.craft {
		if c != nil {
			z[n/m.x.n][n%m.x.n] = t.Unit.FromSI(t.Of(c))
		}
	}
	return z
}

// blank is a grid of NaN with a row for each y.
func blank(nx, ny int) [][]float64 {
	z := make([][]float64, ny)
	for j := range z {
		z[j] = make([]float64, nx)
		for i := range z[j] {
			z[j][i] = math.NaN()
		}
	}
	return z
}

// loss is the share by which a cell falls short of the best of the map; it is Inf where
// nothing is feasible.
func (m *mapper) loss(cell int) float64 {
	if !m.cells[cell].Any {
		return math.Inf(1)
	}
	v, best := m.value(cell), m.value(m.best)
	if v == best {
		return 0
	}
	return math.Abs(v-best) / math.Abs(best)
}

// extent is how far along an axis from the star a map's designs are about as good, or
// on an axis without a continuum what the next there costs.
type extent struct {
	Axis, Other *sweep.AxisDef
	Star        model.Design

	Range                   bool // what follows is known, and not Next
	From, To                model.Design
	Lowest, Highest, Single bool // From is the grid's lowest, To its highest, and both are one
	Few                     bool // too few values for the ends of the grid to mean much
	// Above and Below are what stops designs just past To and From, nil for nothing; only
	// the first of the two that there is.
	Above, Below *sweep.Gate

	Next *alternative // nil for none
}

// alternative is the best of other designs of a map, and what it costs against the star.
type alternative struct {
	Design model.Design
	Loss   float64 // share
}

// extents are those of the axes with more than one value, of a map with a star.
func (m *mapper) extents() []extent {
	i, j := m.best%m.x.n, m.best/m.x.n
	var out []extent
	for _, a := range []struct {
		merging
		other  merging
		at     int
		cell   func(k int) int // along the axis from the star
		beside func(c int) bool
	}{
		{m.x, m.y, i, func(k int) int { return j*m.x.n + k }, func(c int) bool { return c%m.x.n != i }},
		{m.y, m.x, j, func(k int) int { return k*m.x.n + i }, func(c int) bool { return c/m.x.n != j }},
	} {
		e := extent{Axis: a.axis.Def, Other: a.other.axis.Def, Star: m.design()}
		switch {
		case a.n == 1:
			continue
		case a.ranges():
			m.along(&e, a.merging, a.at, a.cell)
		default:
			e.Next = m.next(a.beside)
		}
		out = append(out, e)
	}
	return out
}

// along finds how far designs are about as good along an axis, whose cells cell gives by
// place, and what they meet there: the end of the grid or what stops them.
func (m *mapper) along(e *extent, a merging, best int, cell func(k int) int) {
	near := func(k int) bool { return k >= 0 && k < a.n && m.loss(cell(k)) < closeCall }
	barren := func(k int) *sweep.Gate {
		if k < 0 || k >= a.n || m.cells[cell(k)].Any {
			return nil
		}
		return &m.run.Result.Gates[m.cells[cell(k)].Gate]
	}
	lo, hi := best, best
	for near(lo - 1) {
		lo--
	}
	for near(hi + 1) {
		hi++
	}
	e.Range, e.From, e.To = true, m.designAt(cell(lo)), m.designAt(cell(hi))
	e.Lowest, e.Highest, e.Single = lo == 0, hi == a.n-1, lo == hi
	e.Few = a.n < 3 || a.axis.Def == sweep.Payload
	if e.Above = barren(hi + 1); e.Above == nil {
		e.Below = barren(lo - 1)
	}
}

// next is the best of some cells beside the star, nil for none.
func (m *mapper) next(of func(cell int) bool) *alternative {
	at := -1
	for c := range m.cells {
		if c != m.best && of(c) && m.cells[c].Any && (at < 0 || better(m.cells[c].Ranked, m.cells[at].Ranked)) {
			at = c
		}
	}
	if at < 0 || math.IsInf(m.loss(at), 1) { // of a best that is 0
		return nil
	}
	return &alternative{m.designAt(at), m.loss(at)}
}

// burden is for a map over payload what the heaviest takes in place of the lightest.
type burden struct {
	Heavy, Light model.Design
	Other        *sweep.AxisDef // beside the payload
	Ranking      *model.Metric  // nil for the merit
	Change       float64        // of what ranks, per cent; not finite where it is not known
	Marks        []model.Mark   // of both
}

// burden finds it, nil where the heaviest or the lightest payload has no design.
func (m *mapper) burden() *burden {
	other, rows := m.spec.X, m.y.n
	cell := func(row, k int) int { return row*m.x.n + k }
	n := m.x.n
	if m.spec.X == sweep.Payload {
		other, rows, n = m.spec.Y, m.x.n, m.y.n
		cell = func(row, k int) int { return k*m.x.n + row }
	}
	best := func(row int) int {
		at := -1
		for k := range n {
			if c := cell(row, k); m.cells[c].Any && (at < 0 || better(m.cells[c].Ranked, m.cells[at].Ranked)) {
				at = c
			}
		}
		return at
	}
	heavy, light := best(rows-1), best(0)
	if rows < 2 || heavy < 0 || light < 0 {
		return nil
	}
	return &burden{Heavy: m.designAt(heavy), Light: m.designAt(light), Other: other, Ranking: m.ranking(),
		Change: 100 * (m.value(heavy)/m.value(light) - 1),
		Marks:  append(m.craft[heavy].Warnings(), m.craft[light].Warnings()...)}
}
