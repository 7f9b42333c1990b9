package record

import (
	"fmt"
	"slices"
	"strings"

	"rotorsieve/model/unit"
)

// Example is the quantity as it may be written, with a condition that it needs.
func (q *Quantity) Example() string {
	text, _, _ := strings.Cut(q.example(), ",")
	return text
}

// example is the quantity as it may be written, and what else may be said.
func (q *Quantity) example() string {
	const in = "with the air where it is known: "
	text, air := q.Name, " 300m 25degC"
	switch q.along {
	case unit.Rotation:
		text += " at 20000rpm"
	case unit.Voltage:
		text += " at 10V"
	case unit.Frequency:
		text += " at 24kHz"
	case unit.Speed:
		text += " at 12m/s"
	case nil:
		air = " at" + air
	}
	if !q.inAir {
		return text
	}
	return text + ", " + in + text + air
}

// quantity is the quantity with its conditions, as records write it.
func (r *Record) quantity() string {
	var given []string
	switch r.Quantity.along {
	case unit.Rotation:
		given = append(given, unit.Rotation.Text(r.At.N))
	case unit.Voltage:
		given = append(given, unit.Voltage.Text(r.At.Voltage))
	case unit.Frequency:
		given = append(given, unit.Frequency.WithDefault("kHz").Text(r.At.PulseRate))
	case unit.Speed:
		given = append(given, unit.Speed.Text(r.At.Wash))
	}
	if r.At.Altitude != 0 {
		given = append(given, unit.Length.WithDefault("m").Text(r.At.Altitude))
	}
	if r.At.Temperature != 0 {
		given = append(given, unit.Temperature.Text(r.At.Temperature))
	}
	if len(given) == 0 {
		return r.Quantity.Name
	}
	return r.Quantity.Name + " at " + strings.Join(given, " ")
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
	if q.along == nil && len(given) == 0 {
		return q, at, nil
	}
	to := map[*unit.Kind]*float64{}
	if q.inAir {
		to[unit.Length], to[unit.Temperature] = &at.Altitude, &at.Temperature
	}
	switch q.along {
	case unit.Voltage:
		to[q.along] = &at.Voltage
	case unit.Frequency:
		to[q.along] = &at.PulseRate
	case unit.Rotation:
		to[q.along] = &at.N
	case unit.Speed:
		to[q.along] = &at.Wash
	}
	if len(given) < 2 || given[0] != "at" {
		return nil, at, want()
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
	if q.along != nil && !(*to[q.along] > 0) || at.Temperature < 0 {
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

// UsualUnit is the unit that records are written in, with its symbol there: "1" for a pure number.
func (q *Quantity) UsualUnit() (u unit.Unit, symbol string) {
	r := Record{Quantity: q}
	return r.unit()
}

// Described is the quantity of a record with its conditions, as records write it.
func (r *Record) Described() string { return r.quantity() }
