package model

import (
	"fmt"

	"rotorsieve/model/record"
	"rotorsieve/model/rotor"
)

// Bounds on what evidence may hold, by what it costs on one core: fitting a propeller
// takes 4 ms for each of its measurements, and knowing what some propellers say of others
// goes with the cube of their number, 2.4 s of 200, which every propeller of a grid asks
// in 4 ms; 400 motors take 0.6 s.
const (
	mostMeasurements = 3000 // of propellers at rest, and records
	mostPropellers   = 200
	mostOfParts      = 400 // records of one quantity of motors, frames, packs or crafts
)

// Measurements counts what takes time to fit: measurements of propellers at rest.
func Measurements(specimens []rotor.Specimen, records []record.Record) (n int) {
	for i := range specimens {
		n += len(specimens[i].Static())
	}
	for i := range records {
		if records[i].Subject.Has(record.Propeller) {
			n++
		}
	}
	return n
}

// tooMany names the first measurement beyond what evidence may hold.
func tooMany(specimens []rotor.Specimen, records []record.Record) error {
	n := 0
	count := func(place string) error {
		if n++; n > mostMeasurements {
			return fmt.Errorf("%s: more than %d measurements; want fewer, such as their means at each speed", place,
				mostMeasurements)
		}
		return nil
	}
	for i := range specimens {
		for _, m := range specimens[i].Points {
			if m.J == 0 {
				if err := count(m.Place); err != nil {
					return err
				}
			}
		}
	}
	parts := map[*record.Quantity]int{}
	for i := range records {
		r := &records[i]
		if err := count(r.Place); err != nil {
			return err
		}
		if r.Subject.Kind != record.Propeller {
			if parts[r.Quantity]++; parts[r.Quantity] > mostOfParts {
				return fmt.Errorf("%s: more than %d records of %s; want fewer, such as one of each %s", r.Place,
					mostOfParts, r.Quantity.Name, r.Subject.Kind)
			}
		}
	}
	return nil
}
