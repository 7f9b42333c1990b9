package model

import (
	"math"
	"sync"

	"rotorsieve/model/field"
	"rotorsieve/model/motor"
	"rotorsieve/model/record"
)

// fieldBasis gives what the fields of errors are made of at parts. It keeps what it has
// given, and is safe for concurrent use.
type fieldBasis struct {
	evidence *Evidence
	kept     sync.Map // *partBasis by part
}

func newFieldBasis(e *Evidence) *fieldBasis { return &fieldBasis{evidence: e} }

// partBasis is the basis of some fields at a part, and the correlations with the parts
// that were measured, by field.
type partBasis struct {
	basis []float64
	to    [fieldCount][]float64
}

// Parts, as the basis is kept by them.
type (
	motorPart struct {
		stator motor.Stator
		kv     float64
	}
	propellerPart struct {
		diameter float64
		blades   int
	}
	framePart struct{ diameter float64 }
	packPart  struct {
		cells    int
		capacity float64
	}
)

// Lengths of the correlations of what parts err by on their own: propellers and packs of
// one size are alike, those of a tenth more are others (chosen here).
const (
	frameLength     = 0.3  // of ln D
	propellerLength = 0.1  // of ln D
	bladesLength    = 0.05 // of ln B: another number of blades is another propeller
	packLength      = 0.15 // of ln C
	cellsLength     = 0.1  // of cells in series: another number is another pack
)

// The bases.
var (
	motorFamily   = field.NewWaves(motorDiameter, motorHeight, motorKV)
	motorSpecimen = field.NewWaves(motorOwn, motorOwn, motorOwn)
	propellers    = field.NewWaves(propellerLength, bladesLength)
	frames        = field.NewWaves(frameLength)
	packs         = field.NewWaves(packLength, cellsLength)
)

// count is how many functions the basis of a field has.
func (*fieldBasis) count(f int) int {
	switch {
	case f <= bladeChord:
		return field.Functioned()
	case f <= motorMassError:
		return motorFamily.Count() + motorSpecimen.Count()
	case f == propellerMass:
		return propellers.Count()
	case f == frameSize:
		return frames.Count()
	}
	return packs.Count()
}

// keep gives the basis at a part, made once.
func (s *fieldBasis) keep(part any, make func() *partBasis) *partBasis {
	if b, ok := s.kept.Load(part); ok {
		return b.(*partBasis)
	}
	b, _ := s.kept.LoadOrStore(part, make())
	return b.(*partBasis)
}

func (s *fieldBasis) motor(stator motor.Stator, kv float64) *partBasis {
	return s.keep(motorPart{stator, kv}, func() *partBasis {
		d, h, v := math.Log(stator.Diameter), math.Log(stator.Height), math.Log(kv)
		b := new(partBasis)
		for _, w := range motorFamily.At(d, h, v) {
			b.basis = append(b.basis, math.Sqrt(motorShare)*w)
		}
		for _, w := range motorSpecimen.At(d, h, v) {
			b.basis = append(b.basis, math.Sqrt(1-motorShare)*w)
		}
		if s.evidence != nil {
			for f, q := range fieldQuantity {
				if m := s.evidence.motors[q]; m != nil {
					b.to[f] = m.correlations(stator, kv)
				}
			}
		}
		return b
	})
}

// fieldQuantity is what is measured of a field of motors.
var fieldQuantity = map[int]*record.Quantity{
	motorKVError: record.KV, motorResistance: record.Resistance, motorLoss: record.Loss,
	motorChopping: record.Chopping, motorMassError: record.Mass,
}

func (s *fieldBasis) propeller(diameter float64, blades int) *partBasis {
	return s.keep(propellerPart{diameter, blades}, func() *partBasis {
		return &partBasis{basis: propellers.At(math.Log(diameter), math.Log(float64(blades)))}
	})
}

func (s *fieldBasis) frame(diameter float64) *partBasis {
	return s.keep(framePart{diameter}, func() *partBasis { return &partBasis{basis: frames.At(math.Log(diameter))} })
}

func (s *fieldBasis) pack(cells int, capacity float64) *partBasis {
	return s.keep(packPart{cells, capacity}, func() *partBasis {
		return &partBasis{basis: packs.At(math.Log(capacity), float64(cells))}
	})
}

// bladeErrors is what a propeller's thrust and power at rest make of the errors of its
// blade.
type bladeErrors struct {
	blade partBasis
	sense [2]sensitivity // of ln CT and ln CP
	known sensitivity    // the errors that its correction has taken out
}

type sensitivity [bladeChord + 1]float64

// correlations are those of a motor with those measured.
func (f *motorField) correlations(s motor.Stator, kv float64) []float64 {
	k := make([]float64, len(f.seen))
	for i, o := range f.seen {
		k[i] = motorCorrelation(s, o.stator, kv, o.kv)
	}
	return k
}
