// Package basis gives the constants of the model one common form, so that
// the number the code computes with and the number a reader is shown are
// the same, with its unit, spread and source.
package basis

// Constant is one constant of the model.
type Constant struct {
	Symbol  string  // as in the formula, for example "eta"
	Value   float64 // in Unit
	Unit    string  // "" for a pure number
	Spread  string  // one standard deviation, for example "10 %"; "" where none is claimed
	Meaning string  // one line
	Source  string  // author, title, year; "from memory"; "derived here"; "common practice"
}

// Law is a formula of the model, in the symbols of its constants and of what goes
// into it, so that a reader can work out by hand what the code computes.
type Law struct {
	Name    string // what it gives, with its symbol
	Formula string // one line; further ones where it takes several steps
	Source  string // as of a constant
}
