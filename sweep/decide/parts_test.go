package decide

import (
	"fmt"
	"testing"

	"rotorsieve/model"
	"rotorsieve/model/part"
	"rotorsieve/sweep"
)

// A choice among parts that state nothing, which are all of a generated grid, is that of the
// grid: the same builds with the same numbers, the pack being the largest of its cells that
// keeps the class.
func TestPartsAsGenerated(t *testing.T) {
	t.Parallel()
	x := trial{name: "280g", limit: 0.28, axes: map[*sweep.AxisDef]string{
		sweep.Diameter: "3,3.5", sweep.PitchRatio: "0.6", sweep.Blades: "2", sweep.Stator: "1404,1507", sweep.KV: "2600,3400",
		sweep.Cells: "3,4", sweep.Capacity: "450,550,650,850,1100"},
		merit: []term{{"hover-time", 0.5, 180, 1800}, {"thrust-to-weight", 0.5, 2, 10}}}
	s := x.study(t)
	g := s.Grid
	var motors []part.Motor
	var propellers []part.Propeller
	var packs []part.Pack
	seen := map[string]bool{}
	for i := range g.Size() {
		d := g.Design(i)
		add := func(name string, put func(name string)) {
			if !seen[name] {
				seen[name] = true
				put(name)
			}
		}
		add(fmt.Sprint("M", d.Stator, d.KV), func(name string) {
			motors = append(motors, part.Motor{Name: name, Stator: d.Stator, KV: d.KV})
		})
		add(fmt.Sprint("P", d.Diameter, d.Pitch), func(name string) {
			propellers = append(propellers, part.Propeller{Name: name, Diameter: d.Diameter, Pitch: d.Pitch, Blades: d.Blades})
		})
		add(fmt.Sprint("B", d.Cells, d.Capacity), func(name string) {
			packs = append(packs, part.Pack{Name: name, Cells: d.Cells, Capacity: d.Capacity})
		})
	}
	with := *s
	var err error
	if with.Grid, err = sweep.NewGrid(sweep.MotorAxis(motors), sweep.PropellerAxis(propellers), sweep.PackAxis(packs),
		axis(t, sweep.Payload, "0")); err != nil {
		t.Fatal(err)
	}
	var of [2]*Decision
	for i, s := range []*sweep.Study{s, &with} {
		r, err := sweep.Run(t.Context(), s, sweep.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if of[i], err = Run(t.Context(), s, r, Options{Draws: 32, Fresh: 64, Seed: 3}); err != nil {
			t.Fatal(err)
		}
	}
	want, got := &of[0].Classes[0], &of[1].Classes[0]
	if want.Judged != got.Judged || want.Judged < 8 {
		t.Fatalf("%d candidates of parts, %d generated", got.Judged, want.Judged)
	}
	type told struct {
		design                      model.Design
		filled                      bool
		feasible, cautious, nominal float64
		merit, pack                 Quantiles
	}
	list := func(c *Class) map[told]bool {
		out := map[told]bool{}
		for _, b := range c.Builds {
			b.Design.Parts = model.Parts{}
			out[told{b.Design, b.Filled, b.Feasible, b.Cautious, b.Nominal, b.Merit, b.Pack}] = true
		}
		return out
	}
	a, b := list(want), list(got)
	for x := range a {
		if !b[x] {
			t.Errorf("no build of parts is %+v", x)
		}
	}
	names := map[string]bool{}
	for _, a := range got.Axes {
		names[with.Grid.Axes()[a.Axis].Def.Name] = true
	}
	for _, name := range []string{"propeller", "diameter", "motor", "stator", "kv", "cells"} {
		if !names[name] {
			t.Errorf("nothing is told by %s", name)
		}
	}
	if names["pack"] || names["capacity"] {
		t.Error("the pack is taken for a part of the build")
	}
}
