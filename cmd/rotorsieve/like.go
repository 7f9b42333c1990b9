package main

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"rotorsieve/model"
	"rotorsieve/model/unit"
	"rotorsieve/sweep"
)

// likePart is one statement about the craft that others are to feel like: a value
// of an axis, of a compared metric, or its all-up weight.
type likePart struct {
	axis   *sweep.AxisDef // nil for a metric
	metric *model.Metric
	value  float64
}

func (p likePart) name() string {
	if p.axis != nil {
		return p.axis.Name
	}
	return p.metric.Name
}

// newLike is the value of a flag that takes a reference craft, NAME=VALUE,...
func newLike(to *[]likePart) *list[likePart] {
	l := &list[likePart]{to: to, item: "reference", names: likeNames("="), comma: true, empty: true,
		parse: parseLike,
		clash: func(a, b likePart) error {
			if a.name() == b.name() {
				return errors.New("the same twice, want each once")
			}
			return nil
		},
	}
	return l.start()
}

func parseLike(text string) (p likePart, err error) {
	name, value, ok := strings.Cut(text, "=")
	name = strings.TrimSpace(name)
	if !ok {
		return p, fmt.Errorf("%q: no =, want NAME=VALUE, such as auw=600g", text)
	}
	metrics := likeMetrics()
	if at := slices.IndexFunc(metrics, func(m *model.Metric) bool { return m.Name == name }); at >= 0 {
		p.metric = metrics[at]
		if p.value, err = kindOf(p.metric).Parse(value); err != nil {
			return p, fmt.Errorf("%s: %w", name, err)
		}
		if !(p.value > 0) || math.IsInf(p.value, 0) {
			return p, fmt.Errorf("%s: %q is not above 0, want what the craft has", name, value)
		}
		return p, nil
	}
	if p.axis, ok = sweep.LookupAxis(name); !ok {
		return p, fmt.Errorf("%q is neither compared nor part of a design, %s", name, wanted(name, likeNames("")))
	}
	v, err := unit.ParseAxis(p.axis.Kind, value)
	if err != nil {
		return p, fmt.Errorf("%s: %w", name, err)
	}
	if len(v) != 1 {
		return p, fmt.Errorf("%s: %d values, want one", name, len(v))
	}
	p.value = v[0]
	return p, p.axis.Check(p.value)
}

// likeMetrics are those that a reference craft may be stated by.
func likeMetrics() []*model.Metric {
	auw, _ := model.LookupMetric("auw")
	return append(model.Compared(), auw)
}

// likeNames lists all that a reference may state, with what follows a name.
func likeNames(follows string) []string {
	var names []string
	for _, m := range likeMetrics() {
		names = append(names, m.Name+follows)
	}
	for _, d := range sweep.AxisDefs {
		names = append(names, d.Name+follows)
	}
	return names
}

// reference makes of the statements what designs are compared with. A motor or a
// pack among them makes a whole design, which is computed under the assumptions of
// the study, with the defaults of explain for what is not stated; a metric that is also
// stated takes precedence. A weight and a diameter alone give the disk loading.
func reference(parts []likePart, assume model.Assumptions) (model.Reference, error) {
	var r model.Reference
	if len(parts) == 0 {
		return r, nil
	}
	given := map[*sweep.AxisDef]float64{}
	auw := 0.0
	for _, p := range parts {
		switch {
		case p.axis != nil:
			given[p.axis] = p.value
		case p.metric.Name == "auw":
			auw = p.value
		}
	}
	diameter, sized := given[sweep.Diameter]
	whole := false
	for d := range given {
		whole = whole || d != sweep.Diameter
	}
	switch {
	case whole && auw > 0:
		return r, errors.New("auw is computed of a whole design, want it without stator, KV, cells and capacity")
	case whole:
		m, err := model.New(assume)
		if err != nil {
			return r, err
		}
		var d model.Design
		for _, def := range sweep.AxisDefs {
			v, ok := given[def]
			if !ok {
				if _, other := given[def.Other()]; other || def.Single == "" {
					continue // the other statement of it stands
				}
				usual, err := unit.ParseAxis(def.Kind, def.Single)
				if err != nil {
					return r, err
				}
				v = usual[0]
			}
			def.Apply(&d, v)
		}
		c, err := m.Evaluate(d)
		if err != nil {
			return r, fmt.Errorf("the reference craft: %w, want one that flies", err)
		}
		r = model.ReferenceTo(c)
	case auw > 0 && sized:
		r.DiskLoading = model.DiskLoading(auw, diameter)
	case auw > 0 || sized:
		return r, errors.New("a weight alone or a diameter alone says nothing to compare, want auw and diameter " +
			"together")
	}
	for _, p := range parts {
		if p.axis == nil && r.Of(p.metric) != nil {
			*r.Of(p.metric) = p.value
		}
	}
	return r, nil
}

// likeText states a reference by its metrics, as the flag takes it.
func likeText(r model.Reference) string {
	var parts []string
	for _, m := range model.Compared() {
		if v := *r.Of(m); v > 0 {
			parts = append(parts, m.Name+"="+valueText(m, v))
		}
	}
	if len(parts) == 0 {
		return none
	}
	return strings.Join(parts, ",")
}
