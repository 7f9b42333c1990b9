package pack_test

import (
	"fmt"

	"rotorsieve/model/pack"
)

// How long a 4S 1500 mAh pack holds 130 W.
func Example() {
	packs := pack.Nominal()
	grade, err := pack.ParseGrade("high-rate")
	if err != nil {
		fmt.Println(err)
		return
	}
	p, err := packs.New(grade, 4, 1500*3.6, pack.Condition{Temperature: 273.15 + 25})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f g, %.1f mohm, %.1f V full\n", 1000*p.Mass, 1000*p.R, p.Rested(0))
	fmt.Printf("%.1f min\n", p.Endurance(130)/60)
	// Output:
	// 167 g, 19.6 mohm, 16.8 V full
	// 8.6 min
}

// Cylindrical cells come whole.
func ExampleParameters_New() {
	packs := pack.Nominal()
	grade, err := pack.ParseGrade("21700-power")
	if err != nil {
		fmt.Println(err)
		return
	}
	_, err = packs.New(grade, 6, 5000*3.6, pack.Condition{Temperature: 298.15})
	fmt.Println(err)
	p, err := packs.New(grade, 6, 8400*3.6, pack.Condition{Temperature: 298.15})
	fmt.Printf("%.0f g, %v\n", 1000*p.Mass, err)
	// Output:
	// a capacity of 5000 mAh is not a whole number of 21700-power cells, want a multiple of 4200 mAh
	// 882 g, <nil>
}
