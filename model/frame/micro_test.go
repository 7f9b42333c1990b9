package frame

import (
	"math"
	"testing"
)

// From 3 in up micro craft change nothing, to the last bit; at 2 in masses are those of
// common practice, and arms as thick as the plates that they are cut from; between, masses
// grow with the size without step or kink.
func TestMicro(t *testing.T) {
	factor, scale := 1.3, 5.0e-3
	for _, D := range []float64{3, 3.5, 5, 12} {
		if got, want := nominal.Mass(D*inch, factor), factor*scale*math.Pow(D*inch/inch, 1.78); got != want {
			t.Errorf("frame of %g in: %v kg, want %v", D, got, want)
		}
		if got, want := nominal.HardwareMass(D*inch), 3e-3+1.5e-3*(D*inch)/inch; got != want {
			t.Errorf("hardware of %g in: %v kg, want %v", D, got, want)
		}
	}
	for _, x := range []struct {
		what          string
		grams, lo, hi float64
	}{
		{"frame of 2 in", 1e3 * nominal.Mass(2*inch, 1), 5, 8},
		{"hardware of 2 in", 1e3 * nominal.HardwareMass(2*inch), 1.5, 2.5},
		{"wiring of 2 in, 12 A", 1e3 * nominal.WiringMass(2*inch, 12), 0.8, 2.5},
		{"arm of 2 in, thickness in mm", 1e3 * nominal.UsualArm(2*inch, 0.2, nominal.Mass(2*inch, 1)).Thickness, 2, 4},
	} {
		if !(x.grams >= x.lo && x.grams <= x.hi) {
			t.Errorf("%s: %.3g, common practice %g to %g", x.what, x.grams, x.lo, x.hi)
		}
	}
	const step = 1e-4 // of the diameter
	frame := func(D float64) float64 { return nominal.Mass(D, 1) }
	for _, mass := range []func(float64) float64{frame, nominal.HardwareMass} {
		exponent := func(D float64) float64 { return math.Log(mass(D*(1+step))/mass(D)) / math.Log1p(step) }
		last := exponent(2 * inch)
		for D := 2 * inch; D < 3.2*inch; D *= 1 + step {
			e := exponent(D)
			if !(e > 0) || math.Abs(e-last) > 0.01 {
				t.Errorf("at %.4g in mass goes with the power %.4g of the size, just below with %.4g", D/inch, e, last)
			}
			last = e
		}
	}
}
