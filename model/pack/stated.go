package pack

import "fmt"

// Stated is what is known of one pack. A field that is 0 is not: the law of New stands for
// it.
type Stated struct {
	Mass       float64 // with leads and connectors, kg
	Resistance float64 // of the whole pack, new and at 25 degC, ohm
	Current    float64 // continuous, A
	Burst      float64 // for seconds, A
}

// Factors on what New has that may be stated. They allow for odd packs and for labels that
// promise much, but not for a wrong unit or the resistance of one cell (chosen here).
const (
	leastMass, mostMass             = 1.0 / 3, 3
	leastResistance, mostResistance = 0.2, 5
	leastCurrent, mostCurrent       = 0.1, 10
)

// StatedError is the error of Stating.
type StatedError struct {
	Of   string // "mass", "resistance", "current" or "burst"
	text string
}

// Error says what is wrong with the stated value.
func (e *StatedError) Error() string { return e.text }

// Stating is the pack with what is stated of it, in the condition c of the pack. A stated
// current alone leaves the burst the usual multiple of it, and a stated burst alone the
// continuous current the usual part. It errs with StatedError where a value is
// implausible: a mass of less than a third or more than three times that of New, a resistance
// of less than a fifth or more than five times, a current of a tenth or ten times, or a burst below the continuous
// current.
func (p Pack) Stating(s Stated, c Condition) (Pack, error) {
	with := p.With(s, c)
	wrong := func(of, format string, args ...any) (Pack, error) {
		return p, &StatedError{of, fmt.Sprintf(format, args...)}
	}
	within := func(v, law, least, most float64) bool { return v == 0 || v >= least*law && v <= most*law }
	state := c.Resistance()
	switch {
	case !within(s.Mass, p.Mass, leastMass, mostMass):
		return wrong("mass", "%.3g g, but the model has %.3g g for this pack: want %.3g to %.3g g",
			1e3*s.Mass, 1e3*p.Mass, 1e3*leastMass*p.Mass, 1e3*mostMass*p.Mass)
	case !within(s.Resistance, p.R/state, leastResistance, mostResistance):
		r := 1e3 * p.R / state
		return wrong("resistance", "%.4g mohm, but the model has %.3g mohm for this pack: want %.3g to %.3g mohm, "+
			"of the whole pack at 25 degC", 1e3*s.Resistance, r, leastResistance*r, mostResistance*r)
	case !within(s.Current, p.Limit, leastCurrent, mostCurrent):
		return wrong("current", "%.4g A, but the model has %.3g A for this pack: want %.3g to %.3g A, continuous",
			s.Current, p.Limit, leastCurrent*p.Limit, mostCurrent*p.Limit)
	case !within(s.Burst, p.BurstLimit(), leastCurrent, mostCurrent):
		return wrong("burst", "%.4g A, but the model has %.3g A for this pack: want %.3g to %.3g A, for seconds",
			s.Burst, p.BurstLimit(), leastCurrent*p.BurstLimit(), mostCurrent*p.BurstLimit())
	case s.Burst != 0 && s.Burst < with.Limit:
		return wrong("burst", "%.4g A for seconds are less than %.4g A continuous", s.Burst, with.Limit)
	}
	return with, nil
}

// With is Stating that takes any value, as a draw of a model does of a pack that its nominal
// model has taken.
func (p Pack) With(s Stated, c Condition) Pack {
	if s.Mass != 0 {
		p.Mass = s.Mass
	}
	if s.Resistance != 0 {
		p.R = s.Resistance * c.Resistance()
	}
	switch {
	case s.Current != 0:
		p.Limit, p.burst = s.Current, s.Burst
	case s.Burst != 0:
		p.Limit, p.burst = s.Burst/burstFactor, s.Burst
	}
	return p
}

// Scaled is the pack with factors put on its mass, its resistance and both of its currents.
func (p Pack) Scaled(mass, resistance, current float64) Pack {
	p.Mass *= mass
	p.R *= resistance
	p.Limit *= current
	p.burst *= current
	return p
}

// Resistance is the factor of a condition on the resistance of a new pack at 25 degC.
func (c Condition) Resistance() float64 {
	r := coldResistance(c.Temperature)
	if c.Aged {
		r *= agedR
	}
	return r
}
