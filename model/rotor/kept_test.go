package rotor

import (
	"bytes"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"rotorsieve/model/air"
)

// anySolver is a rotor of some blade, corrected, in some air.
func anySolver(t testing.TB, r *rand.Rand) *Solver {
	t.Helper()
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	D := between(0.04, 0.4)
	b, err := Generic(D, D*between(0.3, 1.2), 2+r.IntN(3), []float64{0, 0.12, 0.2}[r.IntN(3)])
	if err != nil {
		t.Fatal(err)
	}
	a, err := air.Offset(between(-200, 5000), between(-20, 20))
	if err != nil {
		t.Fatal(err)
	}
	s, err := New(Geometry{Diameter: D, Blades: 2 + r.IntN(5), Blade: b, Correction: Correction{
		Pitch: between(-0.03, 0.03), Drag: between(-0.2, 0.3), Chord: between(-0.2, 0.2)}}, a)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// A table that was kept is the one that was solved, bit for bit, and answers as it does.
func TestKeptTable(t *testing.T) {
	r := rand.New(rand.NewPCG(41, 42))
	for range 12 {
		s := anySolver(t, r)
		want, err := NewTable(s)
		if err != nil {
			t.Fatal(err)
		}
		b := want.AppendTo([]byte("before"))
		got, rest, err := ReadTable(s, append(b[len("before"):], "after"...))
		if err != nil || string(rest) != "after" {
			t.Fatalf("%q is left, error %v", rest, err)
		}
		if !reflect.DeepEqual(got, want) {
			t.Fatal("the table that was kept differs from the one that was solved")
		}
		for range 200 {
			J, n := -0.4+2*r.Float64(), 1500*r.Float64()
			T0, P0 := want.At(J, n)
			if T, P := got.At(J, n); T != T0 || P != P0 {
				t.Fatalf("J = %g, n = %g: %g, %g, as solved %g, %g", J, n, T, P, T0, P0)
			}
		}
		if again := got.AppendTo(nil); !bytes.Equal(again, b[len("before"):]) {
			t.Error("kept again it is other bytes")
		}
	}
}

// Bytes that are no table are refused.
func TestKeptTableRefused(t *testing.T) {
	s, tb := fiveInch(t)
	b := tb.AppendTo(nil)
	if len(b) != tableBytes {
		t.Fatalf("%d bytes, want %d", len(b), tableBytes)
	}
	with := func(at int, v float64) []byte {
		c := bytes.Clone(b)
		copy(c[8*at:], appendFloats(nil, v))
		return c
	}
	for name, c := range map[string][]byte{
		"nothing": nil, "a byte short": b[:len(b)-1], "NaN": with(100, math.NaN()), "infinite": with(1792, math.Inf(-1)),
		"no advance": with(0, 0), "NaN advance": with(0, math.NaN()), "far advance": with(0, 1e300),
	} {
		if _, _, err := ReadTable(s, c); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	if _, _, err := ReadTable(s, with(100, 7)); err != nil {
		t.Error("another finite number:", err)
	}
}

// Whatever a table follows from changes the bytes of its inputs.
func TestAppendInputs(t *testing.T) {
	s, _ := fiveInch(t)
	same := s.AppendInputs(nil)
	again, _ := fiveInch(t)
	if !bytes.Equal(same, again.AppendInputs(nil)) {
		t.Error("the same rotor in the same air has other inputs")
	}
	seen := map[string]string{string(same): "nothing"}
	differs := func(what string, g Geometry, a air.Air) {
		t.Helper()
		o, err := New(g, a)
		if err != nil {
			t.Fatal(err)
		}
		b := string(o.AppendInputs(nil))
		if other, ok := seen[b]; ok {
			t.Errorf("inputs with %s changed are those with %s changed", what, other)
		}
		seen[b] = what
	}
	v := reflect.ValueOf(&s.air).Elem()
	for i := range v.NumField() {
		a := s.air
		x := reflect.ValueOf(&a).Elem().Field(i)
		x.SetFloat(math.Nextafter(x.Float(), math.Inf(1)))
		differs(v.Type().Field(i).Name, s.geometry, a)
	}
	c := reflect.ValueOf(&s.geometry.Correction).Elem()
	for i := range c.NumField() {
		g := s.geometry
		reflect.ValueOf(&g.Correction).Elem().Field(i).SetFloat(1e-9)
		differs(c.Type().Field(i).Name, g, s.air)
	}
	g := s.geometry
	g.Diameter = math.Nextafter(g.Diameter, 1)
	differs("the diameter", g, s.air)
	g = s.geometry
	g.Blades++
	differs("the blades", g, s.air)
	n := len(s.geometry.Blade.shape.stations) / 3
	for part, name := range []string{"a station", "a chord", "a pitch angle"} {
		st := append([]float64(nil), s.geometry.Blade.shape.stations...)
		st[part*n+1] += 1e-9
		blade, err := newBlade(st[:n], st[n:2*n], st[2*n:])
		if err != nil {
			t.Fatal(err)
		}
		g = s.geometry
		g.Blade = blade
		differs(name, g, s.air)
	}
}

// FuzzReadTable looks for bytes that are taken for a table that cannot be read,
// or that is kept as other bytes.
func FuzzReadTable(f *testing.F) {
	s, tb := fiveInch(f)
	f.Add(tb.AppendTo(nil))
	f.Add(tb.AppendTo(nil)[:1000])
	f.Fuzz(func(t *testing.T, b []byte) {
		got, rest, err := ReadTable(s, b)
		if err != nil {
			return
		}
		if !bytes.Equal(append(got.AppendTo(nil), rest...), b) {
			t.Error("kept again it is other bytes")
		}
		for _, J := range []float64{-1, -0.2, -0.1, 0, 0.01, 0.5, 3} {
			for _, n := range []float64{0, 10, 300, 1e5, math.NaN()} {
				got.At(J, n)
				got.StaticSlope(n)
				got.Inclined(Flow{Axial: J * n * 0.1, InPlane: 3}, n)
				got.InclinedThrust(Flow{Axial: math.Abs(J), InPlane: 3}, n/100)
			}
		}
	})
}
