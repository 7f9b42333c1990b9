package frame

import (
	"math"
	"testing"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.6g, want %.6g within %g", what, got, want, tol)
	}
}

// stress is the greatest in Pa of an arm bent by a force in N at its tip, its moment
// over the section modulus.
func stress(a Arm, force float64) float64 {
	return force * a.Length / (2 * a.inertia() / a.Thickness)
}

// deflection is that of the tip in m.
func deflection(a Arm, force float64) float64 {
	return force * math.Pow(a.Length, 3) / (3 * nominal.Modulus * a.inertia())
}

// Beams worked by hand from Timoshenko's formulas.
func TestArm(t *testing.T) {
	a := Arm{density: nominal.Density, modulus: nominal.Modulus, Width: 0.012, Thickness: 0.005, Length: 0.085}
	near(t, "first bending, 12 x 5 x 85 mm, 38 g", a.Frequency(0.038), 139.2, 0.05)
	near(t, "stress under 14 N", stress(a, 14), 23.8e6, 0.05e6)
	near(t, "deflection under 14 N", deflection(a, 14), 0.459e-3, 0.001e-3)
	b := Arm{density: nominal.Density, modulus: nominal.Modulus, Width: 0.018, Thickness: 0.006, Length: 0.130}
	near(t, "first bending, 18 x 6 x 130 mm, 55 g", b.Frequency(0.055), 96.5, 0.05)
}

func TestSizedArm(t *testing.T) {
	const D = 0.127
	a := nominal.StrongArm(D, 0.2, 80)
	near(t, "stress at the force it is sized for", stress(a, 80), nominal.Stress, 1)
	for _, f := range []float64{60, 150, 400} {
		near(t, "first bending asked for", a.Stiffened(0.038, f).Frequency(0.038), f, 1e-8*f)
	}
	// The regression's arm of a five-inch is about the 12 x 5 mm that is common.
	u := nominal.UsualArm(D, 0.2, nominal.Mass(D, 1))
	if u.Thickness < 4e-3 || u.Thickness > 6e-3 {
		t.Errorf("arm of a usual five-inch frame is %.3g m thick, want 4 to 6 mm", u.Thickness)
	}
	near(t, "mass of a usual frame", nominal.BodyMass(D, 1)+Rotors*u.Mass(), nominal.Mass(D, 1), 1e-12)
}
