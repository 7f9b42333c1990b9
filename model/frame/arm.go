package frame

import "math"

// Build says where the mass of a frame comes from.
type Build int

// Builds.
const (
	ByRegression Build = iota // from the size of the propellers
	ByBeam                    // body by regression, arms by strength and stiffness
)

var builds = [...]string{"regression", "beam"}

// String names the build as its flag does.
func (b Build) String() string { return builds[b] }

// Arms are carbon-fibre plates, clamped at the body and loaded at the tip.
const (
	ownMass    = 0.2357 // share of the arm's mass that swings with the tip
	bodyRadius = 0.022  // m, from the centre to the clamps
	thinnest   = 1e-3   // m
)

// Arm is a plate that carries one motor.
type Arm struct {
	Width, Thickness, Length float64 // m

	density, modulus float64 // kg/m3, Pa
}

// Mass is that of one arm in kg.
func (a Arm) Mass() float64 { return a.density * a.Width * a.Thickness * a.Length }

// inertia is the second moment of area for bending up and down, w t^3/12, in m4.
func (a Arm) inertia() float64 { return a.Width * a.Thickness * a.Thickness * a.Thickness / 12 }

// Frequency is that of the first bending in Hz with a mass in kg at the tip
// (S.P. Timoshenko, Vibration Problems in Engineering, 1937, Rayleigh's method;
// from memory):
//
//	f = sqrt(3 E I/(L^3 (m_tip + 0.2357 m_arm)))/(2 pi)
func (a Arm) Frequency(tip float64) float64 {
	return math.Sqrt(3*a.modulus*a.inertia()/(a.Length*a.Length*a.Length*(tip+ownMass*a.Mass()))) / (2 * math.Pi)
}

// armOf gives the arm of a craft without its thickness: from the clamps of the
// body to the motor, a tenth of the diameter wide (common practice).
func (p *Parameters) armOf(diameter, clearance float64) Arm {
	return Arm{Width: p.Width * diameter, Length: Wheelbase(diameter, clearance)/2 - bodyRadius,
		density: p.Density, modulus: p.Modulus}
}

// StrongArm is the thinnest arm, from 1 mm up, that bears a force F in N at its
// tip: one whose greatest bending stress, 6 F L/(w t^2), is the strength at bolt holes.
func (p *Parameters) StrongArm(diameter, clearance, force float64) Arm {
	a := p.armOf(diameter, clearance)
	a.Thickness = math.Max(thinnest, math.Sqrt(6*force*a.Length/(a.Width*p.Stress)))
	return a
}

// Stiffened is the arm with the thickness that puts its first bending, with a mass
// in kg at the tip, at a frequency in Hz.
func (a Arm) Stiffened(tip, frequency float64) Arm {
	// f goes with t^1.5 but for the arm's own mass, which is small.
	for range 60 {
		next := a.Thickness * math.Pow(frequency/a.Frequency(tip), 2.0/3)
		if math.Abs(next-a.Thickness) <= 1e-12*next {
			break
		}
		a.Thickness = next
	}
	return a
}

// UsualArm is the arm of a frame whose mass in kg is the regression's.
func (p *Parameters) UsualArm(diameter, clearance, frame float64) Arm {
	a := p.armOf(diameter, clearance)
	a.Thickness = (1 - p.Body) * frame / Rotors / (p.Density * a.Width * a.Length)
	return a
}

// BodyMass is the mass in kg of a frame without its arms: plates and standoffs.
func (p *Parameters) BodyMass(diameter, factor float64) float64 {
	return p.Body * p.Mass(diameter, factor)
}
