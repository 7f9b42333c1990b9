package model

import (
	"fmt"
	"slices"

	"rotorsieve/model/motor"
	"rotorsieve/model/unit"
)

// Validity is one limit within which the stated errors of the model hold. Outside it
// results are computed and marked, see Craft.Warnings; or, where it is only the end of
// the measurements, noted, see Craft.Extrapolations.
type Validity struct {
	What         string
	Range        string // with its unit, "3 to 10 in"
	Extrapolated bool   // noted beyond it, not marked
	Band         *Band  // whose measurements end there; nil for other limits
}

var validStator = Bound{motor.MinDiameter, motor.MaxDiameter}

var (
	validDiameter = &Validity{What: "Propeller diameter", Range: rangeText(ValidDiameter, unit.Length.Unit("in"))}
	validMeasured = &Validity{What: "Correction by measured propellers",
		Range: fmt.Sprintf("where measured ones are near enough in diameter, pitch and blades for %g %% or more of "+
			"their correction to carry over", 100*LeastShare)}
	validMass        = &Validity{What: "All-up weight", Range: rangeText(ValidMass, unit.Mass.Unit("kg"))}
	validTemperature = &Validity{What: "Air and pack temperature",
		Range: rangeText(ValidTemperature, unit.Temperature.Unit("degC"))}
	validStatorDiameter = &Validity{What: "Stator diameter", Range: rangeText(validStator, unit.Length.Unit("mm"))}
	validStatorHeight   = &Validity{What: "Stator height", Range: rangeText(Bound{motor.MinHeight, motor.MaxHeight},
		unit.Length.Unit("mm"))}
	validTipMach    = &Validity{What: "Full-throttle tip Mach number", Range: fmt.Sprintf("up to %g", ValidTipMach)}
	validFlightMach = &Validity{What: "Tip Mach number at top speed", Range: fmt.Sprintf("up to %g", ValidTipMach)}
	validReynolds   = &Validity{What: "Reynolds number at 75 % radius in hover",
		Range: fmt.Sprintf("from %g", ValidReynolds)}
	validInFlow = &Validity{What: "Flow along the discs over tip speed, in flight",
		Range: fmt.Sprintf("up to %g; there thrust is off by up to 13 %% and power by 16 %% of theirs at rest, by 3 "+
			"%% and 2 %% at 0.2, against blade-element solutions", ValidInFlow)}
	validFlight = &Validity{What: "Level flight",
		Range: "weights and airspeeds within the speeds of rotation of the rotor model, tip Mach 0.02 to 1"}
	validHeat = &Validity{What: "Motor temperature in hover and cruise",
		Range: "up to " + unit.Temperature.Unit("degC").Format(motor.BurstLimit, 6)}
	validRating = &Validity{What: "Controller rating per motor",
		Range: fmt.Sprintf("%g to %g A", motor.MinRating, motor.MaxRating)}
	validJoined = &Validity{What: "Controller rating on a joined board",
		Range: fmt.Sprintf("up to %g A", motor.MaxJoined)}
	validBlades = &Validity{What: "Number of blades, measured", Extrapolated: true,
		Range: "two at all sizes, three and four near 5 in, more at none; beyond by the law of these, noted and not " +
			"marked"}
)

// validBands are those of Bands.
var validBands = [...]*Validity{bandValidity(&Bands[0]), bandValidity(&Bands[1]), bandValidity(&Bands[2]),
	bandValidity(&Bands[3])}

// Validities lists the limits: where the model has been compared with
// measurements, where its regressions were derived, and what parts tolerate.
var Validities = slices.Concat([]*Validity{
	validDiameter, validMeasured, validMass, validTemperature, validStatorDiameter, validStatorHeight, validTipMach,
	validFlightMach,
	validReynolds, validInFlow, validFlight, validHeat, validRating, validJoined, validBlades,
}, validBands[:])

func rangeText(b Bound, u unit.Unit) string { return u.Number(b.Min, 6) + " to " + u.Format(b.Max, 6) }
