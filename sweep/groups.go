package sweep

// groups are the sets of builds that candidates are listed of, each list with the best of
// its group: first each value of every swept axis that the rest does not tell apart, then
// each diameter with each number of blades and payload. A design is of one group of each.
type groups struct {
	grid   *Grid
	values []valueGroups
	shared int // groups of values, the first of all
	all    int

	listed  lengths // of the lists of a diameter, number of blades and payload
	ofValue lengths // and of those of a value
}

// lengths are how many builds lists have at most, by level: no fewer than at a lower one.
type lengths [Levels]int

// valueGroups are the groups of an axis' values, in their order.
type valueGroups struct{ axis, from, count int }

// maxListed is how many builds a list has, and maxOfValue how many that of one value at the
// highest level: of those that they come to, none that is recommended was left out
// (DEVELOPERS.md).
var maxListed, maxOfValue = 30, 40 // variables for tests alone

// ofValueShares are the lengths of the lists of a value at each level, in parts of the last.
// The best of a value are found at the highest levels that its builds reach.
var ofValueShares = lengths{4, 8, 12, 16, 24, 40}

// Bounds on the builds of all lists of a level, so that memory does not grow with the axes.
const (
	maxAtALevel = 1 << 14
	maxOfValues = 1 << 12
)

// listLength is how many builds the lists of so many groups have at most.
func listLength(groups int) int { return max(1, min(maxListed, maxAtALevel/groups)) }

func newGroups(g *Grid) groups {
	q := groups{grid: g}
	for axis := range g.axes {
		n := len(g.axes[axis].Values)
		switch axis {
		case axDiameter, Blades.place, axPack, axCapacity, axPayload:
			continue // told apart by the rest, or what is bought for a build
		}
		if g.follows[axis] != nil && axis != axCells {
			continue // the parts that bring it have lists of their own
		}
		if n > 1 {
			q.values = append(q.values, valueGroups{axis, q.shared, n})
			q.shared += n
		}
	}
	sizes := len(g.axes[axDiameter].Values) * len(g.axes[Blades.place].Values) * len(g.axes[axPayload].Values)
	q.all = q.shared + sizes
	ofValue := min(maxOfValue, maxOfValues/max(q.shared, 1))
	for level := range Levels {
		q.listed[level] = listLength(sizes)
		q.ofValue[level] = max(1, ofValue*ofValueShares[level]/ofValueShares[Levels-1])
	}
	return q
}

// most is how many builds the lists of a group have at most.
func (q *groups) most(group int) *lengths {
	if group < q.shared {
		return &q.ofValue
	}
	return &q.listed
}

// size is the group of a diameter and number of blades, by their places, with the first
// payload; those with the next ones follow.
func (q *groups) size(diameter, blades int) int {
	axes := &q.grid.axes
	return q.shared + (diameter*len(axes[Blades.place].Values)+blades)*len(axes[axPayload].Values)
}

// of appends the groups of a design.
func (q *groups) of(index uint64, to []int) []int {
	g := q.grid
	for _, v := range q.values {
		to = append(to, v.from+g.at(index, v.axis))
	}
	return append(to, q.size(g.at(index, axDiameter), g.at(index, Blades.place))+g.at(index, axPayload))
}

// has says whether a design is of a group.
func (q *groups) has(group int, index uint64) bool {
	var memory [axisCount]int
	for _, x := range q.of(index, memory[:0]) {
		if x == group {
			return true
		}
	}
	return false
}
