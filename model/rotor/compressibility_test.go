package rotor

import (
	"math"
	"testing"
)

// The best efficiency of a thin blade falls by a few per cent at most from tip
// Mach 0.6 to 0.9 (Weick, Full-scale tests of metal propellers at high tip
// speeds, NACA Report 302, 1929). Reynolds number, which grows with the speed
// here but not there, is left out.
func TestEfficiencyAtHighTipSpeed(t *testing.T) {
	p := section
	p.nl, p.nd = 0, 0
	a := standard(t)
	for _, pitch := range []float64{0.5, 0.7, 1} {
		for _, D := range []float64{3 * inch, 10 * inch} {
			b, err := Generic(D, pitch*D, 2, 0)
			if err != nil {
				t.Fatal(err)
			}
			s, err := newSolver(Geometry{Diameter: D, Blades: 2, Blade: b}, a, &p)
			if err != nil {
				t.Fatal(err)
			}
			best := func(M float64) (eta float64) {
				for J := 0.3 * pitch; J < 1.2*pitch; J += 0.01 * pitch {
					pt, err := s.Solve(J, M*a.SoundSpeed/(math.Pi*D))
					if err != nil {
						t.Fatal(err)
					}
					if pt.CT > 0 {
						eta = max(eta, Eta(J, pt.CT, pt.CP))
					}
				}
				return eta
			}
			if loss := 1 - best(0.9)/best(0.6); !(loss > 0 && loss < 0.05) {
				t.Errorf("pitch %.1f, %.3g m: best efficiency falls by %.1f %% from tip Mach 0.6 to 0.9, want 0 to 5 "+
					"%%", pitch, D, 100*loss)
			}
		}
	}
}

// The drag of a section rises steeply above Mach 0.9 and not at all below 0.7.
func TestDragRise(t *testing.T) {
	cd := func(M, alpha float64) float64 {
		f := section.at(reRef, M, 0.2)
		x := alpha*deg - section.alpha0
		l := section.lift(&f, x, math.Sin(x), math.Cos(x))
		return section.drag(&f, &l, math.Sin(x))
	}
	if r := cd(0.7, 0) / cd(0.3, 0); r > 1.2 {
		t.Errorf("drag grows by %.2f from Mach 0.3 to 0.7, want little", r)
	}
	rise := func(M float64) float64 { return section.rise.drag(M, 0.4) }
	if rise(0.7) != 0 {
		t.Errorf("drag rise %.4f at Mach 0.7, want none", rise(0.7))
	}
	if low, high := rise(0.9)-rise(0.85), rise(1)-rise(0.95); !(rise(0.9) > 0.5*section.cd0 &&
		rise(0.9) < 2*section.cd0 && high > 4*low) {
		t.Errorf("drag rise %.4f at Mach 0.9, by %.4f from 0.85 to 0.9 and %.4f from 0.95 to 1; want it to double "+
			"the drag at 0.9 and steepen", rise(0.9), low, high)
	}
	// More lift brings the rise forward.
	if a, b := section.rise.drag(0.8, 0.2), section.rise.drag(0.8, 0.8); !(b > a) {
		t.Errorf("drag rise at Mach 0.8: %.4f at cl 0.2, %.4f at 0.8", a, b)
	}
}

// From tip Mach 0.3 to 0.85 static CT and CP grow smoothly: their exponents
// with speed never jump, and rise.
func TestSmoothInTipSpeed(t *testing.T) {
	s, tb := fiveInch(t)
	const steps = 200
	D := s.Geometry().Diameter
	at := func(i int) (lnCT, lnCP float64) {
		M := 0.3 * math.Pow(0.85/0.3, float64(i)/steps)
		n := M * s.Air().SoundSpeed / (math.Pi * D)
		p, err := s.Solve(0, n)
		if err != nil {
			t.Fatal(err)
		}
		if CT, CP := tb.Static(n); math.Abs(CT/p.CT-1) > 5e-4 || math.Abs(CP/p.CP-1) > 5e-4 {
			t.Errorf("tip Mach %.3f: table off by %.1e, %.1e", M, CT/p.CT-1, CP/p.CP-1)
		}
		return math.Log(p.CT), math.Log(p.CP)
	}
	h := math.Log(0.85/0.3) / steps
	T0, P0 := at(0)
	var eT, eP float64
	for i := 1; i <= steps; i++ {
		T1, P1 := at(i)
		a, b := (T1-T0)/h, (P1-P0)/h
		if a < 0 || a > 0.6 || b < -0.1 || b > 1.2 {
			t.Errorf("step %d: CT grows with speed to the power %.3f, CP %.3f", i, a, b)
		}
		if i > 1 && (math.Abs(a-eT) > 0.02 || math.Abs(b-eP) > 0.03) {
			t.Errorf("step %d: exponents of CT and CP jump from %.3f, %.3f to %.3f, %.3f", i, eT, eP, a, b)
		}
		T0, P0, eT, eP = T1, P1, a, b
	}
}
