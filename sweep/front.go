package sweep

import (
	"cmp"
	"math"
	"slices"

	"rotorsieve/model"
)

// The front is kept at the resolution of boxes: a metric's value is cut into
// steps of one per cent, and of all designs in one box of steps only the best by
// merit stays. A box is on the front when no other is at least as good in every
// metric. The set of those boxes, and the design in each, do not depend on the
// order in which designs come.

const (
	boxStep  = 0.01 // relative width of a box
	boxSmall = 1e-9 // SI value below which all is one box
)

var perBox = 1 / math.Log1p(boxStep)

// maxFront is the number of metrics that a front takes at most.
const maxFront = 3

// FrontPoint is one box of the front and its best design.
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

// box gives the steps of a craft's metrics, higher being better; those not in
// use are 0.
func (f *frontSpec) box(c *model.Craft) (b [maxFront]int32) {
	for i, m := range f.metrics {
		b[i] = step(f.sign[i] * m.Of(c))
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
type front struct{ points []FrontPoint }

// add takes a design in a box; it is dropped where the box is dominated, or
// holds a better one, and drops the boxes that it dominates.
func (f *front) add(x FrontPoint) {
	keep := f.points[:0]
	for i, p := range f.points {
		switch {
		case p.box == x.box:
			if x.compare(p.Ranked) < 0 {
				f.points[i].Ranked = x.Ranked
			}
			return // nothing was dropped before: equal boxes dominate the same ones
		case dominates(p.box, x.box):
			// What dominated one design is likely to dominate the next.
			f.points[0], f.points[i] = f.points[i], f.points[0]
			return
		case !dominates(x.box, p.box):
			keep = append(keep, p)
		}
	}
	f.points = append(keep, x)
}

// dominates says whether a is at least as good as b everywhere, and not equal.
func dominates(a, b [maxFront]int32) bool {
	return a != b && a[0] >= b[0] && a[1] >= b[1] && a[2] >= b[2]
}

// sorted gives the points by their boxes, the first metric's worst first.
func (f *front) sorted() []FrontPoint {
	out := slices.Clone(f.points)
	slices.SortFunc(out, func(a, b FrontPoint) int {
		return cmp.Or(cmp.Compare(a.box[0], b.box[0]), cmp.Compare(b.box[1], a.box[1]), cmp.Compare(a.box[2], b.box[2]), cmp.Compare(a.Index, b.Index))
	})
	return out
}
