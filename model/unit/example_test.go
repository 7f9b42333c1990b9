package unit_test

import (
	"fmt"

	"rotorsieve/model/unit"
)

func Example() {
	d, err := unit.Length.Parse("5in")
	fmt.Println(d, "m", err)
	fmt.Println(unit.Length.Unit("mm").Format(d, 4))

	_, err = unit.Length.Parse("249g")
	fmt.Println(err)
	// Output:
	// 0.127 m <nil>
	// 127 mm
	// "249g": g is a unit of mass, want a length such as 5in or 127mm
}

func ExampleParseAxis() {
	capacities, err := unit.ParseAxis(unit.Charge, "300mAh,450:750:150mAh")
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, c := range capacities {
		fmt.Println(unit.Charge.Text(c), "is", unit.Charge.SI().Format(c, 4))
	}

	_, err = unit.ParseAxis(unit.Charge, "450:800:100mAh")
	fmt.Println(err)
	// Output:
	// 300mAh is 1080 A·s
	// 450mAh is 1620 A·s
	// 600mAh is 2160 A·s
	// 750mAh is 2700 A·s
	// "450:800:100mAh": steps of 100mAh from 450mAh do not land on 800mAh, want a last value of 750mAh or 850mAh
}

func ExampleRange_Check() {
	accepted := unit.Range{Min: 0.0508, Max: 0.3048}
	fmt.Println(accepted.Check(unit.Length, 0.127))
	fmt.Println(accepted.Check(unit.Length, 0.127, 0.508))
	// Output:
	// <nil>
	// 20in is out of bounds, want 2in to 12in
}
