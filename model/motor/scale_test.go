package motor

import (
	"math"
	"testing"
)

// A scale of ones changes no bit; each factor moves what it is of.
func TestScaled(t *testing.T) {
	m := New(Stator{0.022, 0.007}, 1750, 333.15)
	if m.Scaled(NoScale) != m {
		t.Error("no scale changes the motor")
	}
	if kv := m.EffectiveKV(); math.Abs(kv/1750-1) > 0.1 {
		t.Errorf("KV %g of a motor labelled 1750", kv)
	}
	s := m.Scaled(Scale{KV: 0.95, Resistance: 1.2, Loss: 1.5, Chopping: 1, Mass: 1.1})
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"KV", s.EffectiveKV() / m.EffectiveKV(), 0.95},
		{"resistance", s.R / m.R, 1.2},
		{"loss", s.LossTorque(300) / m.LossTorque(300), 1.5},
		{"mass", s.Mass / m.Mass, 1.1},
		{"cooling", s.Conductance(12) / m.Conductance(12), math.Pow(1.1, 2.0/3)},
	} {
		if math.Abs(c.got/c.want-1) > 1e-12 {
			t.Errorf("%s: times %g, want %g", c.what, c.got, c.want)
		}
	}
	// A current without load is that of its loss torque.
	n := 250.0
	i := m.Current(0, n)
	u := m.Voltage(i, n)
	if torque, at := m.IdleLoss(i, u); math.Abs(torque/m.LossTorque(n)-1) > 1e-9 || math.Abs(at/n-1) > 1e-9 {
		t.Errorf("loss torque %g at %g rev/s, want %g at %g", torque, at, m.LossTorque(n), n)
	}
}
