package sweep_test

import (
	"context"
	"fmt"

	"rotorsieve/model"
	"rotorsieve/model/unit"
	"rotorsieve/sweep"
)

// A small study: which propeller keeps a craft of at most 600 g up longest?
func ExampleRun() {
	var axes []sweep.Axis
	for _, x := range []struct {
		def  *sweep.AxisDef
		text string
	}{
		{sweep.Diameter, "2.5in,4in,6in"},
		{sweep.PitchRatio, "0.8"},
		{sweep.Blades, "2"},
		{sweep.Chord, "0"},
		{sweep.Stator, "2207"},
		{sweep.KV, "1300,1750"},
		{sweep.Cells, "4S"},
		{sweep.Capacity, "850:1750:450mAh"},
		{sweep.Payload, "0"},
	} {
		values, err := unit.ParseAxis(x.def.Kind, x.text)
		if err != nil {
			fmt.Println(err)
			return
		}
		axes = append(axes, sweep.Axis{Def: x.def, Values: values})
	}
	grid, err := sweep.NewGrid(axes...)
	if err != nil {
		fmt.Println(err)
		return
	}
	m, err := model.New(model.Defaults())
	if err != nil {
		fmt.Println(err)
		return
	}
	hover, ok := model.LookupMetric("hover-time")
	if !ok {
		fmt.Println("no metric hover-time")
		return
	}
	study := &sweep.Study{
		Name:     "small",
		Grid:     grid,
		Model:    m,
		Classes:  []sweep.Class{{Limit: 0.6, Label: "600g"}},
		Require:  sweep.DefaultRequirements(),
		Merit:    sweep.Merit{{Metric: hover, Weight: 1, Worst: 0, Best: 40 * 60}},
		Top:      5,
		SizeBins: sweep.DefaultSizeBins,
	}
	result, err := sweep.Run(context.Background(), study, sweep.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	class := &result.Classes[0]
	judged := class.Feasible
	for _, n := range class.Rejected {
		judged += n
	}
	fmt.Println("designs", grid.Size(), "judged", judged)
	best, ok := class.Best()
	if !ok {
		fmt.Println("none is feasible")
		return
	}
	fmt.Println("best diameter", sweep.Diameter.Text(grid.Design(best.Index).Diameter))
	// Output:
	// designs 18 judged 18
	// best diameter 6 in
}
