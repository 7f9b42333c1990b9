package finding

import (
	"rotorsieve/model/bench"
	"rotorsieve/model/flight"
)

// PerGram is the weight of a gram in N.
const PerGram = flight.Gravity / 1e3

// StandComparison is measurements of a stand beside the model, and what was fitted to
// them.
type StandComparison struct {
	Used *bench.Used
	Rows []bench.Compared
	Odd  []bench.Oddity

	Fit    *bench.Fit // nil for none
	Fitted []bench.Compared
}

// CompareStand puts measurements beside a rig.
func CompareStand(r *bench.Rig, u *bench.Used) *StandComparison {
	return &StandComparison{Used: u, Rows: r.Compare(u), Odd: r.Odd(u)}
}

// FitTo fits the rig to the measurements; where it errs the comparison is as it was.
func (c *StandComparison) FitTo(r *bench.Rig) error {
	f, err := r.Fit(c.Used)
	if err != nil {
		return err
	}
	c.Fit, c.Fitted = f, f.Rig.Compare(c.Used)
	return nil
}

// quantityMiss is how far the model is off in one quantity, and as fitted.
type quantityMiss struct {
	Quantity bench.Quantity
	bench.Summary
	Fitted bench.Summary // zero without a fit
}

// Misses are those of the quantities that some row has.
func (c *StandComparison) Misses() []quantityMiss {
	var out []quantityMiss
	for _, q := range bench.Quantities {
		x := quantityMiss{q, bench.Summarise(c.Rows, q), bench.Summary{}}
		if x.Points == 0 {
			continue
		}
		if c.Fit != nil {
			x.Fitted = bench.Summarise(c.Fitted, q)
		}
		out = append(out, x)
	}
	return out
}
