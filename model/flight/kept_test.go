package flight

import (
	"bytes"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"
)

// What was kept of a propeller is what was solved of it, bit for bit, and flies as it does.
func TestKept(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(51, 52))
	flew := 0
	for range 10 {
		s := anySolver(t, r)
		p, D := solved(t, s)
		b := p.AppendTo(nil)
		q, err := ReadPropulsor(s, p.Installed, b)
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(p, q) || !bytes.Equal(q.AppendTo(nil), b) {
			t.Fatal("the propulsor that was kept differs from the one that was solved")
		}
		for range 100 {
			T := p.hold.most * 1.05 * r.Float64()
			n0, Q0, ok0 := p.Hold(T)
			if n, Q, ok := q.Hold(T); n != n0 || Q != Q0 || ok != ok0 {
				t.Fatalf("%g N: held at %g with %g, %v; as solved %g, %g, %v", T, n, Q, ok, n0, Q0, ok0)
			}
		}
		lightest := 0.1 * math.Pow(D/0.127, 2.3)
		want := NewEnvelope(&nominal, &p, lightest, Hull{Payload: 0.001})
		b = want.AppendTo(nil)
		e, err := ReadEnvelope(b)
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(e, want) || !bytes.Equal(e.AppendTo(nil), b) {
			t.Fatal("the envelope that was kept differs from the one that was traced")
		}
		all := NewEnvelopes(&nominal, &p, want, lightest, Hull{Payload: 0.001})
		others, err := ReadEnvelopes(&nominal, Hull{Payload: 0.001}, e, all.AppendTo(nil))
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(all, others) {
			t.Fatal("the envelopes that were kept differ from those that were traced")
		}
		for range 10 {
			x, ok := anyCraft(t, r, &p, D)
			if !ok {
				continue
			}
			flew++
			var f, g Flight
			x.Fly(&f, want, &x.full, x.mass, &x.h, math.Pi/2)
			x.Fly(&g, e, &x.full, x.mass, &x.h, math.Pi/2)
			if f != g {
				t.Fatalf("flies %+v, as traced %+v", g, f)
			}
			V := f.Top.Airspeed * r.Float64()
			l0, ok0 := x.Level(want, x.full.Controller, x.mass, V)
			if l, ok := x.Level(e, x.full.Controller, x.mass, V); l != l0 || ok != ok0 {
				t.Fatalf("at %g m/s %+v, as traced %+v", V, l, l0)
			}
		}
	}
	if flew < 30 {
		t.Errorf("only %d crafts flew", flew)
	}
}

// A propeller that carries nothing is kept as well.
func TestKeptCarriesNothing(t *testing.T) {
	p := propulsor(t, 0.127)
	want := NewEnvelope(&nominal, &p, 1e3, Hull{})
	if got, err := ReadEnvelope(want.AppendTo(nil)); err != nil || !reflect.DeepEqual(got, want) || want.masses != 0 {
		t.Errorf("%+v, error %v, want %+v", got, err, want)
	}
}

// Bytes that are no propulsor or envelope are refused, and no count is believed beyond them.
func TestKeptRefused(t *testing.T) {
	p := propulsor(t, 0.127)
	s := solver(t, 0.127)
	b := p.AppendTo(nil)
	for name, c := range map[string][]byte{"nothing": nil, "a byte short": b[:len(b)-1],
		"a byte more": append(bytes.Clone(b), 0), "no inverse": b[:len(b)-8*holdNodes],
		"NaN": append(bytes.Clone(b[:len(b)-8]), appendFloat(nil, math.NaN())...)} {
		if _, err := ReadPropulsor(s, p.Installed, c); err == nil {
			t.Errorf("propulsor, %s: no error", name)
		}
	}
	e := NewEnvelope(&nominal, &p, 0.15, Hull{})
	b = e.AppendTo(nil)
	set := func(at int, v byte) []byte {
		c := bytes.Clone(b)
		c[at] = v
		return c
	}
	for name, c := range map[string][]byte{"nothing": nil, "a byte short": b[:len(b)-1],
		"a byte more": append(bytes.Clone(b), 0), "too many weights": set(9, 0xff), "one more": set(8, b[8]+1),
		"too few for a cubic": set(8, 3), "no node": set(len(b)-1, levelNodes),
		"infinite": append(appendFloat(nil, math.Inf(1)), b[8:]...)} {
		if _, err := ReadEnvelope(c); err == nil {
			t.Errorf("envelope, %s: no error", name)
		}
	}
	if _, err := ReadEnvelope(b); err != nil {
		t.Error(err)
	}
	if _, err := ReadEnvelopes(&nominal, Hull{}, e, bytes.Repeat(b, 4)); err == nil {
		t.Error("four envelopes for five: no error")
	}
}

// FuzzReadEnvelope looks for bytes that are taken for an envelope that cannot be flown, or that
// is kept as other bytes.
func FuzzReadEnvelope(f *testing.F) {
	p := propulsor(f, 0.127)
	f.Add(NewEnvelope(&nominal, &p, 0.15, Hull{}).AppendTo(nil))
	f.Add(NewEnvelope(&nominal, &p, 1e3, Hull{}).AppendTo(nil))
	d := drive(f, 2000, 4, 1300)
	full := d.Static(&p)
	f.Fuzz(func(t *testing.T, b []byte) {
		e, err := ReadEnvelope(b)
		if err != nil {
			return
		}
		if !bytes.Equal(e.AppendTo(nil), b) {
			t.Error("kept again it is other bytes")
		}
		for _, mass := range []float64{0.01, 0.2, 0.5, 3} {
			h := d.Hover(&p, full.Controller, mass*Gravity/4)
			var x Flight
			d.Fly(&x, e, &full, mass, &h, math.Pi/2)
			d.Level(e, full.Controller, mass, 12)
		}
	})
}
