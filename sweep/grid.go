package sweep

import (
	"fmt"
	"math"
	"math/bits"
	"slices"

	"rotorsieve/model"
)

// Grid is the design space: the product of all axes. A design's index counts
// through the grid with the last axis running fastest. What parts bring, such as the
// diameter of a propeller that exists, are axes as well, whose values follow from the part
// and do not count.
type Grid struct {
	axes    [axisCount]Axis
	count   [axisCount]int   // of the values that vary by themselves; 1 for what parts bring
	from    [axisCount]int   // place of the axis of parts that brings the axis; its own for others
	follows [axisCount][]int // place of the value by that of the part; nil for others
	stride  [axisCount]uint64
	size    uint64
	shown   []int // places of Axes
}

// NewGrid makes a grid of one axis of each kind, where Pitch and PitchRatio are
// one kind, and an axis of parts stands for those that it brings. It refuses a value outside the accepted
// range by axis and value, and a grid of 2^63 designs or more.
func NewGrid(axes ...Axis) (*Grid, error) {
	g := new(Grid)
	put := func(a Axis) error {
		at := a.Def.place
		if g.axes[at].Def != nil {
			return fmt.Errorf("axis %s is given twice, or beside %s", a.Def.Name, g.axes[at].Def.Name)
		}
		if len(a.Values) == 0 {
			return fmt.Errorf("axis %s has no values", a.Def.Name)
		}
		for _, v := range a.Values {
			if err := a.Def.Check(v); err != nil {
				return err
			}
		}
		g.axes[at], g.from[at] = a, at
		return nil
	}
	for _, a := range axes {
		if err := put(a); err != nil {
			return nil, err
		}
	}
	for _, a := range axes {
		for _, d := range a.Def.brings {
			if other := g.axes[d.place].Def; other != nil {
				return nil, fmt.Errorf("axis %s is given beside %ss that exist, each of which has its own", other.Name,
					a.Def.Name)
			}
			if err := put(g.brought(a, d)); err != nil {
				return nil, err
			}
			g.follow(a, d)
		}
	}
	g.size = 1
	for at := axisCount - 1; at >= 0; at-- {
		if g.axes[at].Def == nil {
			if !axisTable[at].isPart {
				return nil, fmt.Errorf("axis %s is missing", axisTable[at].Name)
			}
			g.axes[at], g.from[at] = Axis{Def: axisTable[at], Values: []float64{0}}, at
		} else {
			g.shown = append(g.shown, at)
		}
		g.stride[at], g.count[at] = g.size, len(g.axes[at].Values)
		if g.follows[at] != nil {
			g.count[at] = 1
		}
		hi, lo := bits.Mul64(g.size, uint64(g.count[at]))
		if hi != 0 || lo > math.MaxInt64 {
			return nil, fmt.Errorf("the grid has more than 2^63 designs, want fewer values on an axis")
		}
		g.size = lo
	}
	slices.Reverse(g.shown)
	if err := g.checkPitch(); err != nil {
		return nil, err
	}
	return g, nil
}

// brought is an axis whose values parts bring.
func (g *Grid) brought(parts Axis, def *AxisDef) Axis {
	out := Axis{Def: def, Of: parts.Def}
	for _, r := range parts.Def.rows {
		var d model.Design
		r.apply(&d)
		out.Values = append(out.Values, def.field.of(&d))
	}
	slices.Sort(out.Values)
	out.Values = slices.Compact(out.Values)
	return out
}

// follow notes which of the values each part brings.
func (g *Grid) follow(parts Axis, def *AxisDef) {
	at := def.place
	g.from[at] = parts.Def.place
	for _, r := range parts.Def.rows {
		var d model.Design
		r.apply(&d)
		place, _ := slices.BinarySearch(g.axes[at].Values, def.field.of(&d))
		g.follows[at] = append(g.follows[at], place)
	}
}

// checkPitch refuses pitches that no propeller of a swept diameter has: for a diameter
// it is enough to check the least and the greatest.
func (g *Grid) checkPitch() error {
	var d model.Design
	if g.follows[axPitch] != nil {
		return g.checkPropellers()
	}
	pitches := g.axes[axPitch].Values
	ends := [2]float64{slices.Min(pitches), slices.Max(pitches)}
	for _, diameter := range g.axes[axDiameter].Values {
		Diameter.Apply(&d, diameter)
		for _, pitch := range ends {
			g.axes[axPitch].Def.Apply(&d, pitch)
			if r := PitchRatio.Of(d); !model.PitchRatioBound.Contains(r) {
				return fmt.Errorf("a pitch of %s on a diameter of %s is a ratio of %.3g, outside %g to %g",
					g.axes[axPitch].Def.Text(pitch), Diameter.Text(diameter), r,
					model.PitchRatioBound.Min, model.PitchRatioBound.Max)
			}
		}
	}
	return nil
}

// checkPropellers is checkPitch of propellers that exist.
func (g *Grid) checkPropellers() error {
	for _, r := range g.axes[axPropeller].Def.rows {
		var d model.Design
		r.apply(&d)
		if p := PitchRatio.Of(d); !model.PitchRatioBound.Contains(p) {
			return fmt.Errorf("propeller %s: a pitch of %s on a diameter of %s is a ratio of %.3g, outside %g to %g",
				r.name, Pitch.Text(d.Pitch), Diameter.Text(d.Diameter), p, model.PitchRatioBound.Min,
				model.PitchRatioBound.Max)
		}
	}
	return nil
}

// onePropeller is the number of designs that follow one another with the same propeller.
func (g *Grid) onePropeller() uint64 {
	n := g.size
	for at := range g.axes {
		if g.axes[at].Def.propeller {
			n = g.stride[at]
		}
	}
	return n
}

// mounts says whether there are frames or boards that exist.
func (g *Grid) mounts() bool {
	return g.axes[axFrame].Def.rows != nil || g.axes[axBoard].Def.rows != nil
}

// Size is the number of designs.
func (g *Grid) Size() uint64 { return g.size }

// Axes lists the axes, slowest first: those that were given, and those that parts bring.
func (g *Grid) Axes() []Axis {
	out := make([]Axis, len(g.shown))
	for i, at := range g.shown {
		out[i] = g.axes[at]
	}
	return out
}

// Swept lists the places in Axes that have more than one value and vary by themselves.
func (g *Grid) Swept() []int {
	var out []int
	for i, at := range g.shown {
		if g.count[at] > 1 {
			out = append(out, i)
		}
	}
	return out
}

// AxisIndex finds the axis of a name in Axes. It reports false for an unknown name,
// for pitch where the grid sweeps the pitch ratio, or vice versa, and for parts of which
// none were given.
func (g *Grid) AxisIndex(name string) (int, bool) {
	for i, at := range g.shown {
		if g.axes[at].Def.Name == name {
			return i, true
		}
	}
	return 0, false
}

// Axis finds the axis of a name, as AxisIndex does. Of parts it is the one that names them.
func (g *Grid) Axis(name string) (*AxisDef, bool) {
	i, ok := g.AxisIndex(name)
	if !ok {
		return nil, false
	}
	return g.axes[g.shown[i]].Def, true
}

// place is where an axis that the grid has stands among all.
func (g *Grid) place(d *AxisDef) int {
	i, ok := g.AxisIndex(d.Name)
	if !ok {
		panic("sweep: the grid has no axis " + d.Name)
	}
	return g.shown[i]
}

// Step is by how much the index grows from one value of an axis to the next, by its place in
// Axes. It is 0 for an axis that parts bring.
func (g *Grid) Step(axis int) uint64 {
	at := g.shown[axis]
	if g.follows[at] != nil {
		return 0
	}
	return g.stride[at]
}

// coord has the index of a design's value on each axis.
type coord [axisCount]int

func (g *Grid) coord(index uint64) coord {
	var c coord
	for i := range g.axes {
		if g.follows[i] != nil {
			c[i] = g.follows[i][c[g.from[i]]] // which stands before
		} else if g.count[i] > 1 {
			c[i] = int(index / g.stride[i] % uint64(g.count[i]))
		}
	}
	return c
}

func (g *Grid) index(at *coord) uint64 {
	var n uint64
	for i := range at {
		if g.follows[i] == nil {
			n += uint64(at[i]) * g.stride[i]
		}
	}
	return n
}

// At gives where the design of an index stands on an axis, by its place in Axes.
func (g *Grid) At(index uint64, axis int) int { return g.at(index, g.shown[axis]) }

// at is At by the place among all axes.
func (g *Grid) at(index uint64, place int) int {
	if of := g.follows[place]; of != nil {
		return of[g.at(index, g.from[place])]
	}
	return int(index / g.stride[place] % uint64(g.count[place]))
}

// Design gives the design of an index below Size.
func (g *Grid) Design(index uint64) model.Design { return g.design(g.coord(index)) }

func (g *Grid) design(c coord) model.Design {
	var d model.Design
	for i := range g.axes {
		if g.follows[i] == nil {
			g.axes[i].Def.Apply(&d, g.axes[i].Values[c[i]])
		}
	}
	return d
}
