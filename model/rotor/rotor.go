// Package rotor computes thrust and power of a small propeller from its
// diameter, number of blades and blade shape, by blade-element momentum
// theory, and keeps them in a table that is fast to look up.
//
// Angles are in radians, speeds of rotation n in rev/s, lengths in metres.
// The coefficients are those of propellers:
//
//	J = V/(n D),  CT = T/(rho n² D⁴),  CP = P/(rho n³ D⁵)
//
// The way in is Geometry, with a Blade from Generic or ReadBlade; New for a Solver;
// NewTable. Propellers of 2 to 19 in were measured against it, at tip Mach
// numbers to 0.41; DEVELOPERS.md has the errors. It leaves out noise, flutter, ice,
// neighbouring rotors, and descent into the rotor's own wake.
package rotor

import (
	"fmt"
	"math"

	"rotorsieve/model/air"
)

// Geometry is the shape of a rotor.
type Geometry struct {
	Diameter   float64 // m, 0.02 to 1
	Blades     int     // 2 to 8
	Blade      Blade
	Correction Correction // zero: none
}

// Correction moves a blade's shape and drag towards what was measured; see
// Calibrate. The zero value changes nothing.
type Correction struct {
	Pitch float64 // rad, added to the pitch angle
	Drag  float64 // relative change of the section drag, 0.1 for 10 % more
	Chord float64 // relative change of the chord
}

func (g Geometry) check() error {
	if !(g.Diameter >= 0.02 && g.Diameter <= 1) {
		return fmt.Errorf("rotor: diameter %g m: want 0.02 to 1 m", g.Diameter)
	}
	if g.Blades < 2 || g.Blades > 8 {
		return fmt.Errorf("rotor: %d blades: want 2 to 8", g.Blades)
	}
	if g.Blade.shape == nil {
		return fmt.Errorf("rotor: no blade shape: want one from Generic or ReadBlade")
	}
	c := g.Correction
	if !(math.Abs(c.Pitch) <= 15*deg && c.Drag >= -0.9 && c.Drag <= 5 && c.Chord >= -0.6 && c.Chord <= 2) {
		return fmt.Errorf("rotor: correction of pitch %+.3g°, drag %+.3g %%, chord %+.3g %%: want within 15°, -90 to "+
			"500 %% and -60 to 200 %%",
			c.Pitch/deg, 100*c.Drag, 100*c.Chord)
	}
	return nil
}

// Eta returns the efficiency of a propeller in axial flight, J CT/CP. It is 0
// at J = 0.
func Eta(J, CT, CP float64) float64 { return J * CT / CP }

// TipSpeed returns the speed of the blade tips in m/s, pi n D.
func TipSpeed(diameter, n float64) float64 { return math.Pi * diameter * n }

// TipMach returns the Mach number of the blade tips at n rev/s, without the
// speed of flight.
func (s *Solver) TipMach(n float64) float64 {
	return TipSpeed(s.geometry.Diameter, n) / s.air.SoundSpeed
}

// Reynolds returns the Reynolds number of the section at 75 % radius at n
// rev/s, without the speed of flight: that by which propellers are compared.
func (s *Solver) Reynolds(n float64) float64 {
	D := s.geometry.Diameter
	c, _ := s.geometry.Blade.At(0.75)
	c *= (1 + s.geometry.Correction.Chord) * D / 2
	return s.air.Density * 0.75 * TipSpeed(D, n) * c / s.air.Viscosity
}

// Geometry returns the rotor the solver was made for.
func (s *Solver) Geometry() Geometry { return s.geometry }

// Air returns the air the solver was made for.
func (s *Solver) Air() air.Air { return s.air }
