package model_test

import (
	"errors"
	"fmt"

	"rotorsieve/model"
	"rotorsieve/model/motor"
)

// One design under the usual assumptions, and some of its metrics.
func ExampleModel_Evaluate() {
	m, err := model.New(model.Defaults())
	if err != nil {
		fmt.Println(err)
		return
	}
	d := model.Design{
		Diameter: 0.127, Pitch: 0.102, Blades: 3,
		Stator: motor.Stator{Diameter: 0.022, Height: 0.007}, KV: 1750,
		Cells: 4, Capacity: 1500 * 3.6,
	}
	craft, err := m.Evaluate(d)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, x := range []struct {
		name   string
		digits int
	}{{"auw", 2}, {"hover-time", 2}, {"thrust-to-weight", 1}} {
		metric, ok := model.LookupMetric(x.name)
		if !ok {
			fmt.Println("no metric", x.name)
			return
		}
		fmt.Printf("%s: %s\n", metric.Title, metric.Unit.Format(metric.Of(craft), x.digits))
	}
	// Output:
	// All-up weight: 460 g
	// Hover time: 13 min
	// Thrust to weight: 5
}

// A design that does not hover comes with its mass; Craft.Lacking says why.
func ExampleModel_Evaluate_tooHeavy() {
	m, err := model.New(model.Defaults())
	if err != nil {
		fmt.Println(err)
		return
	}
	craft, err := m.Evaluate(model.Design{
		Diameter: 0.127, Pitch: 0.102, Blades: 3,
		Stator: motor.Stator{Diameter: 0.022, Height: 0.007}, KV: 1750,
		Cells: 1, Capacity: 1500 * 3.6, Payload: 1,
	})
	if !errors.Is(err, model.ErrNoOperatingPoint) {
		fmt.Println("want a craft without operating point, not", err)
		return
	}
	fmt.Printf("%v: %.1f kg, lacking %d of two points\n", err, craft.Mass, len(craft.Lacking()))
	// Output:
	// no operating point: 1.3 kg, lacking 1 of two points
}

func ExampleDesign_Check() {
	d := model.Design{
		Diameter: 0.127, Pitch: 0.102, Blades: 9,
		Stator: motor.Stator{Diameter: 0.022, Height: 0.007}, KV: 1750,
		Cells: 4, Capacity: 1500 * 3.6,
	}
	fmt.Println(d.Check())
	// Output:
	// blade count of 9 is outside 2 to 8
}
