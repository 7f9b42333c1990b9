// Package field says how the errors of a model of small parts go together: a
// Gaussian random field over propellers, in a fixed finite basis, and what
// measurements of some say of others, the conditional of such a field.
//
// The field is of unit variance: a caller scales it by the standard deviation of
// what errs. It has two parts. The family part, Share of the variance, varies
// slowly over ln D, P/D and the logarithm of the number of blades: propellers
// near each other err together. The specimen part, the rest, is the propeller's
// own: it is carried only to propellers that could be the same but for rounding.
package field

import "math"

// Constants of the field, each with what it rests on. Lengths are those of
// exp(-d²/2). Estimated here from the errors of static CT and CP of the generic
// blade on the wind-tunnel data of package rotor, from one propeller to another, by
// least absolute errors, a series weighing the root of its members;
// rotor.TestFieldLearnt recomputes them. DEVELOPERS.md has what they gain.
const (
	// SeriesShare is the share of a propeller's error that another of its series
	// has as well, in the limit of no distance: between 0.5 and 1 at one standard
	// error of a jackknife over series.
	SeriesShare = 0.7
	// OtherShare is that for a propeller of another series: none, within 0.1.
	OtherShare = 0
	// sameSeries is how likely the propeller that is built is of the series that was
	// measured: chosen here, as a study does not say the series.
	sameSeries = 0.86
	// Share is the variance of the family part: what is carried to a neighbour of
	// which nobody knows the series. It helps within a series and harms across series.
	Share = sameSeries*SeriesShare + (1-sameSeries)*OtherShare

	// LengthDiameter is that over ln D, and LengthPitch that over P/D: between 0.25
	// and 2, and between 0.2 and 1, at one standard error, so that more is known of
	// neither than their order.
	LengthDiameter = 0.5
	LengthPitch    = 0.35
	// LengthBlades is that over ln B: a blade and a bit at three, chosen here. Three series
	// were measured with several numbers of blades, too few to estimate it.
	LengthBlades = 0.4

	// Those of the specimen part: names of propellers are rounded by as much.
	specimenDiameter = 0.05
	specimenPitch    = 0.05
	specimenChord    = 0.10 // over the logarithm of the chord
)

// Point is a propeller as the field sees it.
type Point struct{ size, pitch, blades, chord float64 }

// At is the point of a propeller of a diameter and pitch in m, with blades whose
// chord is breadth times the usual one.
func At(diameter, pitch float64, blades int, breadth float64) Point {
	return Point{math.Log(diameter), pitch / diameter, math.Log(float64(blades)), math.Log(breadth)}
}

// Covariance is that of the field at two points; 1 where they are one.
func Covariance(a, b Point) float64 {
	if a == b {
		return 1
	}
	return Share*Family(a, b) + (1-Share)*specimen(a, b)
}

// Family is the correlation of the family part at two points, from its basis.
func Family(a, b Point) (sum float64) {
	x, y := Modes(a), Modes(b)
	for i := range x {
		sum += x[i] * y[i]
	}
	return sum
}

// specimen is the correlation of the specimen part.
func specimen(a, b Point) float64 {
	if a.blades != b.blades {
		return 0
	}
	return bell((a.size-b.size)/specimenDiameter) * bell((a.pitch-b.pitch)/specimenPitch) *
		bell((a.chord-b.chord)/specimenChord)
}

func bell(x float64) float64 { return math.Exp(-x * x / 2) }
