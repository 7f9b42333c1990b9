package main

import (
	"fmt"
	"strings"

	"rotorsieve/model"
	"rotorsieve/model/unit"
	"rotorsieve/sweep"
)

func parseRequirement(text string) (statedBound, error) {
	var r statedBound
	name, bound, ok := strings.Cut(text, ">=")
	if r.AtLeast = ok; !ok {
		name, bound, ok = strings.Cut(text, "<=")
	}
	if !ok {
		return r, fmt.Errorf("%q: neither >= nor <=, want METRIC>=VALUE or METRIC<=VALUE, such as hover-time>=6min, "+
			"in quotes on a command line", text)
	}
	var err error
	if r.Metric, err = findSwept(name); err != nil {
		return r, err
	}
	bound = strings.TrimSpace(bound)
	if r.lifted = bound == none; r.lifted {
		return r, nil
	}
	r.Bound, err = kindOf(r.Metric).Parse(bound)
	if err != nil {
		return r, fmt.Errorf("%s: %w", r.Metric.Name, err)
	}
	if err := binds(r.Requirement, bound); err != nil {
		return r, fmt.Errorf("%q: %w", text, err)
	}
	return r, nil
}

// binds refuses a bound that all designs keep or none does, whatever they are: most likely
// it is in another unit than was meant.
func binds(r sweep.Requirement, text string) error {
	m, v := r.Metric, r.Bound
	natural := m.Natural()
	with := func(value string) string { return m.Name + side(r.AtLeast) + value }
	shown := func(v float64) string { return strings.TrimSpace(m.Unit.Format(v, 6)) }
	title := strings.ToLower(m.Title[:1]) + m.Title[1:]
	percent := barePercent(m, text, v)
	switch {
	case percent != "" && v > natural.Max:
		return fmt.Errorf("no %s is above %s and this is %s, did you mean %s?", title, shown(natural.Max), shown(v),
			with(percent))
	case percent != "":
		return fmt.Errorf("this is %s, did you mean %s?", shown(v), with(percent))
	case v > natural.Max && m.Cap == natural.Max:
		return fmt.Errorf("a %s of %s stands for all beyond it, want a bound up to that", title, shown(m.Cap))
	case v == natural.Max && m.Cap == natural.Max && !r.AtLeast:
		return fmt.Errorf("a %s of %s stands for all beyond it, which keeps every design, want a bound below it", title,
			shown(m.Cap))
	case v > natural.Max:
		return fmt.Errorf("no %s is above %s, want a bound up to that", title, shown(natural.Max))
	case v < natural.Min && m.Kind == unit.Temperature:
		return fmt.Errorf("no temperature is below %s, want a bound above it", shown(natural.Min))
	case v < natural.Min:
		return fmt.Errorf("no %s is below %s, did you mean %s?", title, shown(natural.Min),
			with(strings.TrimLeft(text, "-")))
	case v == natural.Min && !r.AtLeast && !m.Zero:
		return fmt.Errorf("%s is above %s in all that flies, want a bound above it", title, shown(v))
	}
	return nil
}

// mostBare is the largest value that a number without a unit may have of a metric that is
// shown in per cent: 10 is 1000 %.
const mostBare = 10

// barePercent is what a number without a unit most likely means that makes so many per cent
// of a metric shown in per cent that none was meant; "" where it is none.
func barePercent(m *model.Metric, text string, v float64) string {
	if m.Kind != unit.Ratio || m.Unit.Symbol != "%" || strings.HasSuffix(text, "%") {
		return ""
	}
	if v <= m.Natural().Max && v <= mostBare {
		return ""
	}
	return text + "%"
}
