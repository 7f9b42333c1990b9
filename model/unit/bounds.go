package unit

import (
	"fmt"
	"math"
)

// Range is a closed interval of values as kept inside the program. An end that
// is infinite is open.
type Range struct{ Min, Max float64 }

// Contains tells whether v lies in r; NaN does not.
func (r Range) Contains(v float64) bool { return r.Min <= v && v <= r.Max }

// Check returns an error that names the first of values outside r and the
// bounds, all in units of kind.
func (r Range) Check(kind *Kind, values ...float64) error {
	for _, v := range values {
		switch {
		case r.Contains(v):
		case math.IsInf(v, 0) || math.IsNaN(v):
			return fmt.Errorf("not a finite number, want %s", kind.want)
		case math.IsInf(r.Min, -1):
			return fmt.Errorf("%s is too much, want at most %s", kind.Text(v), kind.Text(r.Max))
		case math.IsInf(r.Max, 1):
			return fmt.Errorf("%s is too little, want at least %s", kind.Text(v), kind.Text(r.Min))
		default:
			return fmt.Errorf("%s is out of bounds, want %s to %s", kind.Text(v), kind.Text(r.Min), kind.Text(r.Max))
		}
	}
	return nil
}
