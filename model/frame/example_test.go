package frame_test

import (
	"fmt"

	"rotorsieve/model/frame"
)

// The masses that follow from a propeller of 5 in with three blades, its discs
// a fifth of a diameter apart.
func Example() {
	p := frame.Nominal()
	const D, clearance, factor = 0.127, 0.2, 1.0
	fmt.Printf("wheelbase %.1f mm\n", 1000*frame.Wheelbase(D, clearance))
	fmt.Printf("frame %.1f g\n", 1000*p.Mass(D, factor))
	fmt.Printf("propellers %.1f g\n", 1000*frame.Rotors*p.PropellerMass(D, 3))
	// Output:
	// wheelbase 215.5 mm
	// frame 87.7 g
	// propellers 16.0 g
}

// An arm that stands ten times its share of the weight of a craft of 650 g, and
// how fast it swings with a motor of 35 g at its tip.
func ExampleParameters_StrongArm() {
	p := frame.Nominal()
	const D, clearance, g = 0.127, 0.2, 9.80665
	arm := p.StrongArm(D, clearance, 10*0.650/frame.Rotors*g)
	fmt.Printf("%.1f mm thick, %.0f g, %.0f Hz\n", 1000*arm.Thickness, 1000*arm.Mass(), arm.Frequency(0.035))
	// Output:
	// 2.1 mm thick, 4 g, 41 Hz
}
