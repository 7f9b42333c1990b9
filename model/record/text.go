package record

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"rotorsieve/model/unit"
)

const inch = "in"

// Key is the subject as records write it: "5x4x3", "5x4x3 chord 0.16",
// "2207 1750KV".
func (s *Subject) Key() string {
	switch s.Kind {
	case Propeller:
		in := unit.Length.WithDefault(inch)
		key := bare(in, s.Diameter) + "x" + bare(in, s.Pitch) + "x" + strconv.Itoa(s.Blades)
		if s.Chord != 0 {
			key += " chord " + unit.Ratio.Text(s.Chord)
		}
		return key
	case Motor:
		return unit.Stator.Text(s.Stator) + " " + bare(unit.SpeedConstant, s.KV) + "KV"
	}
	return ""
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
	fields := strings.Fields(text)
	want := func() error { return fmt.Errorf("key %.80q; want %s", text, exampleKeys[kind]) }
	switch {
	case kind == Propeller && (len(fields) == 1 || len(fields) == 3 && fields[1] == "chord"):
		parts := strings.Split(fields[0], "x")
		if len(parts) != 3 {
			return s, want()
		}
		blades := 0.0
		for i, p := range []struct {
			to   *float64
			kind *unit.Kind
		}{{&s.Diameter, unit.Length}, {&s.Pitch, unit.Length}, {&blades, unit.Count}} {
			if *p.to, err = p.kind.Parse(parts[i]); err != nil {
				return s, want()
			}
		}
		if !(blades >= 0 && blades <= 100) {
			return s, want()
		}
		s.Blades = int(blades)
		if len(fields) == 3 {
			if s.Chord, err = unit.Ratio.Parse(fields[2]); err != nil || s.Chord == 0 {
				return s, want()
			}
		}
	case kind == Motor && len(fields) == 2:
		if s.Stator, err = unit.Stator.Parse(fields[0]); err != nil {
			return s, want()
		}
		if s.KV, err = unit.SpeedConstant.Parse(fields[1]); err != nil {
			return s, want()
		}
	default:
		return s, want()
	}
	if err := s.check(); err != nil {
		return s, fmt.Errorf("key %.80q: %w", text, err)
	}
	return s, nil
}

var exampleKeys = map[string]string{
	Propeller: "diameter and pitch in inches and blades, such as 5x4.3x3, " +
		"or with the chord over the radius, 5x4.3x3 chord 0.16",
	Motor: "stator and KV of the label, such as 2207 1750KV",
}

// ExampleKey is a key of a kind of thing, such as 5x4.3x3.
func ExampleKey(kind string) string {
	if kind == Propeller {
		return "5x4.3x3 or 5x4.3x3 chord 0.16"
	}
	return "2207 1750KV"
}

// Example is the quantity as it may be written, with a condition that it needs.
func (q *Quantity) Example() string {
	text, _, _ := strings.Cut(q.example(), ",")
	return text
}

// example is the quantity as it may be written, and what else may be said.
func (q *Quantity) example() string {
	switch q.along {
	case unit.Rotation:
		return q.Name + " at 20000rpm, with the air where it is known: " + q.Name + " at 20000rpm 300m 25degC"
	case unit.Voltage:
		return q.Name + " at 10V"
	case unit.Frequency:
		return q.Name + " at 24kHz"
	}
	return q.Name
}

// quantity is the quantity with its conditions, as records write it.
func (r *Record) quantity() string {
	text := r.Quantity.Name
	switch r.Quantity.along {
	case unit.Rotation:
		text += " at " + unit.Rotation.Text(r.At.N)
		if r.At.Altitude != 0 {
			text += " " + unit.Length.WithDefault("m").Text(r.At.Altitude)
		}
		if r.At.Temperature != 0 {
			text += " " + unit.Temperature.Text(r.At.Temperature)
		}
	case unit.Voltage:
		text += " at " + unit.Voltage.Text(r.At.Voltage)
	case unit.Frequency:
		text += " at " + unit.Frequency.WithDefault("kHz").Text(r.At.PulseRate)
	}
	return text
}

// parseQuantity reads a quantity of a kind with its conditions, in any order.
func parseQuantity(kind, text string) (q *Quantity, at Conditions, err error) {
	fields := strings.Fields(text)
	if len(fields) == 0 {
		fields = []string{""}
	}
	if q = lookup(kind, fields[0]); q == nil {
		return nil, at, fmt.Errorf("quantity %.80q of a %s; want one of %s", text, kind,
			strings.Join(namesOf(kind), ", "))
	}
	want := func() error { return fmt.Errorf("quantity %.80q; want %s", text, q.example()) }
	given := fields[1:]
	if q.along == nil {
		if len(given) > 0 {
			return nil, at, want()
		}
		return q, at, nil
	}
	if len(given) < 2 || given[0] != "at" {
		return nil, at, want()
	}
	var to map[*unit.Kind]*float64
	switch q.along {
	case unit.Voltage:
		to = map[*unit.Kind]*float64{unit.Voltage: &at.Voltage}
	case unit.Frequency:
		to = map[*unit.Kind]*float64{unit.Frequency: &at.PulseRate}
	case unit.Rotation:
		to = map[*unit.Kind]*float64{unit.Rotation: &at.N, unit.Length: &at.Altitude, unit.Temperature: &at.Temperature}
	}
	for _, part := range given[1:] {
		k := kindIn(part, to)
		if k == nil || *to[k] != 0 {
			return nil, at, want()
		}
		if *to[k], err = k.Parse(part); err != nil {
			return nil, at, want()
		}
	}
	if main := *to[q.along]; !(main > 0) || at.Temperature < 0 {
		return nil, at, want()
	}
	return q, at, nil
}

// kindIn is the one of some kinds whose unit a text ends in; nil for none.
func kindIn(text string, of map[*unit.Kind]*float64) *unit.Kind {
	symbol := text[strings.LastIndexAny(text, "0123456789.")+1:]
	for k := range of {
		if slices.ContainsFunc(k.Units(), func(u unit.Unit) bool { return u.Symbol != "" && u.Symbol == symbol }) {
			return k
		}
	}
	return nil
}

// unitOf is the unit of a quantity with a symbol, as records write it: "1" or
// nothing for a pure number, and g and kg for thrusts besides gf and kgf.
func (q *Quantity) unitOf(symbol string) (unit.Unit, error) {
	name := symbol
	switch {
	case q.of == unit.Ratio && symbol == "1":
		name = ""
	case q.inMass && (symbol == "g" || symbol == "kg"):
		name += "f"
	}
	for _, u := range q.of.Units() {
		if u.Symbol == name && (q.of != unit.Ratio || name == "") {
			return u, nil
		}
	}
	return unit.Unit{}, fmt.Errorf("unit %.80q of %s; want %s", symbol, q.Name, strings.Join(q.symbols(), ", "))
}

// symbols lists the units that a quantity may be written in.
func (q *Quantity) symbols() (out []string) {
	if q.of == unit.Ratio {
		return []string{"1"}
	}
	if q.inMass {
		out = append(out, "g", "kg")
	}
	for _, u := range q.of.Units() {
		out = append(out, u.Symbol)
	}
	return out
}

// shown is the value with its uncertainty, for messages: "412 ± 12 gf".
func (r *Record) shown() string {
	u, symbol := r.unit()
	text := u.Number(r.Value, 4) + " ± " + u.Number(r.Sigma, 2)
	if symbol != "1" {
		text += " " + symbol
	}
	return text
}

// unit is the one that a record is written in, with its symbol in records.
func (r *Record) unit() (unit.Unit, string) {
	symbol := r.Unit
	if symbol == "" {
		symbol = r.Quantity.symbol()
	}
	u, err := r.Quantity.unitOf(symbol)
	if err != nil {
		return r.Quantity.of.SI(), r.Quantity.of.SI().Symbol
	}
	return u, symbol
}

// symbol is that of the usual unit.
func (q *Quantity) symbol() string {
	switch {
	case q.of == unit.Ratio:
		return "1"
	case q.inMass:
		return "g"
	}
	return q.usual
}
