package sweep

import (
	"cmp"
	"math"
	"slices"

	"rotorsieve/model"
)

// The Pareto front is kept at the resolution of boxes: a metric's value is cut into
// steps of one per cent, and of all designs in one box of steps only the best by
// merit stays. A box is on the front when no other is at least as good in every
// metric. The set of those boxes, and the design in each, do not depend on the
// order in which designs come.

const (
	boxStep  = 0.01 // relative width of a box
	boxSmall = 1e-9 // SI value below which all is one box
)

var perBox = 1 / math.Log1p(boxStep)

// maxFront is the most metrics that a front takes.
const maxFront = 3

// FrontPoint is one box of the Pareto front and its best design.
type FrontPoint struct {
	Ranked
	box [maxFront]int32
}

type frontSpec struct {
	metrics []*model.Metric
	sign    [maxFront]float64
}

func newFrontSpec(metrics []*model.Metric) *frontSpec {
	f := &frontSpec{metrics: metrics}
	for i, m := range metrics {
		f.sign[i] = 1
		if m.Better == model.Lower {
			f.sign[i] = -1
		}
	}
	return f
}

// values gives a craft's metrics, signed so that higher is better; those not in
// use are 0.
func (f *frontSpec) values(c *model.Craft) (v [maxFront]float64) {
	for i, m := range f.metrics {
		v[i] = f.sign[i] * m.Of(c)
	}
	return v
}

// valued says whether a craft has all the metrics: one that lacks one of them is beside the
// front.
func valued(v [maxFront]float64) bool { return !math.IsNaN(v[0] + v[1] + v[2]) }

// box gives the box of values.
func box(v [maxFront]float64) (b [maxFront]int32) {
	for i := range v {
		b[i] = step(v[i])
	}
	return b
}

func step(v float64) int32 {
	a := math.Abs(v)
	if a < boxSmall {
		return 0
	}
	n := 1 + math.Floor(math.Log(a/boxSmall)*perBox)
	return int32(math.Copysign(n, v))
}

// front is the set of boxes that no other dominates.
type front struct {
	points  []FrontPoint
	changes int // boxes that were new
}

// add takes a design in a box; it is dropped where the box is dominated, or
// holds a better one, and drops the boxes that it dominates. It says whether the
// box is new.
func (f *front) add(x FrontPoint) bool {
	keep := f.points[:0]
	for i, p := range f.points {
		switch {
		case p.box == x.box:
			if x.compare(p.Ranked) < 0 {
				f.points[i].Ranked = x.Ranked
			}
			return false // nothing was dropped before: equal boxes dominate the same ones
		case dominates(p.box, x.box):
			// What dominated one design is likely to dominate the next.
			f.points[0], f.points[i] = f.points[i], f.points[0]
			return false
		case !dominates(x.box, p.box):
			keep = append(keep, p)
		}
	}
	f.points = append(keep, x)
	f.changes++
	return true
}

// take is add, and says whether it changes the front.
func (f *front) take(x FrontPoint) bool {
	if f.add(x) {
		return true
	}
	for i := range f.points {
		if p := &f.points[i]; p.box == x.box {
			return p.Ranked == x.Ranked
		}
	}
	return false
}

// shade is the region that a front's boxes dominate, in values, which spares the
// logarithms for nearly all designs.
type shade struct {
	corners []corner
	seen    int // the front's changes when it was last copied, plus one
}

// corner is a box's reach: a design dominated by it has no value at or above high,
// and one below low.
type corner struct{ low, high [maxFront]float64 }

func (s *shade) add(p FrontPoint) {
	const rounding = 1e-9 // of a logarithm, on the safe side
	var c corner
	for i := range maxFront {
		switch b := p.box[i]; {
		case b > 0:
			c.low[i], c.high[i] = boxEnd(b-1), boxEnd(b)
		case b < 0:
			c.low[i], c.high[i] = -boxEnd(-b), -boxEnd(-b-1)
		default:
			c.low[i], c.high[i] = -boxSmall, boxSmall
		}
		c.low[i] -= rounding * math.Abs(c.low[i])
		c.high[i] -= rounding * math.Abs(c.high[i])
	}
	s.corners = append(s.corners, c)
}

// copy takes over the shade of a front that has changed, and drops what a block
// has added.
func (s *shade) copy(f *front) {
	if s.seen == f.changes+1 && len(s.corners) == len(f.points) {
		return
	}
	s.seen = f.changes + 1
	s.corners = s.corners[:0]
	for _, p := range f.points {
		s.add(p)
	}
}

// boxEnd is the value at which the n-th box above the smallest ends.
func boxEnd(n int32) float64 { return boxSmall * math.Exp(float64(n)/perBox) }

// covers says whether values are dominated for certain.
func (s *shade) covers(v [maxFront]float64) bool {
	for i := range s.corners {
		c := &s.corners[i]
		if v[0] < c.high[0] && v[1] < c.high[1] && v[2] < c.high[2] &&
			(v[0] < c.low[0] || v[1] < c.low[1] || v[2] < c.low[2]) {
			s.corners[0], s.corners[i] = s.corners[i], s.corners[0] // as likely to cover the next
			return true
		}
	}
	return false
}

// dominates says whether a is at least as good as b everywhere, and not equal.
func dominates(a, b [maxFront]int32) bool {
	return a != b && a[0] >= b[0] && a[1] >= b[1] && a[2] >= b[2]
}

// sorted gives the points by their boxes, the first metric's worst first.
func (f *front) sorted() []FrontPoint {
	out := slices.Clone(f.points)
	slices.SortFunc(out, func(a, b FrontPoint) int {
		return cmp.Or(cmp.Compare(a.box[0], b.box[0]), cmp.Compare(b.box[1], a.box[1]), cmp.Compare(a.box[2], b.box[2]),
			cmp.Compare(a.Index, b.Index))
	})
	return out
}
