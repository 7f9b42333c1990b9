package model

import (
	"math"
	"sync"

	"rotorsieve/model/field"
	"rotorsieve/model/motor"
	"rotorsieve/model/pack"
	"rotorsieve/model/record"
)

// fieldBasis gives what the fields of errors are made of at parts. It keeps what it has
// given, and is safe for concurrent use.
type fieldBasis struct {
	evidence *Evidence
	grade    *pack.Grade
	kept     sync.Map // *partBasis by part
}

func newFieldBasis(m *Model) *fieldBasis {
	return &fieldBasis{evidence: m.Assume.Evidence, grade: m.Assume.PackGrade}
}

// partBasis is the basis of some fields at a part, and the correlations with the parts
// that were measured, by field.
type partBasis struct {
	basis []float64
	to    [fieldCount][]float64
}

// Parts, as the basis is kept by them.
type (
	propellerPart struct {
		diameter float64
		blades   int
	}
	framePart struct{ diameter float64 }
	packPart  struct{ capacity float64 }
)

// Lengths of the correlations of what parts err by on their own: propellers and packs of
// one size are alike, those of a tenth more are others (chosen here).
const (
	propellerLength = 0.1  // of ln D
	bladesLength    = 0.05 // of ln B: another number of blades is another propeller
)

// The bases.
var (
	motorFamily   = field.NewWaves(motorDiameter, motorHeight, motorKV)
	motorSpecimen = field.NewWaves(motorOwn, motorOwn, motorOwn)
	propellers    = field.NewWaves(propellerLength, bladesLength)
	frames        = field.NewWaves(frameLength)
	packs         = field.NewWaves(packLength)
)

// count is how many functions the basis of a field has.
func (*fieldBasis) count(f int) int {
	switch {
	case f <= bladeChord:
		return field.Functioned()
	case f <= motorCooling:
		return motorFamily.Count() + motorSpecimen.Count()
	case f == propellerMass:
		return propellers.Count()
	case f == frameMass:
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
			for f, q := range motorFields {
				if m := s.evidence.motors[q]; m != nil {
					b.to[f] = m.correlations(motorPart{stator, kv})
				}
			}
		}
		return b
	})
}

// motorFields is what is measured of a field of motors.
var motorFields = map[int]*record.Quantity{
	motorKVError: record.KV, motorResistance: record.Resistance, motorLoss: record.Loss,
	motorChopping: record.Chopping, motorMassError: record.Mass, motorCooling: record.Cooling,
}

func (s *fieldBasis) propeller(diameter float64, blades int) *partBasis {
	return s.keep(propellerPart{diameter, blades}, func() *partBasis {
		return &partBasis{basis: propellers.At(math.Log(diameter), math.Log(float64(blades)))}
	})
}

func (s *fieldBasis) frame(diameter float64) *partBasis {
	return s.keep(framePart{diameter}, func() *partBasis {
		b := &partBasis{basis: frames.At(math.Log(diameter))}
		if s.evidence != nil && s.evidence.frames != nil {
			b.to[frameMass] = s.evidence.frames.correlations(diameter)
		}
		return b
	})
}

func (s *fieldBasis) pack(capacity float64) *partBasis {
	return s.keep(packPart{capacity}, func() *partBasis {
		b := &partBasis{basis: packs.At(math.Log(capacity))}
		for f, q := range packFields {
			if m := s.packs(q); m != nil {
				b.to[f] = m.correlations(capacity)
			}
		}
		return b
	})
}

// packFields is what is measured of a field of packs.
var packFields = map[int]*record.Quantity{
	packMass: record.PackMass, packResistance: record.PackResistance, packLimit: record.CurrentLimit,
}

// packs is what was measured of a quantity of the packs of the study's grade, nil for
// nothing.
func (s *fieldBasis) packs(q *record.Quantity) *sizes {
	if s.evidence == nil {
		return nil
	}
	return s.evidence.packs[packOf{q, s.grade}]
}

// bladeErrors is what a propeller's thrust and power at rest make of the errors of its
// blade.
type bladeErrors struct {
	blade partBasis
	sense [2]sensitivity // of ln CT and ln CP
	known sensitivity    // the errors that its correction has taken out
}

type sensitivity [bladeChord + 1]float64
