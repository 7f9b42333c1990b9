package finding

import (
	"cmp"
	"math"

	"rotorsieve/model"
	"rotorsieve/sweep"
)

// Mapper is one map of one class, its best designs evaluated, with what it shows.
type Mapper struct {
	Run   *Run
	Class *sweep.ClassResult
	Spec  sweep.MapSpec
	X, Y  Merging
	Cells []sweep.Cell     // merged, [y*x.n + x]
	Craft []*model.Craft   // of the best design of each cell; nil where there is none
	in    [][]*model.Craft // in all scenarios
	Best  int              // the best cell, the star, -1 for none
	Open  []bool           // of each cell: not all of its designs were judged
}

// NewMapper is the n-th map of a class, its places merged, before its designs are evaluated.
func (r *Run) NewMapper(k *sweep.ClassResult, n int) *Mapper {
	g := r.Study.Grid
	full := &k.Maps[n]
	m := &Mapper{Run: r, Class: k, Spec: full.Spec, Best: -1}
	m.X = NewMerging(g.Axes()[MustPlace(g, full.Spec.X)])
	m.Y = NewMerging(g.Axes()[MustPlace(g, full.Spec.Y)])
	m.Cells = make([]sweep.Cell, m.X.N*m.Y.N)
	m.Open = make([]bool, len(m.Cells))
	for j := range full.NY {
		for i := range full.NX {
			at := j/m.Y.Stride*m.X.N + i/m.X.Stride
			from, to := &full.Cells[j*full.NX+i], &m.Cells[at]
			m.Open[at] = m.Open[at] || full.Judged != nil && !full.Judged[j*full.NX+i]
			to.Gate = max(to.Gate, from.Gate)
			if from.Any && (!to.Any || Better(from.Ranked, to.Ranked)) {
				to.Best = from.Best
			}
		}
	}
	for n := range m.Cells {
		if m.Cells[n].Any && (m.Best < 0 || Better(m.Cells[n].Ranked, m.Cells[m.Best].Ranked)) {
			m.Best = n
		}
	}
	return m
}

// Better says whether a ranks before b: of equal scores the lower index, one without a score
// last.
func Better(a, b sweep.Ranked) bool {
	c := cmp.Compare(a.Score, b.Score)
	return c > 0 || c == 0 && a.Index < b.Index
}

// Evaluate builds the crafts of the map. It returns an error that names the class of a
// design which cannot be evaluated.
func (m *Mapper) Evaluate() error {
	m.Craft, m.in = make([]*model.Craft, len(m.Cells)), make([][]*model.Craft, len(m.Cells))
	for n, c := range m.Cells {
		if !c.Any {
			continue
		}
		e, err := m.Run.entry(m.Class, c.Ranked)
		if err != nil {
			return err
		}
		m.Craft[n], m.in[n] = e.Craft, e.In
	}
	return nil
}

// mostPlaces is how many places of a continuous axis a panel can show; more
// would take long to evaluate and fall together.
const mostPlaces = 100

// Merging joins neighbouring values of a continuous axis with too many of them.
type Merging struct {
	Axis   sweep.Axis
	Stride int // values that fall together, 1 for none
	N      int // places
}

// NewMerging merges the values of an axis as far as a panel needs it.
func NewMerging(a sweep.Axis) Merging {
	m := Merging{Axis: a, Stride: 1}
	if a.Def.Continuous {
		m.Stride = (len(a.Values) + mostPlaces - 1) / mostPlaces
	}
	m.N = (len(a.Values) + m.Stride - 1) / m.Stride
	return m
}

// FewValues is how many values of an axis tell nothing of what lies between them, at most:
// each stands for itself.
const FewValues = 6

// Smooth says whether a map may draw what lies between the values.
func (m Merging) Smooth() bool { return Smooth(m.Axis) }

// Smooth says whether what lies between the values of an axis may be drawn.
func Smooth(a sweep.Axis) bool { return a.Def.Continuous && a.Of == nil && len(a.Values) > FewValues }

// Ranges says whether one axis of the map at least is continuous, with values between.
func (m *Mapper) Ranges() bool { return m.X.Smooth() && m.X.N > 1 || m.Y.Smooth() && m.Y.N > 1 }

// designAt is the best design of a cell.
func (m *Mapper) designAt(cell int) model.Design { return m.Run.Study.Grid.Design(m.Cells[cell].Index) }

// Place is the cell that a design of the grid falls into.
func (m *Mapper) Place(d model.Design) int {
	at := func(a *Merging) int {
		v := a.Axis.Def.Of(d)
		best := 0
		for n := range a.Axis.Values { // a pitch ratio is worked out of a pitch
			if math.Abs(a.Axis.Values[n]-v) < math.Abs(a.Axis.Values[best]-v) {
				best = n
			}
		}
		return best / a.Stride
	}
	return at(&m.Y)*m.X.N + at(&m.X)
}

// Design is the best of the map.
func (m *Mapper) Design() model.Design { return m.designAt(m.Best) }

// Marks are those of the best design of the map.
func (m *Mapper) Marks() []model.Mark {
	if m.Best < 0 {
		return nil
	}
	return m.Craft[m.Best].Warnings()
}

// Ranking is the metric that the map ranks by, nil for the merit.
func (m *Mapper) Ranking() *model.Metric {
	if t := m.Spec.Metric; t != nil && t.Better != model.Neither {
		return t
	}
	return nil
}

// value is what the map ranks a cell's design by.
func (m *Mapper) value(cell int) float64 {
	if t := m.Ranking(); t != nil {
		return m.Shown(cell, t)
	}
	return m.Cells[cell].Score
}

// Shown is a metric of a cell's design in its unit, of several scenarios where it is worst.
func (m *Mapper) Shown(cell int, t *model.Metric) float64 {
	return t.Unit.FromSI(sweep.WorstOf(t, m.in[cell]))
}

// ValuesOf gives a metric of the best design of each cell, NaN where there is none.
func (m *Mapper) ValuesOf(t *model.Metric) [][]float64 {
	z := Blank(m.X.N, m.Y.N)
	for n, c := range m.Craft {
		if c != nil {
			z[n/m.X.N][n%m.X.N] = m.Shown(n, t)
		}
	}
	return z
}

// Blank is a grid of NaN with a row for each y.
func Blank(nx, ny int) [][]float64 {
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
func (m *Mapper) loss(cell int) float64 {
	if !m.Cells[cell].Any {
		return math.Inf(1)
	}
	v, best := m.value(cell), m.value(m.Best)
	if v == best {
		return 0
	}
	return math.Abs(v-best) / math.Abs(best)
}

// Extent is what the best of other values of an axis costs against the star of a map, and
// what the star lies beside along that axis, the other kept.
type Extent struct {
	Axis, Other *sweep.AxisDef
	Star        model.Design
	Next        *alternative // nil for none

	// Above and Below are what stops designs just past the star on a continuous axis, nil
	// for nothing; only the first of the two that there is.
	Above, Below    *sweep.Gate
	Lowest, Highest bool // the star is at an end of the grid of three values or more
}

// alternative is the best of other designs of a map, and what it costs against the star.
type alternative struct {
	Design model.Design
	Loss   float64 // share
}

// Extents are those of the axes with more than one value, of a map with a star.
func (m *Mapper) Extents() []Extent {
	i, j := m.Best%m.X.N, m.Best/m.X.N
	var out []Extent
	for _, a := range []struct {
		Merging
		other  Merging
		at     int
		cell   func(k int) int // along the axis from the star
		beside func(c int) bool
	}{
		{m.X, m.Y, i, func(k int) int { return j*m.X.N + k }, func(c int) bool { return c%m.X.N != i }},
		{m.Y, m.X, j, func(k int) int { return k*m.X.N + i }, func(c int) bool { return c/m.X.N != j }},
	} {
		e := Extent{Axis: a.Axis.Def, Other: a.other.Axis.Def, Star: m.Design()}
		if a.N == 1 {
			continue
		}
		if a.Smooth() {
			m.beside(&e, a.Merging, a.at, a.cell)
		}
		e.Next = m.Next(a.beside)
		out = append(out, e)
	}
	return out
}

// beside finds what the star lies beside along an axis, whose cells cell gives by place.
func (m *Mapper) beside(e *Extent, a Merging, at int, cell func(k int) int) {
	barren := func(k int) *sweep.Gate {
		if k < 0 || k >= a.N || m.Cells[cell(k)].Any {
			return nil
		}
		return &m.Run.Result.Gates[m.Cells[cell(k)].Gate]
	}
	if e.Above = barren(at + 1); e.Above == nil {
		e.Below = barren(at - 1)
	}
	if a.N > 2 && a.Axis.Def != sweep.Payload {
		e.Lowest, e.Highest = at == 0, at == a.N-1
	}
}

// Next is the best of some cells beside the star, nil for none.
func (m *Mapper) Next(of func(cell int) bool) *alternative {
	at := -1
	for c := range m.Cells {
		if c != m.Best && of(c) && m.Cells[c].Any && (at < 0 || Better(m.Cells[c].Ranked, m.Cells[at].Ranked)) {
			at = c
		}
	}
	if at < 0 || math.IsInf(m.loss(at), 1) { // of a best that is 0
		return nil
	}
	return &alternative{m.designAt(at), m.loss(at)}
}

// Burden is for a map over payload what the heaviest takes in place of the lightest.
type Burden struct {
	Heavy, Light model.Design
	Other        *sweep.AxisDef // beside the payload
	Ranking      *model.Metric  // nil for the merit
	Change       float64        // of what ranks, per cent; not finite where it is not known
	Marks        []model.Mark   // of both
}

// Burden finds it, nil where the heaviest or the lightest payload has no design.
func (m *Mapper) Burden() *Burden {
	other, rows := m.Spec.X, m.Y.N
	cell := func(row, k int) int { return row*m.X.N + k }
	n := m.X.N
	if m.Spec.X == sweep.Payload {
		other, rows, n = m.Spec.Y, m.X.N, m.Y.N
		cell = func(row, k int) int { return k*m.X.N + row }
	}
	best := func(row int) int {
		at := -1
		for k := range n {
			if c := cell(row, k); m.Cells[c].Any && (at < 0 || Better(m.Cells[c].Ranked, m.Cells[at].Ranked)) {
				at = c
			}
		}
		return at
	}
	heavy, light := best(rows-1), best(0)
	if rows < 2 || heavy < 0 || light < 0 {
		return nil
	}
	return &Burden{Heavy: m.designAt(heavy), Light: m.designAt(light), Other: other, Ranking: m.Ranking(),
		Change: 100 * (m.value(heavy)/m.value(light) - 1),
		Marks:  append(m.Craft[heavy].Warnings(), m.Craft[light].Warnings()...)}
}
