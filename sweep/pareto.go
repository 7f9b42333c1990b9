package sweep

import (
	"cmp"
	"slices"
)

// pareto gives the points whose boxes no other dominates, the best of each box. It
// takes n log n steps: in falling order all that can dominate a point come before it,
// and of those the highest third metric beyond each value of the second is kept in a
// tree of partial maxima (P.M. Fenwick, A new data structure for cumulative frequency
// tables, 1994, from memory). The order of the points given is not kept.
func pareto(points []FrontPoint) []FrontPoint {
	slices.SortFunc(points, func(a, b FrontPoint) int {
		return cmp.Or(cmp.Compare(b.box[0], a.box[0]), cmp.Compare(b.box[1], a.box[1]), cmp.Compare(b.box[2], a.box[2]),
			a.compare(b.Ranked))
	})
	seconds := make([]int32, len(points))
	for i := range points {
		seconds[i] = points[i].box[1]
	}
	slices.Sort(seconds)
	seconds = slices.Compact(seconds)
	type highest struct {
		third int32
		any   bool
	}
	tree := make([]highest, len(seconds)+1)
	out := points[:0]
	for i := range points {
		x := points[i]
		if len(out) > 0 && out[len(out)-1].box == x.box {
			continue
		}
		at, _ := slices.BinarySearch(seconds, x.box[1])
		at = len(seconds) - at // from the highest, counted from 1
		dominated := false
		for n := at; n > 0 && !dominated; n &= n - 1 {
			dominated = tree[n].any && tree[n].third >= x.box[2]
		}
		if dominated {
			continue
		}
		for n := at; n < len(tree); n += n & -n {
			if !tree[n].any || tree[n].third < x.box[2] {
				tree[n] = highest{x.box[2], true}
			}
		}
		out = append(out, x)
	}
	return out
}

// merge takes in another front of the same metrics.
func (f *front) merge(o *front) {
	f.points = pareto(slices.Concat(f.points, o.points))
	f.changes++
}
