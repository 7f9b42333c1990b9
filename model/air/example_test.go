package air_test

import (
	"fmt"

	"rotorsieve/model/air"
)

// ISO 2533 gives 1.0581 kg/m³ at 1500 m.
func ExampleStandard() {
	a, err := air.Standard(1500)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.4f kg/m³, %.2f K, %.1f m/s\n", a.Density, a.Temperature, a.SoundSpeed)

	_, err = air.Standard(25000)
	fmt.Println(err)
	// Output:
	// 1.0581 kg/m³, 278.40 K, 334.5 m/s
	// air: altitude 25000 m is outside the atmosphere model, want -500 to 20000 m
}

// A hot day at the same place: the pressure stays, the density falls.
func ExampleAt() {
	a, err := air.At(1500, 273.15+35)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f hPa, %.3f kg/m³\n", a.Pressure/100, a.Density)
	// Output:
	// 846 hPa, 0.956 kg/m³
}
