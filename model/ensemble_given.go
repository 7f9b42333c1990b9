package model

import (
	"math"

	"rotorsieve/model/draw"
	"rotorsieve/model/field"
	"rotorsieve/model/pack"
	"rotorsieve/model/record"
)

// measuredField is what was measured of a field, as a draw is conditioned on it.
type measuredField struct {
	name   string
	fields []int // that the quantities of a part are
	given  *field.Conditional
	spread float64
	seen   int
	// before is how far a draw is from the nominal model at a part seen, in spreads.
	before func(m *Model, part, quantity int) float64
}

// measured lists what was measured. The order does not matter.
func (m *Model) measured() (all []measuredField) {
	e := m.Assume.Evidence
	if e == nil {
		return nil
	}
	if n := len(e.propellers); n > 0 {
		var at [][]float64
		for _, p := range e.points {
			at = append(at, field.Functions(p))
		}
		all = append(all, measuredField{"propellers", []int{bladePitch, bladeDrag, bladeChord}, e.given, 1, n,
			func(m *Model, part, q int) float64 { return m.variation.fields[bladePitch+q].at(at[part]) }})
	}
	over := func(spread, draw, law float64) float64 { return math.Log(draw/law) / spread }
	for f, q := range motorFields {
		x := e.motors[q]
		if x == nil {
			continue
		}
		all = append(all, measuredField{q.Name, []int{f}, x.given, x.spread, len(x.seen),
			func(m *Model, part, _ int) float64 {
				at := x.seen[part].part
				return over(x.spread, m.variation.factor(f, m.variation.shared.motor(at.stator, at.kv)), 1)
			}})
	}
	if x := e.frames; x != nil {
		law := Nominal()
		all = append(all, measuredField{record.FrameMass.Name, []int{frameMass}, x.given, x.spread, len(x.seen),
			func(m *Model, part, _ int) float64 {
				D, k := x.seen[part].part, m.Assume.FrameFactor
				return over(x.spread, m.frameMass(D), law.Frame.Mass(D, k))
			}})
	}
	for f, q := range packFields {
		x := e.packs[packOf{q, m.Assume.PackGrade}]
		if x == nil {
			continue
		}
		law := Nominal()
		all = append(all, measuredField{"pack " + q.Name, []int{f}, x.given, x.spread, len(x.seen),
			func(m *Model, part, _ int) float64 {
				a, cells := &m.Assume, x.seen[part].cells
				state := pack.Condition{Temperature: a.PackTemperature, Aged: a.PackAged}
				k, errK := m.Pack(cells, x.seen[part].part)
				o, errO := law.Pack.New(a.PackGrade, cells, x.seen[part].part, state)
				if errK != nil || errO != nil {
					return 0
				}
				switch q {
				case record.PackMass:
					return over(x.spread, k.Mass, o.Mass)
				case record.PackResistance:
					return over(x.spread, k.R, o.R)
				}
				return over(x.spread, k.Limit, o.Limit)
			}})
	}
	return all
}

// learn puts the most probable errors of what was measured on a variation.
func (m *Model) learn(v *variation) {
	for _, x := range m.measured() {
		x.put(v, x.given.Weights())
	}
}

// put spreads weights over the fields.
func (x *measuredField) put(v *variation, w []float64) {
	n := len(x.fields)
	for q, f := range x.fields {
		d := &v.fields[f]
		d.per, d.given = x.spread, make([]float64, x.seen)
		for i := range d.given {
			d.given[i] = w[i*n+q]
		}
	}
}

// condition makes a draw one given what was measured.
func (e *Ensemble) condition(m *Model, k int) {
	all := e.nominal.measured()
	weights := make([][]float64, len(all))
	for j, x := range all {
		n := len(x.fields)
		before, noise := make([]float64, x.seen*n), make([]float64, x.seen*n)
		key := draw.Key(e.seed, "measured "+x.name)
		for i := range before {
			before[i] = x.before(m, i/n, i%n)
			noise[i] = draw.From(key+uint64(i), k)
		}
		var err error
		if weights[j], err = x.given.Draw(before, noise); err != nil {
			panic(err) // the matrix was factorised when the evidence was taken in
		}
	}
	for j := range all { // once all is known of the draw before
		all[j].put(m.variation, weights[j])
	}
}
