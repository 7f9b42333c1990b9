package report_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"rotorsieve/model"
	"rotorsieve/model/unit"
	"rotorsieve/report"
	"rotorsieve/sweep"
)

// The report of a small study, with one of its figures.
func ExampleRun_Write() {
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
	run := &report.Run{Study: study, Result: result, Figures: []string{"size"}, DPI: 72}
	files, err := run.Write(dir)
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

// The head of a data sheet.
func ExampleSheet() {
	m, err := model.New(model.Defaults())
	if err != nil {
		fmt.Println(err)
		return
	}
	d := model.Design{
		Diameter: 0.127, Pitch: 0.1016, Blades: 3,
		Stator: sweep.StatorOf(2207), KV: 1750,
		Cells: 4, Capacity: 1500 * 3.6, Payload: 0.030,
	}
	craft, err := m.Evaluate(d)
	if err != nil {
		fmt.Println(err)
		return
	}
	var sheet strings.Builder
	if err := report.Sheet(&sheet, d, craft, false); err != nil {
		fmt.Println(err)
		return
	}
	head, _, _ := strings.Cut(sheet.String(), "  Chord")
	fmt.Println(head)
	// Output:
	// 5 × 4 in, 3 blades, 2207 at 1750 rpm/V, 4S 1500 mAh, payload 30 g
	//
	// Inputs
	//   Diameter                       D                      5 in
	//   Pitch                          P                      4 in
	//   Blades                         B                      3
	//   Stator                         stator              2207 (22 mm × 7 mm)
	//   KV                             KV                  1750 rpm/V
	//   Cells                          S                     4S
	//   Capacity                       C                   1500 mAh
	//   Payload                        m_pl                  30 g
}
