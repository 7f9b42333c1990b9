package report

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// verdict says which run has the best design within a limit, and how far the
// others are behind in merit. Runs that rank by different merits have none.
func (c *Comparison) verdict(limit float64) string {
	var with []side
	var without []string
	for _, s := range c.sides(limit) {
		switch {
		case s.Row != nil:
			with = append(with, s)
		case s.None == "none":
			without = append(without, s.Name+" has no feasible design")
		default:
			without = append(without, s.Name+" was not asked")
		}
	}
	var words []string
	switch {
	case len(with) == 1:
		words = append(words, "only "+with[0].Name+" has a design")
	case len(with) > 1 && c.merits() > 1:
		words = append(words, "no run wins: they rank by different merits")
	case len(with) > 1:
		slices.SortStableFunc(with, func(a, b side) int { return cmp.Compare(b.Row.Score, a.Row.Score) })
		best := with[0].Row.Score
		var winners, behind []string
		wins := "wins"
		for _, s := range with {
			switch score := s.Row.Score; {
			case score == best:
				winners = append(winners, s.Name)
			case 1-score/best < closeCall:
				behind = append(behind, fmt.Sprintf("%s scores %s less, %s", s.Name, lessText(best, score), c.closeWords()))
				wins = "leads"
			default:
				behind = append(behind, fmt.Sprintf("%s scores %s less", s.Name, lessText(best, score)))
			}
		}
		head := fmt.Sprintf("%s %s with a merit of %.3f", winners[0], wins, best)
		if len(winners) > 1 {
			head = fmt.Sprintf("%s score the same, a merit of %.3f", joinAnd(winners), best)
		}
		words = append(append(words, head), behind...)
	}
	if s := moves(c.sides(limit)); s != "" {
		words = append(words, s)
	}
	return strings.Join(append(words, without...), "; ")
}

// closeWords says of a difference between runs that it is within closeCall. Runs of
// one model have most of its error in common.
func (c *Comparison) closeWords() string {
	if slices.ContainsFunc(c.Runs, func(f *Finished) bool { return f.Model != c.Runs[0].Model }) {
		return tooClose
	}
	return "within the model's error (" + closeText + "), most of which the runs share"
}

// moves says how the diameter of the best design changes from run to run, "" where
// it does not.
func moves(sides []side) string {
	var each, at []string
	for _, s := range sides {
		if s.Row != nil {
			at = append(at, inch.Number(s.Row.Design.Diameter, 4))
			each = append(each, s.Name+" "+at[len(at)-1]+" in")
		}
	}
	switch {
	case len(slices.Compact(slices.Clone(at))) < 2:
		return ""
	case len(at) == 2:
		return fmt.Sprintf("the best diameter moves from %s to %s in", at[0], at[1])
	}
	return "the best diameter moves: " + strings.Join(each, ", ")
}

// merits is the number of merits by which the runs rank.
func (c *Comparison) merits() int {
	var all []string
	for _, f := range c.Runs {
		all = append(all, meritText(f.Merit))
	}
	slices.Sort(all)
	return len(slices.Compact(all))
}

// why says what may make the best designs differ: what the studies do not share.
func (c *Comparison) why() string {
	var causes []aspect
	for _, a := range c.aspects() {
		if a.differs() && a.What != "Program" && a.What != "Classes" {
			causes = append(causes, a)
		}
	}
	differs := "What was asked differs in"
	if slices.ContainsFunc(causes, func(a aspect) bool { return a.What == "Model" }) {
		differs = "The runs differ in"
	}
	switch len(causes) {
	case 0:
		return "The runs share all that the best design of a class depends on."
	case 1:
		a := &causes[0]
		var each []string
		for i, f := range c.Runs {
			each = append(each, f.Name+" "+textOr(a.Words[i], "not asked"))
		}
		return fmt.Sprintf("%s one thing, %s: %s. %s", differs, lower(a.What), strings.Join(each, "; "), flatOptimum)
	}
	var names []string
	for _, a := range causes {
		names = append(names, lower(a.What))
	}
	return fmt.Sprintf("%s %d things: %s. Runs that differ in one of them would tell them apart. %s", differs, len(causes), strings.Join(names, ", "), flatOptimum)
}

// flatOptimum says why not every difference between best designs has a cause.
const flatOptimum = "Where many designs score nearly alike, a small change can move the best one far."

// inWords says of a class what the best design of each run has over that of the
// first that has one, and where it ranks there.
func (c *Comparison) inWords(limit float64) []string {
	sides, places := c.sides(limit), c.places(limit)
	first := slices.IndexFunc(sides, func(s side) bool { return s.Row != nil })
	if first < 0 {
		return nil
	}
	base := &sides[first]
	var out []string
	for i, s := range sides[first+1:] {
		if s.Row == nil {
			continue
		}
		where := "is not among those ranked in " + base.Name
		switch at := places[first+1+i][first]; {
		case designKey(s.Row.Design) == designKey(base.Row.Design):
			where = "is the same"
		case at > 0:
			where = fmt.Sprintf("ranks %d in %s", at, base.Name)
		}
		out = append(out, fmt.Sprintf("%s against %s: %s; its best design %s", s.Name, base.Name, strings.Join(c.differences(base.Row, s.Row), ", "), where))
	}
	return out
}
