// Package unit reads and prints quantities with units, so that the rest of
// the program computes in SI and only its edges know of inches and grams.
//
// A Kind is a physical dimension with the units it may be written in. A
// quantity is written as a number and a unit symbol in ASCII, as in 3.25in,
// 249g or 35degC; a number alone is in the kind's default unit. Decimal text
// is converted exactly and rounded once, so that 3in, 76.2mm and 0.0762m are
// the same float64.
package unit

import "math/big"

// Unit is one unit of measurement. Its values relate to the value kept inside
// the program (see Kind) by a factor and, for temperatures, a zero offset.
type Unit struct {
	Symbol string // ASCII, as typed, for example "g/in2"; "" for a pure number
	Label  string // typographic, for figures and tables, for example "g/in²"

	num, den int64 // inside = (v + zero/100) num/den
	zero     int64 // hundredths of the unit
	tight    bool  // the label follows the number without a space
	width    int   // least number of digits before the decimal point
}

// ToSI converts v in u to the value kept inside the program. It works in
// float64; Kind.Parse converts decimal text exactly.
func (u Unit) ToSI(v float64) float64 {
	return (v + float64(u.zero)/100) * float64(u.num) / float64(u.den)
}

// FromSI converts a value kept inside the program to u.
func (u Unit) FromSI(si float64) float64 {
	return si*float64(u.den)/float64(u.num) - float64(u.zero)/100
}

// exact converts v in u to the value kept inside the program without rounding.
func (u Unit) exact(v *big.Rat) *big.Rat {
	si := new(big.Rat).Add(v, big.NewRat(u.zero, 100))
	return si.Mul(si, u.factor())
}

func (u Unit) factor() *big.Rat { return big.NewRat(u.num, u.den) }
