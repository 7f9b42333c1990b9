package model

import (
	"encoding/binary"
	"math"
	"runtime"
	"sync"

	"rotorsieve/model/air"
	"rotorsieve/model/flight"
	"rotorsieve/model/rotor"
)

// Store keeps what a model has solved of propellers, for later runs. What it gives is read in
// place of solving it anew, and is the same to the last bit: inputs are all that it follows
// from, the version of the model among it. Both methods may be called by several goroutines.
type Store interface {
	// Load gives what Save was last given for these inputs; nil where it was given nothing, or
	// has let go of it, or cannot be sure.
	Load(inputs []byte) []byte
	// Save keeps what was solved of the inputs, if it can.
	Save(inputs, solved []byte)
}

// solved is a propeller's place in a store.
type solved struct {
	store  Store  // nil for none
	inputs []byte // of its propulsor, without the name of what is kept
}

// solvedOf is the place of a solver's propeller with a share of the open thrust that is left.
func (m *Model) solvedOf(s *rotor.Solver, installed float64) solved {
	if m.Store == nil {
		return solved{}
	}
	b := append([]byte(nil), solvedBy()...)
	b = s.AppendInputs(b)
	return solved{m.Store, appendFloats(b, installed)}
}

// of are the inputs of one thing that is kept of the propeller; more are its own.
func (k *solved) of(what string, more ...float64) []byte {
	b := append([]byte(what+"\n"), k.inputs...)
	return appendFloats(b, more...)
}

// recall is what was kept of inputs, or what is solved and kept then.
func recall[T any](store Store, inputs func() []byte, read func([]byte) (T, error), solve func() (T, error),
	write func(T) []byte) (T, error) {
	if store == nil {
		return solve()
	}
	of := inputs()
	if b := store.Load(of); b != nil {
		if v, err := read(b); err == nil {
			return v, nil
		}
	}
	v, err := solve()
	if err == nil {
		store.Save(of, write(v))
	}
	return v, err
}

func (k *solved) propulsor(s *rotor.Solver, installed float64) (flight.Propulsor, error) {
	return recall(k.store,
		func() []byte { return k.of("propulsor") },
		func(b []byte) (flight.Propulsor, error) { return flight.ReadPropulsor(s, installed, b) },
		func() (flight.Propulsor, error) {
			t, err := rotor.NewTable(s)
			if err != nil {
				return flight.Propulsor{}, err
			}
			return flight.NewPropulsor(t, s.Geometry().Diameter, s.Air().Density, installed), nil
		},
		func(p flight.Propulsor) []byte { return p.AppendTo(nil) })
}

// traced are the inputs of an envelope beside those of the propulsor.
func traced(by *flight.Parameters, lightest float64, h flight.Hull) []float64 {
	of := []float64{by.BodyDrag, by.Broadside, lightest, h.Payload}
	if h.Area != 0 {
		of = append(of, h.Area)
	}
	return of
}

func (k *solved) envelope(by *flight.Parameters, p *flight.Propulsor, lightest float64,
	h flight.Hull) *flight.Envelope {
	e, _ := recall(k.store,
		func() []byte { return k.of("envelope", traced(by, lightest, h)...) },
		flight.ReadEnvelope,
		func() (*flight.Envelope, error) { return flight.NewEnvelope(by, p, lightest, h), nil },
		func(e *flight.Envelope) []byte { return e.AppendTo(nil) })
	return e
}

func (k *solved) envelopes(by *flight.Parameters, p *flight.Propulsor, own *flight.Envelope,
	lightest float64, h flight.Hull) *flight.Envelopes {
	e, _ := recall(k.store,
		func() []byte { return k.of("envelopes", traced(by, lightest, h)...) },
		func(b []byte) (*flight.Envelopes, error) { return flight.ReadEnvelopes(by, h, own, b) },
		func() (*flight.Envelopes, error) { return flight.NewEnvelopes(by, p, own, lightest, h), nil },
		func(e *flight.Envelopes) []byte { return e.AppendTo(nil) })
	return e
}

// solvedBy tells what solves: the version of the model and the processor. The last digits of
// results may differ between kinds of processors, so that a folder that several of them share
// has what each has solved: a kind is told by its name and by digits of a rotor.
var solvedBy = sync.OnceValue(func() []byte {
	b := []byte("model " + Version + "\n" + runtime.GOARCH + "\n")
	const D = 0.127
	blade, err := rotor.Generic(D, 0.8*D, 3, 0)
	if err != nil {
		panic(err) // it is usual
	}
	sea, err := air.Standard(0)
	if err != nil {
		panic(err)
	}
	s, err := rotor.New(rotor.Geometry{Diameter: D, Blades: 3, Blade: blade}, sea)
	if err != nil {
		panic(err)
	}
	for _, at := range [...][2]float64{{0, 50}, {-0.1, 150}, {0.4, 300}, {0.9, 700}} {
		p, err := s.Solve(at[0], at[1])
		if err != nil {
			panic(err)
		}
		b = appendFloats(b, p.CT, p.CP, math.Asinh(p.CT), math.Sinh(p.CT), math.Exp(p.CP), math.Log(p.CP))
	}
	return b
})

func appendFloats(b []byte, v ...float64) []byte {
	for _, x := range v {
		b = binary.LittleEndian.AppendUint64(b, math.Float64bits(x))
	}
	return b
}
