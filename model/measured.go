package model

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/mat"

	"rotorsieve/model/field"
	"rotorsieve/model/rotor"
	"rotorsieve/model/unit"
)

// Measured is a propeller that was measured, and how its generic blade is
// corrected by that.
type Measured struct {
	Diameter, Pitch float64 // m
	Blades          int
	Chord           float64 // as in Design
	Points          int     // at rest
	Correction      rotor.Correction
	Place           string          // file:line of the first measurement; "" for none
	Specimen        *rotor.Specimen // what was measured; nil where only the correction is known

	estimate rotor.Estimate
}

// key names the propeller as records do: "5x4.3x3".
func (m *Measured) key() string {
	in := unit.Length.Unit("in")
	key := fmt.Sprintf("%sx%sx%d", in.Number(m.Diameter, 5), in.Number(m.Pitch, 5), m.Blades)
	if m.Chord != 0 {
		key += fmt.Sprintf(" chord %.3g", m.Chord)
	}
	return key
}

const inch = 0.0254 // m

// genericBlade is the generic blade of a propeller by the nominal parameters, which
// measurements are compared with.
func genericBlade(diameter, pitch float64, blades int, chord float64) (rotor.Blade, error) {
	return rotor.Generic(diameter, pitch, blades, chord)
}

// fieldPoint is where a propeller stands in the field of errors.
func fieldPoint(diameter, pitch float64, blades int, chord float64) field.Point {
	breadth := 1.0
	if chord != 0 {
		breadth = chord / rotor.DefaultChord(diameter, blades)
	}
	return field.At(diameter, pitch, blades, breadth)
}

// calibrate corrects the generic blade of a propeller by its measurements at
// rest. The error says why the measurements cannot be of such a propeller.
func calibrate(s *rotor.Specimen) (Measured, error) {
	m := Measured{Diameter: s.Diameter, Pitch: s.Pitch, Blades: s.Blades, Chord: s.Chord, Place: s.Place, Specimen: s}
	blade, err := genericBlade(s.Diameter, s.Pitch, s.Blades, s.Chord)
	if err != nil {
		return m, err
	}
	static := s.Static()
	m.Points = len(static)
	g := rotor.Geometry{Diameter: s.Diameter, Blades: s.Blades, Blade: blade}
	if m.estimate, err = rotor.Infer(g, s.Air, static); err != nil {
		return m, err
	}
	m.Correction = m.estimate.Correction
	return m, nil
}

// known is the estimate of a correction that is certain.
func (m *Measured) known() error {
	blade, err := genericBlade(m.Diameter, m.Pitch, m.Blades, m.Chord)
	if err != nil {
		return err
	}
	m.estimate = rotor.Estimate{Correction: m.Correction, Offset: blade.DeviationsOf(m.Correction)}
	for k := range m.estimate.Information {
		m.estimate.Information[k][k] = 1e10
	}
	return nil
}

// given is the estimate as the field takes it.
func (m *Measured) given() field.Given {
	e := &m.estimate
	w := mat.NewSymDense(rotor.Unknowns, nil)
	for i := range rotor.Unknowns {
		for j := i; j < rotor.Unknowns; j++ {
			w.SetSym(i, j, (e.Information[i][j]+e.Information[j][i])/2)
		}
	}
	return field.Given{Mean: e.Mean[:], Estimate: e.Offset[:], Information: w}
}

// mostApart is how many of their uncertainties two measurements of one thing may differ
// by.
const mostApart = 5

// Fit is what measurements say of a propeller.
type Fit struct {
	Correction rotor.Correction
	// Share is the correlation of what the propeller errs by with what was measured:
	// 1 for one that was measured itself, 0 where nothing is said. Of one measured
	// propeller alone, it is the share of its correction that is taken.
	Share float64
	From  *Measured // the measured propeller that says most; nil where Share is 0
	// Before and After are the standard deviations of thrust and power at rest, over
	// their values, without the measurements and with them.
	Before, After [2]float64

	nearness float64 // correlation with From
}

// LeastShare is the share below which a propeller is marked in a model with
// measurements. It is met by one propeller up to a factor of 1.5 in diameter or
// 0.3 in pitch ratio away.
const LeastShare = 0.4

// leastSaid is the share below which nothing is said: less than the accuracy to which any
// correction is known.
const leastSaid = 0.02

// Own says whether the propeller itself was measured, apart from rounding.
func (f Fit) Own() bool { return f.From != nil && f.nearness > 0.98 }

// String says what was corrected and by what: "pitch angle +1.2°, drag +15 %,
// chord +5 %, by 3 points of 5x4.3x3". It is "none" for no correction.
func (f Fit) String() string {
	if f.From == nil {
		return "none"
	}
	text := f.From.Said(f.Correction)
	if !f.Own() {
		text += fmt.Sprintf(" to a share of %.2g", f.Share)
	}
	return text
}

// Said says a correction by the propeller.
func (m *Measured) Said(c rotor.Correction) string {
	points := "points"
	if m.Points == 1 {
		points = "point"
	}
	return fmt.Sprintf("pitch angle %+.1f°, drag %+.0f %%, chord %+.0f %%, by %d %s of %s",
		c.Pitch*180/math.Pi, 100*c.Drag, 100*c.Chord, m.Points, points, m.key())
}

// learnt says what is known from the measurements of a propeller, in one line.
func (f Fit) learnt() string {
	said := []string{}
	for k, what := range []string{"thrust", "power"} {
		said = append(said, fmt.Sprintf("%s at rest ±%.2g %%, was ±%.2g %%", what, 100*f.After[k], 100*f.Before[k]))
	}
	return fmt.Sprintf("propeller %s: %s", f.From.key(), strings.Join(said, "; "))
}
