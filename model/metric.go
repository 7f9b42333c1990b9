package model

import (
	"slices"

	"rotorsieve/model/unit"
)

// Metric is one computed quantity of a design.
type Metric struct {
	Name    string     // as in flags
	Title   string     // as in tables and figures
	Symbol  string     // as in formulas
	Kind    *unit.Kind // of the quantity; values are in its SI unit
	Unit    unit.Unit  // in which it is shown
	Better  Direction
	Meaning string // one line
	Formula Formula
	Source  string
	Stage   Stage
	ByClass bool    // depends on the weight class a craft is judged in
	Bare    bool    // does not depend on the payload
	Slow    bool    // takes longer to read than the rest of hover takes to compute
	Even    bool    // between two packs nearly linear, see Span.Chord
	Cap     float64 // the value that also stands for all beyond it; 0 for none

	start   func(*Craft) // see Start; nil for most
	of      func(*Craft) float64
	atBest  func(*Craft) float64 // before flight; nil where it cannot be bounded
	atWorst func(*Craft) float64 // the same in the worse direction

	// What atBest, or of, were with the motors so many kelvin warmer in hover, where it is a time that
	// falls with that; nil for others.
	warmer func(c *Craft, by float64) float64
}

// Of reads the metric of a craft that has been evaluated to the metric's stage,
// in the SI unit of its kind. It is NaN where the craft has no such number.
func (m *Metric) Of(c *Craft) float64 { return m.of(c) }

// Start gives what keeps, in an operated craft, what the metric and its bounds start
// from; nil for nothing. A caller that reads such metrics repeatedly calls it first, to
// save time, on a craft that it alone uses: it changes no value. Reading never writes.
func (m *Metric) Start() func(*Craft) { return m.start }

// Exported gives a metric's value for machines and the unit it is in: SI, but
// rpm for speeds of rotation, since that is what their names say.
func (m *Metric) Exported(c *Craft) (v float64, symbol string) {
	u := m.Kind.SI()
	if m.Kind == unit.Rotation {
		u = m.Unit
	}
	return u.FromSI(m.of(c)), u.Symbol
}

const (
	leishman = "J.G. Leishman, Principles of Helicopter Aerodynamics, 2006"
	drela    = "M. Drela, First-Order DC Electric Motor Model, MIT 2007 (from memory)"
	trade    = "common practice"
	defined  = "definition"
	derived  = "derived here"
	fitted   = "fitted here to P. Cao, J. Strawson, Motor and propeller testing, 2018"
	circuit  = drela + "; K, X and the leads " + fitted
	heat     = "derived here: heat balance with the resistance of copper; conductance by common practice; chopping " +
		"loss " + fitted
	trim = "H. Glauert, A general theory of the autogyro, 1926, for the rotors; the balance of forces is derived " +
		"here"
	bemt = "blade-element momentum theory; polar fitted to J.B. Brandt, R.W. Deters, G.K. Ananda, O.D. Dantsker, " +
		"M.S. Selig, UIUC Propeller Database"
)

// Metrics is the one registry: every metric there is, in the order of tables.
var Metrics = slices.Concat(massMetrics, fullMetrics, hoverMetrics, flightMetrics,
	partMetrics)

// LookupMetric finds a metric by its name.
func LookupMetric(name string) (*Metric, bool) {
	for _, m := range Metrics {
		if m.Name == name {
			return m, true
		}
	}
	return nil, false
}
