package model

import (
	"fmt"
	"math"
	"slices"

	"rotorsieve/model/air"
	"rotorsieve/model/record"
	"rotorsieve/model/rotor"
)

// Specimens adds the records of propellers to specimens: those of one propeller in
// one air are one specimen.
func Specimens(specimens []rotor.Specimen, records []record.Record) ([]rotor.Specimen, error) {
	all := slices.Clone(specimens)
	for i := range records {
		if r := &records[i]; r.Subject.Kind == record.Propeller {
			var err error
			if all, err = addRecord(all, r); err != nil {
				return nil, fmt.Errorf("%s: %w", r.Place, err)
			}
		}
	}
	return all, nil
}

// SpecimenError names the propeller of an error and where its measurements begin.
func SpecimenError(s *rotor.Specimen, err error) error {
	return fmt.Errorf("%s: propeller %.4g x %.4g in, %d blades: %w", s.Place, s.Diameter/inch, s.Pitch/inch, s.Blades,
		err)
}

// airOf is the air that a value was measured in.
func airOf(at record.Conditions) (air.Air, error) {
	if at.Temperature != 0 {
		return air.At(at.Altitude, at.Temperature)
	}
	return air.Standard(at.Altitude)
}

// specimenOf finds the specimen of a subject's propeller in an air, or adds an empty one.
func specimenOf(all []rotor.Specimen, s *record.Subject, a air.Air, place string) ([]rotor.Specimen, int) {
	at := slices.IndexFunc(all, func(o rotor.Specimen) bool {
		return o.Diameter == s.Diameter && o.Pitch == s.Pitch && o.Blades == s.Blades && o.Chord == s.Chord &&
			o.Air == a
	})
	if at >= 0 {
		return all, at
	}
	return append(all, rotor.Specimen{Diameter: s.Diameter, Pitch: s.Pitch, Blades: s.Blades, Chord: s.Chord,
		Air: a, Place: place}), len(all)
}

// leastKnown is the uncertainty of a measurement of a propeller that states none, over the
// value: the solution of its blade is no more exact.
const leastKnown = 1e-5

// known is the uncertainty of a record over its value.
func known(r *record.Record) float64 { return max(r.Relative(), leastKnown) }

// addRecord puts a record of a propeller with the specimen that it is of.
func addRecord(all []rotor.Specimen, r *record.Record) ([]rotor.Specimen, error) {
	s := &r.Subject
	a, err := airOf(r.At)
	if err != nil {
		return nil, err
	}
	all, at := specimenOf(all, s, a, r.Place)
	to := &all[at]
	force := a.Density * r.At.N * r.At.N * math.Pow(s.Diameter, 4)
	m := rotor.Measurement{N: r.At.N, ThrustSigma: math.Inf(1), PowerSigma: math.Inf(1), Place: r.Place}
	switch r.Quantity {
	case record.CT:
		m.Thrust, m.ThrustSigma = r.Value*force, known(r)
	case record.Thrust:
		m.Thrust, m.ThrustSigma = r.Value, known(r)
	case record.CP:
		m.Power, m.PowerSigma = r.Value*force*r.At.N*s.Diameter, known(r)
	case record.ShaftPower:
		m.Power, m.PowerSigma = r.Value, known(r)
	}
	points := slices.Clone(to.Points) // they may belong to the caller
	for i := range points {
		p := &points[i]
		switch {
		case p.J != 0 || p.N != m.N:
		case math.IsInf(p.ThrustSigma, 1) && m.Thrust > 0:
			p.Thrust, p.ThrustSigma = m.Thrust, m.ThrustSigma
			to.Points = points
			return all, nil
		case math.IsInf(p.PowerSigma, 1) && m.Power > 0:
			p.Power, p.PowerSigma = m.Power, m.PowerSigma
			to.Points = points
			return all, nil
		}
	}
	to.Points = append(points, m)
	return all, nil
}
