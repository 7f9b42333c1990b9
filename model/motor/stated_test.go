package motor

import (
	"math"
	"strings"
	"testing"
)

// What is stated holds: a mass with what New takes from it, a resistance at 20 degC,
// and a current that the motor draws without a propeller, whose torque and voltage
// are those of the chain in the comment of Motor.
func TestStating(t *testing.T) {
	t.Parallel()
	use := Use{Winding: 353.15, PulseRate: 24e3}
	plain := New(Stator{0.022, 0.007}, 1750, use)
	m, err := plain.Stating(Stated{Mass: 0.040})
	if err != nil {
		t.Fatal(err)
	}
	f := 0.040 / plain.Mass
	near(t, "mass", m.Mass, 0.040, 1e-12)
	near(t, "loss torque", m.LossTorque(400), 0.040*(0.085+2.8e-6*60*400), 1e-9)
	near(t, "chopping", m.Chopping(10, 20)/plain.Chopping(10, 20), f, 1e-12)
	near(t, "surface", m.Conductance(12)/plain.Conductance(12), math.Cbrt(f*f), 1e-9)
	h := Heat{Current: 20, Speed: 300, Air: 293.15} // nothing cools: P t = C (T - T0), in the first moment
	const dt = 1e-3
	P := 400*plain.r20 + 2*math.Pi*300*m.LossTorque(300)
	near(t, "heat capacity", P*dt/(m.After(h, 293.15, dt)-293.15), 480*0.040, 1e-3)

	m, err = plain.Stating(Stated{Resistance: 0.060})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "cold winding", m.ColdResistance(), 0.060, 1e-15)
	near(t, "winding at 80 degC", m.R, 0.060*(1+0.00393*60), 1e-12)
	near(t, "loss torque of another winding", m.LossTorque(400), plain.LossTorque(400), 0)

	for _, c := range []Stated{
		{IdleCurrent: 0.8, IdleVoltage: 10},
		{IdleCurrent: 1.5, IdleVoltage: 24, Resistance: 0.050, Mass: 0.030},
	} {
		m, err := New(Stator{0.022, 0.007}, 1750, Use{Winding: 293.15, PulseRate: 24e3}).Stating(c)
		if err != nil {
			t.Fatal(err)
		}
		// The speed at which the motor alone takes all of the voltage, by bisection.
		lo, hi := 0.0, 2000.0
		for range 100 {
			if n := (lo + hi) / 2; m.Voltage(m.Current(0, n), n) < c.IdleVoltage {
				lo = n
			} else {
				hi = n
			}
		}
		near(t, "idle current", m.Current(0, lo), c.IdleCurrent, 1e-9)
	}
	for _, c := range []struct {
		s    Stated
		want string
	}{
		{Stated{IdleCurrent: 300, IdleVoltage: 10}, "300 A at 10 V do not turn a motor of"},
		{Stated{Mass: 0.003}, "3 g, but the model has 33.1 g for this stator: want 11 to 99.2 g"},
		{Stated{Mass: 0.100}, "100 g, but the model has 33.1 g for this stator: want 11 to 99.2 g"},
		{Stated{Resistance: 5}, "5000 mohm, but the model has "},
		{Stated{Resistance: 0.005}, "5 mohm, but the model has "},
		{Stated{IdleCurrent: 20, IdleVoltage: 10}, "times the usual loss torque, want 0.2 to 5 times"},
	} {
		if _, err := plain.Stating(c.s); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%+v: error %v, want %q in it", c.s, err, c.want)
		}
	}
}

// A scale changes what it names and nothing else.
func TestScaled(t *testing.T) {
	t.Parallel()
	plain := New(Stator{0.022, 0.007}, 1750, Use{Winding: 333.15, PulseRate: 24e3})
	if plain.Scaled(NoScale) != plain {
		t.Error("a scale of nothing changes something")
	}
	m := plain.Scaled(Scale{KV: 1.1, Resistance: 1.2, Loss: 1.3, Chopping: 1.4, Mass: 1, Cooling: 1})
	near(t, "KV", m.EffectiveKV()/plain.EffectiveKV(), 1.1, 1e-12)
	near(t, "resistance", m.R/plain.R, 1.2, 1e-12)
	near(t, "loss", m.LossTorque(300)/plain.LossTorque(300), 1.3, 1e-12)
	near(t, "loss slope", m.LossSlope()/plain.LossSlope(), 1.3, 1e-12)
	near(t, "chopping", m.Chopping(5, 10)/plain.Chopping(5, 10), 1.4, 1e-12)
	near(t, "reactance", m.reactance, plain.reactance, 0)
	near(t, "cooling", m.cooling, plain.cooling, 0)
}

// The temperature after a time against small steps of the heat balance, and as the
// inverse of the time to reach it.
func TestAfter(t *testing.T) {
	t.Parallel()
	m := New(Stator{0.022, 0.007}, 1750, Use{Winding: 333.15, PulseRate: 48e3})
	for _, h := range []Heat{
		{Current: 28, Speed: 400, Air: 308.15, Conductance: m.Conductance(20), Chopping: 3},
		{Current: 9, Speed: 200, Air: 293.15, Conductance: m.Conductance(8), Chopping: 8},
		{Current: 60, Speed: 500, Air: 293.15, Conductance: 0.1}, // runs away
	} {
		const dt = 1e-4
		T, x := h.Air, h.Air
		for range 100000 {
			loss := h.Current*h.Current*hot(m.r20, x) + 2*math.Pi*h.Speed*m.LossTorque(h.Speed) + h.Chopping
			x += dt * (loss - h.Conductance*(x-h.Air)) / (nominal.Heat * m.Mass)
		}
		got := m.After(h, T, 10)
		near(t, "after 10 s", got, min(x, Hottest), 1e-4*(x-T))
		if got < Hottest {
			near(t, "time to reach it", m.Reach(h, T, got), 10, 1e-6)
		}
	}
	h := Heat{Current: 9, Speed: 200, Air: 293.15, Conductance: m.Conductance(8)}
	near(t, "after very long", m.After(h, 293.15, 1e5), m.Steady(h), 1e-6)
	near(t, "at once", m.After(h, 300, 0), 300, 0)
}
