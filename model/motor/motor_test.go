package motor

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

// stated is a motor of known constants and a fixed idle current, as in the
// definition of the first-order model.
func stated(kv, r, idle float64) Motor {
	kt := torqueConstant(kv)
	return Motor{Kt: kt, R: r, still: idle * kt}
}

// The definition of the first-order model: Q = Kt (I - I0), n = KV (V - I R).
// Drela, First-Order DC Electric Motor Model, MIT 2007 (from memory).
func TestFirstOrder(t *testing.T) {
	for _, c := range []struct {
		kv, r, idle, volts, amps        float64
		torque, rpm, shaft, eta, torTol float64
	}{
		{1750, 0.060, 1.2, 22.2, 10, 0.04802, 37800, 190.1, 0.8562, 5e-6},
		{920, 0.120, 0.5, 11.1, 8, 0.07785, 9329, 76.05, 0.8564, 5e-6},
	} {
		m := stated(c.kv, c.r, c.idle)
		n := c.rpm / 60
		near(t, "current", m.Current(c.torque, n), c.amps, 2e-3)
		near(t, "voltage", m.Voltage(c.amps, n), c.volts, 2e-3)
		q := m.Kt*c.amps - m.LossTorque(n)
		near(t, "torque", q, c.torque, c.torTol)
		shaft := 2 * math.Pi * n * q
		near(t, "shaft power", shaft, c.shaft, 0.05)
		near(t, "efficiency", shaft/(c.volts*c.amps), c.eta, 1e-4)
	}
	near(t, "Kt of KV 1750", torqueConstant(1750), 5.4567e-3, 5e-8)
}

// The best efficiency of a motor at a voltage is at I* = sqrt(V I0/R) (Drela,
// as above).
func TestBestEfficiency(t *testing.T) {
	m := stated(1750, 0.060, 1.2)
	const volts = 22.2
	best, at := 0.0, 0.0
	for i := 1.3; i < 100; i += 0.001 {
		n := (volts - i*m.R) / (2 * math.Pi * m.Kt)
		if eta := 2 * math.Pi * n * (m.Kt*i - m.LossTorque(n)) / (volts * i); eta > best {
			best, at = eta, i
		}
	}
	near(t, "current of best efficiency", at, 21.07, 0.01)
	near(t, "best efficiency", best, 0.8893, 5e-5)
}

// Copper: a handbook coefficient of 0.00393/K about 20 degC.
func TestHot(t *testing.T) {
	near(t, "60 mohm at 100 degC", hot(0.060, 373.15), 0.07886, 5e-6)
}

// A hover point computed by hand from the loss law.
func TestHoverPoint(t *testing.T) {
	const mass, n, q = 0.033, 150.0, 0.021
	m := Motor{Kt: torqueConstant(1750), R: 0.060, Mass: mass, still: mass * nominal.LossStatic,
		drag: mass * nominal.LossSpeed * 60}
	i := m.Current(q, n)
	v := m.Voltage(i, n)
	near(t, "current", i, 4.515, 5e-4)
	near(t, "voltage", v, 5.414, 5e-4)
	near(t, "power", v*i, 24.44, 5e-3)
	near(t, "efficiency", 2*math.Pi*n*q/(v*i), 0.8097, 5e-5)
}

// R falls as KV^-2 on one stator, and a 2207 has about 33 g (typical value,
// from memory).
func TestStator(t *testing.T) {
	s := Stator{0.022, 0.007}
	cold := Use{Winding: copperReference, PulseRate: 48e3}
	a, b := New(s, 1000, cold), New(s, 2000, cold)
	near(t, "R(1000)/R(2000)", a.R/b.R, 4, 1e-12)
	near(t, "mass of a 2207", a.Mass, 0.033, 0.0005)
	near(t, "volume of a 2207", s.Volume(), 2.661e-6, 1e-9)
	if !s.InRange() || (Stator{0.031, 0.007}).InRange() {
		t.Error("Within does not follow the range of the regressions")
	}
	// Similarity: Km goes as volume^(5/6) for a stator of one shape, so that its
	// exponents add up to 2.5.
	near(t, "sum of Km's exponents", kmDiameter+kmHeight, 2.5, 0.03)
}

// What the terms under load cost, worked by hand for a 2207 of 1750 rpm/V.
func TestUnderLoad(t *testing.T) {
	m := New(Stator{0.022, 0.007}, 1750, Use{Winding: copperReference, PulseRate: 48e3})
	const n, i = 400.0, 20.0
	near(t, "Kt under load", m.Kt, 5.4567e-3/0.86, 1e-6)
	near(t, "reactance", m.Impedance(n)-m.R, 5e-6*5.4567e-3*5.4567e-3/2.6609e-6*n, 1e-6)
	q := m.Torque(i) - m.LossTorque(n)
	near(t, "current", m.Current(q, n), i, 1e-12*i)
	// The reactance stores: what enters is shaft, loss torque and copper.
	near(t, "power", m.Voltage(i, n)*i, 2*math.Pi*n*(q+m.LossTorque(n))+m.R*i*i, 1e-10)
	const h = 1e-6
	same, slope := m.CurrentSlope(q, n)
	near(t, "current with its slope", same, i, 1e-12*i)
	near(t, "slope of the current", slope, (m.Current(q+h, n)-m.Current(q-h, n))/(2*h), 1e-4)
	near(t, "slope of the voltage", m.VoltageSlope(i), (m.Voltage(i, n+h)-m.Voltage(i, n-h))/(2*h), 1e-6)

	// 3.9 2 pi T0' (22.2 x 1750/60)^2 4 (1/2)^2 (1/2)^2 (24/48)^2, T0' of 33 g.
	drag := 2.8e-6 * 60 * m.Mass
	want := 3.9 * 2 * math.Pi * drag * math.Pow(22.2*1750/60, 2) / 4 / 4
	near(t, "chopping at half duty", m.Chopping(11.1, 22.2), want, 1e-9*want)
	near(t, "chopping at full duty", m.Chopping(22.3, 22.2), 0, 0)
	slow := New(m.Stator, m.KV, Use{Winding: copperReference, PulseRate: 24e3})
	near(t, "chopping at half the pulse rate", slow.Chopping(11.1, 22.2)/want, 4, 1e-9)
	near(t, "switching at half the pulse rate", slow.Switching(1)/m.Switching(1), 0.5, 1e-12)
}

func TestController(t *testing.T) {
	for _, c := range []struct{ peak, rating float64 }{
		{1, 10}, {8.3, 10}, {8.4, 12}, {30, 45}, {66, 80}, {67, 100}, {90, 120},
	} {
		if got := nominal.ControllerFor(c.peak).Rating; got != c.rating {
			t.Errorf("ControllerFor(%g) is rated %g A, want %g", c.peak, got, c.rating)
		}
	}
	k := nominal.Rated(45)
	near(t, "resistance", k.R, 0.15/45, 1e-15)
	near(t, "board", nominal.BoardMass(Separate, k), 0.0148, 1e-12)
	near(t, "leads", k.Leads, 0.35/45, 1e-15)
	m := New(Stator{0.022, 0.007}, 1750, Use{Winding: copperReference, PulseRate: 48e3})
	near(t, "switching loss", 16*m.Switching(5), 0.192, 1e-12)
}
