package words

import (
	"fmt"

	"rotorsieve/report/texts"
	"rotorsieve/sweep"
)

// PriceOf says what the prices of a study are the sum of, and what is not in them; "" where no
// parts are listed.
func PriceOf(g *sweep.Grid) string {
	var in, out, none []string
	unpriced := g.Unpriced()
	any := false
	for _, name := range sweep.PartAxes() {
		at, ok := g.AxisIndex(name)
		if !ok {
			out = append(out, name)
			continue
		}
		if name == "motor" || name == "propeller" {
			in = append(in, "4 "+name+"s")
		} else {
			in = append(in, name)
		}
		n, of := len(unpriced[name]), len(g.Axes()[at].Values)
		any = any || n < of
		if n > 0 {
			none = append(none, fmt.Sprintf("%d of %d %ss", n, of, name))
		}
	}
	switch {
	case len(in) == 0:
		return ""
	case !any:
		return "no listed part states one"
	}
	s := "sum of " + texts.JoinAnd(in) + ", as listed"
	if len(out) > 0 {
		s += "; generated and not in it: " + texts.JoinAnd(out)
	}
	if len(none) > 0 {
		s += "; " + texts.JoinAnd(none) + " state none, and crafts of them have none"
	}
	return s
}

// ReadsPrice says whether a study ranks or rejects by price.
func ReadsPrice(s *sweep.Study) bool {
	const name = "price"
	for _, r := range s.Require {
		if r.Metric.Name == name {
			return true
		}
	}
	for _, t := range s.Merit {
		if t.Metric.Name == name {
			return true
		}
	}
	for _, m := range s.Front {
		if m.Name == name {
			return true
		}
	}
	return false
}
