package chart_test

import (
	"bytes"
	"fmt"
	"image/png"
	"math"

	"rotorsieve/report/chart"
)

// A map with a corner in which nothing is feasible, and a star on its best point.
func ExampleFigure_WritePNG() {
	x := []float64{2, 4, 6, 8}
	y := []float64{1000, 2000, 3000, 4000}
	field := chart.Field{X: x, Y: y}
	for _, kv := range y {
		var row []float64
		for _, d := range x {
			v := 1 - math.Hypot((d-4)/6, (kv-2000)/4000)
			if d*kv > 20000 {
				v = math.NaN()
			}
			row = append(row, v)
		}
		field.Z = append(field.Z, row)
	}
	f := chart.Figure{
		Title:      "4 in at 2000 rpm/V is best",
		Subtitle:   "an invented merit",
		Bar:        chart.Bar{Label: "merit [-]", Levels: chart.Levels(0, 1, 5), Format: "%.1f"},
		Infeasible: "tips too fast",
		Star:       "best",
		DPI:        100,
		Panels: []chart.Panel{{
			X:       chart.Axis{Label: "diameter [in]", Min: 2, Max: 8},
			Y:       chart.Axis{Label: "KV [rpm/V]", Min: 1000, Max: 4000},
			Field:   &field,
			Markers: []chart.Marker{{X: 4, Y: 2000, Lines: []string{"4 in, 2000 rpm/V"}}},
		}},
	}
	var picture bytes.Buffer
	layout, err := f.Draw(&picture)
	if err != nil {
		fmt.Println(err)
		return
	}
	size, err := png.DecodeConfig(&picture)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(size.Width, "pixels wide,", len(layout.Faults()), "faults")
	// Output:
	// 700 pixels wide, 0 faults
}

func ExampleLevels() {
	fmt.Println(chart.Levels(130, 870, 8))
	// Output:
	// [100 200 300 400 500 600 700 800 900]
}
