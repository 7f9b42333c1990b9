package basis_test

import (
	"fmt"

	"rotorsieve/model/air"
)

// Every package with constants lists them in its Basis function.
func Example() {
	for _, c := range air.Basis()[:2] {
		fmt.Printf("%s = %g %s: %s\n", c.Symbol, c.Value, c.Unit, c.Meaning)
	}
	// Output:
	// g = 9.80665 m/s²: standard acceleration of gravity
	// R = 287.05287 J/(kg K): gas constant of dry air
}
