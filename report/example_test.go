package report_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"rotorsieve/model"
	"rotorsieve/model/unit"
	"rotorsieve/report"
	"rotorsieve/report/finding"
	"rotorsieve/sweep"
)

// The report of a small study, with one of its figures.
func ExampleWrite() {
	var axes []sweep.Axis
	for _, x := range []struct {
		def  *sweep.AxisDef
		text string
	}{
		{sweep.Diameter, "4in,6in"},
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
	study := &sweep.Study{
		Name:     "small",
		Grid:     grid,
		Model:    m,
		Classes:  []sweep.Class{{Limit: 0.6, Label: "600g"}},
		Require:  sweep.DefaultRequirements(),
		Merit:    sweep.DefaultMerit(),
		Top:      5,
		SizeBins: sweep.DefaultSizeBins,
	}
	result, err := sweep.Run(context.Background(), study, sweep.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	dir, err := os.MkdirTemp("", "report")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(dir)
	run := &finding.Run{Study: study, Result: result, Figures: []string{"size"}, DPI: 72}
	files, err := report.Write(context.Background(), run, dir)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, path := range files {
		name, err := filepath.Rel(dir, path)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Println(filepath.ToSlash(name))
	}
	// Output:
	// figures/size.png
	// review.xlsx
	// ranking.csv
	// size.csv
	// effective.flags
	// run.json
}
