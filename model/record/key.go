package record

import (
	"fmt"
	"strconv"
	"strings"

	"rotorsieve/model/pack"
	"rotorsieve/model/unit"
)

const inch = "in"

// Key is the subject as records write it: "5x4x3", "5x4x3 chord 0.16",
// "2207 1750KV", "5in", "4S 1300mAh", "4S 1300mAh high-rate", and all of a craft with its
// all-up weight.
func (s *Subject) Key() string {
	switch s.Kind {
	case Propeller:
		return s.propellerKey()
	case Motor:
		return s.motorKey()
	case Frame:
		return unit.Length.WithDefault(inch).Text(s.Diameter)
	case Pack:
		return s.packKey()
	case Craft:
		return s.propellerKey() + " " + s.motorKey() + " " + s.packKey() + " " + unit.Mass.Text(s.AllUp)
	}
	return ""
}

func (s *Subject) propellerKey() string {
	in := unit.Length.WithDefault(inch)
	key := bare(in, s.Diameter) + "x" + bare(in, s.Pitch) + "x" + strconv.Itoa(s.Blades)
	if s.Chord != 0 {
		key += " chord " + unit.Ratio.Text(s.Chord)
	}
	return key
}

func (s *Subject) motorKey() string {
	return unit.Stator.Text(s.Stator) + " " + bare(unit.SpeedConstant, s.KV) + "KV"
}

func (s *Subject) packKey() string {
	key := strconv.Itoa(s.Cells) + "S " + unit.Charge.Text(s.Capacity)
	if s.Grade != "" {
		key += " " + s.Grade
	}
	return key
}

// bare is a quantity in the default unit of its kind, without it; with another unit
// where no text in the default one is read back to the same value.
func bare(k *unit.Kind, v float64) string {
	u := k.Default()
	for digits := 1; digits <= 17; digits++ {
		text := u.Number(v, digits)
		if back, err := k.Parse(text); err == nil && back == v {
			return text
		}
	}
	return k.Text(v)
}

// parseKey reads the key of a kind of thing.
func parseKey(kind, text string) (s Subject, err error) {
	s.Kind = kind
	k := keyReader{s: &s, left: strings.Fields(text)}
	if s.Has(Propeller) {
		k.propeller()
	}
	if s.Has(Motor) {
		k.quantity(unit.Stator, &s.Stator)
		k.quantity(unit.SpeedConstant, &s.KV)
	}
	if s.Has(Pack) {
		k.pack()
	}
	switch kind {
	case Frame:
		k.quantity(unit.Length, &s.Diameter)
	case Craft:
		k.quantity(unit.Mass, &s.AllUp)
	}
	if k.failed || len(k.left) > 0 {
		return s, fmt.Errorf("key %.80q; want %s", text, exampleKeys[kind])
	}
	if k.err == nil {
		k.err = s.check()
	}
	if k.err != nil {
		return s, fmt.Errorf("key %.80q: %w", text, k.err)
	}
	return s, nil
}

// keyReader reads the fields of a key into a subject.
type keyReader struct {
	s      *Subject
	left   []string
	failed bool  // a field is missing or is no quantity
	err    error // what else is wrong
}

// next is the next field; "" where there is none.
func (k *keyReader) next() (field string) {
	if len(k.left) > 0 {
		field, k.left = k.left[0], k.left[1:]
	}
	return field
}

// quantity reads the next field.
func (k *keyReader) quantity(of *unit.Kind, to *float64) { k.read(of, k.next(), to) }

func (k *keyReader) read(of *unit.Kind, text string, to *float64) {
	v, err := of.Parse(text)
	*to = v
	k.failed = k.failed || err != nil
}

// count reads a whole number of at most 100.
func (k *keyReader) count(of *unit.Kind, text string) int {
	v := 0.0
	k.read(of, text, &v)
	k.failed = k.failed || !(v >= 0 && v <= 100)
	if k.failed {
		return 0
	}
	return int(v)
}

func (k *keyReader) propeller() {
	parts := strings.Split(k.next(), "x")
	if len(parts) != 3 {
		k.failed = true
		return
	}
	k.read(unit.Length, parts[0], &k.s.Diameter)
	k.read(unit.Length, parts[1], &k.s.Pitch)
	k.s.Blades = k.count(unit.Count, parts[2])
	if len(k.left) > 0 && k.left[0] == "chord" {
		k.next()
		k.quantity(unit.Ratio, &k.s.Chord)
		k.failed = k.failed || k.s.Chord == 0
	}
}

func (k *keyReader) pack() {
	k.s.Cells = k.count(unit.Cells, k.next())
	k.quantity(unit.Charge, &k.s.Capacity)
	if len(k.left) == 0 {
		return
	}
	if _, err := unit.Mass.Parse(k.left[0]); err == nil {
		return // of the craft
	}
	k.s.Grade = k.next()
	_, k.err = pack.ParseGrade(k.s.Grade)
}

var exampleKeys = map[string]string{
	Propeller: "diameter and pitch in inches and blades, such as 5x4.3x3, " +
		"or with the chord over the radius, 5x4.3x3 chord 0.16",
	Motor: "stator and KV of the label, such as 2207 1750KV",
	Frame: "the diameter of the propellers that it is for, such as 5in",
	Pack: "cells in series and capacity, such as 4S 1300mAh, with the grade where it is not the study's, " +
		"4S 1300mAh long-flight",
	Craft: "propeller, motor, pack and all-up weight, such as 5x4.3x3 2207 1750KV 4S 1300mAh 620g",
}

// ExampleKey is a key of a kind of thing, such as 5x4.3x3.
func ExampleKey(kind string) string {
	return map[string]string{
		Propeller: "5x4.3x3 or 5x4.3x3 chord 0.16",
		Motor:     "2207 1750KV",
		Frame:     "5in",
		Pack:      "4S 1300mAh or 4S 1300mAh long-flight",
		Craft:     "5x4.3x3 2207 1750KV 4S 1300mAh 620g",
	}[kind]
}
