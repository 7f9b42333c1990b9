package rotor

import (
	"encoding/binary"
	"errors"
	"math"
)

// Kept tables are written as their numbers in IEEE 754 binary64, little-endian: the advance
// ratio of zero thrust, and row by row the nodes. All else follows from the solver's rotor and
// air by a few products, to the same bits.

// tableBytes is the length of a table that is kept.
const tableBytes = 8 * (1 + rows*columns*nodeFloats)

// nodeFloats are the numbers of a node.
const nodeFloats = 8

func (k *node) floats() [nodeFloats]*float64 {
	return [...]*float64{&k.CT, &k.CTJ, &k.CTn, &k.CTJn, &k.CP, &k.CPJ, &k.CPn, &k.CPJn}
}

// AppendInputs appends all that a table of the solver follows from but the model's constants,
// the same bytes for the same rotor in the same air: diameter, number of blades, stations of the
// blade, correction and air.
func (s *Solver) AppendInputs(b []byte) []byte {
	b = append(b, s.geometry.Inputs()...)
	a := &s.air
	return appendFloats(b, a.Altitude, a.Temperature, a.Pressure, a.Density, a.SoundSpeed, a.Viscosity)
}

// Inputs are all that a rotor follows from but its air and the model's constants, the same
// bytes for the same rotor.
func (g *Geometry) Inputs() []byte {
	b := appendFloats(nil, g.Diameter, float64(g.Blades), float64(len(g.Blade.shape.stations)))
	b = appendFloats(b, g.Blade.shape.stations...)
	return appendFloats(b, g.Correction.Pitch, g.Correction.Drag, g.Correction.Chord)
}

// AppendTo appends what was solved of the table, which ReadTable makes a table of again.
func (t *Table) AppendTo(b []byte) []byte {
	b = appendFloats(b, t.zeroThrust)
	for i := range t.nodes {
		for j := range t.nodes[i] {
			for _, v := range t.nodes[i][j].floats() {
				b = appendFloats(b, *v)
			}
		}
	}
	return b
}

// errKept says that bytes are no table.
var errKept = errors.New("rotor: what was kept is no table")

// ReadTable is NewTable, bit for bit, of what AppendTo gave for a table of the same rotor and
// air, in microseconds; what follows the table in b comes back. The error is that b cannot be
// that: whether it is of this rotor is not told by it.
func ReadTable(s *Solver, b []byte) (t *Table, rest []byte, err error) {
	if len(b) < tableBytes {
		return nil, nil, errKept
	}
	next := func() float64 {
		v := math.Float64frombits(binary.LittleEndian.Uint64(b))
		b = b[8:]
		return v
	}
	t = s.emptyTable()
	zero := next()
	const most = 100 // far past that of any propeller
	if !(zero > 0 && zero < most) {
		return nil, nil, errKept
	}
	t.reach(zero)
	for i := range t.nodes {
		for j := range t.nodes[i] {
			for _, v := range t.nodes[i][j].floats() {
				if *v = next(); *v-*v != 0 { // NaN or infinite
					return nil, nil, errKept
				}
			}
		}
	}
	return t, b, nil
}

func appendFloats(b []byte, v ...float64) []byte {
	for _, x := range v {
		b = binary.LittleEndian.AppendUint64(b, math.Float64bits(x))
	}
	return b
}
