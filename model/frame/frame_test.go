package frame

import (
	"math"
	"testing"
)

var nominal = Nominal()

func TestMasses(t *testing.T) {
	const in = 0.0254
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"wheelbase of a five-inch, clearance 0.2", Wheelbase(5*in, 0.2), math.Sqrt2 * 0.1524},
		{"frame of a five-inch", nominal.Mass(5*in, 1), 5e-3 * math.Pow(5, 1.78)},
		{"freestyle frame", nominal.Mass(5*in, 1.3), 1.3 * nominal.Mass(5*in, 1)},
		{"two-blade five-inch propeller", nominal.PropellerMass(5*in, 2), 2.4955e-3},
		{"three-blade five-inch propeller", nominal.PropellerMass(5*in, 3), 1.6 * 2.4955e-3},
		{"thrust penalty, touching", ThrustPenalty(0.05), 0.02},
		{"thrust penalty, half way", ThrustPenalty(0.125), 0.01},
		{"thrust penalty, far", ThrustPenalty(0.3), 0},
	} {
		if math.Abs(c.got-c.want) > 1e-9 {
			t.Errorf("%s = %g, want %g", c.what, c.got, c.want)
		}
	}
	wiring := nominal.WiringMass(5*in, 45)
	if !(wiring > nominal.WiringMass(5*in, 20) && nominal.WiringMass(7*in, 45) > wiring) {
		t.Error("wiring does not grow with current and size")
	}
}

// What the slipstream takes back against its derivation: arms over 7 % of a disc,
// of a drag coefficient of 1.2, in 1.4 times the induced velocity v of a rotor
// whose thrust is 2 rho A v^2.
func TestDownload(t *testing.T) {
	const rho, v, disc = 1.225, 7.0, 0.0127
	drag := 1.2 * 0.07 * disc * rho / 2 * math.Pow(1.4*v, 2)
	thrust := 2 * rho * disc * v * v
	if want := drag / thrust; math.Abs(nominal.Download-want) > 0.002 {
		t.Errorf("download of %g of the thrust, derived %.4g", nominal.Download, want)
	}
}
