package report

import (
	"fmt"
	"slices"

	"rotorsieve/model"
	"rotorsieve/model/motor"
	"rotorsieve/model/unit"
	"rotorsieve/sweep"
)

// deviation is the relative error of a quantity against measurements, in per cent:
// half of them are nearer than the median, nine of ten than the 90th percentile.
type deviation struct{ Median, Ninety float64 }

// comparison is the error of the rotor model against wind-tunnel measurements of
// small propellers: of thrust and power coefficient at rest, and in axial flight
// where CT exceeds 0.3 of that at rest.
type comparison struct {
	Known          string // what of the propeller the model was told
	Propellers     int
	CT, CP         deviation // at rest
	WindCT, WindCP deviation
}

// comparisons are as the validation of package rotor measures them; a test holds
// them against its table for contributors.
var (
	bySize     = comparison{"diameter, pitch and blades", 165, deviation{9.6, 27.8}, deviation{11.9, 29.5}, deviation{12.8, 35.7}, deviation{11.2, 32.6}}
	byChord    = comparison{"diameter, pitch, blades and chord", 91, deviation{6.4, 18.8}, deviation{11.4, 27.5}, deviation{13.3, 35.0}, deviation{13.6, 37.4}}
	calibrated = comparison{"diameter, pitch, blades and one point measured at rest", 165, deviation{1.9, 6.9}, deviation{2.2, 7.7}, deviation{8.9, 23.9}, deviation{7.5, 20.9}}

	comparisons = []comparison{bySize, byChord, calibrated}
)

// comparisonSource names the measurements, and scatter what bounds any model of
// a propeller known by its size.
const (
	comparisonSource = "J.B. Brandt, R.W. Deters, G.K. Ananda, O.D. Dantsker, M.S. Selig, UIUC Propeller Database, Vols 1-3"
	scatter          = "Two specimens of one propeller differ by 6 to 14 % in CT themselves."
)

// trust says in words how far the numbers of a study can be trusted.
func trust(s *sweep.Study) string {
	c := byChord
	if at, ok := s.Grid.Place(sweep.Chord.Name); ok && slices.Contains(s.Grid.Axes()[at].Values, 0) {
		c = bySize
	}
	words := fmt.Sprintf("Against wind-tunnel measurements of %d small propellers known by %s, thrust at rest is off by %g %% (median; %g %% at the 90th percentile) "+
		"and power by %g %% (%g %%), in axial flight by %g %% (%g %%) and %g %% (%g %%), without calibration.",
		c.Propellers, c.Known, c.CT.Median, c.CT.Ninety, c.CP.Median, c.CP.Ninety, c.WindCT.Median, c.WindCT.Ninety, c.WindCP.Median, c.WindCP.Ninety)
	if len(s.Model.Assume.Measured) > 0 {
		k := calibrated
		words += fmt.Sprintf(" Of propellers measured at one point at rest, as some of this study are, thrust at rest is off by %g %% (%g %%) and power by %g %% (%g %%).",
			k.CT.Median, k.CT.Ninety, k.CP.Median, k.CP.Ninety)
	}
	return words + " " + scatter + " Close ranks are therefore a hint, not a finding."
}

// limit is one limit of the model's validity.
type limit struct {
	What  string
	Range string
}

// limits lists where the model has been compared with measurements or its
// regressions derived.
func limits() []limit {
	span := func(b model.Bound, u unit.Unit) string {
		return u.Number(b.Min, 6) + " to " + u.Format(b.Max, 6)
	}
	mm := unit.Length.Unit("mm")
	return []limit{
		{"Propeller diameter", span(model.ValidDiameter, inch)},
		{"All-up weight", span(model.ValidMass, unit.Mass.Unit("kg"))},
		{"Air and pack temperature", span(model.ValidTemperature, celsi)},
		{"Stator diameter", span(model.Bound{Min: motor.MinDiameter, Max: motor.MaxDiameter}, mm)},
		{"Stator height", span(model.Bound{Min: motor.MinHeight, Max: motor.MaxHeight}, mm)},
		{"Full-throttle tip Mach number", fmt.Sprintf("up to %g", model.ValidTipMach)},
		{"Controller rating per motor", fmt.Sprintf("%g to %g A", motor.MinRating, motor.MaxRating)},
	}
}
