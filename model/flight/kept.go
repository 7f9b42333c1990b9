package flight

import (
	"encoding/binary"
	"errors"
	"math"

	"rotorsieve/model/rotor"
)

// What is kept of propulsors and envelopes is their numbers in IEEE 754 binary64, little-endian,
// and counts and places in whole bytes. What follows from these by a few products is not kept.

// errKept says that bytes are not what is kept of a propulsor or an envelope.
var errKept = errors.New("flight: what was kept is no propulsor or envelope")

// AppendTo appends what was solved of the propulsor, which ReadPropulsor makes one of again. It
// is for one that has not been scaled.
func (p *Propulsor) AppendTo(b []byte) []byte {
	b = p.Table.AppendTo(b)
	for _, r := range p.hold.ratio {
		b = appendFloat(b, r)
	}
	return b
}

// ReadPropulsor is NewPropulsor, bit for bit, of what AppendTo gave for the same rotor, air and
// share of the open thrust, in microseconds. The error is that b cannot be that: whether it is
// of this rotor is not told by it.
func ReadPropulsor(s *rotor.Solver, installed float64, b []byte) (Propulsor, error) {
	t, rest, err := rotor.ReadTable(s, b)
	if err != nil {
		return Propulsor{}, err
	}
	p := unheld(t, s.Geometry().Diameter, s.Air().Density, installed)
	p.hold = p.span()
	from := bytesLeft{b: rest}
	for i := range p.hold.ratio {
		p.hold.ratio[i] = from.float()
	}
	return p, from.end()
}

// AppendTo appends the envelope, which ReadEnvelope reads. It is for one that NewEnvelope gave.
func (e *Envelope) AppendTo(b []byte) []byte {
	b = appendFloat(b, e.low)
	b = binary.LittleEndian.AppendUint16(b, uint16(e.masses))
	for _, nodes := range [][]state{e.level, e.climb} {
		for i := range nodes {
			for _, v := range nodes[i].floats() {
				b = appendFloat(b, *v)
			}
		}
	}
	for _, at := range e.least {
		b = append(b, byte(at.power), byte(at.far))
	}
	return b
}

// ReadEnvelope is the envelope that AppendTo was called for, bit for bit. The error is that b
// cannot be that.
func ReadEnvelope(b []byte) (*Envelope, error) {
	from := bytesLeft{b: b}
	e := from.envelope()
	return e, from.end()
}

// AppendTo appends the envelopes of the other bodies than the parameters', which ReadEnvelopes
// reads.
func (e *Envelopes) AppendTo(b []byte) []byte {
	for _, x := range e.from[1:] {
		b = x.AppendTo(b)
	}
	return b
}

// ReadEnvelopes is NewEnvelopes, bit for bit, of what AppendTo gave for the same parameters and
// propeller. The error is that b cannot be that.
func ReadEnvelopes(by *Parameters, h Hull, own *Envelope, b []byte) (*Envelopes, error) {
	e := &Envelopes{by: *by, hull: h, from: [bodies]*Envelope{own}}
	from := bytesLeft{b: b}
	for i := range e.from[1:] {
		e.from[1+i] = from.envelope()
	}
	return e, from.end()
}

func (s *state) floats() [5]*float64 { return [...]*float64{&s.V, &s.n, &s.Q, &s.tilt, &s.wash} }

// bytesLeft are those of something kept that have not been read. After an error it gives
// zeros.
type bytesLeft struct {
	b      []byte
	failed bool
}

func (l *bytesLeft) next(n int) []byte {
	if l.failed || len(l.b) < n {
		l.failed = true
		return make([]byte, n)
	}
	out := l.b[:n]
	l.b = l.b[n:]
	return out
}

// float is a finite number.
func (l *bytesLeft) float() float64 {
	v := math.Float64frombits(binary.LittleEndian.Uint64(l.next(8)))
	l.failed = l.failed || v-v != 0
	return v
}

// place is that of one of so many nodes.
func (l *bytesLeft) place(nodes int) int {
	at := int(l.next(1)[0])
	l.failed = l.failed || at >= nodes
	return at
}

// envelope has no more weights than there are bytes for, and none or enough for a cubic.
func (l *bytesLeft) envelope() *Envelope {
	const perMass = (levelNodes+climbNodes)*5*8 + 2
	e := &Envelope{low: l.float()}
	e.masses = int(binary.LittleEndian.Uint16(l.next(2)))
	if e.masses > 0 && e.masses < 4 || e.masses > len(l.b)/perMass {
		l.failed = true
	}
	if l.failed || e.masses == 0 {
		return &Envelope{low: e.low}
	}
	e.level = make([]state, e.masses*levelNodes)
	e.climb = make([]state, e.masses*climbNodes)
	e.least = make([]leastNodes, e.masses)
	for _, nodes := range [][]state{e.level, e.climb} {
		for i := range nodes {
			for _, v := range nodes[i].floats() {
				*v = l.float()
			}
		}
	}
	for i := range e.least {
		e.least[i] = leastNodes{l.place(levelNodes), l.place(levelNodes)}
	}
	e.heaviest = e.last()
	return e
}

// end errs where something was missing, or is left.
func (l *bytesLeft) end() error {
	if l.failed || len(l.b) > 0 {
		return errKept
	}
	return nil
}

func appendFloat(b []byte, v float64) []byte {
	return binary.LittleEndian.AppendUint64(b, math.Float64bits(v))
}
