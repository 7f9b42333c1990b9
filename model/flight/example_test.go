package flight_test

import (
	"fmt"

	"rotorsieve/model/air"
	"rotorsieve/model/flight"
	"rotorsieve/model/frame"
	"rotorsieve/model/motor"
	"rotorsieve/model/pack"
	"rotorsieve/model/rotor"
	"rotorsieve/model/unit"
)

// Hover and full throttle of 0.65 kg on four propellers of 5 in. Momentum theory
// puts the least power of hover at 45.68 W, at sea level.
func Example() {
	const D, pitch, blades, mass = 0.127, 0.102, 3, 0.65 // m, m, -, kg
	sea, err := air.Standard(0)
	if err != nil {
		fmt.Println(err)
		return
	}
	blade, err := rotor.Generic(D, pitch, 2, 0)
	if err != nil {
		fmt.Println(err)
		return
	}
	s, err := rotor.New(rotor.Geometry{Diameter: D, Blades: blades, Blade: blade}, sea)
	if err != nil {
		fmt.Println(err)
		return
	}
	table, err := rotor.NewTable(s)
	if err != nil {
		fmt.Println(err)
		return
	}
	p := flight.NewPropulsor(table, D, sea.Density, 1)

	grade, err := pack.ParseGrade("high-rate")
	if err != nil {
		fmt.Println(err)
		return
	}
	packs := pack.Nominal()
	battery, err := packs.New(grade, 4, 1500*3.6, pack.Condition{Temperature: 298.15})
	if err != nil {
		fmt.Println(err)
		return
	}
	d := flight.Drive{
		Motor: motor.New(motor.Stator{Diameter: 0.022, Height: 0.007}, 1750,
			motor.Use{Winding: 333.15, PulseRate: 48e3}),
		Pack:      battery,
		Avionics:  3,
		RestedTop: battery.Rested(0.1),
		Limits:    flight.LimitsOf(&battery, 1, 0),
	}
	const weight = mass * flight.Gravity
	full := d.Static(&p)
	hover := d.Hover(&p, full.Controller, weight/frame.Rotors)
	if !full.OK || !hover.OK {
		fmt.Println("the craft lacks an operating point")
		return
	}
	ideal := weight * p.Wash(weight/frame.Rotors) / 2
	W := unit.Power.Unit("W")
	fmt.Println("ideal power", W.Format(ideal, 4))
	fmt.Println("figure of merit", unit.Ratio.SI().Format(ideal/(frame.Rotors*hover.Shaft), 1))
	fmt.Println("from the pack", W.Format(hover.Power, 2))
	fmt.Println("thrust to weight", unit.Ratio.SI().Format(frame.Rotors*full.Thrust/weight, 1))
	// Output:
	// ideal power 45.68 W
	// figure of merit 0.6
	// from the pack 110 W
	// thrust to weight 5
}
