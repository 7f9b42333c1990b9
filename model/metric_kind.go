package model

import "math"

// Direction says which way a metric is better.
type Direction int

// Better directions. Neither is for what is a matter of taste or of limits.
const (
	Neither Direction = iota
	Higher
	Lower
)

// String names the direction.
func (d Direction) String() string {
	return [...]string{"either way", "higher is better", "lower is better"}[d]
}

// Stage is what must have been computed before a metric can be read, cheap
// first.
type Stage int

// Stages of an evaluation.
const (
	StageMass Stage = iota
	StageOperate
	StageEndure
	StageFlight

	// LastStage is the last that a whole evaluation computes.
	LastStage = StageFlight

	// StageExplain is for what only Craft.Explain computes, too slow for a sweep.
	StageExplain = LastStage + 1
)

// Natural is the range that the metric's values lie in, whatever the craft, in the SI unit of
// its kind: beyond it a bound keeps all designs or none. An end that is endless is so.
func (m *Metric) Natural() Bound {
	b := Bound{Min: 0, Max: math.Inf(1)}
	if m.Signed {
		b.Min = math.Inf(-1)
	}
	switch {
	case m.Most != 0:
		b.Max = m.Most
	case m.Cap != 0:
		b.Max = m.Cap
	}
	return b
}
