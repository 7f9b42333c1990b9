package finding

import "rotorsieve/sweep"

// firsts holds the first design of a ranking of each diameter and payload, in turn, against
// those that the record names as their best.
type firsts struct {
	grid              *sweep.Grid
	diameter, payload int               // places of the axes
	seen              [2]map[int]bool   // by place on the axis
	named             [2]map[int]uint64 // designs, by the same
}

func (f *Finished) firsts(found *FoundRecord) *firsts {
	x := &firsts{grid: f.grid}
	x.diameter, _ = f.grid.AxisIndex(sweep.Diameter.Name)
	x.payload, _ = f.grid.AxisIndex(sweep.Payload.Name)
	for i := range x.seen {
		x.seen[i], x.named[i] = map[int]bool{}, map[int]uint64{}
	}
	for _, l := range found.Leaders {
		x.named[0][f.grid.At(l.Index, x.diameter)] = l.Index
	}
	for n, d := range found.ByPayload {
		if d != nil {
			x.named[1][n] = d.Index
		}
	}
	return x
}

// next refuses the next of the ranking where it is a first and another is named, or none.
func (x *firsts) next(index uint64) error {
	for i, axis := range [2]int{x.diameter, x.payload} {
		a := x.grid.Axes()[axis]
		at := x.grid.At(index, axis)
		if x.seen[i][at] || i == 1 && len(a.Values) == 1 {
			continue
		}
		x.seen[i][at] = true
		if named, ok := x.named[i][at]; !ok || named != index {
			return unlike("design %d as the first of %s %s, which %s does not name", index, a.Def.Name,
				a.Def.Text(a.Values[at]), RecordName)
		}
	}
	return nil
}

// claim is what a record says of one design.
type claim struct {
	merit   float64
	metrics []Named[float64]
}

// claimsOf are what is said of the designs of a class, which must agree on each.
func claimsOf(found *FoundRecord) (map[uint64]claim, error) {
	all := map[uint64]claim{}
	add := func(index uint64, merit float64, metrics Named[float64]) error {
		c, ok := all[index]
		if ok && c.merit != merit {
			return unlike("design %d with a merit of %g and of %g", index, c.merit, merit)
		}
		for _, q := range metrics {
			for _, o := range c.metrics {
				if v, ok := o.Of(q.Name); ok && v != q.Value {
					return unlike("design %d with a %.60q of %g and of %g", index, q.Name, v, q.Value)
				}
			}
		}
		all[index] = claim{merit, append(c.metrics, metrics)}
		return nil
	}
	for _, d := range append([]*DesignRecord{found.Best}, found.ByPayload...) {
		if d == nil {
			continue
		}
		if err := add(d.Index, d.Merit, d.Metrics); err != nil {
			return nil, err
		}
	}
	for _, l := range found.Leaders {
		if err := add(l.Index, l.Merit, l.Metrics); err != nil {
			return nil, err
		}
	}
	return all, nil
}
