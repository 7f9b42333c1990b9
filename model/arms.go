package model

import (
	"math"

	"rotorsieve/model/frame"
)

// frameMass is that of a frame in kg, as far as it follows from the diameter, corrected by
// Assumptions.Evidence.
func (m *Model) frameMass(diameter float64) float64 {
	if m.Assume.FrameBuild == frame.ByRegression {
		return m.wholeFrame(diameter)
	}
	k := m.Assume.FrameFactor
	if v := m.variation; v != nil {
		k *= v.factor(frameMass, v.shared.frame(diameter))
	}
	return m.parameters.Frame.BodyMass(diameter, k)
}

// wholeFrame is frameMass of a frame with its arms.
func (m *Model) wholeFrame(diameter float64) float64 {
	k := m.Assume.FrameFactor
	if v := m.variation; v != nil {
		k *= v.factor(frameMass, v.shared.frame(diameter))
	}
	mass := m.parameters.Frame.Mass(diameter, k)
	if m.variation == nil {
		mass *= m.Assume.Evidence.Frame(diameter).Value
	}
	return mass
}

// strongArm is the arm that bears the crash load of a craft whose mass in kg is
// known but for arms, payload, controller and wiring; the arms are taken as the usual
// ones. It grows with the mass, so that Bare does.
func (m *Model) strongArm(diameter, mass float64) frame.Arm {
	by := &m.parameters.Frame
	mass += by.Mass(diameter, m.Assume.FrameFactor) - by.BodyMass(diameter, m.Assume.FrameFactor)
	return by.StrongArm(diameter, m.Assume.Clearance, m.Assume.CrashLoad*mass*gravity)
}

// arm sizes the arms, and adds to the mass what keeps their first bending off the
// frequency of one turn in hover without payload.
func (m *Model) arm(t *Powertrain) {
	a, p := &m.Assume, t.Propeller
	if !m.beams(&p.Parts) {
		t.Arm = m.parameters.Frame.UsualArm(p.Diameter, p.clearance, p.Frame)
		return
	}
	without := a.Avionics + p.Frame + p.Blades + p.Hardware + rotors*t.Drive.Motor.Mass + t.Drive.Pack.Mass
	strong := m.strongArm(p.Diameter, without)
	t.Arm = strong
	rest := t.bare + t.electrical - rotors*strong.Mass()
	f := strong.Frequency(t.tip())
	n, _, ok := p.Hold((rest + rotors*strong.Mass()) * gravity / rotors)
	if !ok || f <= n/a.ArmDetuning || f >= n*a.ArmDetuning {
		return
	}
	// Heavier arms need a faster rotor, and that needs heavier arms.
	for range 30 {
		next := strong.Stiffened(t.tip(), n*a.ArmDetuning)
		done := math.Abs(next.Thickness-t.Arm.Thickness) <= 1e-10*next.Thickness
		t.Arm = next
		if n, _, ok = p.Hold((rest + rotors*next.Mass()) * gravity / rotors); !ok || done {
			break
		}
	}
	t.bare += math.Max(0, rotors*(t.Arm.Mass()-strong.Mass()))
}

// tip is the mass at the end of an arm in kg: motor and propeller.
func (t *Powertrain) tip() float64 { return t.Drive.Motor.Mass + t.Propeller.Blades/rotors }

// installed is the share of the open propellers' thrust that is left on a craft.
func (m *Model) installed(clearance float64) float64 {
	return (1 - frame.ThrustPenalty(clearance)) * (1 - m.parameters.Frame.Download)
}
