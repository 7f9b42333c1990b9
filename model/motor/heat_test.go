package motor

import (
	"math"
	"testing"
)

// Values worked by hand from the heat balance, copper loss only: 60 mohm at
// 20 degC, 0.3 W/K, air of 25 degC.
func TestHeat(t *testing.T) {
	m := Motor{r20: 0.060, Mass: 0.033, heat: nominal.Heat}
	at := func(amps float64) Heat { return Heat{Current: amps, Air: 298.15, Conductance: 0.3} }
	near(t, "steady at 15 A", m.Steady(at(15))-273.15, 80.7, 0.05)
	near(t, "steady at 16.9 A", m.Steady(at(16.9))-273.15, 100, 0.2)
	for _, c := range []struct {
		amps float64
		runs bool
	}{{35.6, false}, {35.75, true}} {
		if got := m.Runaway(at(c.amps)); got != c.runs {
			t.Errorf("runaway at %g A: %v", c.amps, got)
		}
	}
	if T := m.Steady(at(40)); T != Hottest {
		t.Errorf("a motor that runs away comes to %g K", T)
	}
	near(t, "40 A from 40 to 120 degC", m.Reach(at(40), 313.15, 393.15), 12.4, 0.05)
	if s := m.Reach(at(15), 313.15, 393.15); s != Longest {
		t.Errorf("15 A never reach 120 degC, but did in %g s", s)
	}
	if s := m.Reach(at(15), 400, 393.15); s != 0 {
		t.Errorf("a hot motor has %g s left", s)
	}
}

// The closed forms against small steps of the heat balance, with idle losses.
func TestHeatAgainstSteps(t *testing.T) {
	m := New(Stator{0.022, 0.007}, 1750, Use{Winding: 333.15, PulseRate: 48e3})
	h := Heat{Current: 28, Speed: 400, Air: 308.15, Conductance: m.Conductance(20 * 1.225)}
	const dt = 1e-4
	T, s := 320.0, 0.0
	for T < 380 {
		loss := h.Current*h.Current*hot(m.r20, T) + 2*math.Pi*h.Speed*m.LossTorque(h.Speed)
		T += dt * (loss - h.Conductance*(T-h.Air)) / (nominal.Heat * m.Mass)
		s += dt
	}
	near(t, "seconds to 380 K", m.Reach(h, 320, 380), s, 2e-3*s)
	h.Current = 10
	T = m.Steady(h)
	loss := h.Current*h.Current*hot(m.r20, T) + 2*math.Pi*h.Speed*m.LossTorque(h.Speed)
	near(t, "balance of the steady state", h.Conductance*(T-h.Air), loss, 1e-9*loss)
}

func TestConductance(t *testing.T) {
	m := New(Stator{0.022, 0.007}, 1750, Use{Winding: 333.15, PulseRate: 48e3})
	near(t, "2207 in 12 m/s", m.Conductance(12*1.225), 0.30*math.Pow(m.Mass/0.033, 2.0/3), 1e-6*m.cooling)
	near(t, "twice the wash", m.Conductance(24*1.225)/m.Conductance(12*1.225), math.Pow(2, 0.55), 2e-6)
}

// The table of the power stands for it, across its ends too.
func TestFluxPower(t *testing.T) {
	for i := range 4000 {
		x := 1e-3 * math.Pow(1e5, float64(i)/4000)
		if got, want := fluxPower(x), math.Pow(x, fluxExponent); !(math.Abs(got-want) <= 1e-6*want) {
			t.Errorf("%g^%g = %.10g, want %.10g", x, fluxExponent, got, want)
		}
	}
}
