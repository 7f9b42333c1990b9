package model

import (
	"bytes"
	"reflect"
	"sync"
	"testing"

	"rotorsieve/model/flight"
)

// shelf is a Store in memory.
type shelf struct {
	mu           sync.Mutex
	kept         map[string][]byte
	found, saved int
	damage       func([]byte) []byte // done to what is found; nil for nothing
}

func newShelf() *shelf { return &shelf{kept: map[string][]byte{}} }

func (s *shelf) Load(inputs []byte) []byte {
	s.mu.Lock()
	defer s.mu.Unlock()
	b := s.kept[string(inputs)]
	if b == nil {
		return nil
	}
	s.found++
	if s.damage != nil {
		return s.damage(bytes.Clone(b))
	}
	return b
}

func (s *shelf) Save(inputs, solved []byte) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.saved++
	s.kept[string(inputs)] = bytes.Clone(solved)
}

// flown is all that is solved of a propeller.
type flown struct {
	Propulsor flight.Propulsor
	Envelope  *flight.Envelope
	Bodies    *flight.Envelopes
}

func flownBy(t testing.TB, m *Model, d Design, drawn bool) flown {
	t.Helper()
	p, err := m.Propeller(d.Diameter, d.Pitch, d.Blades, d.Chord)
	if err != nil {
		t.Fatal(err)
	}
	f := flown{Propulsor: p.Propulsor, Envelope: p.Envelope()}
	if drawn {
		f.Bodies = p.bodies()
	}
	return f
}

// What comes from the store is what is solved without it, bit for bit; what it has is not
// solved again, and what is no propeller any more is.
func TestStore(t *testing.T) {
	t.Parallel()
	store := newShelf()
	m := newModel(t, nil)
	d := fiveInch()
	want := flownBy(t, m, d, true)
	m.Store = store
	check := func(what string, found, saved int) {
		t.Helper()
		store.found, store.saved = 0, 0
		if got := flownBy(t, m, d, true); !reflect.DeepEqual(got, want) {
			t.Errorf("%s: other propellers than without a store", what)
		}
		if store.found != found || store.saved != saved {
			t.Errorf("%s: %d found and %d saved, want %d and %d", what, store.found, store.saved, found, saved)
		}
	}
	check("cold", 0, 3)
	check("warm", 3, 0)
	for what, damage := range map[string]func([]byte) []byte{
		"short": func(b []byte) []byte { return b[:len(b)-1] },
		"long":  func(b []byte) []byte { return append(b, 0) },
		"empty": func([]byte) []byte { return []byte{} },
		"NaN":   func(b []byte) []byte { copy(b, bytes.Repeat([]byte{0xff}, 8)); return b },
	} {
		store.damage = damage
		check(what, 3, 3)
	}
	store.damage = nil
	check("after the damage", 3, 0)
}

// Another version of the model, or another processor, finds nothing of this one.
func TestStoreOfAnotherVersion(t *testing.T) {
	b := string(solvedBy())
	if want := "model " + Version + "\n"; len(b) < 100 || b[:len(want)] != want {
		t.Errorf("what solves is told by %q", b)
	}
	m := newModel(t, nil)
	store := newShelf()
	m.Store = store
	flownBy(t, m, fiveInch(), false)
	other := newShelf()
	for inputs, solved := range store.kept {
		if !bytes.Contains([]byte(inputs), solvedBy()) {
			t.Errorf("inputs %.80q do not tell what solves", inputs)
		}
		other.kept[string(bytes.Replace([]byte(inputs), []byte("model "+Version), []byte("model 0"), 1))] = solved
	}
	m.Store = other
	flownBy(t, m, fiveInch(), false)
	if other.found != 0 {
		t.Error("what another version has solved is used")
	}
}

// The inputs are all that propellers follow from: models that differ by any parameter, any
// assumption or their air share a store, and each finds what it would solve.
func TestStoreTellsModelsApart(t *testing.T) {
	t.Parallel()
	store := newShelf()
	d := fiveInch()
	differ := 0
	plain := flownBy(t, newModel(t, nil), d, false)
	check := func(what string, a Assumptions, p Parameters) {
		t.Helper()
		m, err := NewWith(a, p)
		if err != nil {
			t.Fatalf("%s: %v", what, err)
		}
		drawn := !testing.Short()
		want := flownBy(t, m, d, drawn)
		m.Store = store
		if got := flownBy(t, m, d, drawn); !reflect.DeepEqual(got, want) {
			t.Errorf("%s: other propellers than without a store", what)
		}
		if want.Bodies = nil; !reflect.DeepEqual(want, plain) {
			differ++
		}
	}
	check("nothing", Defaults(), Nominal())
	for i := range ParameterTable {
		p := Nominal()
		ParameterTable[i].Move(&p, 0.5)
		check(ParameterTable[i].Symbol, Defaults(), p)
	}
	for _, def := range AssumptionDefs {
		a := Defaults()
		switch form := def.Form.(type) {
		case *Quantity:
			*form.At(&a) = form.Bound.Min + 0.4*(form.Bound.Max-form.Bound.Min)
		case *Choice:
			form.Set(&a, form.Options[len(form.Options)-1])
		default:
			continue
		}
		check(def.Name, a, Nominal())
	}
	if differ < 10 || store.found == 0 {
		t.Errorf("%d models had other propellers, and %d were found in the store", differ, store.found)
	}
}
