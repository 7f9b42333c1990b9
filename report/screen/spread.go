package screen

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"rotorsieve/model"
	"rotorsieve/report/finding"
	"rotorsieve/report/words"
	"rotorsieve/sweep/decide"
)

// Spread is what the metrics of a design are over draws of all that the model may err by. A
// nil one is none.
type Spread struct {
	Draws int
	Seed  int
	*decide.Drawn

	Required bool // there is a class or a requirement to keep
}

// of is that of a metric, and whether it has one.
func (s *Spread) of(m *model.Metric) (q decide.Quantiles, ok bool) {
	if s == nil {
		return q, false
	}
	at := slices.Index(model.Metrics, m)
	if at < 0 || at >= len(s.Metrics) || !finding.Finite(s.Metrics[at].P10) ||
		!finding.Finite(s.Metrics[at].P90) {
		return q, false
	}
	return s.Metrics[at], true
}

// beside is the unit of a metric's value with its percentiles.
func (s *Spread) beside(m *model.Metric, unit string) string {
	q, ok := s.of(m)
	if !ok {
		return unit
	}
	number := func(v float64) string { return m.Unit.Number(v, 3) }
	pad := strings.Repeat(" ", max(1, 9-utf8.RuneCountInString(unit)))
	return fmt.Sprintf("%s%s%9s %9s %9s", unit, pad, number(q.P10), number(q.P50), number(q.P90))
}

// heads is the title of a group of metrics with those of the percentiles.
func (s *Spread) heads(title string) string {
	if s == nil {
		return title
	}
	const before = 67 // columns
	return fmt.Sprintf("%-*s%9s %9s %9s", before, title, "P10", "P50", "P90")
}

// note says what the numbers beside the metrics are.
func (s *Spread) note() string {
	text := fmt.Sprintf("Beside each metric stand its 10th, 50th and 90th percentile over %d draws (seed %d) of what "+
		"the model may err by, with the parts as they are named: rotorsieve parameters lists it.", s.Draws, s.Seed)
	if s.Required {
		text += fmt.Sprintf(" The design, its pack included, keeps all requirements in %s of the draws.",
			words.Probability(s.Feasible))
	}
	return text
}

// drawn tells machines what the percentiles are over; nil for none.
func (s *Spread) drawn() any {
	if s == nil {
		return nil
	}
	o := finding.Object{{Name: "draws", Value: s.Draws}, {Name: "seed", Value: s.Seed}}
	if s.Required {
		o = append(o, finding.Member{Name: "p_feasible", Value: s.Feasible})
	}
	return o
}

// percentiles are those of a metric in the unit of its value.
type percentiles struct {
	P10 float64 `json:"p10"`
	P50 float64 `json:"p50"`
	P90 float64 `json:"p90"`
}

func (s *Spread) record(m *model.Metric) *percentiles {
	q, ok := s.of(m)
	if !ok {
		return nil
	}
	u := finding.ExportUnit(m)
	return &percentiles{u.FromSI(q.P10), u.FromSI(q.P50), u.FromSI(q.P90)}
}
