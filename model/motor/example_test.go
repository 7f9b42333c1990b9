package motor_test

import (
	"fmt"
	"math"

	"rotorsieve/model/motor"
)

// What a 2207 motor draws while it turns a propeller.
func Example() {
	const torque, n = 0.021, 150.0 // N m, rev/s
	m := motor.New(motor.Stator{Diameter: 0.022, Height: 0.007}, 1750, motor.Use{Winding: 273.15 + 60, PulseRate: 48e3})
	i := m.Current(torque, n)
	v := m.Voltage(i, n)
	fmt.Printf("Kt %.4g mN m/A, %.0f g\n", 1000*m.Kt, 1000*m.Mass)
	fmt.Printf("%.1f A at %.1f V, efficiency %.2f\n", i, v, 2*math.Pi*n*torque/(v*i))
	// Output:
	// Kt 6.345 mN m/A, 33 g
	// 3.9 A at 6.4 V, efficiency 0.81
}

// A controller is bought for 1.2 times the peak current.
func ExampleParameters_ControllerFor() {
	p := motor.Nominal()
	fmt.Printf("%.0f A\n", p.ControllerFor(31).Rating)
	// Output:
	// 45 A
}
