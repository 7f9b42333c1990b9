package model

import (
	"fmt"
	"math"

	"rotorsieve/model/rotor"
)

// Measured is what measurements at rest of one propeller say of those like it.
type Measured struct {
	Diameter, Pitch float64 // m
	Blades          int
	Chord           float64 // as in Design
	Points          int     // at rest
	Correction      rotor.Correction
}

// Calibrate corrects the generic blade of a propeller by its measurements at
// rest. The error says why the measurements cannot be of such a propeller.
func Calibrate(s rotor.Specimen) (Measured, error) {
	m := Measured{Diameter: s.Diameter, Pitch: s.Pitch, Blades: s.Blades, Chord: s.Chord}
	blade, err := rotor.Generic(s.Diameter, s.Pitch, s.Blades, s.Chord)
	if err != nil {
		return m, err
	}
	static := s.Static()
	m.Points = len(static)
	m.Correction, err = rotor.Calibrate(rotor.Geometry{Diameter: s.Diameter, Blades: s.Blades, Blade: blade}, s.Air, static)
	return m, err
}

// Which propellers a measured one speaks for, and how far.
const (
	likePitch    = 0.02 // pitch ratio, relative
	likeChord    = 0.10 // chord over the usual one of the diameter, relative
	sameDiameter = 0.01 // relative

	// CarryLimit is the factor in diameter, either way, to which a correction
	// carries. Beyond it is used and marked.
	CarryLimit = 1.25
)

const inch = 0.0254 // m

// Fit is the correction of a propeller, and the measured propeller it is from.
type Fit struct {
	From       *Measured // nil where none is like the propeller
	Ratio      float64   // of the larger diameter to the smaller
	Correction rotor.Correction
}

// FitOf finds the correction of a propeller of the series that was measured:
// that of the measured one with as many blades, the same pitch ratio to 2 %
// and a chord over the usual one equal to 10 % that is nearest in diameter. The
// size that was measured takes it whole, others the part that carries; see
// rotor.Correction.Carried.
func FitOf(all []Measured, diameter, pitch float64, blades int, chord float64) Fit {
	var f Fit
	for i := range all {
		m := &all[i]
		if m.Blades != blades || !alike(m.Pitch/m.Diameter, pitch/diameter, likePitch) ||
			!alike(breadth(m.Diameter, m.Chord), breadth(diameter, chord), likeChord) {
			continue
		}
		ratio := math.Max(m.Diameter/diameter, diameter/m.Diameter)
		if f.From == nil || ratio < f.Ratio {
			f = Fit{From: m, Ratio: ratio}
		}
	}
	switch {
	case f.From == nil:
	case f.Own():
		f.Correction = f.From.Correction
	default:
		f.Correction = f.From.Correction.Carried()
	}
	return f
}

// Own says whether the propeller is of the size that was measured, to 1 %.
func (f Fit) Own() bool { return f.From != nil && f.Ratio <= 1+sameDiameter }

// Carries says whether the measurements carry to the propeller.
func (f Fit) Carries() bool { return f.From != nil && f.Ratio <= CarryLimit*(1+1e-9) }

// String says what was corrected and by what: "pitch angle +1.2°, drag +15 %,
// chord +5 %, by 3 points at 5 in". It is "none" for no correction.
func (f Fit) String() string {
	if f.From == nil {
		return "none"
	}
	points := "points"
	if f.From.Points == 1 {
		points = "point"
	}
	c := f.Correction
	return fmt.Sprintf("pitch angle %+.1f°, drag %+.0f %%, chord %+.0f %%, by %d %s at %.4g in",
		c.Pitch*180/math.Pi, 100*c.Drag, 100*c.Chord, f.From.Points, points, f.From.Diameter/inch)
}

// breadth is a chord over the usual one of the diameter.
func breadth(diameter, chord float64) float64 {
	if chord == 0 {
		return 1
	}
	return chord / rotor.DefaultChord(diameter, 2)
}

// alike says whether two ratios are equal to a part of the larger.
func alike(a, b, part float64) bool {
	const rounding = 1e-9
	return math.Abs(a-b) <= (part+rounding)*math.Max(a, b)
}

// warning marks a propeller that measurements do not reach, in a model that has
// some; "" where they do.
func (f Fit) warning() string {
	switch {
	case f.From == nil:
		return "propeller is not corrected: none was measured with its blades, pitch ratio and chord"
	case !f.Carries():
		return fmt.Sprintf("propeller is corrected by measurements at %.4g in, a factor %.3g away: they carry to %g", f.From.Diameter/inch, f.Ratio, CarryLimit)
	}
	return ""
}
