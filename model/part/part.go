// Package part holds parts that exist, as their owner or a shop states them. What a part does
// not state is left to the regressions of the model.
//
// Parts are whole: a row of a file states one part, and no two are mixed.
package part

import (
	"rotorsieve/model/motor"
	"rotorsieve/model/pack"
	"rotorsieve/model/rotor"
)

// Stated is a value in SI units that a part may state. The zero value states nothing.
type Stated struct {
	Value float64
	Known bool
}

// Or is what is stated, or a value in its place.
func (s Stated) Or(v float64) float64 {
	if s.Known {
		return s.Value
	}
	return v
}

// Motor is one motor of a craft's four.
type Motor struct {
	Name   string
	Stator motor.Stator
	KV     float64 // of the label, rpm/V

	Mass        Stated // kg
	Resistance  Stated // between two leads, ohm, at 20 degC
	IdleCurrent Stated // A, without load at IdleVoltage
	IdleVoltage Stated // V; known where IdleCurrent is
	Current     Stated // most that it may draw, A
	Burst       Stated // how long it may draw that, s
	MostCells   Stated // in series that its maker allows
	Price       Stated // of one
}

// Propeller is one propeller of a craft's four.
type Propeller struct {
	Name     string
	Diameter float64 // m
	Pitch    float64 // m
	Blades   int

	Mass  Stated // of one, kg
	Chord Stated // at 75 % radius over the radius
	Turns Stated // most revolutions, 1/s
	Price Stated // of one

	Blade string // path of its blade file, "" for none
	Stand string // path of its records from a stand, "" for none

	// Geometry is what blade and stand file come to, of the same diameter and number of blades: the
	// blade, and its correction. It is nil where neither is stated.
	Geometry *rotor.Geometry
}

// Pack is a battery as sold.
type Pack struct {
	Name     string
	Cells    int     // in series
	Capacity float64 // A s

	Grade      *pack.Grade // nil for the grade of the study
	Mass       Stated      // with leads and connectors, kg
	Resistance Stated      // of the whole pack, ohm, at 25 degC
	Current    Stated      // continuous, A
	Burst      Stated      // for some seconds, A
	Price      Stated
}

// Frame is plates and arms of a craft.
type Frame struct {
	Name      string
	Wheelbase float64 // between motors across the centre, m
	Largest   float64 // diameter of the largest propeller that it takes, m

	Mass  Stated // kg
	Area  Stated // drag area of the body, m2
	Price Stated
}

// Board carries the speed controllers of all four motors.
type Board struct {
	Name    string
	Current float64 // continuous, of each motor, A
	Cells   int     // most in series

	Mass   Stated // kg
	Joined bool   // it carries the flight controller as well
	Price  Stated
}
