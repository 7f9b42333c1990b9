package finding

import (
	"math"

	"rotorsieve/sweep"
	"rotorsieve/sweep/decide"
)

// Def is the axis whose values are held against the recommended build.
func (c *Choice) Def(a *decide.AxisValues) *sweep.AxisDef { return c.Grid.Axes()[a.Axis].Def }

// On says whether a build has a value of an axis.
func On(d *sweep.AxisDef, b *decide.Build, value float64) bool {
	const rounded = 1e-9 // a pitch ratio is worked out of a pitch
	return math.Abs(d.Of(b.Design)-value) <= rounded*math.Max(math.Abs(value), rounded)
}

// TiedAlong says of each value of an axis whether its best build is the recommended one or is not told
// from that. A lesser build of a value that is tied, which may be for its wider error alone, counts
// not: the best of the value is told apart.
func (c *Choice) TiedAlong(a *decide.AxisValues) []bool {
	out := make([]bool, len(a.Values))
	for k, v := range a.Values {
		b := c.At(v.Build)
		out[k] = v.Any && b != nil && (v.Build == 0 || b.Tied)
	}
	return out
}

// Runs are the first and the last place of each stretch of neighbours that hold.
func Runs(hold []bool) (out [][2]int) {
	for n := 0; n < len(hold); n++ {
		if !hold[n] {
			continue
		}
		first := n
		for n+1 < len(hold) && hold[n+1] {
			n++
		}
		out = append(out, [2]int{first, n})
	}
	return out
}
