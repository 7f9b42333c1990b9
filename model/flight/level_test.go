package flight

import (
	"math"
	"testing"
)

// Momentum theory for steady level flight of a body of constant drag area: Glauert, A general theory of the autogyro,
// 1926; Leishman, Principles of Helicopter Aerodynamics, 2006, sections 2.13 and 2.14.
func TestIdealTrim(t *testing.T) {
	const (
		W   = 0.65 * Gravity
		rho = 1.225
	)
	A := math.Pi * 0.127 * 0.127
	induced := func(T, Va, Vp float64) float64 {
		lo, hi := 0.0, 100.0
		for range 100 {
			if v := (lo + hi) / 2; 2*rho*A*v*math.Hypot(Vp, Va+v) < T {
				lo = v
			} else {
				hi = v
			}
		}
		return lo
	}
	b := Body{payload: 0.010}
	ideal := func(V float64) (tilt, power float64) {
		q := rho / 2 * V * V
		tilt = seek.Between(func(tilt float64) float64 {
			_, _, along := b.forces(W, q, tilt)
			return -along
		}, 0, math.Pi/2, q*0.010, -W)
		sin, cos := math.Sincos(tilt)
		_, T, _ := b.forces(W, q, tilt)
		return tilt, T * (V*sin + induced(T, V*sin, V*cos))
	}
	for _, c := range []struct{ V, tilt, power float64 }{{10, 5.489, 35.18}, {20, 21.02, 66.82}, {30, 40.85, 183.6}} {
		tilt, power := ideal(c.V)
		if tilt *= 180 / math.Pi; math.Abs(tilt-c.tilt) > 5e-3 || math.Abs(power-c.power) > 5e-4*c.power {
			t.Errorf("at %g m/s tilt %.5g deg and ideal power %.5g W, want %g and %g", c.V, tilt, power, c.tilt,
				c.power)
		}
	}
	least := func(f func(V float64) float64) (at float64) {
		best := math.Inf(1)
		for V := 5.0; V < 25; V += 0.005 {
			if x := f(V); x < best {
				best, at = x, V
			}
		}
		return at
	}
	if V := least(func(V float64) float64 { _, P := ideal(V); return P }); math.Abs(V-10.3) > 0.05 {
		t.Errorf("least power at %.4g m/s, want 10.3", V)
	}
	if V := least(func(V float64) float64 { _, P := ideal(V); return P / V }); math.Abs(V-14.6) > 0.05 {
		t.Errorf("best range at %.4g m/s, want 14.6", V)
	}
}

// The trim balances all forces, along and across the flight, and at rest is
// hover.
func TestTrimBalances(t *testing.T) {
	p := propulsor(t, 0.127)
	const W = 0.65 * Gravity
	b := nominal.Body(0.65, Hull{Payload: 0.002})
	for _, V := range []float64{0, 0.5, 3, 8, 15, 25, 35} {
		x, ok := p.Level(W, b, V)
		if !ok {
			t.Fatalf("no level flight at %g m/s", V)
		}
		sin, cos := math.Sincos(x.Tilt)
		T, H := 4*x.Rotor.Thrust*p.Installed, 4*x.Rotor.Drag
		D := p.Density / 2 * V * V * b.DragArea(x.Tilt)
		if up := T*cos + H*sin - W; math.Abs(up) > 1e-8*W {
			t.Errorf("at %g m/s %g N are left over upwards", V, up)
		}
		if along := T*sin - H*cos - D; math.Abs(along) > 1e-8*W {
			t.Errorf("at %g m/s %g N are left over forwards", V, along)
		}
		x, ok = p.Climb(W, b, V)
		if !ok {
			t.Fatalf("no climb at %g m/s", V)
		}
		if up := 4*x.Rotor.Thrust*p.Installed - W - p.Density/2*V*V*b.DragArea(math.Pi/2); math.Abs(up) > 1e-8*W {
			t.Errorf("climbing at %g m/s %g N are left over", V, up)
		}
	}
	d := drive(t, 1750, 6, 1100)
	h := d.Hover(&p, rated, W/4)
	x, _ := p.Level(W, b, 0)
	if math.Abs(x.Rotor.N-h.Speed) > 1e-9*h.Speed || math.Abs(x.Torque()-h.Torque) > 1e-9*h.Torque {
		t.Errorf("level flight at rest turns at %g rev/s, hover at %g", x.Rotor.N, h.Speed)
	}
	if _, ok := p.Level(1e3, b, 5); ok {
		t.Error("a five-inch craft carried 100 kg")
	}
}

func BenchmarkLevel(b *testing.B) {
	p := propulsor(b, 0.127)
	body := nominal.Body(0.65, Hull{})
	b.ReportAllocs()
	for b.Loop() {
		p.Level(0.65*Gravity, body, 15)
	}
}

// The drag area is what its formula says, CdA = 0.0125 m^(2/3) (cos tilt + 2.5 sin
// tilt) + payload: level, on edge and between, of bodies of one shape.
func TestDragArea(t *testing.T) {
	for _, x := range []struct{ mass, payload, tilt, want float64 }{
		{1, 0, 0, 0.0125},
		{1, 0, math.Pi / 2, 0.03125},
		{1, 0, math.Pi / 4, 0.0309359},
		{1, 0, math.Atan(2.5), 0.0336573}, // the most: sqrt(1 + 2.5^2)
		{8, 0, 0, 0.05},
		{0.65, 0, 0, 0.0093793},
		{0.65, 0.002, math.Pi / 2, 0.0254482},
	} {
		b := nominal.Body(x.mass, Hull{Payload: x.payload})
		if got := b.DragArea(x.tilt); math.Abs(got-x.want) > 1e-6 {
			t.Errorf("%g kg with %g m2 of payload at %g rad: %.7g m2, want %.7g", x.mass, x.payload, x.tilt, got,
				x.want)
		}
	}
}
