package model

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/mat"

	"rotorsieve/model/air"
	"rotorsieve/model/field"
	"rotorsieve/model/record"
	"rotorsieve/model/rotor"
)

// Evidence is all that was measured of the parts of crafts, and what it says of
// other parts. It is immutable. A nil one is no evidence.
//
// A measured propeller corrects the pitch angle, drag and chord of its generic
// blade; see rotor.Infer. The field is conditioned on these and not on thrust and power,
// since they hold at all speeds of rotation and of flight and their spreads are known
// for every propeller. In units of these spreads they are three independent
// fields of unit variance, zero where nothing was measured, as the model has it
// then; see package field.
type Evidence struct {
	propellers []Measured
	points     []field.Point
	given      *field.Conditional // nil without propellers
	motors     map[*record.Quantity]*scalarField[motorPart]
	frames     *sizes // nil without frames
	packs      map[packOf]*sizes
	crafts     []seenCraft
}

// NewEvidence is EvidenceFor the default assumptions.
func NewEvidence(specimens []rotor.Specimen, records []record.Record) (*Evidence, error) {
	a := Defaults()
	return EvidenceFor(&a, specimens, records)
}

// EvidenceFor takes in what was measured: specimens of propellers, as
// rotor.ReadPoints gives them, and records. Records of frames are held against those of
// the assumptions' frame factor, those of packs that state no grade against the
// assumptions' grade, and those of crafts against a craft under the assumptions, in the
// air that the record states. An error names file and line of what is impossible or
// contradicts something else.
func EvidenceFor(a *Assumptions, specimens []rotor.Specimen, records []record.Record) (*Evidence, error) {
	if err := tooMany(specimens, records); err != nil {
		return nil, err
	}
	if err := record.Contradiction(records); err != nil {
		return nil, err
	}
	all, err := Specimens(specimens, records)
	if err != nil {
		return nil, err
	}
	e, err := propellersGiven(all, nil)
	if err != nil {
		return nil, err
	}
	if err := e.motorFields(records); err != nil {
		return nil, err
	}
	if err := e.sizeFields(a, records); err != nil {
		return nil, err
	}
	return e.withCrafts(a, all, records)
}

// propellersGiven conditions the field on specimens, of which the first were taken in
// before: those that are the same still keep their estimates.
func propellersGiven(all []rotor.Specimen, known []Measured) (*Evidence, error) {
	if len(all) > mostPropellers {
		return nil, fmt.Errorf("%s: more than %d propellers; want fewer, those nearest to what is asked",
			all[mostPropellers].Place,
			mostPropellers)
	}
	var measured []Measured
	for i := range all {
		if i < len(known) && len(known[i].Specimen.Points) == len(all[i].Points) {
			measured = append(measured, known[i])
			continue
		}
		if err := all[i].Contradiction(); err != nil {
			return nil, err
		}
		m, err := calibrate(&all[i])
		if err != nil {
			return nil, SpecimenError(&all[i], err)
		}
		measured = append(measured, m)
	}
	e, err := join(measured)
	if err != nil {
		return nil, err
	}
	return e, e.contradiction()
}

// EvidenceOf is the evidence of propellers whose corrections are certain.
func EvidenceOf(measured ...Measured) (*Evidence, error) {
	all := slices.Clone(measured)
	for i := range all {
		if err := all[i].known(); err != nil {
			return nil, err
		}
	}
	return join(all)
}

// join conditions the field on propellers.
func join(all []Measured) (*Evidence, error) {
	e := &Evidence{propellers: all}
	if len(all) == 0 {
		return e, nil
	}
	var given []field.Given
	for i := range all {
		m := &all[i]
		e.points = append(e.points, fieldPoint(m.Diameter, m.Pitch, m.Blades, m.Chord))
		given = append(given, m.given())
	}
	K := mat.NewSymDense(len(all), nil)
	for i, p := range e.points {
		for j := i; j < len(all); j++ {
			K.SetSym(i, j, field.Covariance(p, e.points[j]))
		}
	}
	var err error
	e.given, err = field.Condition(K, given)
	return e, err
}

// Propellers lists those that were measured.
func (e *Evidence) Propellers() []Measured {
	if e == nil {
		return nil
	}
	return slices.Clone(e.propellers)
}

// Propeller is what the measurements say of a propeller; diameter and pitch in m,
// chord as in Design.
func (e *Evidence) Propeller(diameter, pitch float64, blades int, chord float64) Fit {
	if e == nil || len(e.propellers) == 0 {
		return Fit{}
	}
	blade, err := genericBlade(diameter, pitch, blades, chord)
	if err != nil {
		return Fit{} // there is no such propeller: building it fails with the reason
	}
	p := fieldPoint(diameter, pitch, blades, chord)
	k := e.correlations(p)
	f := Fit{Share: e.given.Correlation(k)}
	if f.Share < leastSaid {
		return Fit{}
	}
	nearest := 0
	for i := range k {
		if k[i] > k[nearest] {
			nearest = i
		}
	}
	f.From, f.nearness = &e.propellers[nearest], k[nearest]
	y, left := e.given.At(k)
	f.Correction = blade.CorrectionAt(rotor.Deviations(y))
	for q, s := range f.From.estimate.Sensitivity {
		v := mat.NewVecDense(rotor.Unknowns, s[:])
		f.Before[q] = mat.Norm(v, 2)
		f.After[q] = math.Sqrt(math.Max(0, mat.Inner(v, left, v)))
	}
	return f
}

// correlations are those of a propeller with those measured.
func (e *Evidence) correlations(p field.Point) []float64 {
	k := make([]float64, len(e.points))
	for i, q := range e.points {
		k[i] = field.Covariance(p, q)
	}
	return k
}

// StaticSpread is what is known of a propeller at rest before it is measured: the
// standard deviations of ln CT and ln CP at n rev/s over those of its blade, and their
// correlation: a broader or steeper blade has more of both. Fit.Before has the same.
func StaticSpread(g rotor.Geometry, a air.Air, n float64) (spread [2]float64, together float64, err error) {
	s, err := rotor.New(g, a)
	if err != nil {
		return spread, 0, err
	}
	p, err := s.Solve(0, n)
	if err != nil {
		return spread, 0, err
	}
	force := a.Density * n * n * math.Pow(g.Diameter, 4)
	e, err := rotor.Infer(g, a, []rotor.StaticPoint{{N: n, Thrust: p.CT * force, Power: p.CP * force * n * g.Diameter}})
	if err != nil {
		return spread, 0, err
	}
	for q, v := range e.Sensitivity {
		spread[q] = mat.Norm(mat.NewVecDense(rotor.Unknowns, v[:]), 2)
	}
	for k, v := range e.Sensitivity[0] {
		together += v * e.Sensitivity[1][k] / (spread[0] * spread[1])
	}
	return spread, together, nil
}

// contradiction names two measured propellers whose corrections change thrust or
// power more differently than the field and their uncertainties let them.
func (e *Evidence) contradiction() error {
	for i := range e.propellers {
		a := &e.propellers[i]
		for j := range i {
			b := &e.propellers[j]
			apart := 1 - field.Covariance(e.points[i], e.points[j])
			for q, what := range []string{"thrust", "power"} {
				x, sx, px := a.effect(q)
				y, sy, py := b.effect(q)
				if d := math.Abs(x-y) / math.Sqrt(apart*(px*px+py*py)+sx*sx+sy*sy); d > mostApart {
					return fmt.Errorf("%s: %s asks for %+.0f %% of %s at rest, but %s at %s for %+.0f %%: "+
						"%.0f of their sigmas apart; want at most %d, larger sigmas, or one of the two",
						a.Place, a.key(), 100*math.Expm1(x), what, b.key(), b.Place, 100*math.Expm1(y), d, mostApart)
				}
			}
		}
	}
	return nil
}

// effect is what the correction adds to the logarithm of thrust (0) or power (1)
// at rest, with its uncertainty after and before the measurement.
func (m *Measured) effect(q int) (ln, after, before float64) {
	e := &m.estimate
	s := mat.NewVecDense(rotor.Unknowns, e.Sensitivity[q][:])
	precision := mat.NewSymDense(rotor.Unknowns, nil)
	for i := range rotor.Unknowns {
		ln += e.Sensitivity[q][i] * (e.Mean[i] + e.Offset[i])
		for j := i; j < rotor.Unknowns; j++ {
			precision.SetSym(i, j, (e.Information[i][j]+e.Information[j][i])/2)
		}
		precision.SetSym(i, i, precision.At(i, i)+1)
	}
	var ch mat.Cholesky
	var x mat.VecDense
	before = mat.Norm(s, 2)
	if !ch.Factorize(precision) || ch.SolveVecTo(&x, s) != nil {
		return ln, before, before
	}
	return ln, math.Sqrt(math.Max(0, mat.Dot(s, &x))), before
}

// Learnt says what is known of each thing measured, with the measurements and without,
// a line each.
func (e *Evidence) Learnt() (lines []string) {
	if e == nil {
		return nil
	}
	for i := range e.propellers {
		if m := &e.propellers[i]; m.Specimen != nil {
			f := e.Propeller(m.Diameter, m.Pitch, m.Blades, m.Chord)
			f.From = m
			if line := f.learnt(); !slices.Contains(lines, line) {
				lines = append(lines, line)
			}
		}
	}
	return slices.Concat(lines, e.learntOfMotors(), e.learntOfSizes(), e.learntOfCrafts())
}

// Keys names the motors, frames, packs or crafts that were measured, by their kind in
// records, each once: "2207 1750KV".
func (e *Evidence) Keys(kind string) (keys []string) {
	if e == nil {
		return nil
	}
	add := func(key string) {
		if !slices.Contains(keys, key) {
			keys = append(keys, key)
		}
	}
	switch kind {
	case record.Motor:
		for _, q := range record.Quantities {
			if f := e.motors[q]; f != nil {
				f.keys(add)
			}
		}
	case record.Frame:
		if e.frames != nil {
			e.frames.keys(add)
		}
	case record.Pack:
		for _, of := range packsOf() {
			if f := e.packs[of]; f != nil {
				f.keys(add)
			}
		}
	case record.Craft:
		for i := range e.crafts {
			add(e.crafts[i].subject.Key())
		}
	}
	return keys
}

// String is a canonical text of all that was measured, by values alone: equal for
// evidence that says the same.
func (e *Evidence) String() string {
	if e == nil {
		return "none"
	}
	var b strings.Builder
	for i := range e.propellers {
		m := &e.propellers[i]
		fmt.Fprintf(&b, "propeller %v %v %d %v: %+v %v %v %v\n", m.Diameter, m.Pitch, m.Blades, m.Chord,
			m.Correction, m.estimate.Mean, m.estimate.Offset, m.estimate.Information)
	}
	told := func(of string, part any, ln, sigma float64) { fmt.Fprintf(&b, "%s %v: %v %v\n", of, part, ln, sigma) }
	for _, q := range record.Quantities {
		if f := e.motors[q]; f != nil {
			for _, s := range f.seen {
				told("motor "+q.Name, s.part, s.ln, s.sigma)
			}
		}
	}
	if e.frames != nil {
		for _, s := range e.frames.seen {
			told("frame mass", s.part, s.ln, s.sigma)
		}
	}
	for _, of := range packsOf() {
		if f := e.packs[of]; f != nil {
			for _, s := range f.seen {
				told("pack "+of.grade.Name+" "+of.quantity.Name, s.part, s.ln, s.sigma)
			}
		}
	}
	return b.String()
}
