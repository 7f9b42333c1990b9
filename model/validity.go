package model

import (
	"fmt"

	"rotorsieve/model/motor"
	"rotorsieve/model/unit"
)

// Validity is one limit within which results are to be trusted as the model says.
// Outside it they are computed and marked; see Craft.Warnings.
type Validity struct {
	What  string
	Range string // with its unit, "3 to 10 in"
}

var validStator = Bound{motor.MinDiameter, motor.MaxDiameter}

var (
	validDiameter       = &Validity{"Propeller diameter", span(ValidDiameter, unit.Length.Unit("in"))}
	validMeasured       = &Validity{"Correction by measured propellers", fmt.Sprintf("which tell a share of %g or more of the propeller", LeastShare)}
	validMass           = &Validity{"All-up weight", span(ValidMass, unit.Mass.Unit("kg"))}
	validTemperature    = &Validity{"Air and pack temperature", span(ValidTemperature, unit.Temperature.Unit("degC"))}
	validStatorDiameter = &Validity{"Stator diameter", span(validStator, unit.Length.Unit("mm"))}
	validStatorHeight   = &Validity{"Stator height", span(Bound{motor.MinHeight, motor.MaxHeight}, unit.Length.Unit("mm"))}
	validTipMach        = &Validity{"Full-throttle tip Mach number", fmt.Sprintf("up to %g", ValidTipMach)}
	validFlightMach     = &Validity{"Tip Mach number at top speed", fmt.Sprintf("up to %g", ValidTipMach)}
	validReynolds       = &Validity{"Reynolds number at 75 % radius in hover", fmt.Sprintf("from %g", ValidReynolds)}
	validInFlow         = &Validity{"Flow along the discs over tip speed, in flight", fmt.Sprintf("up to %g; there thrust is off by up to 13 %% and power by 16 %% of theirs at rest, by 3 %% and 2 %% at 0.2, against blade-element solutions", ValidInFlow)}
	validFlight         = &Validity{"Level flight", "weights and airspeeds within the speeds of rotation of the rotor model, tip Mach 0.02 to 1"}
	validHeat           = &Validity{"Motor temperature in hover and cruise", "up to " + unit.Temperature.Unit("degC").Format(motor.BurstLimit, 6)}
	validRating         = &Validity{"Controller rating per motor", fmt.Sprintf("%g to %g A", motor.MinRating, motor.MaxRating)}
	validJoined         = &Validity{"Controller rating on a joined board", fmt.Sprintf("up to %g A", motor.MaxJoined)}
)

// Validities lists the limits: where the model has been compared with
// measurements, where its regressions were derived, and what a craft must stand.
var Validities = []*Validity{
	validDiameter, validMeasured, validMass, validTemperature, validStatorDiameter, validStatorHeight, validTipMach, validFlightMach,
	validReynolds, validInFlow, validFlight, validHeat, validRating, validJoined,
}

func span(b Bound, u unit.Unit) string { return u.Number(b.Min, 6) + " to " + u.Format(b.Max, 6) }
