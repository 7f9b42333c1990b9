package chart

import (
	"bytes"
	"fmt"
	"slices"
	"testing"
)

// Names that have no room side by side stand on end where the axis wants it, all of them, clear of
// each other and of the label; otherwise some are left out.
func TestUprightNames(t *testing.T) {
	t.Parallel()
	var names []string
	for k := range 12 {
		names = append(names, fmt.Sprintf("Reed %d.0x3.5x3 long", k))
	}
	for _, upright := range []bool{false, true} {
		x := make([]float64, len(names))
		for k := range x {
			x[k] = float64(k)
		}
		f := &Figure{Title: "Names", Panels: []Panel{{X: Axis{Label: "propeller", Names: names, Upright: upright},
			Y: Axis{Label: "merit [-]", Max: 1}, Lines: []Line{{Label: "x", X: x, Y: make([]float64, len(names))}}}}}
		var b bytes.Buffer
		l, err := f.Draw(&b)
		if err != nil {
			t.Fatal(err)
		}
		checkLayout(t, l)
		shown := 0
		for _, name := range names {
			at := slices.IndexFunc(l.Texts, func(b TextBox) bool { return b.Text == name })
			if at >= 0 {
				shown++
			}
		}
		if all := shown == len(names); all != upright || shown == 0 {
			t.Errorf("upright %v: %d of %d names are written", upright, shown, len(names))
		}
	}
}
