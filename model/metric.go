package model

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"rotorsieve/model/unit"
)

// Metric is one computed quantity of a design.
type Metric struct {
	Name     string     // as in flags
	Formerly string     // the name that it had first; "" for this one
	Title    string     // as in tables and figures
	Symbol   string     // as in formulas
	Kind     *unit.Kind // of the quantity; values are in its SI unit
	Unit     unit.Unit  // in which it is shown
	Better   Direction
	Meaning  string // one line
	Formula  Formula
	Source   string
	Stage    Stage
	ByClass  bool    // depends on the weight class a craft is judged in
	Bare     bool    // does not depend on the payload
	Slow     bool    // takes longer to read than the rest of hover takes to compute
	Even     bool    // between two packs nearly linear, see Span.Chord
	Rises    bool    // from a pack to a larger one, to the last bit, whatever the payload
	Cap      float64 // the value that also stands for all beyond it; 0 for none
	Most     float64 // no craft has more; 0 where nothing but the craft bounds it
	Signed   bool    // it may be below 0
	Zero     bool    // a craft that flies may have none of it
	Windy    bool    // of flight in the wind: where there is none, as another metric says
	Asks     string  // name of the assumption without which no craft has the metric; "" for none

	start   func(*Craft) // see Start; nil for most
	of      func(*Craft) float64
	atBest  func(*Craft) float64 // before flight; nil where it cannot be bounded
	atWorst func(*Craft) float64 // the same in the worse direction
	sight   Sight                // what is to be foreseen for them

	// What atBest, or of, were with the motors so many kelvin warmer in hover, where it is a time that
	// falls with that; nil for others.
	warmer func(c *Craft, by float64) float64
}

// Most that a share and a tilt may be, see Metric.Most.
var (
	whole   = 1.0
	upright = math.Pi / 2
)

// Of reads the metric of a craft that has been evaluated to the metric's stage,
// in the SI unit of its kind. It is NaN where the craft has no such number.
func (m *Metric) Of(c *Craft) float64 { return m.of(c) }

// Start gives what keeps, in an operated craft, what the metric and its bounds start
// from; nil for nothing. A caller that reads such metrics repeatedly calls it first, to
// save time, on a craft that it alone uses: it changes no value. Reading never writes.
func (m *Metric) Start() func(*Craft) { return m.start }

// ExportUnit is the unit in which the metric is given to machines: SI, but rpm for speeds
// of rotation, since that is what their names say.
func (m *Metric) ExportUnit() unit.Unit {
	if m.Kind == unit.Rotation {
		return m.Unit
	}
	return m.Kind.SI()
}

// Exported gives a metric's value for machines and the symbol of the unit it is in.
func (m *Metric) Exported(c *Craft) (v float64, symbol string) {
	u := m.ExportUnit()
	return u.FromSI(m.of(c)), u.Symbol
}

// FlownAt is the airspeed in m/s that is stated for a metric of flight as asked; 0 where there
// is none, and for all other metrics.
func (m *Metric) FlownAt(of *Model) float64 {
	switch {
	case m.Windy:
		return of.Assume.Wind
	case m.Asks == "airspeed":
		return of.Assume.Airspeed
	}
	return 0
}

// Unanswered is an error that says what the metric asks for where a model does not state it.
func (m *Metric) Unanswered(of *Model) error {
	d, ok := LookupAssumption(m.Asks)
	if !ok || d.Form.stated(&of.Assume) {
		return nil
	}
	return fmt.Errorf("%s: --%s is not given, want it as well, such as --%[2]s %s", m.Name, d.Name, d.Example)
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
	textbook = leishman + " (from memory)"
	trim     = "H. Glauert, A general theory of the autogyro, 1926, for the rotors; the balance of forces is derived " +
		"here"
	bemt = "blade-element momentum theory; polar fitted to J.B. Brandt, R.W. Deters, G.K. Ananda, O.D. Dantsker, " +
		"M.S. Selig, UIUC Propeller Database"
)

// Metrics is the one registry: every metric there is, in the order of tables.
var Metrics = slices.Concat(massMetrics, fullMetrics, hoverMetrics, flightMetrics, askedMetrics,
	partMetrics)

// FirstName is the name that the metric had first, by which fingerprints of studies know it.
func (m *Metric) FirstName() string { return cmp.Or(m.Formerly, m.Name) }

// LookupMetric finds a metric by its name, or by one that it had, by which flag files and records of earlier
// runs ask for it.
func LookupMetric(name string) (*Metric, bool) {
	for _, m := range Metrics {
		if m.Name == name || m.FirstName() == name {
			return m, true
		}
	}
	return nil, false
}
