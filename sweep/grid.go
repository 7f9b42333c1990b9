package sweep

import (
	"fmt"
	"math"
	"math/bits"
	"slices"

	"rotorsieve/model"
)

// Grid is the design space: the product of all axes. A design's index counts
// through the grid with the last axis running fastest.
type Grid struct {
	axes   [axisCount]Axis
	stride [axisCount]uint64
	size   uint64
}

// NewGrid makes a grid of one axis of each kind, where Pitch and PitchRatio are
// one kind. It refuses a value outside the accepted range by axis and value,
// and a grid of 2^63 designs or more.
func NewGrid(axes ...Axis) (*Grid, error) {
	g := new(Grid)
	for _, a := range axes {
		at := a.Def.place
		if g.axes[at].Def != nil {
			return nil, fmt.Errorf("axis %s is given twice, or beside %s", a.Def.Name, g.axes[at].Def.Name)
		}
		if len(a.Values) == 0 {
			return nil, fmt.Errorf("axis %s has no values", a.Def.Name)
		}
		for _, v := range a.Values {
			if err := a.Def.Check(v); err != nil {
				return nil, err
			}
		}
		g.axes[at] = a
	}
	g.size = 1
	for at := axisCount - 1; at >= 0; at-- {
		if g.axes[at].Def == nil {
			return nil, fmt.Errorf("axis %s is missing", axisTable[at].Name)
		}
		g.stride[at] = g.size
		hi, lo := bits.Mul64(g.size, uint64(len(g.axes[at].Values)))
		if hi != 0 || lo > math.MaxInt64 {
			return nil, fmt.Errorf("the grid has more than 2^63 designs, want fewer values on an axis")
		}
		g.size = lo
	}
	if err := g.checkPitch(); err != nil {
		return nil, err
	}
	return g, nil
}

// checkPitch refuses pitches that no propeller of a swept diameter has: for a diameter
// it is enough to check the least and the greatest.
func (g *Grid) checkPitch() error {
	var d model.Design
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

// Size is the number of designs.
func (g *Grid) Size() uint64 { return g.size }

// Axes lists the axes, slowest first.
func (g *Grid) Axes() []Axis { return g.axes[:] }

// Swept lists the places in Axes that have more than one value.
func (g *Grid) Swept() []int {
	var out []int
	for i := range g.axes {
		if len(g.axes[i].Values) > 1 {
			out = append(out, i)
		}
	}
	return out
}

// AxisIndex finds the axis of a name in Axes. It reports false for an unknown name,
// and for pitch where the grid sweeps the pitch ratio, or vice versa.
func (g *Grid) AxisIndex(name string) (int, bool) {
	for i := range g.axes {
		if g.axes[i].Def.Name == name {
			return i, true
		}
	}
	return 0, false
}

// coord has the index of a design's value on each axis.
type coord [axisCount]int

func (g *Grid) coord(index uint64) coord {
	var c coord
	for i := range g.axes {
		c[i] = int(index / g.stride[i] % uint64(len(g.axes[i].Values)))
	}
	return c
}

func (g *Grid) index(at *coord) uint64 {
	var n uint64
	for i := range at {
		n += uint64(at[i]) * g.stride[i]
	}
	return n
}

// At gives where the design of an index stands on an axis.
func (g *Grid) At(index uint64, axis int) int {
	return int(index / g.stride[axis] % uint64(len(g.axes[axis].Values)))
}

// Design gives the design of an index below Size.
func (g *Grid) Design(index uint64) model.Design { return g.design(g.coord(index)) }

func (g *Grid) design(c coord) model.Design {
	var d model.Design
	for i := range g.axes {
		g.axes[i].Def.Apply(&d, g.axes[i].Values[c[i]])
	}
	return d
}
