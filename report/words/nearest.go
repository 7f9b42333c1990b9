package words

import (
	"fmt"
	"strings"

	"rotorsieve/report/finding"
	"rotorsieve/report/texts"
	"rotorsieve/sweep"
)

// NearestOf says of how many parts of how many kinds the lists are.
func NearestOf(n *sweep.Nearest) string {
	var of []string
	for i := range n.Lists {
		l := &n.Lists[i]
		of = append(of, fmt.Sprintf("%d %s", len(l.Parts), texts.Plural(len(l.Parts), l.Axis.Name, l.Axis.Name+"s")))
	}
	return texts.JoinAnd(of)
}

// NearestFound says what the parts that exist make of the design, and what that costs.
func NearestFound(n *sweep.Nearest) string {
	if n.Best == nil {
		if !n.Exact {
			return "none of the combinations that were tried keeps all requirements"
		}
		return "no combination of " + NearestOf(n) + " keeps all requirements"
	}
	s := "with " + Design(n.Best.Design) + " the merit is " + Merits(n.Best.Merit)
	by := n.Best.Merit - n.Of.Merit
	switch share := 100 * by / n.Of.Merit; {
	case by < 0:
		s += fmt.Sprintf(", %.2g %% less than the %s of the design", -share, Merits(n.Of.Merit))
	case by > 0 && n.Of.Merit > 0:
		s += fmt.Sprintf(", %.2g %% more than the %s of the design", share, Merits(n.Of.Merit))
	default:
		s += ", as that of the design"
	}
	return s + "; all requirements are kept"
}

// NearestScenarios says what the numbers of scenarios beside crafts tell, and lists the scenarios.
func NearestScenarios(s *sweep.Study) string {
	return "the scenario that a craft's numbers are of, the first in which it breaks a requirement, or else that of " +
		"its least merit. Scenarios: " + Scenarios(s)
}

// NearestHow says which combinations were compared.
func NearestHow(n *sweep.Nearest) string {
	if n.Exact {
		if n.All == 1 {
			return "the only combination"
		}
		return fmt.Sprintf("the best of all %s combinations", texts.Grouped(n.All))
	}
	return fmt.Sprintf("the best of %s combinations, those of the first %d of each list alone: all of them would be "+
		"more than %s", texts.Grouped(n.Tried), sweep.MostOfList, texts.Grouped(sweep.MostCombined))
}

// Breaks names the requirements that a craft breaks, each with its value; "-" for none.
func Breaks(s *sweep.Stead) string {
	if !s.Operates {
		return "does not fly"
	}
	var all []string
	for i := range s.Broken {
		r := &s.Broken[i]
		v := "none"
		if x := r.Metric.Of(s.Craft); finding.Finite(x) {
			digits := 4 // or more, where it would read as its bound
			for v = r.Metric.Unit.Format(x, digits); digits < 9 && v == r.Metric.Unit.Format(r.Bound, digits); {
				digits++
				v = r.Metric.Unit.Format(x, digits)
			}
		}
		all = append(all, fmt.Sprintf("%s %s (%s)", texts.Lower(r.Metric.Title), v, Bound(r)))
	}
	return texts.Or(texts.JoinAnd(all), "-")
}

// NearestHead heads the table of a list: "14 MOTORS ALONE".
func NearestHead(l *sweep.Listed) string {
	return fmt.Sprintf("%d %s ALONE", len(l.Parts), strings.ToUpper(texts.Plural(len(l.Parts), l.Axis.Name,
		l.Axis.Name+"s")))
}

// NearestRest says how many parts of a list are not shown, and how many of all keep the
// requirements.
func NearestRest(rest int, l *sweep.Listed) string {
	keep := 0
	for i := range l.Parts {
		if l.Parts[i].Keeps() {
			keep++
		}
	}
	return fmt.Sprintf("%d more; %d of %d keep all requirements", rest, keep, len(l.Parts))
}
