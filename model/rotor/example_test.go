package rotor_test

import (
	"fmt"
	"strings"

	"rotorsieve/model/air"
	"rotorsieve/model/rotor"
	"rotorsieve/model/unit"
)

// Thrust and power at rest of a rotor whose blade, an invented one of 5 in, is
// known.
func Example() {
	const shape = `r/R,c/R,beta
0.15,0.16,34
0.30,0.21,28
0.50,0.22,22
0.75,0.19,15.5
0.95,0.13,11.5
`
	blade, err := rotor.ReadBlade(strings.NewReader(shape), "shape")
	if err != nil {
		fmt.Println(err)
		return
	}
	sea, err := air.Standard(0)
	if err != nil {
		fmt.Println(err)
		return
	}
	const D, n = 0.127, 300.0 // m, rev/s
	s, err := rotor.New(rotor.Geometry{Diameter: D, Blades: 2, Blade: blade}, sea)
	if err != nil {
		fmt.Println(err)
		return
	}
	p, err := s.Solve(0, n)
	if err != nil {
		fmt.Println(err)
		return
	}
	rho := sea.Density
	fmt.Printf("%.1f N for %.0f W\n", p.CT*rho*n*n*D*D*D*D, p.CP*rho*n*n*n*D*D*D*D*D)
	// Output:
	// 4.0 N for 72 W
}

// Of a propeller that is known by diameter, pitch and blades alone: the power to
// give 2.4 N at 10 m/s, its disc tilted by 10°, over that at rest.
func ExampleTable_InclinedThrust() {
	const D, pitch = 0.127, 0.102 // m
	blade, err := rotor.Generic(D, pitch, 2, 0)
	if err != nil {
		fmt.Println(err)
		return
	}
	sea, err := air.Standard(0)
	if err != nil {
		fmt.Println(err)
		return
	}
	s, err := rotor.New(rotor.Geometry{Diameter: D, Blades: 3, Blade: blade}, sea)
	if err != nil {
		fmt.Println(err)
		return
	}
	t, err := rotor.NewTable(s)
	if err != nil {
		fmt.Println(err)
		return
	}
	rest, ok := t.InclinedThrust(rotor.Flow{}, 2.4)
	level, flies := t.InclinedThrust(rotor.Flow{Axial: 1.74, InPlane: 9.85}, 2.4)
	if !ok || !flies {
		fmt.Println("no speed of rotation gives the thrust")
		return
	}
	fmt.Println(unit.Rotation.Unit("rpm").Format(level.N, 2))
	fmt.Printf("%.1f of the power at rest\n", level.Power/rest.Power)
	// Output:
	// 11000 rpm
	// 0.9 of the power at rest
}

// One measurement at rest, invented here, corrects the generic blade.
func ExampleCalibrate() {
	const D, pitch = 0.127, 0.102               // m
	const n, thrust, power = 300.0, 5.80, 128.0 // rev/s, N, W
	blade, err := rotor.Generic(D, pitch, 2, 0)
	if err != nil {
		fmt.Println(err)
		return
	}
	sea, err := air.Standard(0)
	if err != nil {
		fmt.Println(err)
		return
	}
	g := rotor.Geometry{Diameter: D, Blades: 3, Blade: blade}
	g.Correction, err = rotor.Calibrate(g, sea, []rotor.StaticPoint{{N: n, Thrust: thrust, Power: power}})
	if err != nil {
		fmt.Println(err)
		return
	}
	s, err := rotor.New(g, sea)
	if err != nil {
		fmt.Println(err)
		return
	}
	p, err := s.Solve(0, n)
	if err != nil {
		fmt.Println(err)
		return
	}
	T := p.CT * sea.Density * n * n * D * D * D * D
	P := p.CP * sea.Density * n * n * n * D * D * D * D * D
	fmt.Printf("thrust %.2f and power %.2f of what was measured\n", T/thrust, P/power)
	// Output:
	// thrust 1.00 and power 1.00 of what was measured
}
