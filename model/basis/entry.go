package basis

import (
	"fmt"
	"math"
)

// Entry is a line of the table of a package whose set of parameters is a P: a
// parameter, or a constant, which has no field in it.
type Entry[P any] struct {
	Symbol  string
	At      func(*P) *float64 // its field in a set; nil for a constant
	Value   float64           // of a constant; that of a parameter is in the set
	Unit    string
	Meaning string
	Source  string

	Sigma        float64
	Distribution Distribution
	Reach        Reach
	With         string
	Below        float64 // upper bound of a parameter, not included; 0 for none
}

// Check says why a set's value of a parameter cannot be computed with: it is not
// finite, not above 0 where it is log-normal, or not below its bound.
func (e *Entry[P]) Check(set *P) error {
	v := *e.At(set)
	good, want := !math.IsNaN(v) && !math.IsInf(v, 0), "a finite number"
	if e.Distribution == LogNormal {
		good, want = good && v > 0, "a finite number above 0"
	}
	if e.Below != 0 {
		good, want = good && v < e.Below, fmt.Sprintf("%s, below %g", want, e.Below)
	}
	if good {
		return nil
	}
	value := fmt.Sprintf("%g", v)
	if e.Unit != "" {
		value += " " + e.Unit
	}
	return fmt.Errorf("parameter %q is %s, want %s", e.Symbol, value, want)
}

// Move moves a set's value of a parameter by a number of its standard deviations.
func (e *Entry[P]) Move(set *P, by float64) {
	if v := e.At(set); e.Distribution == Normal {
		*v += by * e.Sigma
	} else {
		*v *= math.Exp(by * e.Sigma)
	}
}

// List gives the constants of a table with the values of a set.
func List[P any](table []Entry[P], set *P) []Constant {
	out := make([]Constant, len(table))
	for i := range table {
		e := &table[i]
		out[i] = Constant{Symbol: e.Symbol, Value: e.Value, Unit: e.Unit, Spread: spread(e.Sigma, e.Distribution),
			Meaning: e.Meaning, Source: e.Source, Sigma: e.Sigma, Distribution: e.Distribution, Reach: e.Reach,
			With: e.With}
		if e.At != nil {
			out[i].Value = *e.At(set)
		}
	}
	return out
}

// Parameters are those of a table, in a larger set that holds the table's own.
func Parameters[P, Q any](table []Entry[Q], in func(*P) *Q) (out []Entry[P]) {
	for _, e := range table {
		if at := e.At; at != nil {
			out = append(out, Entry[P]{Symbol: e.Symbol, At: func(p *P) *float64 { return at(in(p)) }, Unit: e.Unit,
				Meaning: e.Meaning, Source: e.Source, Sigma: e.Sigma, Distribution: e.Distribution, Reach: e.Reach,
				With: e.With, Below: e.Below})
		}
	}
	return out
}

// Find is the constant of a symbol in a list, which must have it.
func Find(list []Constant, symbol string) Constant {
	for _, c := range list {
		if c.Symbol == symbol {
			return c
		}
	}
	panic("basis: no constant " + symbol)
}
