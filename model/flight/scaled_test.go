package flight

import (
	"math"
	"math/rand/v2"
	"testing"
)

// A scaled propulsor is the same as one whose forces are scaled at every speed: at rest,
// for what it holds, and in the trim; and a scale of nothing changes no bit.
func TestScaledAtRest(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(21, 22))
	for range 20 {
		p, _ := anyPropulsor(t, r)
		if same := p.Scaled(Scale{1, 1, 1}, p.Installed); same.thrust != p.thrust || same.hold.per != p.hold.per {
			t.Fatal("a scale of nothing changes the propulsor")
		}
		s := Scale{CT: math.Exp(0.15 * r.NormFloat64()), CP: math.Exp(0.2 * r.NormFloat64()),
			Density: math.Exp(0.03 * r.NormFloat64())}
		q := p.Scaled(s, p.Installed*0.97)
		for range 20 {
			n := p.nMin + (p.nMax-p.nMin)*(0.1+0.85*r.Float64())
			T0, Q0 := p.static(n)
			T, Q := q.static(n)
			if math.Abs(T/(T0*s.CT*s.Density*0.97)-1) > 1e-12 || math.Abs(Q/(Q0*s.CP*s.Density)-1) > 1e-12 {
				t.Fatalf("at %g rev/s %g N and %g N m, unscaled %g and %g, scale %+v", n, T, Q, T0, Q0, s)
			}
			at, torque, ok := q.Hold(T)
			if !ok || math.Abs(at/n-1) > 1e-9 || math.Abs(torque/Q-1) > 1e-9 {
				t.Errorf("%g N are held at %g rev/s and %g N m, want %g and %g", T, at, torque, n, Q)
			}
		}
	}
}

// What is read from the envelope of a scaled propeller and another body is the trim
// itself, for scales and bodies as they are drawn.
func TestScaledEnvelope(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(31, 32))
	var sum, worst float64
	n := 0
	for range 25 {
		p, D := anyPropulsor(t, r)
		lightest := 0.1 * math.Pow(D/0.127, 2.3)
		all := NewEnvelopes(&nominal, &p, NewEnvelope(&nominal, &p, lightest, Hull{}), lightest, Hull{})
		for range 20 {
			s := Scale{CT: math.Exp(0.13 * r.NormFloat64()), CP: math.Exp(0.16 * r.NormFloat64()),
				Density: math.Exp(0.03 * r.NormFloat64())}
			by := nominal
			by.BodyDrag *= math.Exp(0.4 * r.NormFloat64())
			by.Broadside *= math.Exp(0.4 * r.NormFloat64())
			q := p.Scaled(s, p.Installed)
			e := all.Scaled(s, &by, Hull{})
			x, ok := anyCraft(t, r, &q, D)
			if !ok {
				continue
			}
			var f Flight
			if x.Fly(&f, e, &x.full, x.mass, &x.h, math.Pi/2); !f.OK {
				continue
			}
			for _, at := range []Cruise{f.Endurance, f.Range, f.Top} {
				if at.Airspeed == 0 {
					continue
				}
				trim, ok := q.Level(x.mass*Gravity, by.Body(x.mass, Hull{}), at.Airspeed)
				if !ok {
					t.Errorf("no trim at %g m/s", at.Airspeed)
					continue
				}
				off := at.Shaft/trim.Rotor.Power - 1
				n++
				sum += off * off
				worst = math.Max(worst, math.Abs(off))
			}
		}
	}
	rms := math.Sqrt(sum / float64(n))
	t.Logf("%d points, %.2g %% of shaft power (rms), worst %.2g %%", n, 100*rms, 100*worst)
	if n < 400 || rms > 0.015 || worst > 0.2 {
		t.Errorf("%d points, off by %.2g %% of shaft power, at most %.2g %%", n, 100*rms, 100*worst)
	}
}

func BenchmarkScaled(b *testing.B) {
	p := propulsor(b, 0.127)
	s := Scale{1.1, 0.9, 1.02}
	for b.Loop() {
		p.Scaled(s, 0.95)
	}
}

func BenchmarkScaledEnvelope(b *testing.B) {
	p := propulsor(b, 0.127)
	all := NewEnvelopes(&nominal, &p, NewEnvelope(&nominal, &p, 0.15, Hull{}), 0.15, Hull{})
	s := Scale{1.1, 0.9, 1.02}
	for b.Loop() {
		all.Scaled(s, &nominal, Hull{})
	}
}
