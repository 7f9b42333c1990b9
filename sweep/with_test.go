package sweep

import (
	"math/rand/v2"
	"testing"
)

// How many designs have a value of an axis is what counting says, also where parts bring it.
func TestWith(t *testing.T) {
	g := partsGrid(t, inventParts(rand.New(rand.NewPCG(1, 2)), 3, 7, 4, 2, 1), map[*AxisDef]string{Payload: "0g,20g"})
	for a, axis := range g.Axes() {
		count := make([]uint64, len(axis.Values))
		for i := range g.Size() {
			count[g.At(i, a)]++
		}
		for v, want := range count {
			if got := g.With(a, v); got != want {
				t.Errorf("%s %d: %d designs, counted %d", axis.Def.Name, v, got, want)
			}
		}
	}
}
