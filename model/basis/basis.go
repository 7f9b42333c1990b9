// Package basis gives the constants of the model one common form, so that
// the number the code computes with and the number a reader is shown are
// the same, with its unit, spread and source.
//
// A constant whose spread is known is a parameter: a field of its package's set of
// parameters, which is passed to what computes, so that it can be drawn. The table of a
// package has both kinds, each an Entry; its Basis lists them, each a Constant.
package basis

import "strconv"

// Constant is one constant of the model, as it is listed.
type Constant struct {
	Symbol  string  // as in the formula, for example "eta"
	Value   float64 // in Unit
	Unit    string  // "" for a pure number
	Spread  string  // its standard deviation as it is printed, for example "10 %"; "" where none is claimed
	Meaning string  // one line
	Source  string  // author, title, year; "from memory"; "derived here"; "common practice"

	Sigma        float64 // the standard deviation, as the distribution has it; 0 where none is claimed
	Distribution Distribution
	Reach        Reach
	With         string // symbol of the constant whose error it shares, since one law has both; "" for none
}

// Distribution is that of a constant about its value.
type Distribution int

// Distributions.
const (
	LogNormal Distribution = iota // the standard deviation is that of the logarithm: 0.1 for "10 %"
	Normal                        // the standard deviation is in the unit of the value, which may be 0 or negative
)

// String names the distribution.
func (d Distribution) String() string { return [...]string{"log-normal", "normal"}[d] }

// Reach says which designs share one error of a parameter.
type Reach int

// Reaches.
const (
	Undrawn Reach = iota // no parameter: the spread is stated, and nothing draws it
	All                  // one error of all designs
	Family               // propellers near each other err together
	Part                 // each motor, pack, propeller and frame has its own
)

// String names the reach.
func (r Reach) String() string { return [...]string{"", "all", "family", "part"}[r] }

// spread prints a standard deviation: "10 %" of the value, or a number in its unit.
func spread(sigma float64, d Distribution) string {
	number := func(x float64) string { return strconv.FormatFloat(x, 'g', 4, 64) }
	switch {
	case sigma == 0:
		return ""
	case d == LogNormal:
		return number(100*sigma) + " %"
	}
	return number(sigma)
}

// Law is a formula of the model, in the symbols of its constants and inputs, so that a
// reader can work out by hand what the code computes.
type Law struct {
	Name    string // what it gives, with its symbol
	Formula string // one line; further ones where it takes several steps
	Source  string // as of a constant
}
