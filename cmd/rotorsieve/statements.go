package main

import (
	"errors"
	"fmt"
	"math/big"
	"strings"
	"unicode/utf8"

	"rotorsieve/model"
	"rotorsieve/model/unit"
	"rotorsieve/report/figure"
	"rotorsieve/sweep"
)

// What a study's flags state in other words than numbers: classes, requirements, merit,
// maps, figures and front.

// newClasses is the value of a flag that takes weight classes: a limit on the
// all-up weight, and after = what the user calls it, as in 249g=scout.
func newClasses(to *[]sweep.Class, defaults ...string) *list[sweep.Class] {
	l := &list[sweep.Class]{to: to, item: "class", comma: true,
		parse: func(text string) (sweep.Class, error) {
			limit, note, named := strings.Cut(text, "=")
			c := sweep.Class{Label: strings.TrimSpace(limit), Note: strings.TrimSpace(note)}
			if named && c.Note == "" {
				return c, fmt.Errorf("%q: no name after =, want a class such as 249g or 249g=scout", text)
			}
			if n := utf8.RuneCountInString(c.Note); n > mostNote {
				return c, fmt.Errorf("%.80q: a name of %d characters, want up to %d", text, n, mostNote)
			}
			v, err := unit.Mass.Parse(c.Label)
			if err != nil {
				return c, err
			}
			if v < leastClass || v > mostClass {
				return c, fmt.Errorf("%q: a limit of %s, want %s to %s", text, unit.Mass.Text(v),
					unit.Mass.Text(leastClass), unit.Mass.Text(mostClass))
			}
			c.Label, c.Limit = withUnit(c.Label, unit.Mass), v
			return c, nil
		},
		clash: func(a, b sweep.Class) error {
			if a.Limit == b.Limit {
				return errors.New("the same limit twice, want each class once")
			}
			return nil
		},
	}
	return l.start(defaults...)
}

// mostNote is how long the name of a class may be: pictures and sheets are headed by it.
const mostNote = 64 // characters

// Limits of weight classes, far beyond what the model is valid for. They catch a
// number in the wrong unit: a class of 0.25 is one of 0.25 g.
const leastClass, mostClass = 0.01, 100 // kg

// newMerit is the value of a flag that takes the terms of the merit,
// METRIC:WEIGHT:WORST:BEST.
func newMerit(to *sweep.Merit, defaults ...string) *list[sweep.Term] {
	l := &list[sweep.Term]{to: (*[]sweep.Term)(to), item: "term", names: metricNames(":", inSweep), comma: true,
		parse: parseTerm,
		clash: func(a, b sweep.Term) error {
			if a.Metric == b.Metric {
				return errors.New("the same metric twice, want each once")
			}
			return nil
		},
	}
	return l.start(defaults...)
}

func parseTerm(text string) (sweep.Term, error) {
	var t sweep.Term
	parts := strings.Split(text, ":")
	if len(parts) != 4 {
		return t, fmt.Errorf("%q: not four parts, want METRIC:WEIGHT:WORST:BEST, such as hover-time:0.4:4min:12min",
			text)
	}
	var err error
	if t.Metric, err = findSwept(parts[0]); err != nil {
		return t, err
	}
	if t.Weight, err = unit.Ratio.Parse(parts[1]); err != nil {
		return t, fmt.Errorf("weight of %s: %w", t.Metric.Name, err)
	}
	if t.Weight <= 0 {
		return t, fmt.Errorf("weight of %s: %q is not above 0, want a number such as 0.4", t.Metric.Name, parts[1])
	}
	kind := kindOf(t.Metric)
	if t.Worst, err = kind.Parse(parts[2]); err != nil {
		return t, fmt.Errorf("worst of %s: %w", t.Metric.Name, err)
	}
	if t.Best, err = kind.Parse(parts[3]); err != nil {
		return t, fmt.Errorf("best of %s: %w", t.Metric.Name, err)
	}
	for _, end := range []struct {
		text string
		v    float64
	}{{parts[2], t.Worst}, {parts[3], t.Best}} {
		if meant := barePercent(t.Metric, strings.TrimSpace(end.text), end.v); meant != "" {
			return t, fmt.Errorf("%q: %s of %s is %s, did you mean %s?", text, strings.TrimSpace(end.text),
				t.Metric.Name, t.Metric.Unit.Format(end.v, 6), meant)
		}
	}
	switch better := t.Metric.Better; {
	case t.Worst == t.Best:
		return t, fmt.Errorf("%q: worst and best of %s are the same, want two values", text, t.Metric.Name)
	case better == model.Higher && t.Best < t.Worst, better == model.Lower && t.Best > t.Worst:
		return t, fmt.Errorf("%q: of %s %s, want worst before best", text, t.Metric.Name, better)
	}
	return t, nil
}

// newMaps is the value of a flag that takes maps, AXIS,AXIS or
// AXIS,AXIS:METRIC, one each time it is given.
func newMaps(to *[]sweep.MapSpec, defaults ...string) *list[sweep.MapSpec] {
	l := &list[sweep.MapSpec]{to: to, item: "map", names: append([]string{allMaps}, axisNames()...), empty: true,
		parse: parseMap,
		clash: func(a, b sweep.MapSpec) error {
			if a == b {
				return errors.New("the same map twice, want each once")
			}
			return nil
		},
	}
	return l.start(defaults...)
}

// allMaps stands for a map over every pair of swept axes.
const allMaps = "all"

func parseMap(text string) (sweep.MapSpec, error) {
	var m sweep.MapSpec
	if text == allMaps {
		return m, nil // no axes: the study puts in those it sweeps
	}
	axes, metric, byMetric := strings.Cut(text, ":")
	x, y, ok := strings.Cut(axes, ",")
	if !ok || strings.Contains(y, ",") {
		return m, fmt.Errorf("%q: not two axes, want AXIS,AXIS or AXIS,AXIS:METRIC, such as diameter,kv:hover-time",
			text)
	}
	var err error
	if m.X, err = findAxis(x); err != nil {
		return m, err
	}
	if m.Y, err = findAxis(y); err != nil {
		return m, err
	}
	if m.X == m.Y {
		return m, fmt.Errorf("%q: the same axis twice, want two axes such as diameter,kv", text)
	}
	if byMetric {
		m.Metric, err = findSwept(metric)
	}
	return m, err
}

// usualFigures stands for the pictures that follow from the question and the result, allFigures
// for all that the study can have.
const (
	usualFigures = figure.Usual
	allFigures   = figure.All
)

// newFigures is the value of a flag that takes names of pictures; whether the
// study can have them is checked once it is known.
func newFigures(to *[]string, defaults ...string) *list[string] {
	l := &list[string]{to: to, item: "figure", names: []string{usualFigures, allFigures}, comma: true, empty: true,
		parse: func(text string) (string, error) { return text, nil },
		clash: func(a, b string) error {
			if a == b {
				return errors.New("the same figure twice, want each once")
			}
			return nil
		},
	}
	return l.start(defaults...)
}

// newFront is the value of a flag that takes the metrics of the Pareto front.
func newFront(to *[]*model.Metric, defaults ...string) *list[*model.Metric] {
	l := &list[*model.Metric]{to: to, item: "metric", comma: true, empty: true, most: 3,
		names: metricNames("", func(m *model.Metric) bool { return inSweep(m) && m.Better != model.Neither }),
		parse: func(text string) (*model.Metric, error) {
			m, err := findSwept(text)
			if err == nil && m.Better == model.Neither {
				return nil, fmt.Errorf("%s has no better direction, want a metric that has, such as hover-time", m.Name)
			}
			return m, err
		},
		clash: func(a, b *model.Metric) error {
			if a == b {
				return errors.New("the same metric twice, want each once")
			}
			return nil
		},
	}
	return l.start(defaults...)
}

// kindOf is the kind of a metric's values with the unit in which the metric is
// shown as its default, but for per cent: a bare 0.3 is 0.3.
func kindOf(m *model.Metric) *unit.Kind {
	if m.Kind == unit.Ratio {
		return m.Kind
	}
	return m.Kind.WithDefault(m.Unit.Symbol)
}

// valueText writes a value of a metric as a requirement or a merit states it: in
// the unit in which the metric is shown, where that is exact.
func valueText(m *model.Metric, v float64) string {
	if percent := m.Unit.Number(v, 6) + m.Unit.Symbol; m.Kind == unit.Ratio {
		if back, err := m.Kind.Parse(percent); err == nil && back == v {
			return percent
		}
		if bare := kindOf(m).Text(v); barePercent(m, bare, v) != "" { // which is not read
			const digits = 25 // more than a float64 has, of which the text is read to the last bit
			return strings.TrimRight(new(big.Float).Mul(big.NewFloat(v).SetPrec(100), big.NewFloat(100)).Text('f',
				digits), "0") + "%"
		}
	}
	return kindOf(m).Text(v)
}

func findMetric(name string) (*model.Metric, error) {
	name = strings.TrimSpace(name)
	if m, ok := model.LookupMetric(name); ok {
		return m, nil
	}
	return nil, fmt.Errorf("no metric %q, %s", name, wanted(name, metricNames("", anyMetric)))
}

func anyMetric(*model.Metric) bool { return true }

// inSweep says whether a sweep computes the metric.
func inSweep(m *model.Metric) bool { return m.Stage <= model.LastStage }

// findSwept finds a metric that a sweep computes.
func findSwept(name string) (*model.Metric, error) {
	m, err := findMetric(name)
	if err == nil && !inSweep(m) {
		return nil, fmt.Errorf("%q is computed by explain alone, want a metric of sweeps, such as hover-time", m.Name)
	}
	return m, err
}

// metricNames lists the metrics that are wanted, with what follows a name.
func metricNames(follows string, want func(*model.Metric) bool) []string {
	var names []string
	for _, m := range model.Metrics {
		if want(m) {
			names = append(names, m.Name+follows)
		}
	}
	return names
}

// boundNames lists the metrics that a requirement can bound, with the sign of a
// bound that excludes what is worse.
func boundNames() []string {
	var names []string
	for _, m := range model.Metrics {
		if !inSweep(m) {
			continue
		}
		if m.Better != model.Lower {
			names = append(names, m.Name+">=")
		}
		if m.Better != model.Higher {
			names = append(names, m.Name+"<=")
		}
	}
	return names
}

func findAxis(name string) (*sweep.AxisDef, error) {
	name = strings.TrimSpace(name)
	if d, ok := sweep.LookupAxis(name); ok {
		return d, nil
	}
	if d, ok := sweep.LookupPart(name); ok {
		return d, nil
	}
	return nil, fmt.Errorf("no axis %q, %s", name, wanted(name, axisNames()))
}

func axisNames() []string {
	var names []string
	for _, d := range sweep.AxisDefs {
		names = append(names, d.Name)
	}
	return append(names, sweep.PartAxes()...)
}
