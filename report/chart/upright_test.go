package chart

import (
	"bytes"
	"fmt"
	"slices"
	"testing"
)

// Names that have no room side by side stand on end, all of them, clear of each other and of the
// label; of those that have no room either way some are left out.
func TestUprightNames(t *testing.T) {
	t.Parallel()
	for _, x := range []struct {
		names int
		all   bool
	}{{2, true}, {12, true}, {120, false}} {
		var names []string
		var places []float64
		for k := range x.names {
			names = append(names, fmt.Sprintf("Reed %d.0x3.5x3 long", k))
			places = append(places, float64(k))
		}
		f := &Figure{Title: "Names", Panels: []Panel{{X: Axis{Label: "propeller", Names: names},
			Y: Axis{Label: "merit [-]", Max: 1}, Lines: []Line{{Label: "x", X: places, Y: make([]float64, x.names)}}}}}
		var b bytes.Buffer
		l, err := f.Draw(&b)
		if err != nil {
			t.Fatal(err)
		}
		checkLayout(t, l)
		shown := 0
		for _, name := range names {
			if slices.ContainsFunc(l.Texts, func(b TextBox) bool { return b.Text == name }) {
				shown++
			}
		}
		if all := shown == len(names); all != x.all || shown == 0 {
			t.Errorf("%d of %d names are written", shown, len(names))
		}
	}
}
